#!/usr/bin/env python3
"""The program as its users meet it: exit codes, what goes where, files, hostile input."""
import json
import os
import pathlib
import shutil
import signal
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))


class Program(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.here = pathlib.Path(self.folder.name)
        shutil.copy(SOURCE / "projects/courtyard-planter.json", self.here / "planter.json")
        self.addCleanup(self.folder.cleanup)

    def run_it(self, *words, text=None):
        return subprocess.run([BOARDRING, *words], cwd=self.here, capture_output=True, text=True, input=text, check=False)

    def change(self, old, new):
        path = self.here / "planter.json"
        text = path.read_text()
        self.assertIn(old, text)
        path.write_text(text.replace(old, new))

    def test_alone_says_how_to_start(self):
        run = self.run_it()
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        self.assertIn("boardring plan", run.stdout)

    def test_help_and_version(self):
        for words in (["--help"], ["plan", "--help"], ["papers", "--help"], ["check", "--help"], ["joint", "--help"], ["explain", "--help"]):
            run = self.run_it(*words)
            self.assertEqual((run.returncode, run.stderr), (0, ""), words)
        self.assertRegex(self.run_it("--version").stdout, r"^boardring \d+\.\d+\.\d+\n$")

    def test_plan_finds_the_project_by_its_short_name_and_alone(self):
        by_name = self.run_it("plan", "planter")
        self.assertEqual(by_name.returncode, 0, by_name.stderr)
        alone = self.run_it("plan")
        self.assertEqual(alone.stdout, by_name.stdout)
        self.assertIn("planter.json", alone.stderr)
        whole = self.run_it("plan", "planter.json")
        self.assertEqual(whole.stdout, by_name.stdout)

    def test_several_projects_are_not_guessed_between(self):
        shutil.copy(self.here / "planter.json", self.here / "other.json")
        run = self.run_it("plan")
        self.assertEqual(run.returncode, 2)
        self.assertIn("other planter", run.stderr)

    def test_standard_input(self):
        run = self.run_it("plan", "-", text=(self.here / "planter.json").read_text())
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertIn("CLOSES", run.stdout)

    def test_next_of_a_piped_project_says_that_it_is_to_be_piped_again(self):
        """What was piped cannot be read a second time: `buy -` with a fault sent on to `check -` without a word of that."""
        text = (self.here / "planter.json").read_text()
        for command in ("buy", "closure"):
            run = self.run_it(command, "-", text=text.replace('"over_flats": 640', '"over_flats": 0'))
            self.assertEqual(run.returncode, 1, command)
            self.assertTrue(run.stderr.endswith("NEXT       boardring check -   (pipe the project in again)\n"), run.stderr)
        run = self.run_it("buy", "-", text=text)
        self.assertTrue(run.stdout.endswith("NEXT       boardring papers -   (cards to take to the bench; pipe the project in again)\n"), run.stdout)
        # Where what the command is for leaves no room for it, the piping is what is said.
        for command, ends in (("plan", "NEXT       boardring papers -   ("), ("check", "NEXT       boardring plan -   (")):
            last = self.run_it(command, "-", text=text).stdout.splitlines()[-1]
            self.assertTrue(last.startswith(ends) and last.endswith("pipe the project in again)"), last)
        shutil.copy(self.here / "planter.json", self.here / "a - b.json")
        self.assertNotIn("pipe", self.run_it("buy", "a - b").stdout)

    def test_a_board_that_costs_nothing_is_not_dear_to_replace(self):
        text = (self.here / "planter.json").read_text()
        run = self.run_it("buy", "-", text=text)
        self.assertIn("If a board proves bad", run.stdout)
        free = json.loads("\n".join(line.split("//")[0] for line in text.splitlines()))
        for stock in free["stock"].values():
            stock["lengths"] = [{"length": 2400, "price": 0}]
        run = self.run_it("buy", "-", text=json.dumps(free))
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertNotIn("If a board proves bad", run.stdout)

    def test_json_is_the_plan_file(self):
        printed = self.run_it("plan", "planter", "--json")
        self.assertEqual(printed.returncode, 0)
        self.run_it("plan", "planter", "--out", "papers")
        self.assertEqual((self.here / "papers/plan.json").read_text(), printed.stdout)
        self.assertEqual(json.loads(printed.stdout)["format"], "boardring-plan-1")

    def test_out_writes_every_file_and_only_there(self):
        run = self.run_it("plan", "planter", "--out")
        self.assertEqual(run.returncode, 0, run.stderr)
        names = sorted(path.name for path in (self.here / "planter").iterdir())
        for name in ("plan.json", "report.txt", "cut-list.csv", "plan.svg", "board-1.svg", "board-3.svg", "board-4.svg"):
            self.assertIn(name, names)
        self.assertEqual(sorted(path.name for path in self.here.iterdir()), ["planter", "planter.json"])

    def test_papers_writes_what_is_taken_to_the_bench(self):
        run = self.run_it("papers", "planter")
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertEqual(sorted(path.name for path in (self.here / "planter").iterdir()), ["full-size.pdf", "papers.html", "papers.pdf", "plan.dxf"])
        self.assertIn("planter/papers.html", run.stdout)
        self.assertRegex(run.stdout, r"\nNEXT +boardring refit planter 1=413.5 ")
        self.run_it("plan", "planter", "--out", "all")
        for path in (self.here / "planter").iterdir():
            self.assertEqual(path.read_bytes(), (self.here / "all" / path.name).read_bytes(), path.name)

    def test_papers_of_a_ring_that_does_not_close_are_refused(self):
        shutil.copy(SOURCE / "projects/five-sided-bed-misread.json", self.here / "bed.json")
        run = self.run_it("papers", "bed", "--out")
        self.assertEqual(run.returncode, 1)
        self.assertEqual(run.stdout, self.run_it("plan", "bed").stdout)
        self.assertFalse((self.here / "bed").exists())

    def test_papers_of_pieces_alone_are_how_the_long_boards_are_sawn(self):
        shutil.copy(SOURCE / "tests/golden/projects_good/pieces-alone.json", self.here / "shelves.json")
        run = self.run_it("papers", "shelves")
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertIn("shelves/sawing-order.pdf", run.stdout)
        self.assertIn("NEXT       boardring buy shelves ", run.stdout)
        self.run_it("buy", "shelves", "--out", "bought")
        written = {path.name: path.read_bytes() for path in (self.here / "shelves").iterdir()}
        self.assertEqual(written, {path.name: path.read_bytes() for path in (self.here / "bought").iterdir()})

    def test_papers_of_pieces_alone_without_lengths_say_what_is_missing(self):
        project = json.loads((SOURCE / "tests/golden/projects_good/pieces-alone.json").read_text())
        for stock in project["stock"].values():
            stock.pop("lengths", None)
        (self.here / "shelves.json").write_text(json.dumps(project))
        run = self.run_it("papers", "shelves")
        self.assertEqual((run.returncode, run.stderr), (0, ""))
        self.assertIn('add "lengths" to the stock', " ".join(run.stdout.split()))
        self.assertFalse((self.here / "shelves").exists())

    def test_a_measured_length_that_cannot_be_read_is_shown_how_to_write(self):
        for words in (["1=abc"], ["9=400"], ["1="]):
            run = self.run_it("refit", "planter", *words)
            self.assertEqual((run.returncode, run.stdout), (2, ""))
            self.assertRegex(run.stderr, r"\nNEXT +boardring refit planter 1=413.5 ", words)

    def test_a_wrong_reading_between_pegs_leaves_the_boards_planned(self):
        text = (SOURCE / "projects/staked-bed.json").read_text()
        (self.here / "bed.json").write_text(text)
        right = json.loads(self.run_it("plan", "bed", "--json").stdout)
        (self.here / "bed.json").write_text(text.replace('"AD 1801"', '"AD 1081"'))
        run = self.run_it("plan", "bed", "--json")
        self.assertEqual(run.returncode, 0)
        wrong = json.loads(run.stdout)
        self.assertEqual(wrong["boards"], right["boards"])
        told = [finding for finding in wrong["findings"] if finding["message"].startswith("Pegs: ")]
        self.assertEqual([(finding["code"], finding["severity"]) for finding in told], [("fit.wrong-reading", "warning")])
        self.assertIn("PEGS.         Which to move I cannot say yet", self.run_it("plan", "bed").stdout)

    def test_no_line_of_any_page_is_wider_than_a_hundred(self):
        shutil.copytree(SOURCE / "projects", self.here / "projects")  # commands name the file: how wide they are may not hang on where the source lies
        for path in sorted((self.here / "projects").glob("*.json")):
            name = f"projects/{path.name}"
            for words in (["plan", name, "--more"], ["check", name], ["buy", name], ["closure", name]):
                for line in self.run_it(*words).stdout.splitlines():
                    self.assertLessEqual(len(line), 100, (words, line))

    def test_without_the_pdf_library_the_other_files_are_written_and_that_is_said_once(self):
        program = shutil.copy(BOARDRING, self.here / "boardring")
        run = subprocess.run([program, "plan", "planter", "--out"], cwd=self.here, capture_output=True, text=True, check=False)
        self.assertEqual(run.returncode, 0)
        self.assertEqual(run.stderr.count("libcairo2"), 1)
        self.assertIn("not written: sawing-order.pdf, papers.pdf, full-size.pdf; ", run.stderr)
        self.assertTrue((self.here / "planter/papers.html").exists())
        self.assertFalse(any((self.here / "planter").glob("*.pdf")))

    def test_one_angle_changed_by_five_degrees(self):
        shutil.copy(SOURCE / "projects/five-sided-bed.json", self.here / "bed.json")
        self.assertEqual(self.run_it("check", "bed").returncode, 0)
        path = self.here / "bed.json"
        path.write_text(path.read_text().replace('"C 98"', '"C 103"'))
        run = self.run_it("check", "bed")
        self.assertEqual(run.returncode, 1)
        self.assertIn("DOES NOT CLOSE", run.stdout)
        self.assertIn("545", run.stdout)
        self.assertIn("C", run.stdout)
        self.assertIn("bed.json", run.stdout)

    def test_mistyped_key_names_the_one_meant(self):
        self.change('"courses"', '"corses"')
        run = self.run_it("check", "planter")
        self.assertEqual(run.returncode, 1)
        self.assertIn("corses", run.stdout)
        self.assertIn("courses", run.stdout)
        self.assertRegex(run.stdout, r"planter\.json line \d+")

    def test_missing_bracket_is_placed(self):
        path = self.here / "planter.json"
        path.write_text(path.read_text().rstrip().removesuffix("}"))
        run = self.run_it("plan", "planter")
        self.assertEqual(run.returncode, 1)
        self.assertRegex(run.stdout, r"planter\.json line \d+")

    def test_impossible_board(self):
        self.change('"width": 145, "thickness": 38', '"width": 145, "thickness": -38')
        run = self.run_it("plan", "planter")
        self.assertEqual(run.returncode, 1)
        self.assertIn("-38", run.stdout)

    def test_failed_plan_writes_no_drawings(self):
        self.change('"line": "inside"', '"line": "outside"')
        self.change('"over_flats": 640', '"over_flats": 20')
        run = self.run_it("plan", "planter", "--out", "papers")
        self.assertEqual(run.returncode, 1)
        self.assertEqual(sorted(path.name for path in (self.here / "papers").iterdir()), ["plan.json", "report.txt"])

    def test_wrong_command_lines(self):
        for words, part in ((["plann"], "plan"), (["plan", "nowhere"], "nowhere"), (["plan", "--what"], "--what"), (["explain", "angle-sun"], "angle-sum"),
                            (["joint", "--corner", "108"], "--boards"), (["joint", "--corner", "108", "--boards", "90"], "two")):
            run = self.run_it(*words)
            self.assertEqual((run.returncode, run.stdout), (2, ""), words)
            self.assertIn(part, run.stderr)

    def test_a_folder_is_no_project(self):
        (self.here / "sub").mkdir()
        run = self.run_it("plan", "sub")
        self.assertEqual(run.returncode, 2)
        self.assertIn("folder", run.stderr)

    def test_out_onto_a_file_is_refused_and_the_file_kept(self):
        (self.here / "taken").write_text("mine")
        run = self.run_it("plan", "planter", "--out", "taken")
        self.assertEqual(run.returncode, 2)
        self.assertEqual((self.here / "taken").read_text(), "mine")

    def test_a_pipe_closed_early_is_quiet(self):
        run = subprocess.run(f"'{BOARDRING}' plan planter --json | head -c 1", shell=True, cwd=self.here, capture_output=True, text=True, check=False)
        self.assertEqual((run.returncode, run.stderr), (0, ""))

    def test_hostile_title_shows_as_text(self):
        self.change('"Courtyard planter"', '"\\u001b[31mred\\u0007 <script>&\\"x\\" =1+1"')
        run = self.run_it("plan", "planter", "--out", "papers")
        self.assertNotIn("\x1b", run.stdout)
        self.assertNotIn("\x07", run.stdout)
        if run.returncode == 0:
            self.assertNotIn("<script>", (self.here / "papers/plan.svg").read_text())

    def test_nothing_kills_it(self):
        for text in ("", "{", "[" * 100000, "\x00", '{"format":', '"boardring-project-1"', "null", "\ufeff{}", "{}" * 2, '{"format":"boardring-project-1"}'):
            run = self.run_it("plan", "-", text=text)
            self.assertEqual(run.returncode, 1, text[:20])
            self.assertNotEqual(run.returncode, -signal.SIGSEGV)
            self.assertTrue(run.stdout)


if __name__ == "__main__":
    unittest.main()
