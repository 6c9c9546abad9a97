#!/usr/bin/env python3
"""The list of findings: every code the engine can say is explained in docs/findings.md, shown by a golden project, and the other way round."""
import os
import pathlib
import re
import subprocess
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import golden  # noqa: E402

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))

# Said of the command line, where there is no project; tests/unit/plan/one_joint_test.cpp shows them. The size limit would need a file of 4 MB;
# tests/unit/io shows it. What is said to `change` is no file either: tests/unit/spoken/change_test.cpp; nor what is said instead of one: tests/golden/sentences; nor is what was measured:
# tests/unit/plan/refit_plan_test.cpp and tests/unit/io/read_as_cut_test.cpp.
NOT_IN_A_FILE = ["joint.angle-out-of-range", "joint.width-out-of-range", "file.too-large",
                 "sentence.ambiguous", "sentence.characters", "sentence.does-not-fit", "sentence.missing", "sentence.number", "sentence.said-twice",
                 "sentence.too-long", "sentence.unknown-word", "change.not-understood", "change.no-such", "change.units",
                 "refit.open-chain", "refit.other-joints", "refit.gap-too-early", "refit.cannot-close", "refit.far-off", "refit.diagonal-uncut",
                 "refit.rough-length", "refit.not-understood"]
# Every text of the engine that is written like a code is one, whatever its area.
CODE = re.compile(r'"([a-z]+\.[a-z]+(?:-[a-z]+)*)"')


def codes_in_source():
    found = set()
    for path in sorted((SOURCE / "engine").rglob("*.cpp")):
        found |= set(CODE.findall(path.read_text()))
    return found


class Catalogue(unittest.TestCase):
    def setUp(self):
        self.listed = subprocess.run([BOARDRING, "explain"], capture_output=True, text=True, check=True).stdout.split()

    def test_listed_once(self):
        self.assertEqual(len(self.listed), len(set(self.listed)))

    def test_every_code_of_the_engine_is_explained(self):
        said, listed = codes_in_source(), set(self.listed)
        self.assertEqual(sorted(said - listed), [], "write an entry for each in docs/findings.md")
        self.assertEqual(sorted(listed - said), [], "docs/findings.md explains what nothing says: take it out, or mend the code's spelling")

    def test_every_code_has_a_golden_project(self):
        shown = {golden.code_of(project) for project in golden.finding_projects()}
        self.assertEqual(sorted(set(self.listed) - shown - set(NOT_IN_A_FILE)), [],
                         "show each by tests/golden/findings/CODE.json (or projects_bad/CODE--what.json), or say above why no file can")
        self.assertEqual(sorted(shown - set(self.listed)), [], "these projects are named after a code that docs/findings.md does not list")

    def test_each_is_explained_in_full(self):
        for code in self.listed:
            text = subprocess.run([BOARDRING, "explain", code], capture_output=True, text=True, check=True).stdout
            self.assertTrue(text.startswith(code + "\n"))
            for part in ("Means:", "Example:", "Do:"):
                self.assertIn(part, text, code)


if __name__ == "__main__":
    unittest.main()
