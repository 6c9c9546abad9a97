#!/usr/bin/env python3
"""Papers of the demos and of a hostile project, opened in headless Chromium on a phone, a tablet and a sheet of A4.

Nothing may overflow or run into each other, no console message, no request, and the accessibility rules of axe-core must pass in light
and dark. Needs Debian's chromium and nodejs, and axe-core, html-validate and playwright-core from npm (package-lock.json here); tests/run.sh installs
them. Where they are missing this test says so and checks only what needs no browser.
"""
import html.parser
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
HERE = SOURCE / "tests/looked_at"
MODULES = pathlib.Path(os.environ.get("LOOK_MODULES", SOURCE / "build/looked_at"))
BROWSER = shutil.which("chromium")
HOSTILE = '<script>alert(1)</script> "x" &amp; \'y\' </style></title> ' + "verylongword" * 9
VOID = {"meta", "rect", "polygon", "polyline", "path", "circle", "link", "br"}


class Tags(html.parser.HTMLParser):
    """Every element is closed where it was opened; ids are used once; what links inside the page is there."""

    def __init__(self):
        super().__init__()
        self.open, self.faults, self.ids, self.links, self.names = [], [], [], [], set()

    def handle_starttag(self, tag, attrs):
        self.names.add(tag)
        attrs = dict(attrs)
        if "id" in attrs:
            self.ids.append(attrs["id"])
        for key in ("href", "aria-labelledby"):
            if key in attrs:
                self.links.append(attrs[key].lstrip("#"))
        if any(key.startswith("on") for key in attrs) or "src" in attrs:
            self.faults.append(f"{tag} {attrs}")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.names.add(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes what is not open")


def hostile_project(folder):
    text = (SOURCE / "projects/courtyard-planter.json").read_text()
    text = re.sub(r'"title": "[^"]*"', lambda _: '"title": ' + json.dumps(HOSTILE), text, count=1)
    text = text.replace('"rail"', json.dumps("<b>rail</b>"))
    path = pathlib.Path(folder, "hostile.json")
    path.write_text(text)
    return path


LOOKED_AT = ("courtyard-planter", "stair-window")  # on edge and flat, metric and inches; each view takes seconds


def papers(folder, demos="*"):
    made = []
    names = [SOURCE / "projects" / f"{name}.json" for name in demos] if demos != "*" else sorted((SOURCE / "projects").glob("*.json"))
    for project in names + [hostile_project(folder)]:
        out = pathlib.Path(folder, "papers-" + project.stem)
        subprocess.run([BOARDRING, "plan", str(project), "--out", str(out)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        if (out / "papers.html").exists():
            made.append(out / "papers.html")
    return made


class Papers(unittest.TestCase):
    def test_markup_is_well_formed_and_closed_in_itself(self):
        with tempfile.TemporaryDirectory() as folder:
            made = papers(folder)
            self.assertGreater(len(made), 6)
            for path in made:
                with self.subTest(papers=path.parent.name):
                    page = path.read_text(encoding="utf-8")
                    tags = Tags()
                    tags.feed(page)
                    self.assertEqual((tags.faults, tags.open), ([], []))
                    self.assertEqual(len(tags.ids), len(set(tags.ids)))
                    self.assertLessEqual(set(tags.links), set(tags.ids))
                    self.assertNotIn("script", tags.names)
                    self.assertFalse(re.search(r"url\(|@import|https?://(?!www\.w3\.org/2000/svg)", page))

    @unittest.skipUnless(shutil.which("node") and (MODULES / "node_modules/html-validate").is_dir(), "nodejs or html-validate from npm is not installed")
    def test_markup_is_valid(self):
        with tempfile.TemporaryDirectory() as folder:
            made = papers(folder)
            config = pathlib.Path(folder, "rules.json")
            config.write_text('{ "root": true, "extends": ["html-validate:standard"] }')
            command = ["node", str(MODULES / "node_modules/html-validate/bin/html-validate.js"), "--config", str(config)]
            run = subprocess.run([*command, *map(str, made)], capture_output=True, text=True, check=False)
            self.assertEqual((run.returncode, run.stdout), (0, ""), run.stderr)
            wrong = pathlib.Path(folder, "wrong.html")
            wrong.write_text(made[0].read_text(encoding="utf-8").replace('id="saw"', 'id="front"', 1), encoding="utf-8")
            run = subprocess.run([*command, str(wrong)], capture_output=True, text=True, check=False)
            self.assertNotEqual(run.returncode, 0, "the validator finds what is wrong")

    def test_a_hostile_project_shows_as_text(self):
        with tempfile.TemporaryDirectory() as folder:
            page = next(p for p in papers(folder, ()) if "hostile" in str(p)).read_text(encoding="utf-8")
            self.assertIn("&lt;script&gt;alert(1)&lt;/script&gt;", page)
            self.assertNotIn("<b>rail", page)

    @unittest.skipUnless(BROWSER and shutil.which("node") and (MODULES / "node_modules/axe-core").is_dir(),
                         "chromium, nodejs or the npm packages of tests/looked_at are not installed")
    def test_readers_on_phone_tablet_and_paper_stumble_over_nothing(self):
        with tempfile.TemporaryDirectory() as folder:
            made = papers(folder, "*" if os.environ.get("BOARDRING_FULL") else LOOKED_AT)
            run = subprocess.run(["node", str(HERE / "look.mjs"), BROWSER, *map(str, made)], capture_output=True, text=True, check=False,
                                 env={**os.environ, "LOOK_MODULES": str(MODULES), "HOME": folder})
            self.assertEqual(run.returncode, 0, run.stderr)
            results = json.loads(run.stdout)
            self.assertEqual(len(results), 5 * len(made))
            self.assertEqual({view: found for view, found in results.items() if found}, {})


if __name__ == "__main__":
    unittest.main()
