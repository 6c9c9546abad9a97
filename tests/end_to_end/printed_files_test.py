#!/usr/bin/env python3
"""papers.pdf and plan.dxf of the demo projects, read by programs that had no part in writing them: poppler's tools and ezdxf.

The PDF prints what the SVG files show, at true size, with text that can be searched; the DXF holds the boards of plan.json at full size.
Where poppler's tools or ezdxf are not installed the test says so and checks nothing of that kind (tests/run.sh installs them).
"""
import json
import math
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

try:
    import ezdxf
except ImportError:
    ezdxf = None

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
SVG = "{http://www.w3.org/2000/svg}"
DEMOS = [SOURCE / "projects" / f"{name}.json" for name in ("courtyard-planter", "stair-window", "herb-corner", "cold-frame", "wall-planter")]
MM = 25.4 / 72.0  # a point of a PDF
EDGE_MM = 10.0
# (marks that turn the writing are refused by the reader, before anything is drawn)
HOSTILE = "<b>&amp; \"quoted\" \u00fc\u05e9\u4e2d (a) \\ (b %PDF " + "long " * 30


def plan_into(folder, project):
    run = subprocess.run([BOARDRING, "plan", str(project), "--out", str(folder)], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, check=False)
    return run.stderr


def page_of(pdf, drawing):
    """The page of the PDF that holds this drawing: the one that begins as it does."""
    heading = min(drawing.iter(SVG + "text"), key=lambda text: float(re.search(r"translate\([-\d.]+ ([-\d.]+)\)", text.get("transform")).group(1))).text
    pages = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout.split("\f")
    return next(n for n, page in enumerate(pages, 1) if page.strip().startswith(heading + "\n"))


