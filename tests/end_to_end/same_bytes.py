#!/usr/bin/env python3
"""Runs every demo through several builds of boardring: all their files and pages must be the same bytes, those of the simulated last
joint too, on one thread as on three.

usage: same_bytes.py BOARDRING BOARDRING...
Ends with a line that counts demos: "N passed, M failed".
"""
import pathlib
import subprocess
import sys
import tempfile

SOURCE = pathlib.Path(__file__).resolve().parents[2]


# Enough for three batches, the last one short, and for rings that take the slow way.
RUNS = "23457"


def everything(binary, project, threads):
    """Exit code, page and every written file of one demo."""
    made = {}
    for command, *options in (("plan", "--more"), ("closure", "--runs", RUNS, "--threads", threads)):
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder, "out")
            run = subprocess.run([binary, command, project.name, *options, "--out", str(out)],
                                 cwd=project.parent, capture_output=True, check=False)
            made |= {f"exit of {command}": run.returncode, f"page of {command}": run.stdout}
            made |= {path.name: path.read_bytes() for path in sorted(out.iterdir())} if out.is_dir() else {}
    return made


def main():
    binaries = [str(pathlib.Path(name).resolve()) for name in sys.argv[1:]]
    passed = failed = 0
    for project in sorted((SOURCE / "projects").glob("*.json")):
        first = everything(binaries[0], project, "1")
        differing = []
        for binary in binaries:
            other = everything(binary, project, "3")
            differing += [f"{binary}: {name}" for name in sorted(first.keys() | other.keys()) if first.get(name) != other.get(name)]
        for line in differing:
            print(f"{project.name}: differs in {line}")
        passed += not differing
        failed += bool(differing)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
