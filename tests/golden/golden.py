"""What the golden tests and bless.py share: how an output is made and where it is kept.

demos/NAME/      page.txt, exit code and every file `plan --out` writes for projects/NAME.json
findings/CODE/   project.json shows the finding; said.txt is what `check` says of it
"""
import os
import pathlib
import subprocess
import tempfile

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring"))
HERE = SOURCE / "tests/golden"


def demo_outputs(project):
    """Every output of one demo: name -> bytes."""
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder, "out")
        run = subprocess.run([BOARDRING, "plan", project.stem, "--out", str(out)], cwd=project.parent, capture_output=True, check=False)
        outputs = {path.name: path.read_bytes() for path in out.iterdir()}
        outputs["page.txt"] = run.stdout
        outputs["exit_code"] = f"{run.returncode}\n".encode()
        return outputs


def finding_output(folder):
    """What `check` says of the project in a finding's folder, exit code first."""
    run = subprocess.run([BOARDRING, "check", "project.json"], cwd=folder, capture_output=True, check=False)
    return f"exit code {run.returncode}\n".encode() + run.stdout + run.stderr


def demos():
    return sorted((SOURCE / "projects").glob("*.json"))


def finding_folders():
    return sorted(path for path in (HERE / "findings").iterdir() if path.is_dir())
