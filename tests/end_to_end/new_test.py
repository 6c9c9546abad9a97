#!/usr/bin/env python3
"""`boardring new`: nine questions, piped and at a terminal; what it writes is what the sentence of its answers writes."""
import json
import os
import pathlib
import pty
import re
import select
import shlex
import signal
import subprocess
import tempfile
import time
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
KEPT = "boardring-new.txt"


class AtTerminal:
    """The program on a terminal of its own."""

    def __init__(self, here, *words):
        self.parent, child = pty.openpty()
        self.run = subprocess.Popen([BOARDRING, *words], cwd=here, stdin=child, stdout=child, stderr=child, start_new_session=True,
                                    preexec_fn=lambda: __import__("fcntl").ioctl(child, __import__("termios").TIOCSCTTY, 0))
        os.close(child)
        self.seen = ""

    def until(self, text, seconds=20):
        """Reads until the text has come since the last look."""
        new, end = "", time.monotonic() + seconds
        while text not in new:
            if not select.select([self.parent], [], [], max(0.0, end - time.monotonic()))[0]:
                raise AssertionError(f"no {text!r} in {new!r}")
            try:
                block = os.read(self.parent, 4096).decode()
            except OSError:
                block = ""
            if not block:
                raise AssertionError(f"it ended without {text!r}: {new!r}")
            new += block
        self.seen += new
        return new

    def say(self, line):
        os.write(self.parent, line.encode())

    def end(self):
        code = self.run.wait(20)
        os.close(self.parent)
        return code


