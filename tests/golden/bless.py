#!/usr/bin/env python3
"""Takes the present outputs as the golden ones. Then read `git diff tests/golden` line by line.

usage: BOARDRING=path/to/boardring tests/golden/bless.py
"""
import pathlib
import shutil
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import golden  # noqa: E402


def main():
    for project in golden.demos():
        folder = golden.HERE / "demos" / project.stem
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        for name, text in golden.demo_outputs(project).items():
            (folder / name).write_bytes(text)
    said = golden.HERE / "said"
    shutil.rmtree(said, ignore_errors=True)
    said.mkdir()
    for project in golden.finding_projects():
        (said / (project.stem + ".txt")).write_bytes(golden.finding_output(project))


if __name__ == "__main__":
    main()
