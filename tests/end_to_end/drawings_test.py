#!/usr/bin/env python3
"""The drawings of every demo project, read by an independent XML parser and held against the numbers of plan.json.

Boards on plan.svg are the boards of plan.json, moved, turned, mirrored only for clockwise letters, and divided by the scale the sheet
names; the cuts on each card stand at the angles of plan.json; every mark is written as text.
"""
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

import numpy

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
SVG = "{http://www.w3.org/2000/svg}"
SVG_DTD = pathlib.Path("/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd")
ROUNDED = 0.0005  # coordinates are written to a thousandth of a millimetre of paper
DEMOS = sorted((SOURCE / "projects").glob("*.json"))


def points(element):
    return [complex(*map(float, pair.split(","))) for pair in element.get("points").split()]


def texts(root):
    return [element.text or "" for element in root.iter(SVG + "text")]


def scale_of(root):
    found = next(re.search(r"Scale (\d+(?:\.\d+)?):(\d+(?:\.\d+)?)", text) for text in texts(root) if "Scale " in text)
    return float(found.group(2)) / float(found.group(1))


def set_out(plan):
    """Marks of each board's ends as they are set out, corner by corner: rounded so that the ring closes where that was done, else the plan's own."""
    rounding = plan.get("rounding")
    boards = rounding["boards"] if rounding and rounding["applied"] else plan["boards"]
    return {board["number"]: {end["corner"]: (end["inside_mark_mm"], end["outside_mark_mm"]) for end in board["ends"]} for board in boards}


def moves(plan):
    """How far setting out moves each corner of `plan_mm` along its board, from the board's first letter to its second."""
    marks = set_out(plan)
    for board in plan["boards"]:
        towards = 1 if board["ends"][0]["corner"] == board["left_end"] else -1
        for e, side in ((0, 0), (0, 1), (1, 1), (1, 0)):  # inside and outside at the first letter, outside and inside at the second
            end = board["ends"][e]
            yield towards * (marks[board["number"]][end["corner"]][side] - end[("inside_mark_mm", "outside_mark_mm")[side]])


def laid_over(wanted, drawn):
    """(misses across the boards, misses along them, scale) of the move, turn and scaling that lays `wanted` over `drawn`, four corners a
    board. Setting out moves marks along their boards only: what lies across them settles the three."""
    rows, right, along = [], [], []
    for k in range(0, len(wanted), 4):
        e = drawn[k + 3] - drawn[k]
        e /= abs(e)
        for z, p in zip(wanted[k:k + 4], drawn[k:k + 4]):
            across, length = (z / e).imag, (z / e).real  # Im(conj(e) (t z + s)) with t = tr + i ti, s = sr + i si
            rows.append([across, length, -e.imag, e.real])
            right.append((p / e).imag)
            along.append(e)
    tr, ti, sr, si = numpy.linalg.lstsq(numpy.array(rows), numpy.array(right), rcond=None)[0]
    off = [(p - complex(tr, ti) * z - complex(sr, si)) / e for z, p, e in zip(wanted, drawn, along)]
    return [abs(o.imag) for o in off], [o.real for o in off], abs(complex(tr, ti))


