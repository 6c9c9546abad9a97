#!/usr/bin/env python3
"""Buying plans of medium random projects against another solver: GLPK, reached only through model files and its own program, glpsol.

The model shares nothing with ours: arcs along the bars (an item from where it starts to where it ends, kerf included), flow from every bar's
start to its length, least price, whole numbers. Where glpsol is not installed the test says so and checks nothing (tests/run.sh installs it).
BOARDRING_FULL=1 runs all 200 of them.
"""
import json
import os
import pathlib
import random
import re
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring"))
CASES = 200 if os.environ.get("BOARDRING_FULL") else 25
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


def model_of(kerf, bars, pieces):
    """The job as a CPLEX LP file."""
    ends = [length + kerf for length, _, _ in bars]
    last = max(ends)
    out, into = {p: [] for p in range(last + 1)}, {p: [] for p in range(last + 1)}
    names, cut = [], {i: [] for i in range(len(pieces))}
    for i, (length, _) in enumerate(pieces):
        for start in range(last - length - kerf + 1):
            name = f"x{i}_{start}"
            names.append(name)
            cut[i].append(name)
            out[start].append(name)
            into[start + length + kerf].append(name)
    for start in range(last):
        name = f"rest{start}"
        names.append(name)
        out[start].append(name)
        into[start + 1].append(name)
    lines = ["Minimize", " price: " + " + ".join(f"{price} bar{k}" for k, (_, price, _) in enumerate(bars)), "Subject To"]
    for p in range(last + 1):
        left = [f"+ {name}" for name in out[p]] + [f"- {name}" for name in into[p]]
        left += [f"+ bar{k}" for k, end in enumerate(ends) if end == p]
        left += [f"- bar{k}" for k in range(len(bars)) if p == 0]
        lines.append(f" flow{p}: " + " ".join(left) + " = 0")
    for i, (_, count) in enumerate(pieces):
        lines.append(f" cut{i}: " + " + ".join(cut[i]) + f" >= {count}")
    lines.append("Bounds")
    lines += [f" bar{k} <= {count}" for k, (_, _, count) in enumerate(bars) if count is not None]
    lines += ["Generals"] + [f" {name}" for name in names + [f"bar{k}" for k in range(len(bars))]] + ["End"]
    return "\n".join(lines) + "\n"


def glpk_price(model):
    """The least price, or None where glpsol did not finish."""
    with tempfile.TemporaryDirectory() as folder:
        lp, answer = pathlib.Path(folder, "model.lp"), pathlib.Path(folder, "answer")
        lp.write_text(model)
        subprocess.run(["glpsol", "--lp", str(lp), "--tmlim", str(SECONDS), "-o", str(answer)], capture_output=True, check=True)
        text = answer.read_text()
    if not re.search(r"^Status: +INTEGER OPTIMAL", text, re.M):
        return None
    return float(re.search(r"^Objective: +price = ([-\d.e+]+)", text, re.M).group(1))


def our_plan(kerf, bars, pieces):
    lengths = [{"length": length, "price": price, **({} if count is None else {"count": count})} for length, price, count in bars]
    project = {
        "format": "boardring-project-1", "units": "mm",
        "stock": {"rail": {"width": 40, "thickness": 20, "end_trim": 0, "lengths": lengths}},
        "tools": {"kerf": kerf},
        "pieces": [{"name": f"piece {i + 1}", "stock": "rail", "length": length, "count": count} for i, (length, count) in enumerate(pieces)],
    }
    run = subprocess.run([BOARDRING, "plan", "-", "--json"], input=json.dumps(project), capture_output=True, text=True, check=True)
    return json.loads(run.stdout)["buying"]["sections"][0]


@unittest.skipUnless(shutil.which("glpsol"), "glpsol (package glpk-utils) is not installed: nothing was checked against GLPK")
class Glpk(unittest.TestCase):
    def test_prices_agree(self):
        draw = random.Random(20261125)
        compared = proven = 0
        for case in range(CASES):
            job = random_job(draw)
            truth = glpk_price(model_of(*job))
            plan = our_plan(*job)
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
