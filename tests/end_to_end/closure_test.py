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
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))


def closure(project, *words, code=0):
    run = subprocess.run([BOARDRING, "closure", str(project), *words], capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False)
    assert run.returncode == code and run.stderr.startswith("wrote into " if "--out" in words else ""), (run.returncode, run.stderr)
    return run.stdout


def odds(page):
    """Rings of a hundred that keep the wanted gap."""
    return int(re.search(r"DRAWN IN\s+(\d+) of 100", page)[1])


class Closure(unittest.TestCase):
    def test_threads_change_no_byte(self):
        # Asked for a number of rings and left to stop by itself; two demos.
        for project in ("courtyard-planter", "stair-window"):
            for runs in ((), ("--runs", "23457")):
                with self.subTest(project=project, runs=runs):
                    pages, drawings = set(), set()
                    for threads in ("1", "2", "5"):
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
        text = (SOURCE / "projects/courtyard-planter.json").read_text(encoding="utf-8")
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder, "six.json")
            path.write_text(re.sub(r'"title": "[^"]*",', "", text), encoding="utf-8")
            self.assertTrue(closure(path, "--runs", "1000").startswith("LAST JOINT Hexagon, 640 over the flats inside"))

    def test_the_presets_are_those_the_docs_print(self):
        table = {}
        for line in (SOURCE / "docs/last-joint.md").read_text(encoding="utf-8").splitlines():
            cells = [cell.strip() for cell in line.strip("|").split("|")]
            if len(cells) == 5 and cells[1].startswith("`"):
                table[cells[1].split("`")[1]] = [float(cell.split()[0]) for cell in cells[2:]]
        keys = {"mark": "mark", "cut": "cut_angle", "saw scale": "common_angle", "length": "stop", "length stop": "mark", "rule": "rule_scale",
                "width in the joint": "thickness"}
        seen = set()
        for column, preset in enumerate(("garden", "joinery", "fine")):
            for way in ("marks", "bevel", "saw"):
                project = json.dumps({"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "regular": {"corners": 6, "side": 400}},
                                      "stock": {"rail": {"width": 145, "thickness": 38}}, "boards": {"lie": "on edge", "all": {"stock": "rail"}},
                                      "accuracy": {"preset": preset}, "tools": {"slope_by": way}})
                run = subprocess.run([BOARDRING, "plan", "-", "--json"], input=project, capture_output=True, text=True, check=False)
                self.assertEqual(run.returncode, 0, run.stdout[:500] + run.stderr)
                for source in json.loads(run.stdout)["last_joint"]["sources"]:
                    if source["source"] == "bevel setting":
                        self.assertAlmostEqual(source["sd"], 2 ** 0.5 * table["mark"][column])
                        continue
                    seen.add(source["source"])
                    self.assertAlmostEqual(source["sd"], table[keys[source["source"]]][column], msg=source["source"])
                page = subprocess.run([BOARDRING, "closure", "-", "--runs", "100"], input=project, capture_output=True, text=True, check=False).stdout
                self.assertIn(f"open {table['gap'][column]:g} mm or less", " ".join(page.split()))
        self.assertEqual(seen, set(keys))

    def test_seeds_that_are_no_whole_numbers_are_refused(self):
        for seed in ("-1", "x", "1e400", "18446744073709551616"):
            run = subprocess.run([BOARDRING, "closure", str(SOURCE / "projects/courtyard-planter.json"), "--runs", "100", "--seed", seed],
                                 capture_output=True, text=True, check=False)
            self.assertEqual((run.returncode, run.stdout), (2, ""), seed)

    def test_open_chains_are_told_of_their_free_ends(self):
        for project, ends in (("gate-arch", "A and H"), ("wall-planter", "A and F"), ("pantry-door", "A and D")):
            pages = {closure(SOURCE / f"projects/{project}.json", "--threads", threads, "--runs", "12345") for threads in ("1", "3")}
            self.assertEqual(len(pages), 1)
            page = " ".join(pages.pop().split())
            for words in (f"what is left shows at {ends}", "AS A WHOLE", "END FACES", "(12345 chains tried, seed 1", "LEAVE LONG leave boards 1 and"):
                self.assertIn(words, page)


if __name__ == "__main__":
    unittest.main()
