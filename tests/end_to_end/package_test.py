#!/usr/bin/env python3
"""The Debian package: packed by CPack from the build folder, looked at by dpkg-deb and lintian, unpacked and run.

Needs cpack, dpkg-dev and lintian; tests/run.sh installs them. Without lintian its part is skipped, and says so. A build with sanitizers
is not one to pack.
"""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BUILD = pathlib.Path(os.environ.get("BOARDRING_BUILD", SOURCE / "build/tests"))


def run(*command, cwd=None):
    done = subprocess.run([str(part) for part in command], cwd=cwd, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise AssertionError(f"{command}: {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


def sanitized():
    return bool(re.search(r"^BOARDRING_SANITIZE:STRING=.+", (BUILD / "CMakeCache.txt").read_text(), re.M))


@unittest.skipUnless(shutil.which("cpack") and shutil.which("dpkg-deb") and shutil.which("dpkg-shlibdeps"), "cpack or dpkg-dev is not installed")
@unittest.skipIf(sanitized(), "this build has sanitizers: not one to pack")
class Package(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.folder.cleanup)
        cls.here = pathlib.Path(cls.folder.name)
        run("cpack", "-G", "DEB", "--config", BUILD / "CPackConfig.cmake", "-B", cls.here / "packed")
        cls.package = next((cls.here / "packed").glob("boardring_*.deb"))

    def test_holds_program_man_page_completions_and_what_policy_asks(self):
        listed = {line.split()[5].lstrip(".") for line in run("dpkg-deb", "-c", self.package).splitlines()}
        for name in ("bin/boardring", "lib/boardring/pdf/libboardring_pdf.so", "share/man/man1/boardring.1.gz",
                     "share/bash-completion/completions/boardring", "share/zsh/site-functions/_boardring", "share/fish/vendor_completions.d/boardring.fish",
                     "share/doc/boardring/copyright", "share/doc/boardring/changelog.gz", "share/doc/boardring/examples/courtyard-planter.json",
                     "share/boardring/schemas/boardring-project-1.schema.json"):
            self.assertIn("/usr/" + name, listed)
        self.assertFalse([name for name in listed if name.endswith((".a", ".hpp", ".cmake"))], "the engine is no part of the program's package")
        needs = run("dpkg-deb", "-f", self.package, "Depends")
        for library in ("libcairo2", "libfmt", "libstdc++6"):
            self.assertIn(library, needs)
        version = re.search(r"VERSION (\d+\.\d+\.\d+)", (SOURCE / "CMakeLists.txt").read_text().split("project(boardring")[1]).group(1)
        self.assertEqual(run("dpkg-deb", "-f", self.package, "Version").strip(), version)
        self.assertTrue((SOURCE / "cli/package/changelog").read_text().startswith(f"boardring ({version}) "))

    def test_copyright_has_the_whole_licence(self):
        words = [line.strip().strip(".") for line in (SOURCE / "cli/package/copyright").read_text().split("License: Expat")[2].splitlines()]
        self.assertEqual(" ".join(" ".join(words).split()).rstrip("."),
                         " ".join((SOURCE / "LICENSE").read_text().split("the boardring authors")[1].replace(".\n\n", "\n\n").split()).rstrip("."))

    def test_unpacked_it_runs_with_its_pdf_library(self):
        root = self.here / "root"
        run("dpkg-deb", "-x", self.package, root)
        run(root / "usr/bin/boardring", "papers", root / "usr/share/doc/boardring/examples/courtyard-planter.json", "--out", "papers", cwd=root)
        self.assertTrue((root / "papers/papers.pdf").read_bytes().startswith(b"%PDF"))
        if shutil.which("man"):
            page = run("man", "-l", root / "usr/share/man/man1/boardring.1.gz")
            self.assertIn("papers", page)

    @unittest.skipUnless(shutil.which("lintian"), "lintian is not installed")
    def test_lintian_finds_neither_errors_nor_warnings(self):
        done = subprocess.run(["lintian", "--allow-root", "--fail-on", "error,warning", str(self.package)], capture_output=True, text=True, check=False)
        self.assertEqual((done.returncode, [line for line in done.stdout.splitlines() if line[:2] in ("E:", "W:")]), (0, []), done.stderr)


if __name__ == "__main__":
    unittest.main()
