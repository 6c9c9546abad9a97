#!/usr/bin/env python3
"""Names and titles that try to be more than text, everywhere they are shown: terminal, CSV, SVG, HTML, DXF, PDF, commands to copy."""
import csv
import html.parser
import io
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
HOSTILE = ["=HYPERLINK(\"http://x.invalid\",\"y\")", "+1+cmd|' /C calc'!A0", "-2+3", "@SUM(1)", "\t=1+1", "\r\n=1+1", "  =1+1", "\uff1d1+1",
           "</title></svg><script>alert(1)</script>", "\" onload=\"alert(1)\" x=\"", "' onclick='alert(1)", "]]><script>alert(1)</script><![CDATA[", "<!--", "&#60;script&#62;",
           "<?xml version=\"1.0\"?><!DOCTYPE x [<!ENTITY e SYSTEM \"file:///etc/passwd\">]>&e;",
           "\x1b[31mred\x1b]0;title\x07", "\x9b31m", "\x1bP$qm\x1b\\", "a\x08\x08\x7fb", "line\nNEXT       boardring plan evil", "zero\u200bwidth\ufeff", "soft\u00adhyphen",
           "(a) Tj ET Q endstream endobj %%EOF", "0\nSECTION\n2\nENTITIES", "%%c%%d", "$(touch owned)", "`touch owned`", "; touch owned;", "\\", "'", "\"", "e\u0301\U0001f332 \u05e9\u4e2d",
           "javascript:alert(1)", "{} {0} %s %n"]
PLAIN = "plain"


def project(title, others=()):
    """A ring, and for each of the other texts a stock, a species and a piece called so."""
    stock = {"rail": {"width": 145, "thickness": 38, "species": title, "lengths": [{"length": 2400, "price": 9.8}]}}
    stock |= {text: {"width": 145, "thickness": 38, "species": text, "lengths": [{"length": 2400, "price": 9.8}]} for text in others}
    return {"format": "boardring-project-1", "title": title, "units": "mm",
            "outline": {"line": "inside", "regular": {"corners": 6, "over_flats": 640}}, "stock": stock,
            "boards": {"lie": "on edge", "all": {"stock": "rail"}},
            "pieces": [{"name": text, "stock": text, "length": 400, "count": 2} for text in others]}


class Tags(html.parser.HTMLParser):
    """Elements and attributes of a page, in order, without their values."""

    def __init__(self, text):
        super().__init__()
        self.seen = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.seen.append((tag, *sorted(name for name, _ in attrs)))

    def handle_comment(self, data):
        self.seen.append("comment")


def elements(svg):
    return [(node.tag, *sorted(node.keys())) for node in ElementTree.fromstring(svg).iter()]