def words_of(pdf, page):
    """[(text, centre x, centre y)] in millimetres of the page, and the page's size."""
    out = subprocess.run(["pdftotext", "-bbox", "-f", str(page), "-l", str(page), str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    size = re.search(r'<page width="([\d.]+)" height="([\d.]+)"', out)
    boxes = re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)</word>', out)
    words = [(text, (float(a) + float(c)) / 2 * MM, (float(b) + float(d)) / 2 * MM) for a, b, c, d, text in boxes]
    return words, float(size.group(1)) * MM, float(size.group(2)) * MM


@unittest.skipUnless(shutil.which("pdftotext") and shutil.which("pdftoppm"), "poppler-utils is not installed")
class Pdf(unittest.TestCase):
    def raster(self, pdf, page):
        """The page at 300 dpi: rows of grey bytes."""
        raw = subprocess.run(["pdftoppm", "-r", "300", "-gray", "-f", str(page), "-l", str(page), str(pdf)], capture_output=True, check=True).stdout
        head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", raw)
        width = int(head.group(1))
        pixels = raw[head.end():]
        return [pixels[at:at + width] for at in range(0, len(pixels), width)]

    def longest_run(self, line):
        return max([len(run.group()) for run in re.finditer(rb"[\x00-\x90]+", line)] or [0])

    def test_labels_stand_where_the_drawings_have_them_at_true_size(self):
        seen = 0
        for demo in DEMOS:
            with self.subTest(project=demo.stem), tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder)
                plan_into(out, demo)
                inches = json.loads((out / "plan.json").read_text())["units"] in ("in", "ft")
                for name in ["plan.svg"] + [p.name for p in out.glob("board-*.svg")]:
                    root = ElementTree.parse(out / name).getroot()
                    page = page_of(out / "papers.pdf", root)
                    drawn = float(root.get("width")[:-2]), float(root.get("height")[:-2])
                    words, width, height = words_of(out / "papers.pdf", page)
                    sheet = (215.9, 279.4) if inches else (210.0, 297.0)
                    self.assertAlmostEqual(min(width, height), sheet[0], delta=0.01)
                    self.assertAlmostEqual(max(width, height), sheet[1], delta=0.01)
                    left = (width - drawn[0]) / 2
                    for text in root.iter(SVG + "text"):
                        if text.get("text-anchor") != "middle" or not re.fullmatch(r"[A-Z]|\d+(\.\d+)?", text.text or ""):
                            continue
                        if "rotate" in text.get("transform"):
                            continue
                        x, y = map(float, re.search(r"translate\(([-\d.]+) ([-\d.]+)\)", text.get("transform")).groups())
                        near = [w for w in words if w[0] == text.text and abs(w[1] - x - left) < 0.4 and abs(w[2] - y - EDGE_MM) < 1.5]
                        self.assertTrue(near, f"{name}: {text.text} at {x + left:.1f}, {y + EDGE_MM:.1f}; there are {[w for w in words if w[0] == text.text]}")
                        seen += 1
        self.assertGreater(seen, 60)

    def test_a_bar_of_round_length_measures_so_on_the_printed_page(self):
        # The bar at the foot of the plan: 200 mm at 1:5 are 40 mm of paper; rasterised at 300 dpi it must measure so within a pixel.
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder)
            plan_into(out, SOURCE / "projects/courtyard-planter.json")
            root = ElementTree.parse(out / "plan.svg").getroot()
            rows = self.raster(out / "papers.pdf", page_of(out / "papers.pdf", root))
            scale = float(re.search(r"Scale 1:(\d+)", " ".join(t.text for t in root.iter(SVG + "text"))).group(1))
            label = next(t for t in root.iter(SVG + "text") if re.fullmatch(r"\d+ mm", t.text or ""))
            wanted = float(label.text.split()[0]) / scale / 25.4 * 300
            y = float(re.search(r"translate\([-\d.]+ ([-\d.]+)\)", label.get("transform")).group(1)) + EDGE_MM
            rows_near = rows[int((y - 3) / 25.4 * 300):int((y + 3) / 25.4 * 300)]
            longest = max(self.longest_run(row[len(row) // 2:]) for row in rows_near)
            line_width = 0.25 / 25.4 * 300  # the edge stands half outside at either end
            self.assertAlmostEqual(longest, wanted + line_width, delta=1.5)

    def test_check_bars_of_every_full_size_sheet_measure_within_a_pixel(self):
        px = 300 / 25.4
        for demo in ("courtyard-planter", "stair-window"):
            with self.subTest(project=demo), tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder)
                plan_into(out, SOURCE / f"projects/{demo}.json")
                pdf = out / "full-size.pdf"
                pages = int(re.search(r"Pages:\s+(\d+)", subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout).group(1))
                for page in range(1, pages + 1):
                    rows = self.raster(pdf, page)
                    foot = [self.longest_run(row) for row in rows[-int(80 * px):]]
                    left = [self.longest_run(bytes(row[x] for row in rows)) for x in range(int(10 * px), int(27 * px))]
                    line = 0.25 * px  # ticks stand half outside at either end
                    for runs in (foot, left):
                        bars = sorted({run for run in runs if run > 95 * px})
                        self.assertAlmostEqual(bars[0], 100.0 * px + line, delta=1.0 + 0.5)
                        self.assertAlmostEqual(bars[-1], 101.6 * px + line, delta=1.0 + 0.5)

    def line_at(self, rows, left, right, top, high):
        """Direction of a full-size saw line or block's far face [degrees from the foot of the sheet]: a straight line by least squares
        through the leftmost ink of every row of a strip of the page [mm]. The strip's first ink is the line's upper end."""
        px = 300 / 25.4
        ink = [re.search(rb"[\x00-\x60]", row[int(left * px):int(right * px)]) for row in rows]
        head = next(y for y in range(int(top * px), len(rows)) if ink[y])
        points = [(y, ink[y].start()) for y in range(int(head + 3 * px), int(head + (high - 5) * px))]
        mean_y, mean_x = (sum(p[i] for p in points) / len(points) for i in (0, 1))
        away = -sum((y - mean_y) * (x - mean_x) for y, x in points) / sum((y - mean_y) ** 2 for y, _ in points)
        return 90.0 - math.degrees(math.atan(away))

    def test_every_wedge_and_every_block_of_each_demo_prints_at_its_angle(self):
        measured = 0
        for demo in sorted((SOURCE / "projects").glob("*.json")):
            with self.subTest(project=demo.stem), tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder)
                plan_into(out, demo)
                if not (out / "full-size.pdf").exists():  # the demos that are refused
                    continue
                plan = json.loads((out / "plan.json").read_text())
                wanted = {("Set", round(abs(end["saw_deg"]), 9)) for board in plan["boards"] for end in board["ends"] if abs(end["saw_deg"]) > 0.005}
                # A block fills the corner on its narrow side.
                wanted |= {("Block", round(min(deg, 360.0 - deg), 9)) for deg in (joint["interior_deg"] for joint in plan["joints"]) if abs(deg - 180.0) > 0.005}
                found = set()
                pages = int(re.search(r"Pages:\s+(\d+)", subprocess.run(["pdfinfo", str(out / "full-size.pdf")], capture_output=True, text=True,
                                                                        check=True).stdout).group(1))
                for page in range(1, pages + 1):
                    boxes = subprocess.run(["pdftotext", "-bbox", "-f", str(page), "-l", str(page), str(out / "full-size.pdf"), "-"],
                                           capture_output=True, text=True, check=True).stdout
                    words = [(text, float(x) * MM, float(y) * MM)
                             for x, y, text in re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" [^>]*>([^<]*)</word>', boxes)]
                    rows = None
                    for at, (text, left, top) in enumerate(words):
                        if text not in ("Set", "Block") or not re.match(r"\d", words[at + 1][0]):
                            continue
                        rows = rows or self.raster(out / "full-size.pdf", page)
                        if text == "Set":
                            shown = next(float(words[n + 1][0]) for n in range(at, len(words)) if words[n][0] == "S")
                        else:
                            shown = float(words[at + 1][0])
                        what = min((w for w in wanted if w[0] == text), key=lambda w: abs(w[1] - shown))
                        self.assertLess(abs(what[1] - shown), 0.006)
                        found.add(what)
                        leans = math.radians(what[1])
                        if text == "Set":
                            high, wide = 100.0 * math.cos(leans), 100.0 * math.sin(leans)
                            line = self.line_at(rows, left - wide - 5.0, left - 3.0, top - 3.0, high)
                            self.assertAlmostEqual(line, 90.0 - what[1], delta=0.05)
                        else:
                            arm = min(62.0, (190.0 - 18.0 - 64.0) / (1.0 + max(0.0, -math.cos(leans))))
                            wide = arm * (1.0 + max(0.0, -math.cos(leans)))
                            line = self.line_at(rows, left - wide - 5.0, left - 3.0, top - 3.0, arm * math.sin(leans))
                            self.assertAlmostEqual(line, what[1], delta=0.05)
                        measured += 1
                self.assertEqual(found, wanted)
        self.assertGreater(measured, 30)

    def test_papers_say_the_same_printed_and_on_a_screen(self):
        """Every heading, every set or marked number and every blank to fill in of papers.html is found in papers.pdf."""
        for demo in DEMOS:
            with self.subTest(project=demo.stem), tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder)
                plan_into(out, demo)
                printed = subprocess.run(["pdftotext", "-layout", str(out / "papers.pdf"), "-"], capture_output=True, text=True, check=True).stdout
                printed = " ".join(printed.split())
                page = (out / "papers.html").read_text(encoding="utf-8")
                for heading in re.findall(r"<h2[^>]*>([^<]*)</h2>", page):
                    if heading not in ("The plan", "Cards, one for every distinct piece"):  # drawings stand for themselves
                        self.assertIn(heading, printed)
                numbers = re.findall(r'class="big">([^<]*)<', page)
                self.assertGreater(len(numbers), 8)
                for number in numbers:
                    self.assertIn(number.replace("&quot;", '"'), printed)
                for command in re.findall(r"<code>([^<]*)</code>", page):
                    self.assertIn(command.replace("&quot;", '"').replace(" ", ""), printed.replace(" ", ""))

    def test_a_hostile_title_is_text(self):
        text = (SOURCE / "projects/cold-frame.json").read_text()
        text = re.sub(r'"title": "[^"]*"', lambda _: '"title": ' + json.dumps(HOSTILE[:190]), text, count=1)
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder)
            (out / "hostile.json").write_text(text)
            plan_into(out / "papers", out / "hostile.json")
            printed = subprocess.run(["pdftotext", "-layout", str(out / "papers/papers.pdf"), "-"], capture_output=True, text=True, check=True).stdout
            self.assertIn('<b>&amp; "quoted" \u00fc', printed)
            self.assertIn("(a) \\ (b %PDF long long", printed)
            if ezdxf:
                self.assertEqual(len(ezdxf.readfile(out / "papers/plan.dxf").audit().errors), 0)

    def test_pictures_of_the_papers_can_be_made_by_anyone(self):
        with tempfile.TemporaryDirectory() as folder:
            run = subprocess.run([sys.executable, str(SOURCE / "docs/pictures/make.py"), folder], env={**os.environ, "BOARDRING": BOARDRING}, capture_output=True,
                                 text=True, check=False)
            self.assertEqual(run.returncode, 0, run.stderr)
            made = sorted(pathlib.Path(folder).glob("*.png"))
            self.assertEqual(len(made), 2)
            for path in made:
                shown = (SOURCE / "docs/pictures" / path.name).read_bytes()
                self.assertEqual(path.read_bytes()[:24], shown[:24], "a picture of another size: run docs/pictures/make.py")
                self.assertLess(len(shown), 300_000)

    def test_same_project_same_bytes(self):
        with tempfile.TemporaryDirectory() as folder:
            for n in ("a", "b"):
                plan_into(pathlib.Path(folder) / n, SOURCE / "projects/herb-corner.json")
            self.assertEqual((pathlib.Path(folder) / "a/papers.pdf").read_bytes(), (pathlib.Path(folder) / "b/papers.pdf").read_bytes())


