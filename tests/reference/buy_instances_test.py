#!/usr/bin/env python3
"""Cutting-stock instances with a known optimum through `boardring buy`, as projects of `pieces` alone: each proven, each in good time.

The generated ones (tests/reference/data/cutting-stock) cost what was computed elsewhere; twelve mitred pieces cost what a table over all sets
of them says, which is worked out here and shares nothing with the engine.
"""
import json
import math
import os
import pathlib
import subprocess
import sys
import time
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
DATA = SOURCE / "tests/reference/data/cutting-stock"
SECONDS = 10  # for any one of them
sys.path.insert(0, str(SOURCE / "tests/support"))
from cutting_stock import proven_price, project_of, read_instance  # noqa: E402

# Unit 0.1 mm: middle length, left run, right run, how many; runs of 22.5, 30 and 45 degrees on a width of 900, saw cut 30.
WIDTH, KERF = 900, 30
TWELVE = [(8600, 900, -900, 3), (6450, 900, 900, 2), (7300, 520, -520, 2), (5150, 373, -900, 2), (9800, 520, 373, 2), (4300, 373, 373, 1)]
BARS = [(25500, 810), (45000, 1400)]
# Surface of boards that lie flat, and how (left, right) run may be turned with it.
RULES = {
    "moulded": [lambda a, b: (a, b)],
    "show-face": [lambda a, b: (a, b), lambda a, b: (b, a)],
    "plain": [lambda a, b: (a, b), lambda a, b: (b, a), lambda a, b: (-a, -b), lambda a, b: (-b, -a)],
}


def buy(project):
    """(what `boardring buy` said, seconds)"""
    start = time.monotonic()
    run = subprocess.run([BOARDRING, "buy", "--time-limit", str(SECONDS), "-"], input=project, capture_output=True, text=True)
    if run.returncode != 0:
        raise AssertionError(run.stdout + run.stderr)
    return run.stdout, time.monotonic() - start


def kerf_along(run):
    return KERF * math.hypot(1, run / WIDTH)


def cheapest(pieces, turnings, trim, ends_sawn=False):
    """Least price, by going through all multisets on one bar and all ways to share the pieces among bars. Ends of bars are square."""
    def at_end(run):
        return abs(run) / 2 + (kerf_along(run) if ends_sawn else 0)

    def between(right, left):
        return abs(right - left) / 2 + max(kerf_along(right), kerf_along(left))

    most = tuple(count for *_, count in pieces)
    nothing = (0,) * len(most)
    lasts = {nothing: {}}  # multiset: {run of the last cut: least length up to there}
    order = [nothing]
    for at in order:
        for kind, (length, a, b, count) in enumerate(pieces):
            after = at[:kind] + (at[kind] + 1,) + at[kind + 1:]
            if after[kind] > count:
                continue
            if after not in lasts:
                lasts[after] = {}
                order.append(after)
            for left, right in {turn(a, b) for turn in turnings}:
                used = min((used + between(before, left) for before, used in lasts[at].items()), default=at_end(left))
                lasts[after][right] = min(used + length, lasts[after].get(right, math.inf))
    on_one = {}
    for at in order[1:]:
        used = min(used + at_end(last) for last, used in lasts[at].items())
        prices = [price for length, price in BARS if used <= length - 2 * trim + 1e-6]
        if prices:
            on_one[at] = min(prices)
    # Pieces more than wanted do no harm, so bars that hold one more for the same money are enough.
    more = lambda at: (at[:kind] + (at[kind] + 1,) + at[kind + 1:] for kind in range(len(most)))
    bars = [(at, price) for at, price in on_one.items() if all(on_one.get(other, math.inf) > price for other in more(at))]
    best = {most: 0}  # by what is still to be cut
    for left in sorted(order, key=sum, reverse=True):
        if left not in best:
            continue
        first = next((kind for kind, count in enumerate(left) if count), None)
        for bar, price in bars:
            if first is None or bar[first] == 0:
                continue
            after = tuple(max(x - y, 0) for x, y in zip(left, bar))
            best[after] = min(best.get(after, math.inf), best[left] + price)
    return best[nothing]


def as_boxes(pieces):
    return [(length + (abs(a) + abs(b)) / 2, 0, 0, count) for length, a, b, count in pieces]


def twelve_as_project(surface, trim):
    def piece(number, length, a, b, count):
        return {"name": f"piece {number}", "stock": "rail", "length": (length + (abs(a) + abs(b)) / 2) / 10, "count": count,
                "left": {"saw_deg": math.degrees(math.atan(a / WIDTH))}, "right": {"saw_deg": math.degrees(math.atan(-b / WIDTH))}}

    return json.dumps({
        "format": "boardring-project-1", "units": "mm", "boards": {"lie": "flat"},
        "stock": {"rail": {"width": WIDTH / 10, "thickness": 20, "surface": surface, "end_trim": trim / 10,
                           "lengths": [{"length": length / 10, "price": price} for length, price in BARS]}},
        "tools": {"kerf": KERF / 10},
        "pieces": [piece(i + 1, *p) for i, p in enumerate(TWELVE)],
    })


def test_pieces(project):
    """Square ends, one a setting: they are part of the job, as long as the plan marks them."""
    run = subprocess.run([BOARDRING, "plan", "-", "--json"], input=project, capture_output=True, text=True, check=True)
    section, = json.loads(run.stdout)["buying"]["sections"]
    lengths = [piece["right_far_mm"] - piece["left_far_mm"] for board in section["boards"] for piece in board["pieces"] if piece["what"] == "test"]
    return round(10 * lengths[0], 6), 0, 0, len(lengths)


class Instances(unittest.TestCase):
    def test_generated(self):
        seen = 0
        for line in (DATA / "optima.tsv").read_text().splitlines():
            name, optimum, _ = line.split()
            per_mm = 10 if "lumber" in name else 1
            with self.subTest(name):
                page, seconds = buy(project_of(read_instance(DATA / f"{name}.csp"), per_mm))
                self.assertEqual(proven_price(page), float(optimum), page[:400])
                self.assertLess(seconds, SECONDS)
                seen += 1
        self.assertEqual(seen, 14)

    def test_the_table_itself(self):
        """What exhaustive search and a set-partitioning programme proved of the twelve, with a saw cut at both ends of every bar."""
        for surface, price in (("moulded", 3020), ("show-face", 2800), ("plain", 2800)):
            self.assertEqual(cheapest(TWELVE, RULES[surface], 0, ends_sawn=True), price)
        self.assertEqual(cheapest(as_boxes(TWELVE), RULES["moulded"], 0, ends_sawn=True), 3240)

    def test_twelve_mitred_pieces(self):
        prices = set()
        for surface, turnings in RULES.items():
            for trim in (0, KERF, 200):
                with self.subTest(surface=surface, trim=trim):
                    project = twelve_as_project(surface, trim)
                    page, _ = buy(project)
                    price = cheapest([*TWELVE, test_pieces(project)], turnings, trim)
                    self.assertEqual(proven_price(page), price, page[:400])
                    prices.add(price)
        self.assertGreater(len(prices), 1)


if __name__ == "__main__":
    unittest.main()