class Hostile(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.here = pathlib.Path(folder.name)

    def run_it(self, *words):
        return subprocess.run([BOARDRING, *words], cwd=self.here, capture_output=True, stdin=subprocess.DEVNULL, check=False)

    def assertSafe(self, data, what, controls=rb"\n"):
        """No control mark, of one byte or two, but the ones named; nothing that is not UTF-8."""
        bad = re.search(rb"[\x00-\x1f\x7f](?<![" + controls + rb"])|\xc2[\x80-\x9f]|\xe2\x80[\x8b-\x8f\xaa-\xae]", data)
        self.assertIsNone(bad, (what, data[max(0, bad.start() - 30):bad.end() + 30] if bad else b""))
        data.decode()

    def out(self, title, others=()):
        """Every file of the project; None where it is refused."""
        (self.here / "bed.json").write_text(json.dumps(project(title, others)))
        run = self.run_it("plan", "bed", "--more", "--out", "p")
        self.assertSafe(run.stdout + run.stderr, title)
        files = {path.name: path.read_bytes() for path in (self.here / "p").iterdir()}
        shutil.rmtree(self.here / "p")
        self.assertIn(run.returncode, (0, 1), run.stderr)
        return files if run.returncode == 0 else None

    def test_titles(self):
        plain = self.out(PLAIN)
        taken = 0
        for text in HOSTILE:
            with self.subTest(text=text):
                files = self.out(text)
                if files is None:
                    continue
                taken += 1
                self.assertEqual(files.keys(), plain.keys())
                self.look_at(files, plain)
                for words in ([], ["change", "bed", "title is " + text]):
                    run = self.run_it(*words)
                    self.assertSafe(run.stdout + run.stderr, words)
        self.assertGreater(taken, 20)

    def test_species_stock_and_pieces_in_every_command(self):
        good = [text for text in HOSTILE if self.run_it_on(text).returncode == 0]
        self.assertGreater(len(good), 15)
        plain = self.out(PLAIN, [f"plain {n}" for n in range(len(good))])
        self.look_at(self.out(" ".join(good)[:60], good), plain)
        for words in (["check", "bed"], ["plan", "bed", "--json"], ["buy", "bed", "--out", "p"], ["closure", "bed", "--runs", "100"], ["papers", "bed", "--out", "p"],
                      ["refit", "bed", "1=413"], ["change", "bed", "kerf is 2.5"]):
            run = self.run_it(*words)
            self.assertEqual(run.returncode, 0, (words, run.stderr))
            self.assertSafe(run.stdout + run.stderr, words)

    def run_it_on(self, text):
        (self.here / "bed.json").write_text(json.dumps(project(PLAIN, [text])))
        run = self.run_it("check", "bed")
        self.assertSafe(run.stdout + run.stderr, text)
        return run

    def look_at(self, files, plain):
        for name, data in files.items():
            if name.endswith(".pdf"):
                self.assertTrue(data.startswith(b"%PDF-") and data.rstrip().endswith(b"%%EOF"), name)
                self.assertNotIn(b"/JavaScript", data)
                self.assertNotIn(b"/URI", data)
                continue
            self.assertSafe(data, name, rb"\n\r" if name.endswith((".csv", ".dxf")) else rb"\n")
            text = data.decode()
            if name.endswith(".csv"):
                rows, usual = (list(csv.reader(io.StringIO(one.decode(), newline=""))) for one in (data, plain[name]))
                self.assertEqual([len(row) for row in rows], [len(row) for row in usual])
                for cell in (cell for row in rows for cell in row):
                    self.assertNotRegex(cell, r"^\s*[=+@\uff1d\uff0b\uff0d\uff20]|^\s*-(?!\d+(\.\d+)?$)")
            elif name.endswith(".svg"):
                self.assertEqual({tag[0] for tag in elements(text)}, {tag[0] for tag in elements(plain[name].decode())}, name)
                self.assertFalse([tag for tag in elements(text) if any(key.startswith("on") or key.endswith("href") for key in tag[1:])])
                self.assertNotIn("<!DOCTYPE", text)
            elif name.endswith(".html"):
                self.assertEqual(set(Tags(text).seen), set(Tags(plain[name].decode()).seen))
                self.assertIn("Content-Security-Policy", text) if "Content-Security-Policy" in plain[name].decode() else None
            elif name.endswith(".json"):
                json.loads(text)
            elif name.endswith(".dxf"):
                self.assertEqual(text.count("SECTION"), plain[name].decode().count("SECTION") + text.count("0 SECTION"))

    def test_names_of_files(self):
        for name in ("$(touch owned)", "`touch owned`", "a;touch owned", "a b", "it's", "a\"b", "\x1b[31mred", "a\nNEXT       evil", "a\\b", "-x", "a!b", "\u202eevil", "~", "*", "#a", "caf\u00e9"):
            with self.subTest(name=name):
                (self.here / f"{name}.json").write_text(json.dumps(project(PLAIN)))
                path = f"./{name}" if name.startswith("-") else name
                said = []
                for words in ([], ["plan"], ["check", path], ["papers"], ["buy"], ["change", path, "kerf is 2.5"], ["plan", path, "--out", f"{name}.json"],
                              ["plan", f"{path}nothing"], ["refit", path, f"{path}.nothing"]):
                    run = self.run_it(*words)
                    self.assertNotEqual(run.returncode, 3, (words, run.stderr))
                    said.append((run.stdout + run.stderr).replace(f"{name}.json".encode() if "\n" not in name and name.isprintable() else b"\0", b""))
                    self.assertSafe(run.stdout + run.stderr, words)
                self.copied(b"".join(said).decode())
                for path in self.here.iterdir():
                    shutil.rmtree(path) if path.is_dir() else path.unlink()

    def copied(self, said):
        """Every NEXT line as one would paste it; `boardring` stands for a program that only takes its words."""
        commands = re.findall(r"^NEXT +(boardring.*?)(?:   \(.*)?$", said, re.MULTILINE)
        self.assertTrue(commands)
        for command in set(commands):
            shell = subprocess.run(["bash", "-c", "boardring() { :; }; " + command], cwd=self.here, capture_output=True, text=True, check=False)
            self.assertEqual((shell.returncode, shell.stderr), (0, ""), command)
            self.assertFalse((self.here / "owned").exists(), command)


if __name__ == "__main__":
    unittest.main()
