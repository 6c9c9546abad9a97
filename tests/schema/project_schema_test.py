#!/usr/bin/env python3
"""The published schema of the project file and our reader give the same verdict on a corpus of good and bad files.

The reader's verdict on the same folders is held by tests/unit/io/project_corpus_test.cpp (good: no error; bad: exactly the
errors the file announces in its head). Here an independent validator of JSON Schema draft 7 gives the schema's.
"""
import copy
import json
import os
import pathlib
import unittest

import jsonschema

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
SCHEMA = json.loads((SOURCE / "schemas/boardring-project-1.schema.json").read_text())
GOOD = sorted((SOURCE / "tests/golden/projects_good").glob("*.json"))
BAD = sorted((SOURCE / "tests/golden/projects_bad").glob("*.json"))
DEMOS = sorted((SOURCE / "projects").glob("*.json"))

TEXT_FORM = "how lengths, angles and readings are written inside a text is not described by the schema"
CROSS = "two places of the file must agree with one another"
NOT_YET = "the format has it, this version of the program does not work it out"
TWICE = "a parser keeps one of two equal keys before the schema is asked"
UNIT = "the limit depends on the job's unit"
LETTERS = "two spellings of one letter are two keys to the schema"
# Faults no JSON Schema can express, and why; the schema must let these pass, or the list is longer than it needs to be.
BEYOND_THE_SCHEMA = {
    "key.duplicate--thickness": TWICE,
    "key.duplicate--section": TWICE,
    "value.out-of-range--negative-side-as-text": TEXT_FORM,
    "value.out-of-range--side-of-two-kilometres": TEXT_FORM,
    "value.out-of-range--kerf-over-limit": UNIT,
    "value.out-of-range--corner-of-360": TEXT_FORM,
    "value.out-of-range--side-of-nothing": TEXT_FORM,
    "value.out-of-range--accuracy-of-nothing": TEXT_FORM,
    "value.out-of-range--fit-last-board-7": CROSS,
    "value.out-of-range--through-board-9": CROSS,
    "value.not-allowed--rule-in-tenths-of-an-inch": UNIT,
    "length.ambiguous--thousands": TEXT_FORM,
    "length.ambiguous--dash": TEXT_FORM,
    "length.not-understood--words": TEXT_FORM,
    "angle.not-understood--words": TEXT_FORM,
    "outline.found-basis--regular": CROSS,
    "reading.not-understood--no-letters": TEXT_FORM,
    "reading.not-understood--no-value": TEXT_FORM,
    "reading.not-understood--to-itself": TEXT_FORM,
    "reading.not-understood--nothing-behind-accuracy": TEXT_FORM,
    "reading.not-understood--inward-length": TEXT_FORM,
    "reading.not-understood--four-letters": TEXT_FORM,
    "reading.not-understood--three-letters": TEXT_FORM,
    "reading.unknown-value--fourth": CROSS,
    "reading.unknown-value--third-side": CROSS,
    "reading.unknown-value--open-chain": CROSS,
    "reading.unknown-value--across": CROSS,
    "reading.not-understood--behind-the-question-mark": TEXT_FORM,
    "reading.not-understood--open-with-accuracy": TEXT_FORM,
    "reading.missing--side-and-angle": CROSS,
    "reading.missing--too-few-corners": CROSS,
    "reading.missing--open-chain-angle": CROSS,
    "reading.repeated--side-turned-round": CROSS,
    "reading.repeated--angle": CROSS,
    "reading.inward-twice--270": TEXT_FORM,
    "reading.free-end--angle": CROSS,
    "stock.unknown--near": CROSS,
    "stock.unknown--none-at-all": CROSS,
    "stock.unknown--piece": CROSS,
    "stock.nominal-unknown--name": TEXT_FORM,
    "board.no-size--nothing": CROSS,
    "board.taper-place--width-on-edge": CROSS,
    "board.no-size--pile": CROSS,
    "pile.too-few--five-for-six": CROSS,
    "value.out-of-range--none-in-the-pile": TEXT_FORM,
    "board.no-size--one-of-six": CROSS,
    "board.no-such-board--seven": CROSS,
    "board.no-such-board--margin": CROSS,
    "joint.no-such-corner--g": CROSS,
    "joint.free-end--a": CROSS,
    "joint.repeated--both-cases": LETTERS,
    "joint.through-unused--kind-left-out": CROSS,
    "joint.through-both--neighbours": CROSS,
    "joint.through-elsewhere--board-5": CROSS,
    "end.not-free--b": CROSS,
    "end.repeated--both-cases": LETTERS,
}


