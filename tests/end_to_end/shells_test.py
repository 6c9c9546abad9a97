#!/usr/bin/env python3
"""The man page and the completions, made from the description of the commands: complete, well formed, and they complete.

A shell or a formatter that is not installed is said to be missing, and what it would have read is not checked.
"""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))


def said(*words):
    return subprocess.run([BOARDRING, *words], capture_output=True, text=True, check=True).stdout


def commands():
    """name -> its long options, as --help tells them."""
    listed = said("--help").split("Subcommands:")[1]
    names = re.findall(r"^  ([a-z]+) +\S", listed, re.M)
    return {name: sorted(set(re.findall(r"^  (?:-h,)?(--[a-z-]+)", said(name, "--help"), re.M))) for name in names}


class Shells(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.here = pathlib.Path(self.folder.name)
        shutil.copytree(SOURCE / "projects", self.here / "projects")
        shutil.copy(self.here / "projects/gate-arch.json", self.here / "projects/gate-arch.before.json")
        (self.here / "boardring").symlink_to(BOARDRING)
        self.environment = dict(os.environ, PATH=f"{self.here}:{os.environ['PATH']}")

    def tool(self, name):
        if shutil.which(name) is None:
            self.skipTest(f"{name} is not installed")
        return name

    def run_in(self, *words, cwd=None):
        run = subprocess.run(words, cwd=cwd or self.here / "projects", env=self.environment, capture_output=True, text=True, check=False)
        self.assertEqual((run.returncode, run.stderr), (0, ""), words)
        return run.stdout

    def test_every_command_and_option_is_in_every_one_of_them(self):
        told = commands()
        self.assertIn("plan", told)
        self.assertIn("--more", told["plan"])
        for reader in ("man", "bash", "zsh", "fish"):
            text = said("describe", reader).replace("\\-", "-")
            for name, options in told.items():
                self.assertRegex(text, rf"\b{name}\b", reader)
                for option in options:
                    if reader == "fish" and option != "--help":
                        self.assertIn(f"__fish_seen_subcommand_from {name}' -l {option[2:]}", text)
                    elif reader != "fish" and not (reader == "man" and option == "--help"):
                        self.assertIn(option, text, (reader, name))

    def test_the_man_page_has_no_warnings(self):
        self.tool("groff")
        page = self.here / "boardring.1"
        page.write_text(said("describe", "man"))
        self.run_in("groff", "-man", "-Tutf8", "-ww", "-z", str(page))
        if shutil.which("man") is not None:
            run = subprocess.run(["man", "--warnings", "-E", "UTF-8", "-l", "-Tutf8", "-Z", str(page)], env=dict(self.environment, MANROFFSEQ="", LC_ALL="C.UTF-8"), capture_output=True, text=True, check=False)
            self.assertEqual(run.stderr, "")

    def bash_completes(self, *words):
        script = self.here / "boardring.bash"
        script.write_text(said("describe", "bash"))
        quoted = " ".join(f"'{word}'" for word in words)
        return self.run_in("bash", "-c", f'source "{script}"; COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}; _boardring; printf "%s\\n" "${{COMPREPLY[@]}}"').split()

    def test_bash_completes(self):
        self.tool("bash")
        self.run_in("bash", "-n", "-c", said("describe", "bash"))
        self.assertEqual(self.bash_completes("boardring", "pl"), ["plan"])
        self.assertIn("check", self.bash_completes("boardring", ""))
        self.assertEqual(self.bash_completes("boardring", "plan", "gate"), ["gate-arch"])
        self.assertEqual(self.bash_completes("boardring", "plan", "gate-arch", "--m"), ["--more"])
        self.assertEqual(sorted(self.bash_completes("boardring", "joint", "--kind", "")), ["butt", "half-lap", "mitre"])
        self.assertEqual(self.bash_completes("boardring", "explain", "outline.angle-sum-"), ["outline.angle-sum-spread"])

    def test_fish_completes(self):
        self.tool("fish")
        script = self.here / "boardring.fish"
        script.write_text(said("describe", "fish"))
        self.run_in("fish", "--no-config", "-n", str(script))

        def completes(line):
            out = self.run_in("fish", "--no-config", "-c", f'source "{script}"; complete -C "{line}"')
            return [row.split("\t")[0] for row in out.splitlines()]

        self.assertEqual(completes("boardring pl"), ["plan"])
        self.assertIn("--more", completes("boardring plan --m"))
        self.assertEqual(sorted(completes("boardring joint --kind ")), ["butt", "half-lap", "mitre"])
        self.assertIn("gate-arch.json", completes("boardring plan gate-a"))

    def test_zsh_reads_its_completions(self):
        self.tool("zsh")
        script = self.here / "_boardring"
        script.write_text(said("describe", "zsh"))
        self.run_in("zsh", "-f", "-n", str(script))


if __name__ == "__main__":
    unittest.main()
