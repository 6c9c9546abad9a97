#!/usr/bin/env python3
"""Same bytes wherever the program is run: another language, time zone or folder, no home, a terminal of another width, one thread or many.

same_bytes.py compares compilers and optimisation levels; this compares one program with itself. A locale with a decimal comma is made by
localedef where the machine has none; without localedef that part says so and checks nothing.
"""
import os
import pathlib
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
DEMOS = ["courtyard-planter", "window-surround", "five-sided-bed", "crooked-window"]
PLAIN = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC", "HOME": "/nonexistent"}


def german(folder):
    """Environment of a German locale: numbers have a comma. None where it cannot be had."""
    made = subprocess.run(["locale", "-a"], capture_output=True, text=True, check=False).stdout.split()
    if "de_DE.utf8" in made:
        return {"LC_ALL": "de_DE.UTF-8"}
    if not shutil.which("localedef"):
        return None
    run = subprocess.run(["localedef", "--no-archive", "-i", "de_DE", "-f", "UTF-8", str(folder / "de_DE.UTF-8")], capture_output=True, check=False)
    return {"LC_ALL": "de_DE.UTF-8", "LOCPATH": str(folder)} if (folder / "de_DE.UTF-8/LC_NUMERIC").exists() and run.returncode in (0, 1) else None


class Surroundings(unittest.TestCase):
    usual = {}  # what each demo makes in plain surroundings

    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.here = pathlib.Path(folder.name)

    def everything(self, demo, environment, folder="plain", threads="1", **more):
        """Exit codes, pages and files of one demo, run in a folder of its own."""
        at = self.here / folder
        at.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(SOURCE / "projects" / f"{demo}.json", at / "job.json")
        if (SOURCE / "projects/lists").is_dir():
            shutil.copytree(SOURCE / "projects/lists", at / "lists", dirs_exist_ok=True)
        made = {}
        for words in (["plan", "job", "--more", "--out", "out"], ["plan", "job", "--json"], ["check", "job"], ["closure", "job", "--runs", "4200", "--threads", threads],
                      ["plan", "hexagon", "640.5", "inside", "flats,", "145x38", "on", "edge"], ["joint", "--corner", "108.5", "--boards", "90,45.5"]):
            run = subprocess.run([BOARDRING, *words], cwd=at, env=environment, capture_output=True, stdin=subprocess.DEVNULL, check=False, **more)
            made[" ".join(words[:3])] = (run.returncode, run.stdout)
        made |= {path.name: path.read_bytes() for path in (at / "out").iterdir()} if (at / "out").is_dir() else {}
        made |= {path.name: path.read_bytes() for path in at.glob("hexagon*.json")}
        shutil.rmtree(at)
        return made

    def same(self, environment, demos=DEMOS, **more):
        for demo in demos:
            with self.subTest(demo=demo):
                if demo not in self.usual:
                    self.usual[demo] = self.everything(demo, PLAIN)
                usual = self.usual[demo]
                self.assertIn("plan.json", usual)
                other = self.everything(demo, environment, **more)
                self.assertEqual([name for name in sorted(usual.keys() | other.keys()) if usual.get(name) != other.get(name)], [])

    def test_a_language_with_a_decimal_comma(self):
        environment = german(self.here)
        if environment is None:
            self.skipTest("no German locale here, and no localedef to make one")
        says = subprocess.run(["locale", "decimal_point"], env=PLAIN | environment, capture_output=True, text=True, check=False).stdout.strip()
        self.assertEqual(says, ",", "the locale is not in force: this would compare nothing")
        self.same(PLAIN | environment)

    def test_other_time_zones(self):
        for zone in ("Pacific/Auckland", "America/St_Johns", "nowhere", ""):
            self.same(PLAIN | {"TZ": zone}, DEMOS[:1])

    def test_another_day(self):
        # What a build for packaging sets; a PDF must not take it for its date only when it is there.
        self.same(PLAIN | {"SOURCE_DATE_EPOCH": "86400"}, DEMOS[:1])

    def test_a_deep_folder(self):
        self.same(PLAIN, DEMOS[:1], folder="/".join(["a folder with a long name, \u00fc and blanks " + "x" * 150] * 18))

    def test_no_home_a_read_only_one_and_none_at_all(self):
        (self.here / "home").mkdir()
        (self.here / "home").chmod(0o555)
        without = {key: value for key, value in PLAIN.items() if key != "HOME"}
        for environment in (without, without | {"HOME": ""}, without | {"HOME": str(self.here / "home")}, without | {"HOME": "/proc"}, {"PATH": ""}):
            self.same(environment, DEMOS[:1])
        self.assertEqual(list((self.here / "home").iterdir()), [])

    def test_terminals_threads_and_masks(self):
        self.same(PLAIN | {"COLUMNS": "20", "LINES": "5", "TERM": "xterm-256color", "NO_COLOR": "1", "TMPDIR": "/nonexistent", "LANGUAGE": "fr"}, DEMOS[:2], threads="3", umask=0o077)


if __name__ == "__main__":
    unittest.main()
