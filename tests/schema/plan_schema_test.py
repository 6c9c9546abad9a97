#!/usr/bin/env python3
"""plan.json of every demo project, and of a refused one, is valid by an independent validator of JSON Schema draft 7."""
import copy
import json
import os
import pathlib
import subprocess
import unittest

import jsonschema

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
SCHEMA = json.loads((SOURCE / "schemas/boardring-plan-1.schema.json").read_text())


def plan_of(project):
    run = subprocess.run([BOARDRING, "plan", str(project), "--json"], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        raise AssertionError(f"{project.name}: exit {run.returncode}\n{run.stderr}")
    return json.loads(run.stdout)


class PlanSchema(unittest.TestCase):
    def setUp(self):
        self.validator = jsonschema.Draft7Validator(SCHEMA)
        self.projects = sorted((SOURCE / "projects").glob("*.json"))
        self.assertTrue(self.projects, "no demo projects")

    def test_the_schema_is_one(self):
        jsonschema.Draft7Validator.check_schema(SCHEMA)

    def test_every_demo(self):
        whole = refused = 0
        for project in self.projects:
            plan = plan_of(project)
            faults = [f"{project.name}: {list(e.absolute_path)}: {e.message}" for e in self.validator.iter_errors(plan)]
            self.assertEqual(faults, [])
            whole += plan["closure"] is not None
            refused += plan["outline"] is None
        self.assertGreater(whole, 0)
        self.assertGreater(refused, 0, "one demo must fail its check")

    def test_the_schema_can_refuse(self):
        """Each change of a good plan must be noticed, or the schema says nothing."""
        plan = next(p for p in map(plan_of, self.projects) if p["closure"] is not None)
        changes = [
            lambda p: p.pop("units"),
            lambda p: p.update(extra=1),
            lambda p: p["boards"][0].update(number=0),
            lambda p: p["boards"][0].update(number="1"),
            lambda p: p["boards"][0]["ends"].pop(),
            lambda p: p["boards"][0]["ends"][0].update(longer="left"),
            lambda p: p["boards"][0]["ends"][0].update(saw_deg=90),
            lambda p: p["boards"][0]["plan_mm"][0].append(1.0),
            lambda p: p["joints"][0].update(kind="glue"),
            lambda p: p["joints"][0].update(corner="a"),
            lambda p: p["cut_list"][0].update(count=1.5),
            lambda p: p["settings"][0]["ends"].append("B2"),
            lambda p: p["closure"]["exact"].pop("spread"),
            lambda p: p["totals"].update(height_mm=None),
            lambda p: p.update(buying={}),
        ]
        for i, change in enumerate(changes):
            changed = copy.deepcopy(plan)
            change(changed)
            self.assertFalse(self.validator.is_valid(changed), f"change {i}")


if __name__ == "__main__":
    unittest.main()
