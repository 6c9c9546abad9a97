#!/usr/bin/env python3
"""boardring closure: the same bytes on any number of threads, what the seed and the number of rings change, and what is said where there
is no ring."""
import json
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring"))


def closure(project, *words, code=0):
    run = subprocess.run([BOARDRING, "closure", str(project), *words], capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False)
    assert (run.returncode, run.stderr) == (code, ""), (run.returncode, run.stderr)
    return run.stdout


def odds(page):
    """Rings of a hundred that keep the wanted gap."""
    return int(re.search(r"DRAWN IN\s+(\d+) of 100", page)[1])


class Closure(unittest.TestCase):
    def test_threads_change_no_byte(self):
        # Asked for a number of rings and left to stop by itself; a demo with butts and cuts at 63 degrees, and one with many rings that open wide.
        for project in ("courtyard-planter", "stair-window"):
            for runs in ((), ("--runs", "23457")):
                with self.subTest(project=project, runs=runs):
                    pages, drawings = set(), set()
                    for threads in ("1", "2", "3", "7"):
                        with tempfile.TemporaryDirectory() as folder:
                            out = pathlib.Path(folder, "out")
                            page = closure(SOURCE / f"projects/{project}.json", "--threads", threads, *runs, "--out", str(out))
                            pages.add(page.replace(folder, ""))
                            drawings.add((out / "closure.svg").read_bytes())
                    self.assertEqual((len(pages), len(drawings)), (1, 1))

    def test_another_seed_draws_other_rings_and_the_odds_agree_within_their_error(self):
        project = SOURCE / "projects/courtyard-planter.json"
        pages = [closure(project, "--runs", "20000", "--seed", seed) for seed in ("1", "2", "3")]
        self.assertEqual(len(set(pages)), 3)
        # Good to half of a hundred, twice the standard error; printed whole.
        self.assertLessEqual(max(map(odds, pages)) - min(map(odds, pages)), 2)
        self.assertIn("(20000 rings tried, seed 2, share good to 0.5 of 100)", " ".join(pages[1].split()))

    def test_left_alone_it_stops_when_its_numbers_stand_still(self):
        page = " ".join(closure(SOURCE / "projects/courtyard-planter.json").split())
        runs = int(re.search(r"\((\d+) rings tried", page)[1])
        self.assertTrue(20000 <= runs <= 200000 and runs % 10000 == 0, runs)
        self.assertNotIn("still move", page)

    def test_bars_add_up_to_all_rings(self):
        for path in sorted((SOURCE / "projects").glob("*.json")):
            run = subprocess.run([BOARDRING, "closure", str(path), "--runs", "20000"], capture_output=True, text=True, check=False)
            shares = re.findall(r"^ +\S+(?: in| mm)? [#-]+ (<?) ?(\d+) %", run.stdout, re.M)
            if "DRAWN IN" not in run.stdout:
                continue
            with self.subTest(project=path.stem):
                self.assertGreaterEqual(len(shares), 6)
                self.assertAlmostEqual(sum(0 if small else int(share) for small, share in shares), 100, delta=5)

    def test_a_project_without_title_is_named_by_its_shape(self):
        project = {"format": "boardring-project-1", "outline": {"regular": {"corners": 5, "side": 400}},
                   "stock": {"rail": {"width": 90, "thickness": 20}}, "boards": {"all": {"stock": "rail"}}}
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder, "five.json")
            path.write_text(json.dumps(project), encoding="utf-8")
            self.assertTrue(closure(path, "--runs", "1000").startswith("LAST JOINT Pentagon"))


if __name__ == "__main__":
    unittest.main()
