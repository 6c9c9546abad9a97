#!/usr/bin/env python3
"""boardring change on files: what is written, what is kept, what is refused."""
import os
import pathlib
import shlex
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
BED = (SOURCE / "projects/five-sided-bed-misread.json").read_bytes()


class Change(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.bed = pathlib.Path(self.folder.name, "bed.json")
        self.bed.write_bytes(BED)

    def run_it(self, *words, text=None):
        return subprocess.run([BOARDRING, "change", *words], cwd=self.folder.name, input=text, capture_output=True, check=False)

    def names(self):
        return sorted(os.listdir(self.folder.name))

    def test_changes_the_file_and_keeps_the_old_one(self):
        run = self.run_it("bed", "C is 98")
        self.assertEqual((run.returncode, run.stderr), (0, b""))
        self.assertEqual(self.bed.read_bytes(), BED.replace(b"C 103", b"C 98"))
        self.assertEqual(self.names(), ["bed.before.json", "bed.json"])
        self.assertEqual(pathlib.Path(self.folder.name, "bed.before.json").read_bytes(), BED)
        for part in (b"CHANGED", b"was  10", b"now  10", b"CLOSES.", b"NEXT          boardring plan bed"):
            self.assertIn(part, run.stdout)

    def test_never_overwrites_what_it_kept(self):
        for angle in (97, 98, 99):
            self.assertEqual(self.run_it("bed", f"C is {angle}").returncode, 0)
        self.assertEqual(self.names(), ["bed.before-2.json", "bed.before-3.json", "bed.before.json", "bed.json"])
        self.assertEqual(pathlib.Path(self.folder.name, "bed.before.json").read_bytes(), BED)
        self.assertEqual(pathlib.Path(self.folder.name, "bed.before-3.json").read_bytes(), BED.replace(b"C 103", b"C 98"))
        # What is kept is no project of this folder.
        plan = subprocess.run([BOARDRING, "check"], cwd=self.folder.name, capture_output=True, check=False)
        self.assertIn(b"taking bed.json", plan.stderr)

    def test_the_printed_way_back_gives_the_same_bytes(self):
        run = self.run_it("bed", "C is 98", "joint B butt, 2 through", "kerf is 2")
        back = next(line for line in run.stdout.decode().splitlines() if line.startswith("BACK"))
        words = shlex.split(back)[3:]
        self.assertEqual(self.run_it(*words).returncode, 0)
        self.assertEqual(self.bed.read_bytes(), BED)

    def test_refuses_and_leaves_everything_as_it_is(self):
        for phrase in ("kerv is 3", "C is 1,2", "board 9 is 30", "courses is 0"):
            run = self.run_it("bed", "C is 98", phrase)
            self.assertEqual((run.returncode, run.stdout), (1, b""), phrase)
            self.assertIn(b"NOTHING WAS CHANGED", run.stderr)
            self.assertIn(b"NEXT", run.stderr)
        self.assertEqual(self.bed.read_bytes(), BED)
        self.assertEqual(self.names(), ["bed.json"])

    def test_what_the_file_says_already_keeps_nothing(self):
        run = self.run_it("bed", "C is 103")
        self.assertEqual(run.returncode, 0)
        self.assertIn(b"UNCHANGED     bed.json\n              The file says so already.\n", run.stdout)
        self.assertEqual(self.names(), ["bed.json"])

    def test_standard_input_is_changed_to_standard_output(self):
        run = self.run_it("-", "C is 98", text=BED)
        self.assertEqual((run.returncode, run.stdout), (0, BED.replace(b"C 103", b"C 98")))

    def test_a_folder_that_cannot_be_written_changes_nothing(self):
        if os.geteuid() == 0:
            self.skipTest("root may write anywhere")
        os.chmod(self.folder.name, 0o555)
        self.addCleanup(os.chmod, self.folder.name, 0o755)
        run = self.run_it("bed", "C is 98")
        self.assertEqual(run.returncode, 2)
        self.assertEqual(self.bed.read_bytes(), BED)


if __name__ == "__main__":
    unittest.main()
