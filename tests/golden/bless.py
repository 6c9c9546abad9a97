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
        outputs = golden.demo_outputs(project)  # made before the old ones go: a program that is not there takes nothing away
        folder = golden.HERE / "demos" / project.stem
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        for name, text in outputs.items():
            (folder / name).write_bytes(text)
    keep("said", {project.stem: golden.finding_output(project) for project in golden.finding_projects()})
    keep("printed", {project.stem: golden.page_output(project) for project in golden.page_projects()})


def keep(name, texts):
    folder = golden.HERE / name
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for stem, text in texts.items():
        (folder / (stem + ".txt")).write_bytes(text)


if __name__ == "__main__":
    main()
