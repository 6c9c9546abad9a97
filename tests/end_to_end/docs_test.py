#!/usr/bin/env python3
"""Every command shown in README.md and docs/ is run, and says what the page says.

A fenced block marked `console` holds lines that start with "$ " (a command, run in a fresh copy of projects/ or where the page says so) and,
below each, its output to the letter. A line of only "..." stands for any lines. `docs_test.py --bless` writes the present outputs and pictures into the pages.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
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
    return [(command, "\n".join(lines).strip("\n")) for command, lines in found]


def matches(expected, said):
    """Expected text, with "..." lines standing for anything, against what was said."""
    pattern = r"\n".join(r"(?s:.*)" if line.strip() == "..." else re.escape(line) for line in expected.splitlines())
    # A "..." may also stand for no line at all.
    pattern = pattern.replace(r"(?s:.*)\n", r"(?:(?s:.*)\n)?").replace(r"\n(?s:.*)", r"(?:\n(?s:.*))?")
    return re.fullmatch(pattern, said) is not None


def run_block(block):
    """(command, expected, said) of every command of a block, run in a fresh copy of projects/."""
    with tempfile.TemporaryDirectory() as folder:
        here = pathlib.Path(folder)
        shutil.copytree(SOURCE / "projects", here / "projects")
        (here / "bin").mkdir()
        (here / "bin/boardring").symlink_to(BOARDRING)
        (here / "cli").mkdir()
        (here / "cli/run.sh").symlink_to(BOARDRING)  # what run.sh runs in the end; setting up is not this test's matter
        environment = dict(os.environ, PATH=f"{here / 'bin'}:{os.environ['PATH']}")
        results = []
        for command, expected in commands(block):
            run = subprocess.run(["bash", "-c", command], cwd=here, env=environment, text=True,
                                 stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
            said = "\n".join(line.rstrip() for line in run.stdout.splitlines()).strip("\n")
            results.append((command, expected, said))
        return results


# docs/pictures/NAME: the demo and the file it is drawn in.
PICTURES = {
    "courtyard-planter-plan.svg": ("courtyard-planter", "plan.svg"),
    "courtyard-planter-board-3.svg": ("courtyard-planter", "board-3.svg"),
    "herb-corner-plan.svg": ("herb-corner", "plan.svg"),
    "cold-frame-board-1.svg": ("cold-frame", "board-1.svg"),
}


def picture(name):
    """A picture of the docs as the program draws it now."""
    project, file = PICTURES[name]
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([BOARDRING, "plan", project, "--out", folder], cwd=SOURCE / "projects", capture_output=True, check=True)
        return pathlib.Path(folder, file).read_bytes()


def bless():
    """Writes what the program says now into the pages, where a page shows the whole output."""
    for page in pages():
        def again(match):
            lines = []
            for command, expected, said in run_block(match.group(1)):
                lines += [f"$ {command}", expected if "..." in expected.splitlines() else said]
            return "```console\n" + "\n".join(line for line in lines if line) + "\n```"
        page.write_text(BLOCK.sub(again, page.read_text()))
    for name in PICTURES:
        (SOURCE / "docs/pictures" / name).write_bytes(picture(name))


class Docs(unittest.TestCase):
    def test_commands_say_what_the_pages_show(self):
        count = 0
        for page in pages():
            for block in BLOCK.findall(page.read_text()):
                for command, expected, said in run_block(block):
                    with self.subTest(page=page.name, command=command):
                        self.assertTrue(matches(expected, said), f"\n--- page\n{expected}\n--- program\n{said}")
                        count += 1
        self.assertGreater(count, 5, "the pages show no commands")

    def test_pictures_are_what_the_program_draws(self):
        for name in PICTURES:
            self.assertEqual((SOURCE / "docs/pictures" / name).read_bytes(), picture(name), name)

    def test_links_lead_somewhere(self):
        for page in [*pages(), SOURCE / "DEVELOPERS.md", SOURCE / "engine/README.md"]:
            for target in re.findall(r"\]\(([^)#:\s]+)(?:#[^)]*)?\)", page.read_text()):
                self.assertTrue((page.parent / target).exists(), f"{page.relative_to(SOURCE)} points to {target}")


if __name__ == "__main__":
    if "--bless" in sys.argv:
        bless()
    else:
        unittest.main()
