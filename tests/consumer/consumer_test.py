#!/usr/bin/env python3
"""Installs boardring into an empty folder, builds a project that finds it there, and runs both."""
import os
import pathlib
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ["BOARDRING_SOURCE"])
BUILD = pathlib.Path(os.environ["BOARDRING_BUILD"])


def run(*command):
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise AssertionError(f"{command}: {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


class Consumer(unittest.TestCase):
    def test_installed_package_is_found_and_works(self):
        with tempfile.TemporaryDirectory() as folder:
            prefix = pathlib.Path(folder, "prefix")
            run("cmake", "--install", BUILD, "--prefix", prefix)
            self.assertIn("boardring 0.", run(prefix / "bin/boardring", "--version"))
            run("cmake", "-S", SOURCE / "tests/consumer", "-B", pathlib.Path(folder, "build"), "-G", "Ninja",
                f"-DCMAKE_PREFIX_PATH={prefix}", f"-DCMAKE_CXX_COMPILER={os.environ.get('CXX', 'c++')}")
            run("cmake", "--build", pathlib.Path(folder, "build"))
            self.assertEqual(run(pathlib.Path(folder, "build/consumer")), "369.504\n")


if __name__ == "__main__":
    unittest.main()
