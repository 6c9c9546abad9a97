#!/usr/bin/env python3
"""The year's movement on every demo, worked out again from plan.json alone: boards narrowed, laid back on their inside marks, faces measured."""
import json
import math
import os
import pathlib
import re
import subprocess
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
RADIAL, TANGENTIAL = 0.00165, 0.00353  # sugar maple, Wood Handbook Table 13-5
DRY, WET, MADE = 6.5, 13.0, 10.0


def demo_with_year(path, grain):
    text = "\n".join(re.sub(r'^((?:[^"]|"(?:[^"\\]|\\.)*")*?)//.*$', r"\1", line) for line in path.read_text().splitlines())
    project = json.loads(text)
    project.pop("stock_file", None)
    project["year"] = {"dry": DRY, "wet": f"{WET} %", "made": MADE}
    for stock in project.get("stock", {}).values():
        stock["species"] = "Maple, sugar"
        stock["grain"] = grain
    return project


def plan_of(project):
    run = subprocess.run([BOARDRING, "plan", "-", "--json"], input=json.dumps(project), capture_output=True, text=True)
    return json.loads(run.stdout)


def cross_angle(a, b):
    return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def face(board, end, narrower):
    """From the inside to the outside mark in the plan, the board narrowed towards its inside line."""
    inside, outside = (board["plan_mm"][i] for i in ((0, 1) if end == 0 else (3, 2)))
    along = [board["plan_mm"][3][i] - board["plan_mm"][0][i] for i in (0, 1)]
    length = math.hypot(*along)
    along = [c / length for c in along]
    vector = [outside[i] - inside[i] for i in (0, 1)]
    run = vector[0] * along[0] + vector[1] * along[1]
    across = [vector[i] - run * along[i] for i in (0, 1)]
    keep = 1.0 - narrower / board["width_in_joint_mm"]
    return [run * along[i] + keep * across[i] for i in (0, 1)]


class Season(unittest.TestCase):
    def test_demos(self):
        judged = 0
        for path in sorted((SOURCE / "projects").glob("*.json")):
            for grain in ("flat-sawn", "quarter-sawn"):
                project = demo_with_year(path, grain)
                plan = plan_of(project)
                if plan.get("season") is None:
                    continue
                in_joint = TANGENTIAL if (grain == "flat-sawn") == (plan["lie"] == "flat") else RADIAL
                mirrored = -1.0 if project["outline"].get("letters") == "clockwise" else 1.0
                for month, to in (("dry_mm", DRY), ("wet_mm", WET)):
                    for joint, moved in zip(plan["joints"], plan["season"]["joints"]):
                        if joint["kind"] != "mitre":
                            continue
                        before, after = (plan["boards"][k - 1] for k in joint["boards"])
                        narrower = [b["width_in_joint_mm"] * in_joint * (MADE - to) for b in (before, after)]
                        p, o = face(before, 1, narrower[0]), face(after, 0, narrower[1])
                        opening = mirrored * min(math.hypot(*p), math.hypot(*o)) * math.sin(cross_angle(o, p))
                        self.assertAlmostEqual(moved[month], opening, delta=1e-7, msg=f"{path.name} {joint['corner']} {month}")
                        judged += 1
        self.assertGreater(judged, 40)


if __name__ == "__main__":
    unittest.main()