def without_comments(text):
    """Blanks // and /* */ comments outside of texts; a second reading of what the reader does, not a copy of it."""
    out, i = [], 0
    while i < len(text):
        if text[i] == '"':
            end = i + 1
            while end < len(text) and text[end] != '"':
                end += 2 if text[end] == "\\" else 1
            out.append(text[i:end + 1])
            i = end + 1
        elif text.startswith("//", i):
            end = text.find("\n", i)
            i = len(text) if end < 0 else end
        elif text.startswith("/*", i):
            end = text.find("*/", i + 2)
            if end < 0:
                raise ValueError("comment not closed")
            i = end + 2
        else:
            out.append(text[i])
            i += 1
    return "".join(out)


def refuse_constant(word):
    raise ValueError(word)


def refuse_infinite(digits):
    value = float(digits)
    if value in (float("inf"), float("-inf")):
        raise ValueError(digits)
    return value


def load(path):
    text = path.read_bytes().decode("utf-8-sig")
    return json.loads(without_comments(text), parse_constant=refuse_constant, parse_float=refuse_infinite)


def faults_of(validator, value):
    return [f"{list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(value)]


def subschemas(schema, path=""):
    yield path, schema
    for key in ("properties", "patternProperties"):
        for name, inner in schema.get(key, {}).items():
            yield from subschemas(inner, f"{path}/{name}")
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from subschemas(schema[key], f"{path}/{key}")


class ProjectSchema(unittest.TestCase):
    def setUp(self):
        self.validator = jsonschema.Draft7Validator(SCHEMA)

    def test_the_schema_is_one(self):
        jsonschema.Draft7Validator.check_schema(SCHEMA)
        self.assertEqual(SCHEMA["$id"], "urn:boardring:project-1")

    def test_every_key_has_a_description_and_no_group_takes_unknown_keys(self):
        seen = 0
        for path, schema in subschemas(SCHEMA):
            self.assertGreater(len(schema.get("description", "")), 8, path)
            if schema.get("type") == "object":
                self.assertIn("additionalProperties", schema, path)
            seen += 1
        self.assertGreater(seen, 90)

    def test_the_corpus_is_large_enough_to_mean_something(self):
        self.assertGreaterEqual(len(GOOD), 30)
        self.assertGreaterEqual(len(BAD), 60)
        self.assertEqual(sorted(set(BEYOND_THE_SCHEMA) - {path.stem for path in BAD}), [])

    def test_good_files_pass(self):
        for path in GOOD + DEMOS:
            self.assertEqual(faults_of(self.validator, load(path)), [], path.name)

    def test_bad_files_are_refused(self):
        for path in BAD:
            try:
                value = load(path)
            except (ValueError, UnicodeDecodeError):  # no JSON: refused before the schema is asked
                self.assertTrue(path.stem.startswith(("file.", "value.out-of-range--1e400")), path.name)
                continue
            faults = faults_of(self.validator, value)
            if path.stem in BEYOND_THE_SCHEMA:
                self.assertEqual(faults, [], f"{path.name}: the schema does see this; take it off the list")
            else:
                self.assertNotEqual(faults, [], f"{path.name}: the schema lets this pass")

    def test_each_key_of_a_full_project_is_checked(self):
        """Any key of any good file, misspelt or given a value no key takes, is noticed."""
        for path in GOOD:
            project = load(path)
            for parents in paths_of_keys(project):
                for change in (misspell, nonsense):
                    changed = copy.deepcopy(project)
                    if change(changed, parents):
                        self.assertNotEqual(faults_of(self.validator, changed), [], f"{path.name}: {change.__name__} {parents}")


def paths_of_keys(value, path=()):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield path + (key,)
            yield from paths_of_keys(inner, path + (key,))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from paths_of_keys(inner, path + (index,))


def parent_of(value, path):
    for step in path[:-1]:
        value = value[step]
    return value


def misspell(project, path):
    if path[-2:-1] == ("stock",) and len(path) == 2:
        return False  # names of stock are the maker's own
    parent = parent_of(project, path)
    parent[path[-1] + "_x1"] = parent.pop(path[-1])
    return True


def nonsense(project, path):
    parent_of(project, path)[path[-1]] = None
    return True


if __name__ == "__main__":
    unittest.main()