@unittest.skipUnless(ezdxf, "python3-ezdxf is not installed")
class Dxf(unittest.TestCase):
    def test_boards_have_their_true_size_on_the_layer_of_edges(self):
        for demo in DEMOS:
            with self.subTest(project=demo.stem), tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder)
                plan_into(out, demo)
                plan = json.loads((out / "plan.json").read_text())
                drawing = ezdxf.readfile(out / "plan.dxf")
                audit = drawing.audit()
                self.assertEqual((drawing.dxfversion, len(audit.errors), len(audit.fixes)), ("AC1009", 0, 0))
                used = {entity.dxf.layer for entity in drawing.modelspace()}
                self.assertLessEqual(used, {"OUTLINE", "THIN", "HIDDEN", "GIVEN", "DIMENSION", "CUT", "WASTE", "NOTES"})
                lengths = []
                for entity in drawing.modelspace().query('LINE POLYLINE[layer=="OUTLINE"]'):
                    points = [complex(entity.dxf.start.x, entity.dxf.start.y), complex(entity.dxf.end.x, entity.dxf.end.y)] if entity.dxftype() == "LINE" \
                        else [complex(v.dxf.location.x, v.dxf.location.y) for v in entity.vertices]
                    if entity.dxftype() == "POLYLINE" and entity.is_closed:
                        points.append(points[0])
                    lengths += [abs(b - a) for a, b in zip(points, points[1:])]
                plain = [b for b in plan["boards"] if not any(end["lap"] for end in b["ends"])]
                for board in plain:
                    outside = abs(complex(*board["plan_mm"][1]) - complex(*board["plan_mm"][2]))
                    self.assertLess(min(abs(length - outside) for length in lengths), 2e-6, f"board {board['number']}")

    def test_texts_are_those_of_the_drawing(self):
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder)
            plan_into(out, SOURCE / "projects/courtyard-planter.json")
            texts = [t.dxf.text for t in ezdxf.readfile(out / "plan.dxf").modelspace().query("TEXT")]
            self.assertEqual(texts.count("120%%d"), 6)
            shown = [t.text for t in ElementTree.parse(out / "plan.svg").getroot().iter(SVG + "text")]
            self.assertEqual(sorted(t.replace("%%d", "\u00b0") for t in texts), sorted(shown))


if __name__ == "__main__":
    unittest.main()
