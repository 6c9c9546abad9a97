#!/usr/bin/env python3
"""Buying plans of medium random projects against another solver: GLPK, reached only through model files and its own program, glpsol.

The model shares nothing with ours: arcs along the bars, flow from every bar's start to its length (tests/support/cutting_stock.py).
Where glpsol is not installed the test says so and checks nothing (tests/run.sh installs it).
BOARDRING_FULL=1 runs all 200 of them.
"""
import json
import os
import pathlib
import random
import shutil
import subprocess
import sys
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
CASES = 200 if os.environ.get("BOARDRING_FULL") else 18
sys.path.insert(0, str(SOURCE / "tests/support"))
from cutting_stock import glpk_price, model_of, project_of  # noqa: E402

SECONDS = 20  # for glpsol; a case it does not finish is not counted


def random_job(draw):
    """(kerf, bars [length, price, count or None], pieces [length, count]), whole millimetres; small lengths keep the model small."""
    kerf = draw.choice([0, 1, 2, 3])
    bars = []
    for length in draw.sample(range(120, 300), draw.randint(1, 4)):
        count = draw.randint(1, 3) if bars and draw.random() < 0.4 else None
        bars.append([length, draw.randint(int(length * 0.6), int(length * 1.4)), count])
    longest = max(length for length, _, count in bars if count is None)
    pieces = {draw.randint(20, min(longest, 150)): draw.randint(1, 7) for _ in range(draw.randint(3, 9))}
    return kerf, bars, sorted(pieces.items(), reverse=True)


def our_plan(job):
    run = subprocess.run([BOARDRING, "plan", "-", "--json"], input=project_of(job), capture_output=True, text=True, check=True)
    return json.loads(run.stdout)["buying"]["sections"][0]


@unittest.skipUnless(shutil.which("glpsol"), "glpsol (package glpk-utils) is not installed: nothing was checked against GLPK")
class Glpk(unittest.TestCase):
    def test_prices_agree(self):
        draw = random.Random(20261125)
        compared = proven = 0
        for case in range(CASES):
            job = random_job(draw)
            truth = glpk_price(model_of(job), SECONDS)
            plan = our_plan(job)
            if truth is None:
                continue
            compared += 1
            with self.subTest(case=case, job=job):
                self.assertLessEqual(plan["bound"], truth + 1e-6)
                self.assertGreaterEqual(plan["total"], truth - 1e-6)
                if plan["outcome"] == "cheapest":
                    proven += 1
                    self.assertAlmostEqual(plan["total"], truth, places=6)
        self.assertGreaterEqual(compared, 0.9 * CASES)
        self.assertGreaterEqual(proven, 0.98 * compared)


if __name__ == "__main__":
    unittest.main()