class Drawings(unittest.TestCase):
    @unittest.skipUnless(shutil.which("xmllint") and SVG_DTD.exists(), "xmllint or the document type of SVG 1.1 (w3c-sgml-lib) is not installed")
    def test_every_drawing_is_valid_svg(self):
        with tempfile.TemporaryDirectory() as folder:
            seen = []
            for demo in DEMOS:
                out = pathlib.Path(folder, demo.stem)
                subprocess.run([BOARDRING, "plan", str(demo), "--out", str(out)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
                for path in out.glob("*.svg"):
                    text = path.read_text(encoding="utf-8")
                    self.assertIn(' role="img"', text)
                    path.write_text(text.replace(' role="img"', "", 1), encoding="utf-8")  # for screen readers: younger than SVG 1.1
                    seen.append(path)
            self.assertGreater(len(seen), 40)
            run = subprocess.run(["xmllint", "--noout", "--nonet", "--dtdvalid", str(SVG_DTD), *map(str, seen)], capture_output=True, text=True, check=False)
            self.assertEqual((run.returncode, run.stderr), (0, ""))

    def drawn(self):
        """(name, plan, folder) of every demo that has drawings."""
        for demo in DEMOS:
            with tempfile.TemporaryDirectory() as folder:
                subprocess.run([BOARDRING, "plan", str(demo), "--out", folder], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
                out = pathlib.Path(folder)
                if (out / "plan.svg").exists():
                    with self.subTest(project=demo.stem):
                        yield json.loads((out / "plan.json").read_text(encoding="utf-8")), out

    def test_every_file_is_a_sheet_that_fits_common_paper(self):
        seen = 0
        for _, out in self.drawn():
            for file in out.glob("*.svg"):
                root = ElementTree.parse(file).getroot()
                self.assertEqual(root.tag, SVG + "svg")
                width, height = (float(root.get(key).removesuffix("mm")) for key in ("width", "height"))
                self.assertEqual([float(x) for x in root.get("viewBox").split()], [0, 0, width, height])
                self.assertLessEqual(min(width, height), 190)
                self.assertLessEqual(max(width, height), 254)
                self.assertTrue(root.find(SVG + "title").text)
                self.assertTrue(root.find(SVG + "desc").text)
                for text in root.iter(SVG + "text"):
                    self.assertGreaterEqual(float(text.get("font-size")) * 0.72, 2.5 - 0.001)
                seen += 1
        self.assertGreater(seen, 20)

    def test_boards_of_the_plan_are_drawn_to_the_scale_it_names(self):
        for plan, out in self.drawn():
            root = ElementTree.parse(out / "plan.svg").getroot()
            scale = scale_of(root)
            wanted = [complex(x, y) for board in plan["boards"] for x, y in board["plan_mm"]]
            polygons = [points(e) for e in root.findall(SVG + "polygon")]
            drawn = [p for polygon in polygons[: len(plan["boards"])] for p in polygon]
            self.assertEqual(len(drawn), len(wanted))
            # On the paper y runs down: a picture that is not mirrored is the conjugate. Which it is, the plan's own turn says.
            clockwise = "clockwise" == plan["outline"].get("letters", "counterclockwise")
            plain = [z.conjugate() for z in wanted]
            seen, other = (wanted, plain) if clockwise else (plain, wanted)
            across, along, drawn_scale = laid_over(seen, drawn)
            self.assertLess(max(across), 4 * ROUNDED)
            # A board stands where its datum is: each of its corners lies off by what setting out moved that mark.
            for off, move in zip(along, moves(plan)):
                self.assertAlmostEqual(off, move / scale, delta=4 * ROUNDED)
            self.assertAlmostEqual(drawn_scale * scale, 1.0, delta=1e-3)
            self.assertGreater(max(laid_over(other, drawn)[0]), 0.1)

    def test_cards_show_the_marks_and_slopes_of_the_plan(self):
        for plan, out in self.drawn():
            by_number = {board["number"]: board for board in plan["boards"]}
            cards = list(out.glob("board-*.svg"))
            self.assertTrue(cards)
            for card in cards:
                root = ElementTree.parse(card).getroot()
                board = by_number[int(card.stem.split("-")[1])]
                scale = scale_of(root)
                cuts = [points(e) for group in root.iter(SVG + "g") if group.get("stroke-width") == "0.7" for e in group.findall(SVG + "polyline")]
                self.assertEqual(len(cuts), 2)
                ends = board["ends"] if board["ends"][0]["corner"] == board["left_end"] else board["ends"][::-1]
                for cut, end, outward in zip(cuts, ends, (-1, 1)):
                    run = (cut[0].real - cut[1].real) * outward * scale
                    inside, outside = set_out(plan)[board["number"]][end["corner"]]
                    self.assertAlmostEqual(run, (outside - inside) * outward, delta=4 * ROUNDED * scale)
                    self.assertAlmostEqual(abs(cut[0].imag - cut[1].imag) * scale, board["width_in_joint_mm"], delta=4 * ROUNDED * scale)
                    self.assertIn(end["corner"], texts(root))
                if plan["units"] == "mm":
                    written = [float(t) for t in texts(root) if re.fullmatch(r"\d+(\.\d+)?", t)]
                    for end in board["ends"]:
                        for mark in set_out(plan)[board["number"]][end["corner"]]:
                            self.assertLessEqual(min(abs(mark - w) for w in written), 0.5)


if __name__ == "__main__":
    unittest.main()
