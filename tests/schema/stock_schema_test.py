#!/usr/bin/env python3
"""The published schema of stock lists describes boards as that of projects does, accepts the demos' lists and refuses what the reader refuses."""
import copy
import json
import os
import pathlib
import unittest

import jsonschema

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
SCHEMA = json.loads((SOURCE / "schemas/boardring-stock-1.schema.json").read_text())
PROJECT = json.loads((SOURCE / "schemas/boardring-project-1.schema.json").read_text())
GOOD = {"format": "boardring-stock-1", "units": "mm",
        "stock": {"rail": {"width": 145, "thickness": 38, "lengths": [{"length": 2400, "price": 9.6}, {"length": 900, "count": 1, "offcut": True}]}}}


class StockSchema(unittest.TestCase):
    def test_the_schema_is_one(self):
        jsonschema.Draft7Validator.check_schema(SCHEMA)

    def test_boards_are_described_as_in_a_project(self):
        self.assertEqual(SCHEMA["properties"]["stock"], PROJECT["properties"]["stock"])
        self.assertEqual(SCHEMA["properties"]["units"], PROJECT["properties"]["units"])

    def test_good_and_bad(self):
        validator = jsonschema.Draft7Validator(SCHEMA)
        self.assertEqual(list(validator.iter_errors(GOOD)), [])
        for change in (lambda s: s.pop("format"), lambda s: s.pop("units"), lambda s: s.pop("stock"), lambda s: s.update(pieces=[]),
                       lambda s: s["stock"]["rail"].update(with_=1), lambda s: s["stock"]["rail"].pop("width"),
                       lambda s: s["stock"]["rail"]["lengths"][0].pop("length")):
            changed = copy.deepcopy(GOOD)
            change(changed)
            self.assertFalse(validator.is_valid(changed), changed)

    def test_names_of_stock_files(self):
        validator = jsonschema.Draft7Validator(PROJECT["definitions"]["file_beside"])
        for name in ("yard.json", "lists/yard.json", "a..b.json", ".yard.json", "left over.json"):
            self.assertTrue(validator.is_valid(name), name)
        for name in ("", "/yard.json", "../yard.json", "a/../yard.json", "..", "a/..", "a//b", "a/", "C:yard.json", "a\\b.json", "a\nb"):
            self.assertFalse(validator.is_valid(name), name)


if __name__ == "__main__":
    unittest.main()
