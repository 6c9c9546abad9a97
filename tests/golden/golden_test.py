#!/usr/bin/env python3
"""Outputs stay as they were: every demo's page and files, what is said of every finding, rare pages. Re-bless with bless.py, read the diff."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import golden  # noqa: E402


class Golden(unittest.TestCase):
    maxDiff = 4000

    def test_demos(self):
        self.assertGreaterEqual(len(golden.demos()), 9)
        for project in golden.demos():
            with self.subTest(project.stem):
                folder = golden.HERE / "demos" / project.stem
                kept = {path.name: path.read_bytes() for path in folder.iterdir()}
                made = golden.demo_outputs(project)
                self.assertEqual(sorted(kept), sorted(made))
                for name, text in made.items():
                    self.assertEqual(kept[name].decode(), text.decode(), f"{project.stem}: {name}")

    def test_findings(self):
        for project in golden.finding_projects():
            with self.subTest(project.stem):
                said = golden.finding_output(project).decode()
                self.assertEqual((golden.HERE / "said" / (project.stem + ".txt")).read_text(), said)
                self.assertIn(golden.code_of(project), said, "the project must show the finding it is named after")

    def test_pages(self):
        for project in golden.page_projects():
            with self.subTest(project.stem):
                self.assertEqual((golden.HERE / "printed" / (project.stem + ".txt")).read_text(), golden.page_output(project).decode())

    def test_nothing_left_over(self):
        for kept, projects in (("said", golden.finding_projects()), ("printed", golden.page_projects())):
            self.assertEqual(sorted(path.stem for path in (golden.HERE / kept).iterdir()), sorted(project.stem for project in projects))


if __name__ == "__main__":
    unittest.main()
