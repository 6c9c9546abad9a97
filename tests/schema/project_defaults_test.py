#!/usr/bin/env python3
"""What the project schema calls a default is what the program takes: writing it changes nothing of the plan but what was assumed.

Every key of every demo that could stand there and does not, and has a default in the schema, is written with that default, one at a time.
"""
import copy
import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import unittest

import jsonschema

from project_schema_test import load

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
SCHEMA = json.loads((SOURCE / "schemas/boardring-project-1.schema.json").read_text())
DEMOS = sorted((SOURCE / "projects").glob("*.json"))
VALIDATOR = jsonschema.Draft7Validator(SCHEMA)


def defaults_of(schema, instance, path=()):
    """[(path of the key, default)] of keys with a default that this instance lacks, in the schema and all its branches."""
    while "$ref" in schema:
        found = SCHEMA
        for step in schema["$ref"].split("/")[1:]:
            found = found[step]
        schema = found
    for branch in schema.get("anyOf", []) + schema.get("oneOf", []) + schema.get("allOf", []):
        yield from defaults_of(branch, instance, path)
    if isinstance(instance, list):
        if isinstance(schema.get("items"), dict):
            for i, item in enumerate(instance):
                yield from defaults_of(schema["items"], item, path + (i,))
        return
    if not isinstance(instance, dict):
        return
    known = schema.get("properties", {})
    for key, of_key in known.items():
        if key in instance:
            yield from defaults_of(of_key, instance[key], path + (key,))
        elif "default" in of_key:
            yield path + (key,), of_key["default"]
        elif of_key.get("type") == "object":
            yield from defaults_of(of_key, {}, path + (key,))
    if isinstance(schema.get("additionalProperties"), dict):
        for key in set(instance) - set(known):
            yield from defaults_of(schema["additionalProperties"], instance[key], path + (key,))


def with_key(instance, path, value):
    changed = copy.deepcopy(instance)
    at = changed
    for key in path[:-1]:
        at = at.setdefault(key, {}) if isinstance(at, dict) else at[key]
    at[path[-1]] = value
    return changed


class Defaults(unittest.TestCase):
    def planned(self, folder, project):
        (folder / "demo.json").write_text(json.dumps(project, indent=1))
        run = subprocess.run([BOARDRING, "plan", "demo", "--json"], cwd=folder, capture_output=True, text=True, check=False)
        self.assertIn(run.returncode, (0, 1), run.stderr)
        plan = json.loads(run.stdout)
        plan.pop("assumed", None)
        for finding in plan.get("findings", []):
            for place in ("pointer", "line", "column"):
                finding.pop(place, None)
        return plan

    def test_a_default_written_out_changes_nothing(self):
        tried = {}
        for demo in DEMOS:
            project = load(demo)
            with tempfile.TemporaryDirectory() as name:
                folder = pathlib.Path(name)
                shutil.copytree(SOURCE / "projects/lists", folder / "lists")
                plain = self.planned(folder, project)
                for path, value in {path: value for path, value in defaults_of(SCHEMA, project)}.items():
                    changed = with_key(project, path, value)
                    if not VALIDATOR.is_valid(changed):  # a key of another form of outline
                        continue
                    with self.subTest(project=demo.stem, key="/".join(map(str, path)), value=value):
                        self.assertEqual(self.planned(folder, changed), plain)
                    tried[path[-1]] = tried.get(path[-1], 0) + 1
        self.assertGreaterEqual(set(tried), {"basis", "copies", "courses", "grain", "hang", "kind", "letters", "offcut", "open", "rounding", "saw_step",
                                             "scale_at_square", "seen", "slope_by", "spares", "surface", "swing_limit", "tilt_limit"})


if __name__ == "__main__":
    unittest.main()
