#!/usr/bin/env python3
"""As-cut files: the published schema and the program agree on what is one."""
import copy
import json
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

import jsonschema

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
SCHEMA = json.loads((SOURCE / "schemas/boardring-as-cut-1.schema.json").read_text())
PROJECT = SOURCE / "projects/courtyard-planter.json"
GOOD = sorted((SOURCE / "projects/as-cut").glob("*.json"))

BAD_CHANGES = {
    "another format": lambda f: f.update(format="boardring-as-cut-2"),
    "no format": lambda f: f.pop("format"),
    "no boards": lambda f: f.pop("boards"),
    "an unknown key": lambda f: f.update(bords={}),
    "board 0": lambda f: f["boards"].update({"0": {}}),
    "a board that is no group": lambda f: f["boards"].update({"1": 400}),
    "an unknown length": lambda f: f["boards"]["1"].update(longest_of_all=400),
    "a length that is none": lambda f: f["boards"]["1"].update(long=True),
    "a diagonal of one corner": lambda f: f.update(diagonals={"A": 600}),
    "an unknown accuracy": lambda f: f.update(accuracy={"rule": 1}),
}


def refit(value):
    with tempfile.NamedTemporaryFile("w", suffix=".json") as file:
        file.write(json.dumps(value))
        file.flush()
        return subprocess.run([BOARDRING, "refit", str(PROJECT), file.name], capture_output=True, text=True)


class AsCutSchema(unittest.TestCase):
    def setUp(self):
        jsonschema.Draft7Validator.check_schema(SCHEMA)
        self.validator = jsonschema.Draft7Validator(SCHEMA)
        self.files = [json.loads(re.sub(r"(?m)^\s*//.*$", "", path.read_text())) for path in GOOD]
        self.assertTrue(self.files)

    def test_demos_pass_both(self):
        for file in self.files:
            self.assertEqual([e.message for e in self.validator.iter_errors(file)], [])
            run = refit(file)
            self.assertEqual(run.returncode, 0, run.stderr)
            self.assertIn("CLOSES.", run.stdout)

    def test_changes_are_refused_by_both(self):
        for name, change in BAD_CHANGES.items():
            file = copy.deepcopy(self.files[0])
            change(file)
            self.assertNotEqual(list(self.validator.iter_errors(file)), [], name)
            self.assertEqual(refit(file).returncode, 2, name)

    def test_the_project_file_stays_as_it_is(self):
        before = PROJECT.read_bytes()
        refit(self.files[0])
        self.assertEqual(PROJECT.read_bytes(), before)


if __name__ == "__main__":
    unittest.main()
