#!/usr/bin/env python3
"""Every `boardring change` command that is printed with a finding: run as printed, the finding goes away and no other error comes."""
import json
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
sys.path.insert(0, str(SOURCE / "tests/golden"))
import golden  # noqa: E402

BOARDRING = golden.BOARDRING
COMMAND = re.compile(r"^ *(boardring change (?:.*\\\n)*.*)$", re.M)


def run(folder, *words):
    return subprocess.run([BOARDRING, *words], cwd=folder, capture_output=True, text=True, check=False)


def findings(folder):
    return json.loads(run(folder, "plan", "project", "--json").stdout)["findings"]


def same(a, b):
    return a["code"] == b["code"] and a["message"] == b["message"]


class Mends(unittest.TestCase):
    def test_every_printed_command_mends_its_finding(self):
        mended = set()
        for project in golden.finding_projects():
            with self.subTest(project.name), tempfile.TemporaryDirectory() as folder:
                place = pathlib.Path(folder, "project.json")
                shutil.copyfile(project, place)
                text = place.read_bytes()
                page = run(folder, "check", "project").stdout
                before = findings(folder)
                printed = [shlex.split(command) for command in COMMAND.findall(page)]
                offered = [finding for finding in before if finding["changes"]]
                self.assertEqual([words[3:] for words in printed], [finding["changes"] for finding in offered])
                for words, finding in zip(printed, offered):
                    place.write_bytes(text)
                    result = run(folder, *words[1:])
                    self.assertEqual(result.returncode, 0, result.stderr)
                    after = findings(folder)
                    self.assertFalse([f for f in after if same(f, finding)], words)
                    known = [f for f in before if f["severity"] == "error"]
                    new = [f for f in after if f["severity"] == "error" and not any(same(f, k) for k in known)]
                    # A file that could not be read has its shape checked only now.
                    unread = finding["code"].split(".")[0] in ("key", "value", "reading", "stock")
                    self.assertEqual([f["code"] for f in new if not (unread and f["code"].startswith("outline."))], [], words)
                    kept = pathlib.Path(folder, "project.before.json")
                    self.assertEqual(kept.read_bytes(), text)
                    kept.unlink()
                    mended.add(finding["code"])
        for code in ("outline.angle-sum", "outline.misclosure", "joint.undercut", "key.unknown", "stock.unknown", "value.not-allowed",
                     "reading.inward-twice", "joint.straight-overlap"):
            self.assertIn(code, mended)


if __name__ == "__main__":
    unittest.main()