class New(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.here = pathlib.Path(self.folder.name)

    def ask(self, *lines, words=("new",), end="\n"):
        return subprocess.run([BOARDRING, *words], cwd=self.here, input=end.join(lines) + (end if lines else ""), capture_output=True, text=True, check=False)

    def files(self):
        return sorted(p.name for p in self.here.iterdir())

    def test_nine_times_enter_make_a_planter_and_the_next_command_plans_it(self):
        run = self.ask(*[""] * 9)
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        self.assertEqual(self.files(), ["hexagon-640.json"])
        for number in range(1, 10):
            self.assertEqual(len(re.findall(rf"^{number} of 9  ", run.stdout, re.M)), 1)
        self.assertIn("6 corners of 120: blunt corner, boards turn by 60", run.stdout)
        self.assertIn("CAN BE SAWN. Tilt to 30.", run.stdout)
        self.assertRegex(run.stdout, r"\n(CLOSES|FITTED)\. ")
        self.assertLessEqual(max(len(line) for line in run.stdout.splitlines()), 100)
        last = run.stdout.splitlines()[-1]
        self.assertEqual(last.split(), ["NEXT", "boardring", "plan", "hexagon-640"])
        plan = self.ask(words=shlex.split(last)[2:])
        self.assertEqual(plan.returncode, 0, plan.stderr)
        # Once more: never over a file.
        before = (self.here / "hexagon-640.json").read_bytes()
        self.assertEqual(self.ask(*[""] * 9).returncode, 0)
        self.assertEqual(self.files(), ["hexagon-640-2.json", "hexagon-640.json"])
        self.assertEqual((self.here / "hexagon-640.json").read_bytes(), before)

    def test_the_sentence_it_ends_with_writes_the_same_file(self):
        run = self.ask("octagon", "", "24 in inside flats", "5 1/2 in x 1 1/2 in, one 1 1/4 in", "on edge, two courses", "", "butt", "saw stops at 45", "fine")
        self.assertEqual(run.returncode, 0, run.stdout + run.stderr)
        command = re.search(r"^AT ONCE +boardring ((?:.*\\\n)*.*)$", run.stdout, re.M)[1]
        said = self.ask(words=shlex.split(command.replace("\\\n", " ")))
        self.assertEqual(said.returncode, 0, said.stdout + said.stderr)
        first, second = self.files()
        self.assertEqual((self.here / first).read_text(), (self.here / second).read_text())

    def test_why_back_and_an_answer_that_does_not_fit(self):
        run = self.ask("?", "hexagn", "pentagon", "", "<", "", "640 inside flats", "side 400 inside", *[""] * 6)
        self.assertEqual(run.returncode, 0, run.stdout)
        self.assertIn("The shape says how many boards there are", run.stdout)
        self.assertIn('Did you mean "hexagon"?', run.stdout)
        self.assertEqual(len(re.findall(r"^2 of 9  ", run.stdout, re.M)), 2)
        project = self.ask(words=("plan", "pentagon-400", "--json"))
        self.assertEqual(len(json.loads(project.stdout)["boards"]), 5)

    def test_readings_from_the_notebook(self):
        run = self.ask("pentagon", "found", "AB 1150", "BC 860", "CD 940", "DE 1027", "", "<", "EA 737", "A 106", "B 112", "C 98", "D 117", "E 107", "outside", "", *[""] * 6)
        self.assertEqual(run.returncode, 0, run.stdout + run.stderr)
        self.assertIn("The readings are too few to hold the ring", run.stdout)
        text = (self.here / "pentagon-found.json").read_text()
        for part in ('"AB 1150"', '"E 107"', '"basis": "found"', '"outside"'):
            self.assertIn(part, text)
        self.assertNotIn("regular", text)
        # The long question stands once, not at every line.
        self.assertLessEqual(run.stdout.count("Read me your notebook"), 3)
        self.assertRegex(run.stdout, r"\n(CLOSES|FITTED)\. ")

    def test_what_cannot_be_built_is_told_at_the_answer_that_does_it(self):
        run = self.ask("hexagon", "", "60 outside flats", "145x38")
        self.assertEqual(run.returncode, 1)
        self.assertRegex(" ".join(run.stdout.split()), r"no inside edge left.*Go back with <")

    def test_when_the_answers_end_early_nothing_is_lost(self):
        run = self.ask("octagon", "", "500 inside flats")
        self.assertEqual((run.returncode, self.files()), (1, [KEPT]))
        self.assertEqual(run.stdout.splitlines()[-1].split()[:3], ["NEXT", "boardring", "new"])
        on = self.ask("", *[""] * 6)
        self.assertEqual((on.returncode, self.files()), (0, ["octagon-500.json"]))
        self.assertIn("octagon; Enter; 500 inside flats", on.stdout)
        self.ask("triangle")
        anew = self.ask("no", *[""] * 9)
        self.assertEqual((anew.returncode, self.files()), (0, ["hexagon-640.json", "octagon-500.json"]))
        # A file of the same name that is not ours is left alone.
        (self.here / KEPT).write_text("my notes\n")
        self.assertEqual(self.ask().returncode, 1)
        self.assertEqual((self.here / KEPT).read_text(), "my notes\n")

    def test_hostile_input_is_refused_and_shown_safely(self):
        for line in ("x" * 1_000_000, "\x1b[31mhexagon", "hexagon\u202e", "\u0007", "a" * 600):
            run = self.ask(line)
            self.assertEqual(run.returncode, 1)
            self.assertNotRegex(run.stdout, "[\x00-\x09\x0b-\x1f\u202e]")
            self.assertIn("I cannot read this", run.stdout)
        broken = subprocess.run([BOARDRING, "new"], cwd=self.here, input=b"hexagon\xff\n\x00\n", capture_output=True, check=False)
        self.assertEqual(broken.returncode, 1)
        self.assertEqual(self.files(), [])

    def test_at_a_terminal_ctrl_c_loses_nothing(self):
        run = AtTerminal(self.here, "new")
        run.until("[hexagon] ")
        run.say("octagon\n")
        run.until("[wanted] ")
        run.say("\n")
        run.until("[640 inside flats] ")
        run.say("500 ins\x03")
        run.until("NEXT       boardring new")
        self.assertEqual(run.end(), 1)
        self.assertIn("8 corners of 135: blunt corner, boards turn by 45", run.seen)
        self.assertNotIn("octagon\r\noctagon", run.seen.replace("        octagon:", ""))  # typed once, shown once
        on = AtTerminal(self.here, "new")
        on.until("Go on from there? [yes] ")
        on.say("\n")
        on.until("[640 inside flats] ")
        for line in ("500 inside flats", "?", "", "<", "145x30", "", "", "", "", ""):
            on.say(line + "\n")
        on.until("NEXT")
        self.assertEqual(on.end(), 0)
        self.assertEqual(self.files(), ["octagon-500.json"])
        self.assertIn('"thickness": 30', (self.here / "octagon-500.json").read_text())


if __name__ == "__main__":
    unittest.main()
