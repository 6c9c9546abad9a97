"""What the golden tests and bless.py share: how an output is made and where it is kept.

demos/NAME/      page.txt, exit code and every file `plan --out` writes (but HTML, PDF and DXF) for projects/NAME.json
findings/        CODE.json or CODE--what.json shows a finding; so does every file of projects_bad/, the reader's corpus
said/            what `check` says of each of them
pages/           projects whose pages hold lines no demo has; each names the command in its first line, "// boardring plan --more"
printed/         what those commands print
"""
import os
import pathlib
import shlex
import subprocess
import tempfile

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
HERE = SOURCE / "tests/golden"
PRINTED_ELSEWHERE = {".html", ".pdf", ".dxf"}  # the page and the SVG files again; a PDF holds the fonts of its machine


def demo_outputs(project):
    """Every output of one demo: name -> bytes."""
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder, "out")
        run = subprocess.run([BOARDRING, "plan", project.stem, "--out", str(out)], cwd=project.parent, capture_output=True, check=False)
        outputs = {path.name: path.read_bytes() for path in out.iterdir() if path.suffix not in PRINTED_ELSEWHERE}
        outputs["page.txt"] = run.stdout
        outputs["exit_code"] = f"{run.returncode}\n".encode()
        return outputs


def finding_projects():
    """Projects that show a finding; its code is the file name up to "--"."""
    return sorted([*(HERE / "findings").glob("*.json"), *(HERE / "projects_bad").glob("*.json")], key=lambda path: path.name)


def code_of(project):
    return project.stem.split("--")[0]


def finding_output(project):
    """What `check` says of a project, exit code first. Read from standard input, so that no file name is in it; files beside it are found all
    the same, since that is where the program runs."""
    run = subprocess.run([BOARDRING, "check", "-"], input=project.read_bytes(), cwd=project.parent, capture_output=True, check=False)
    return f"exit code {run.returncode}\n".encode() + run.stdout + run.stderr


def page_projects():
    return sorted((HERE / "pages").glob("*.json"))


def page_output(project):
    """What the command in a project's first line prints; the project's name follows the command's own."""
    program, command, *rest = shlex.split(project.read_text().splitlines()[0].removeprefix("//"))
    assert program == "boardring", project
    run = subprocess.run([BOARDRING, command, project.stem, *rest], cwd=project.parent, capture_output=True, check=False)
    return f"exit code {run.returncode}\n".encode() + run.stdout + run.stderr


def demos():
    return sorted((SOURCE / "projects").glob("*.json"))

