#!/usr/bin/env python3
"""The front door: what a run without arguments, a slip of the fingers and the end of every run say."""
import json
import math
import os
import pathlib
import pty
import re
import shlex
import shutil
import signal
import subprocess
import tempfile
import time
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))


def zigzag(corners):
    """A ring of that many corners, no two sides alike."""
    return [[round((20000 + 40 * (i % 7)) * math.cos(2 * math.pi * i / corners), 1), round((20000 + 40 * (i % 5)) * math.sin(2 * math.pi * i / corners), 1)]
            for i in range(corners)]


class Front(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.here = pathlib.Path(self.folder.name)
        for name in ("courtyard-planter", "gate-arch", "five-sided-bed-misread"):
            shutil.copy(SOURCE / f"projects/{name}.json", self.here)

    def run_it(self, *words, cwd=None):
        return subprocess.run([BOARDRING, *words], cwd=cwd or self.here, capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False)

    def test_alone_it_says_how_to_start_and_what_lies_here(self):
        run = self.run_it()
        lines = run.stdout.splitlines()
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        self.assertIn("boardring plan courtyard-planter", run.stdout)
        here = [line for line in lines if re.search(r"gate-arch +Gate arch$", line)]
        self.assertEqual(len(here), 1)
        self.assertTrue(lines[-1].startswith("NEXT       boardring "))
        empty = self.here / "empty"
        empty.mkdir()
        self.assertLessEqual(len(self.run_it(cwd=empty).stdout.splitlines()), 4)

    def test_a_slip_is_answered_with_the_nearest_word(self):
        for words, near in ((["plna"], "boardring plan"), (["plan", "gate-arhc"], "gate-arch"), (["plan", "gate-arch", "--mor"], "--more"),
                            (["joint", "--corner", "108", "--boards", "90,45", "--kind", "miter"], "mitre"),
                            (["joint", "--crner", "108", "--boards", "90,45"], "--corner"), (["explain", "angle-sun"], "angle-sum")):
            run = self.run_it(*words)
            self.assertEqual((run.returncode, run.stdout), (2, ""), words)
            self.assertIn(near, run.stderr)

    def test_every_run_ends_with_next_and_a_command_that_runs(self):
        runs = ([], ["plan", "gate-arch"], ["plan", "gate-arch", "--out"], ["check", "gate-arch"], ["check", "five-sided-bed-misread"],
                ["plan", "five-sided-bed-misread"], ["joint", "--corner", "108", "--boards", "90,45"], ["joint", "--corner", "200x", "--boards", "90,45"], ["buy", "courtyard-planter"],
                ["buy", "five-sided-bed-misread"], ["explain", "too-short"], ["explain", "nonsense"], ["plan", "nowhere"], ["plan"], ["plna"], ["plan", "gate-arch", "--mor"],
                ["joint"], ["change", "gate-arch", "kerf is 2"], ["change", "gate-arch", "kerv is 2"], ["change", "nowhere", "kerf is 2"], ["plan", "gate-arch", "surplus"],
                ["new"], ["plan", "hexagon", "640", "inside", "flats,", "145x38", "on", "edge"], ["plan", "hexagn 640 inside flats, 145x38 on edge"], ["check", "octagon 500 inside flats, 145x38 on edge"],
                ["closure", "courtyard-planter", "--runs", "1000"], ["closure", "five-sided-bed-misread"], ["closure", "gate-arch"], ["closure", "nowhere"])
        for words in runs:
            with self.subTest(words):
                run = self.run_it(*words)
                text = run.stdout + run.stderr if run.returncode in (1, 2) and run.stderr else run.stdout
                last = text.rstrip("\n").splitlines()[-1]
                self.assertRegex(last, r"^NEXT +boardring", text)
                command = shlex.split(last.split("   (")[0][4:])
                if "..." in command:
                    continue
                after = self.run_it(*command[1:])
                self.assertIn(after.returncode, (0, 1), (last, after.stderr))

    def test_joint_answers_in_the_units_it_was_asked_in(self):
        for words, title in ((["3-1/2 in, 1-1/2 in"], "boards 3-1/2 and 1-1/2 wide, mitred +inches$"), (["3-1/2, 1-1/2 in"], "boards 3-1/2 and 1-1/2 wide, mitred +inches$"),
                             (["9 cm,45 mm"], "boards 9 and 4.5 wide, mitred +cm$"), (["90,45"], "boards 90 and 45 wide, mitred +mm$"),
                             (["3-1/2 in,1-1/2 in", "--units", "mm"], "boards 88.9 and 38.1 wide, mitred +mm$"), (["3' 6\",4 in"], "boards 42 and 4 wide, mitred +inches$")):
            run = self.run_it("joint", "--corner", "108", "--boards", *words)
            self.assertEqual((run.returncode, run.stderr), (0, ""), words)
            self.assertRegex(run.stdout.splitlines()[0], title)
        for boards, hint in (("90,5,45", "90.5,45 or 90,5.45"), ("90,5,45,5", "90.5,45.5"), ("90", "90,45"), ("9,0,4,5,1", "90,45")):
            run = self.run_it("joint", "--corner", "108", "--boards", boards)
            self.assertEqual((run.returncode, run.stdout), (2, ""))
            self.assertIn(hint, run.stderr)

    def test_the_command_that_changes_what_was_assumed_does(self):
        asked = 0
        for project in sorted((SOURCE / "projects").glob("*.json")):
            with self.subTest(project.name), tempfile.TemporaryDirectory() as folder:
                shutil.copytree(SOURCE / "projects/lists", pathlib.Path(folder, "lists"))
                shutil.copy(project, folder)
                page = self.run_it("plan", project.stem, cwd=folder).stdout
                found = re.search(r"Change: (boardring change \S+ .*)$", page, re.M)
                if not found:
                    self.assertTrue("I ASSUMED" not in page or "boardring change --help" in page, page)
                    continue
                assumed = json.loads(self.run_it("plan", project.stem, "--json", cwd=folder).stdout)["assumed"]
                run = self.run_it(*shlex.split(found[1])[1:], cwd=folder)
                self.assertEqual(run.returncode, 0, run.stderr)
                left = json.loads(self.run_it("plan", project.stem, "--json", cwd=folder).stdout)["assumed"]
                self.assertEqual(len([a for a in assumed if a["pointer"] not in {b["pointer"] for b in left}]), 1, found[1])
                asked += 1
        self.assertGreater(asked, 5)

    def lines_until(self, said, *words):
        """What a run says on a terminal, while somebody watches its standard error, up to the first line that is `said`."""
        parent, child = pty.openpty()
        with subprocess.Popen([BOARDRING, *words], cwd=self.here, stdout=subprocess.DEVNULL, stderr=child, stdin=subprocess.DEVNULL) as run:
            os.close(child)
            # Held still for over a second while it works: it has to speak at once when it goes on, on the fastest machine too.
            time.sleep(0.05)
            run.send_signal(signal.SIGSTOP)
            time.sleep(1.2)
            run.send_signal(signal.SIGCONT)
            lines, rest = [], ""
            while not lines or not re.match(said, lines[-1]):
                try:
                    block = os.read(parent, 4096)
                except OSError:
                    break
                *more, rest = (rest + block.decode()).split("\r\n")
                lines += more[:next((i for i, line in enumerate(more) if re.match(said, line)), len(more)) + 1]
            run.kill()
        os.close(parent)
        return lines

    def test_a_run_over_a_second_says_that_it_works_where_somebody_watches(self):
        wide = {"format": "boardring-project-1", "units": "mm", "outline": {"line": "inside", "points": zigzag(1000)},
                "boards": {"lie": "flat", "all": {"width": 20, "thickness": 20}}}
        (self.here / "wide.json").write_text(json.dumps(wide))
        # A slow machine is still reading the file when the first second is over.
        working = r"working on courtyard-planter: \d+ s$"
        *before, tried = self.lines_until(r"\d+ rings tried$", "closure", "courtyard-planter", "--runs", "10000000")
        self.assertRegex(tried, r"^\d+ rings tried$")
        self.assertEqual([line for line in before if not re.match(working, line)], [])
        self.assertRegex(self.lines_until("", "papers", "wide")[0], r"^working on (wide|the papers): 1 s$")
        with subprocess.Popen([BOARDRING, "closure", "courtyard-planter", "--runs", "10000000"], cwd=self.here, stdout=subprocess.DEVNULL,
                              stderr=subprocess.PIPE, stdin=subprocess.DEVNULL) as unwatched:
            time.sleep(1.6)
            unwatched.kill()
            self.assertEqual(unwatched.stderr.read(), b"")

    def test_colour_only_on_a_terminal_and_never_the_only_sign(self):
        def on_terminal(**environment):
            parent, child = pty.openpty()
            with subprocess.Popen([BOARDRING, "check", "gate-arch"], cwd=self.here, stdout=child, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL,
                                  env={**{k: v for k, v in os.environ.items() if k != "NO_COLOR"}, **environment}) as run:
                os.close(child)
                seen = b""
                while True:
                    try:
                        block = os.read(parent, 65536)
                    except OSError:
                        break
                    if not block:
                        break
                    seen += block
                run.wait()
            os.close(parent)
            return seen.replace(b"\r\n", b"\n").decode()

        plain = self.run_it("check", "gate-arch").stdout
        self.assertNotIn("\x1b", plain)
        seen = on_terminal(TERM="xterm")
        self.assertIn("\x1b[1;32m", seen)
        self.assertEqual(re.sub("\x1b\\[[0-9;]*m", "", seen), plain)
        self.assertEqual(on_terminal(TERM="xterm", NO_COLOR="1"), plain)
        self.assertEqual(on_terminal(TERM="dumb"), plain)


if __name__ == "__main__":
    unittest.main()
