#!/usr/bin/env python3
"""The front door: what a run without arguments, a slip of the fingers and the end of every run say."""
import os
import pathlib
import pty
import re
import shlex
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring"))


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
                ["joint"], ["change", "gate-arch", "kerf is 2"], ["change", "gate-arch", "kerv is 2"], ["change", "nowhere", "kerf is 2"], ["plan", "gate-arch", "surplus"])
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
