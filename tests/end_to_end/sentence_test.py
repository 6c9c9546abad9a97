#!/usr/bin/env python3
"""boardring plan and check with a sentence: what is told, what is written, what is refused."""
import json
import os
import pathlib
import subprocess
import tempfile
import time
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
HEXAGON = "hexagon 640 inside flats, 145x38 on edge, two courses, one 28".split()


class Sentence(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def run_it(self, *words):
        return subprocess.run([BOARDRING, *words], cwd=self.folder.name, text=True, capture_output=True, check=False)

    def names(self):
        return sorted(os.listdir(self.folder.name))

    def test_tells_how_it_was_read_writes_the_project_and_prints_the_page_of_that_file(self):
        run = self.run_it("plan", *HEXAGON)
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        for part in ("I READ", "640 inside flats", "640 mm over the flats, measured inside", "I ASSUMED", "WROTE      hexagon-640.json", "NEXT"):
            self.assertIn(part, run.stdout)
        self.assertEqual(self.names(), ["hexagon-640.json"])
        again = self.run_it("plan", "hexagon-640")
        self.assertEqual((again.returncode, again.stderr), (0, ""))
        self.assertTrue(run.stdout.endswith(again.stdout))

    def test_quoted_or_not_is_the_same(self):
        self.run_it("plan", *HEXAGON)
        self.run_it("plan", " ".join(HEXAGON))
        first, second = (pathlib.Path(self.folder.name, name).read_text() for name in ("hexagon-640-2.json", "hexagon-640.json"))
        self.assertEqual(first, second)

    def test_json_stays_json_and_the_reading_goes_to_standard_error(self):
        run = self.run_it("plan", *HEXAGON, "--json")
        self.assertEqual(json.loads(run.stdout)["format"], "boardring-plan-1")
        self.assertIn("I READ", run.stderr)

    def test_check_writes_nothing(self):
        run = self.run_it("check", *HEXAGON)
        self.assertEqual((run.returncode, self.names()), (0, []))
        self.assertIn("CLOSES.", run.stdout)

    def test_never_writes_over_a_file_even_when_many_run_at_once(self):
        mine = pathlib.Path(self.folder.name, "hexagon-640.json")
        mine.write_text("mine")
        count = 8
        runs = [subprocess.Popen([BOARDRING, "plan", *HEXAGON], cwd=self.folder.name, stdout=subprocess.PIPE, text=True) for _ in range(count)]
        told = []
        for run in runs:
            out, _ = run.communicate()
            self.assertEqual(run.returncode, 0)
            told.append(out.split("WROTE      ")[1].split(":")[0])
        self.assertEqual(mine.read_text(), "mine")
        self.assertEqual(len(set(told)), count)
        self.assertEqual(self.names(), sorted([*told, "hexagon-640.json"]))
        texts = {pathlib.Path(self.folder.name, name).read_bytes() for name in told}
        self.assertEqual(len(texts), 1)

    def test_a_link_that_leads_nowhere_is_a_name_that_is_taken(self):
        os.symlink("nowhere", pathlib.Path(self.folder.name, "hexagon-640.json"))
        self.assertEqual(self.run_it("plan", *HEXAGON).returncode, 0)
        self.assertEqual(self.names(), ["hexagon-640-2.json", "hexagon-640.json"])
        self.assertFalse(pathlib.Path(self.folder.name, "nowhere").exists())

    def test_refuses_with_the_word_and_writes_nothing(self):
        for sentence, told in (("hexgon 640 inside flats, 145x38 on edge", '"hexgon" is no word I know. Did you mean "hexagon"?'),
                               ("hexagon 640 inside, 145x38 on edge", "640 mm can mean over the flats, over the points, or one side."),
                               ("planter for the balcony", '"balcony" is no word I know')):
            run = self.run_it("plan", sentence)
            self.assertEqual((run.returncode, run.stdout, self.names()), (2, "", []), sentence)
            self.assertIn("I CAN'T READ THIS YET. Nothing was written.", run.stderr)
            self.assertIn(told, " ".join(run.stderr.split()))
            self.assertIn("NEXT", run.stderr)

    def test_hostile_words_are_shown_safely_and_at_once(self):
        long = ["x" * 100_000] * 10  # the most the system hands over in one word is 128 kB
        for words in (["hexagon \x1b[31m640"], ["hexagon \u202e640"], ["hexagon\a", "640"], [b"hex\xffagon 640"], long, ["hexagon", "640\x07"], ["hexagon \u2066640"]):
            start = time.monotonic()
            run = subprocess.run([BOARDRING, "plan", *words], cwd=self.folder.name, capture_output=True, check=False)
            self.assertLess(time.monotonic() - start, 5.0)
            self.assertEqual((run.returncode, run.stdout, self.names()), (2, b"", []))
            text = run.stderr.decode()
            self.assertLess(len(text), 1000)
            for letter in text:
                self.assertTrue(letter == "\n" or (" " <= letter < "\x7f") or (letter > "\xa0" and not "\u2000" <= letter <= "\u206f"), ascii(text))

    def test_a_name_of_a_file_is_no_sentence(self):
        self.run_it("plan", *HEXAGON)
        run = self.run_it("plan", "hexagon-64")
        self.assertEqual(run.returncode, 2)
        self.assertIn("Did you mean hexagon-640?", run.stderr)

    def test_a_mistyped_shape_is_answered_with_the_nearest_shape_and_the_nearest_file(self):
        run = self.run_it("plan", "hexgon")
        self.assertEqual(run.returncode, 2)
        self.assertIn("the shape hexagon", run.stderr)
        self.assertIn("NEXT       boardring plan hexagon 640 inside flats, 145x38 on edge", run.stderr)
        self.run_it("plan", *HEXAGON)
        pathlib.Path(self.folder.name, "hexagon-640.json").rename(pathlib.Path(self.folder.name, "hexago.json"))
        run = self.run_it("check", "hexgon")
        self.assertIn("Did you mean hexago?", run.stderr)
        self.assertIn("the shape hexagon", run.stderr)

    def run_command_of(self, page, label):
        """Runs in a shell the command that stands behind a label, on as many lines as it takes."""
        lines = page.splitlines()
        first = next(k for k, line in enumerate(lines) if line.startswith(label))
        command = [lines[first].removeprefix(label)]
        while command[-1].endswith("\\"):
            command.append(lines[first + len(command)])
        self.assertTrue(all(len(line) <= 100 for line in lines), page)
        script = "\n".join(command).replace("boardring", BOARDRING, 1)
        return subprocess.run(["bash", "-c", script], cwd=self.folder.name, text=True, capture_output=True, check=False)

    def test_a_long_sentence_is_said_again_as_a_command_that_runs(self):
        long = "hexagon 640 inside flats, 145x38 on edge, two courses, board 4 is 28, kerf 3, saw tilts to 45, butt at B, garden, gap 1, "
        for title in ("called Bed by the shed", "called \"Bed, by Kate's shed\"", "called It costs $5 (or `more`)"):
            run = self.run_it("check", long + title)
            self.assertEqual(run.returncode, 0, run.stderr)
            again = self.run_command_of(run.stdout, "NEXT")
            self.assertEqual(again.returncode, 0, again.stderr)
            self.assertIn("WROTE", again.stdout)

    def test_a_project_is_told_in_words_that_make_it_again(self):
        self.run_it("plan", *HEXAGON)
        told = self.run_it("plan", "hexagon-640", "--words")
        self.assertEqual((told.returncode, told.stderr), (0, ""))
        self.assertNotIn("NO WORDS", told.stdout)
        self.assertEqual(self.run_command_of(told.stdout, "IN WORDS").returncode, 0)
        first, second = (json.loads(self.run_it("plan", name, "--json").stdout) for name in ("hexagon-640", "hexagon-640-2"))
        self.assertEqual(first["boards"], second["boards"])
        found = self.run_it("plan", str(SOURCE / "projects/bay-bench.json"), "--words")
        self.assertIn("NO WORDS   for its outline, sizes found with a tape", found.stdout)

    def test_behind_a_command_that_wants_a_file_it_is_sent_to_plan(self):
        for command in ("buy", "change", "closure", "papers"):
            run = self.run_it(command, *HEXAGON)
            self.assertEqual((run.returncode, run.stdout), (2, ""))
            self.assertIn(f"NEXT       boardring plan {' '.join(HEXAGON)}\n", run.stderr)
        self.assertEqual(self.names(), [])
        # A file that is named as a shape is is a file, whatever follows.
        self.run_it("plan", *HEXAGON)
        os.rename(os.path.join(self.folder.name, "hexagon-640.json"), os.path.join(self.folder.name, "hexagon.json"))
        changed = self.run_it("change", "hexagon", "700 inside flats, 145x38 on edge")
        self.assertIn("(hexagon.json)", changed.stdout + changed.stderr)
        self.assertNotIn("works from a project file", changed.stdout + changed.stderr)

    def test_lists_its_words(self):
        run = self.run_it("plan", "--words")
        self.assertEqual(run.returncode, 0)
        self.assertIn("hexagon", run.stdout)


if __name__ == "__main__":
    unittest.main()
