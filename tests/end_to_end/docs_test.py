#!/usr/bin/env python3
"""Every command shown in README.md and docs/ is run, and says what the page says.

A fenced block marked `console` holds lines that start with "$ " (a command, run in a fresh copy of projects/ or where the page says so) and,
below each, its output to the letter. A line of only "..." stands for any lines.
"""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring"))
BLOCK = re.compile(r"^```console\n(.*?)^```", re.M | re.S)


def pages():
    return [SOURCE / "README.md", *sorted((SOURCE / "docs").rglob("*.md"))]


def commands(block):
    """(command, expected output) pairs of a block."""
    found = []
    for line in block.splitlines():
        if line.startswith("$ "):
            found.append((line[2:], []))
        elif found:
            found[-1][1].append(line)
    return [(command, "\n".join(lines).strip()) for command, lines in found]


def matches(expected, said):
    """Expected text, with "..." lines standing for anything, against what was said."""
    pattern = r"\n".join(r"(?s:.*)" if line.strip() == "..." else re.escape(line) for line in expected.splitlines())
    # A "..." may also stand for no line at all.
    pattern = pattern.replace(r"(?s:.*)\n", r"(?:(?s:.*)\n)?").replace(r"\n(?s:.*)", r"(?:\n(?s:.*))?")
    return re.fullmatch(pattern, said) is not None


class Docs(unittest.TestCase):
    def test_commands_say_what_the_pages_show(self):
        count = 0
        for page in pages():
            for block in BLOCK.findall(page.read_text()):
                with tempfile.TemporaryDirectory() as folder:
                    here = pathlib.Path(folder)
                    shutil.copytree(SOURCE / "projects", here / "projects")
                    (here / "bin").mkdir()
                    (here / "bin/boardring").symlink_to(BOARDRING)
                    (here / "cli").mkdir()
                    (here / "cli/run.sh").symlink_to(BOARDRING)  # what run.sh runs in the end; setting up is not this test's matter
                    environment = dict(os.environ, PATH=f"{here / 'bin'}:{os.environ['PATH']}")
                    for command, expected in commands(block):
                        with self.subTest(page=page.name, command=command):
                            run = subprocess.run(["bash", "-c", command], cwd=here, env=environment, text=True,
                                                 stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
                            said = "\n".join(line.rstrip() for line in run.stdout.splitlines()).strip()
                            self.assertTrue(matches(expected, said), f"\n--- page\n{expected}\n--- program\n{said}")
                            count += 1
        self.assertGreater(count, 5, "the pages show no commands")

    def test_links_lead_somewhere(self):
        for page in [*pages(), SOURCE / "DEVELOPERS.md", SOURCE / "engine/README.md"]:
            for target in re.findall(r"\]\(([^)#:\s]+)(?:#[^)]*)?\)", page.read_text()):
                self.assertTrue((page.parent / target).exists(), f"{page.relative_to(SOURCE)} points to {target}")


if __name__ == "__main__":
    unittest.main()
