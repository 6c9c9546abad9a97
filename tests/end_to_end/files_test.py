#!/usr/bin/env python3
"""Files are old or new, never half, and nothing else is touched: killed while writing, a full disk, no permission, folders and links in the
way, readers that leave early, streams that are closed, and every file opened as the kernel saw it (strace).

What needs strace, a mount of its own or dropped rights says so where the machine does not allow it, and checks nothing of that kind.
BOARDRING_FULL=1 kills five times as often.
"""
import json
import os
import pathlib
import random
import re
import shutil
import signal
import stat
import subprocess
import tempfile
import time
import unittest

SOURCE = pathlib.Path(os.environ.get("BOARDRING_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/tests/cli/boardring")))
KILLS = 1000 if os.environ.get("BOARDRING_FULL") else 200
ENVIRONMENT = {"PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8", "ASAN_OPTIONS": "detect_leaks=0"}  # leaks cannot be looked for under strace


def works(*words):
    try:
        return subprocess.run(words, capture_output=True, check=False).returncode == 0
    except OSError:
        return False


CAN_TRACE = works("strace", "-o", os.devnull, "true")
CAN_MOUNT = works("unshare", "-rm", "mount", "-t", "tmpfs", "none", "/mnt")
# Root reads and writes whatever the permissions say, unless it gives that right away.
WITHOUT_RIGHTS = ["setpriv", "--bounding-set", "-dac_override,-dac_read_search", "--inh-caps", "-dac_override,-dac_read_search"] if os.geteuid() == 0 else []
CAN_BE_FORBIDDEN = works(*WITHOUT_RIGHTS, "true")


class InAFolder(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.here = pathlib.Path(folder.name)
        self.planter = self.here / "planter.json"
        shutil.copyfile(SOURCE / "projects/courtyard-planter.json", self.planter)
        self.old = self.planter.read_bytes()

    def run_it(self, *words, before=(), **more):
        more = {"cwd": self.here, "capture_output": True, "check": False, "env": ENVIRONMENT, "stdin": subprocess.DEVNULL} | more
        run = subprocess.run([*before, BOARDRING, *words], **more)
        for name in ("stdout", "stderr"):
            setattr(run, name, (getattr(run, name) or b"").decode())
        return run

    def names(self, folder="."):
        return sorted(path.name for path in (self.here / folder).iterdir())

    def contents(self, folder):
        return {path.name: path.read_bytes() for path in (self.here / folder).iterdir()}


class Killed(InAFolder):
    def changed(self):
        """What `change` makes of the planter."""
        self.assertEqual(self.run_it("change", "planter", "kerf is 2.5").returncode, 0)
        new = self.planter.read_bytes()
        self.assertNotEqual(new, self.old)
        self.afresh()
        return new

    def afresh(self):
        for path in self.here.iterdir():
            if path.is_file():
                path.unlink()
        self.planter.write_bytes(self.old)

    def look_at_change(self, new):
        self.assertIn(self.planter.read_bytes(), (self.old, new))
        for path in self.here.glob("*.before*.json"):
            self.assertEqual(path.read_bytes(), self.old)
        if self.planter.read_bytes() == new:
            self.assertTrue((self.here / "planter.before.json").exists(), "changed, and the old one not kept")

    def killed_after(self, seconds, *words):
        with subprocess.Popen([BOARDRING, *words], cwd=self.here, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=ENVIRONMENT) as run:
            time.sleep(seconds)
            run.kill()
            return run.wait()

    def test_change_at_random_moments(self):
        new = self.changed()
        start = time.monotonic()
        self.run_it("change", "planter", "kerf is 2.5")
        lasts = time.monotonic() - start
        draw = random.Random(8)
        ends = {0: 0, -signal.SIGKILL: 0}
        for _ in range(KILLS // 2):
            self.afresh()
            ends[self.killed_after(draw.uniform(0.0, 1.2 * lasts), "change", "planter", "kerf is 2.5")] += 1
            self.look_at_change(new)
        self.assertGreater(ends[-signal.SIGKILL], KILLS // 10)

    def test_papers_of_an_older_run_at_random_moments(self):
        shutil.copyfile(self.planter, self.here / "pot.json")
        change = self.run_it("change", "pot", "title is Another pot")
        self.assertEqual(change.returncode, 0, change.stderr)
        self.run_it("plan", "planter", "--out", "papers")
        old = self.contents("papers")
        start = time.monotonic()
        self.run_it("plan", "pot", "--out", "papers")
        lasts = time.monotonic() - start
        new = self.contents("papers")
        self.assertEqual(old.keys(), new.keys())
        draw = random.Random(8)
        for _ in range(KILLS - KILLS // 2):
            for name, data in old.items():
                (self.here / "papers" / name).write_bytes(data)
            self.killed_after(draw.uniform(0.0, 1.2 * lasts), "plan", "pot", "--out", "papers")
            there = self.contents("papers")
            for name in old:
                self.assertIn(there[name], (old[name], new[name]), name)
            for name in there.keys() - old.keys():
                self.assertTrue(name.startswith(".boardring-"), name)
                (self.here / "papers" / name).unlink()

    @unittest.skipUnless(CAN_TRACE, "strace is not installed, or not allowed here")
    def test_change_at_every_step_it_takes_to_write(self):
        new = self.changed()
        killed = 0
        for call in ("openat", "write", "fchmod", "fsync", "close", "link", "unlink", "rename"):
            for nth in range(1, 100):
                self.afresh()
                run = self.run_it("change", "planter", "kerf is 2.5",
                                  before=["strace", "-qq", "-o", os.devnull, "-e", f"trace={call}", "-e", f"inject={call}:signal=KILL:when={nth}"])
                self.look_at_change(new)
                if run.returncode == 0:
                    break  # it takes no more steps of this kind
                killed += 1
        self.assertGreater(killed, 15)

    def test_new_keeps_the_answers_so_far(self):
        with subprocess.Popen([BOARDRING, "new"], cwd=self.here, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=ENVIRONMENT) as run:
            run.stdin.write(b"hexagon\nwanted\n")
            run.stdin.flush()
            seen = b""
            while b"3 of 9" not in seen:
                block = os.read(run.stdout.fileno(), 4096)
                self.assertTrue(block, seen)
                seen += block
            run.kill()
            run.wait()
        self.assertEqual((self.here / "boardring-new.txt").read_text().splitlines()[1:], ["hexagon", "wanted"])
        self.assertEqual(self.names(), ["boardring-new.txt", "planter.json"])


class NoRoom(InAFolder):
    """A disk that is full."""

    @unittest.skipUnless(CAN_MOUNT, "no file system of one's own may be mounted here")
    def test_a_full_disk_leaves_every_old_file(self):
        # 600 kB hold one set of papers and half of the next.
        (self.here / "disk").mkdir()
        script = """
          set -u
          mount -t tmpfs -o size=600k none disk && cp planter.json disk/ && cd disk || exit 99
          "$0" plan planter --out p >/dev/null 2>&1 || exit 98
          cp -r p ../old
          "$0" plan planter --more --out p 2>../said >/dev/null; echo $? >../code
          cp -r p ../after
          head -c 10000000 /dev/zero >rest 2>/dev/null
          "$0" change planter "kerf is 2.5" 2>../said-change; echo $? >>../code
          "$0" plan hexagon 640 inside flats, 145x38 on edge 2>../said-sentence >/dev/null; echo $? >>../code
          "$0" buy planter --out p 2>../said-buy >/dev/null; echo $? >>../code
          "$0" closure planter --runs 100 --out p 2>../said-closure >/dev/null; echo $? >>../code
          cp -r . ../end
        """
        run = subprocess.run(["unshare", "-rm", "sh", "-c", script, BOARDRING], cwd=self.here, capture_output=True, text=True, check=False, env=ENVIRONMENT)
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertEqual((self.here / "code").read_text().split(), ["2"] * 5)
        for said in ("said", "said-change", "said-sentence", "said-buy", "said-closure"):
            self.assertRegex((self.here / said).read_text(), r"cannot write.*: No space left on device", said)
        self.assertIn("nothing was changed", (self.here / "said-change").read_text())
        self.assertEqual(self.contents("after"), self.contents("old"))
        self.assertEqual(self.contents("end/p"), self.contents("old"))
        self.assertEqual((self.here / "end/planter.json").read_bytes(), self.old)
        self.assertEqual(self.names("end"), ["p", "planter.json", "rest"])

    @unittest.skipUnless(CAN_TRACE, "strace is not installed, or not allowed here")
    def test_a_disk_that_fails_late_is_told(self):
        for call, error in (("fsync", "EIO"), ("fsync", "ENOSPC"), ("rename", "EROFS"), ("fchmod", "EPERM")):
            run = self.run_it("change", "planter", "kerf is 2.5", before=["strace", "-qq", "-o", os.devnull, "-e", f"trace={call}", "-e", f"inject={call}:error={error}"])
            self.assertEqual(run.returncode, 2, (call, error, run.stderr))
            self.assertRegex(run.stderr, r"^cannot write planter.*; nothing was changed\n$")
            self.assertEqual(self.planter.read_bytes(), self.old)
            self.assertEqual(self.names(), ["planter.json"], (call, error))

    def test_a_limit_on_the_size_of_files_is_told(self):
        run = self.run_it("plan", "planter", "--out", "p", preexec_fn=lambda: __import__("resource").setrlimit(__import__("resource").RLIMIT_FSIZE, (9000, 9000)))
        self.assertEqual(run.returncode, 2)
        self.assertIn("File too large", run.stderr)
        self.assertEqual(self.names("p"), [])

    def test_a_page_that_cannot_be_printed_is_no_success(self):
        for words in (["plan", "planter"], ["plan", "planter", "--json"], ["check", "planter"], ["buy", "planter"], ["closure", "planter", "--runs", "100"], ["--help"],
                      ["joint", "--corner", "108", "--boards", "90,45"], ["explain", "angle-sum"], ["refit", "planter", "1=413"], []):
            with self.subTest(words=words):
                with open("/dev/full", "wb") as full:
                    run = self.run_it(*words, capture_output=False, stdout=full, stderr=subprocess.PIPE)
                self.assertEqual(run.returncode, 2)
                self.assertEqual(run.stderr.splitlines()[-1], "cannot write the output: No space left on device")
                closed = self.run_it(*words, capture_output=False, stderr=subprocess.PIPE, preexec_fn=lambda: os.close(1))
                self.assertEqual(closed.returncode, 2)
                self.assertIn("cannot write the output", closed.stderr)

    def test_words_that_cannot_be_told_are_not_called_a_bug(self):
        with open("/dev/full", "wb") as full:
            for words, code in ((["plan", "nowhere"], 2), (["change", "planter", "rubbish"], (1, 2)), (["plan", "planter", "--out", "p"], (0, 2))):
                run = self.run_it(*words, capture_output=False, stdout=subprocess.PIPE, stderr=full)
                self.assertIn(run.returncode, code if isinstance(code, tuple) else (code,), words)
        self.assertEqual(self.planter.read_bytes(), self.old)

    def test_no_file_takes_the_place_of_a_closed_stream(self):
        def close_all():
            for descriptor in (0, 1, 2):
                os.close(descriptor)
        run = self.run_it("plan", "planter", "--out", "closed", capture_output=False, preexec_fn=close_all)
        self.assertEqual(run.returncode, 2)
        self.assertEqual(self.run_it("plan", "planter", "--out", "open").returncode, 0)
        self.assertEqual(self.contents("closed"), self.contents("open"))
        self.assertEqual(self.planter.read_bytes(), self.old)


class NotAllowed(InAFolder):
    @unittest.skipUnless(CAN_BE_FORBIDDEN, "rights cannot be given away here")
    def test_no_permission(self):
        (self.here / "locked").mkdir()
        shutil.copyfile(self.planter, self.here / "locked/planter.json")
        (self.here / "secret.json").write_text("{}")
        (self.here / "secret.json").chmod(0)
        (self.here / "locked").chmod(0o555)
        self.addCleanup((self.here / "locked").chmod, 0o755)
        for words, said in ((["plan", "secret"], "cannot read secret.json: Permission denied"),
                            (["change", "secret", "kerf is 2.5"], "cannot read secret.json: Permission denied"),
                            (["change", "locked/planter", "kerf is 2.5"], "cannot write in locked: Permission denied; nothing was changed"),
                            (["plan", "planter", "--out", "locked"], "cannot write in locked: Permission denied"),
                            (["papers", "planter", "--out", "locked/deep"], "cannot make the folder locked/deep: Permission denied"),
                            (["closure", "planter", "--runs", "100", "--out", "locked"], "cannot write in locked: Permission denied"),
                            (["buy", "planter", "--out", "locked"], "cannot write in locked: Permission denied"),
                            (["refit", "planter", "secret.json"], "cannot read secret.json: Permission denied")):
            with self.subTest(words=words):
                run = self.run_it(*words, before=WITHOUT_RIGHTS)
                self.assertEqual(run.returncode, 2)
                self.assertIn(said + "\n", run.stderr)
        for words in (["plan", "hexagon", "640", "inside", "flats,", "145x38", "on", "edge"], ["plan", "planter", "--out"]):
            run = self.run_it(*words, before=WITHOUT_RIGHTS, cwd=self.here / "locked")
            self.assertEqual(run.returncode, 2)
            self.assertIn("Permission denied", run.stderr)
        self.assertEqual(self.names("locked"), ["planter.json"])

    @unittest.skipUnless(CAN_BE_FORBIDDEN, "rights cannot be given away here")
    def test_a_file_locked_against_writing_is_not_replaced(self):
        self.planter.chmod(0o444)
        run = self.run_it("change", "planter", "kerf is 2.5", before=WITHOUT_RIGHTS)
        self.assertEqual((run.returncode, run.stderr), (2, "cannot write planter.json: Permission denied; nothing was changed\n"))
        self.assertEqual((self.planter.read_bytes(), self.names()), (self.old, ["planter.json"]))

    def test_a_private_file_stays_private(self):
        self.planter.chmod(0o600)
        self.assertEqual(self.run_it("change", "planter", "kerf is 2.5").returncode, 0)
        for name in ("planter.json", "planter.before.json"):
            self.assertEqual(stat.S_IMODE((self.here / name).stat().st_mode), 0o600, name)

    def test_new_files_are_as_readable_as_the_maker_has_it(self):
        for mask, mode in ((0o022, 0o644), (0o077, 0o600), (0o002, 0o664)):
            out = f"p{mask:o}"
            self.run_it("plan", "planter", "--out", out, preexec_fn=lambda m=mask: os.umask(m))
            self.assertEqual({stat.S_IMODE(path.stat().st_mode) for path in (self.here / out).iterdir()}, {mode})


class InTheWay(InAFolder):
    def test_a_folder_where_a_file_should_go(self):
        self.run_it("plan", "planter", "--out", "p")
        (self.here / "p/plan.svg").unlink()
        (self.here / "p/plan.svg").mkdir()
        (self.here / "p/report.txt").write_text("older")
        run = self.run_it("plan", "planter", "--out", "p")
        self.assertEqual((run.returncode, run.stderr), (2, "cannot write p/plan.svg: a folder of that name is there\n"))
        self.assertEqual((self.here / "p/report.txt").read_text(), "older")
        self.assertFalse([name for name in self.names("p") if name.startswith(".")])

    def test_out_onto_what_is_no_folder(self):
        for command in (["plan", "planter"], ["papers", "planter"], ["buy", "planter"], ["closure", "planter", "--runs", "100"]):
            for place in ("planter.json", "planter.json/deeper", "/dev/null", "/dev/full"):
                run = self.run_it(*command, "--out", place)
                self.assertEqual(run.returncode, 2, (command, place))
                self.assertRegex(run.stderr, rf"^cannot make the folder {place}: ")
        self.assertEqual(self.planter.read_bytes(), self.old)

    def test_a_link_to_the_project_stays_a_link(self):
        (self.here / "shelf").mkdir()
        self.planter.rename(self.here / "shelf/first.json")
        self.planter.symlink_to("shelf/first.json")
        run = self.run_it("change", "planter", "kerf is 2.5")
        self.assertEqual(run.returncode, 0, run.stderr)
        self.assertTrue(self.planter.is_symlink())
        self.assertIn(b'"kerf": 2.5', (self.here / "shelf/first.json").read_bytes())
        self.assertEqual((self.here / "planter.before.json").read_bytes(), self.old)

    def test_a_link_among_the_papers_is_replaced_and_not_followed(self):
        (self.here / "mine.txt").write_text("mine")
        (self.here / "p").mkdir()
        (self.here / "p/report.txt").symlink_to("../mine.txt")
        self.assertEqual(self.run_it("plan", "planter", "--out", "p").returncode, 0)
        self.assertEqual((self.here / "mine.txt").read_text(), "mine")
        self.assertFalse((self.here / "p/report.txt").is_symlink())

    def test_links_that_lead_nowhere_or_round(self):
        (self.here / "gone.json").symlink_to("nowhere.json")
        (self.here / "round.json").symlink_to("round.json")
        for name in ("gone", "round"):
            for words in (["plan", name], ["change", name, "kerf is 2.5"]):
                run = self.run_it(*words)
                self.assertEqual(run.returncode, 2, (words, run.stderr))
                self.assertTrue(run.stderr)
        (self.here / "p").symlink_to("nowhere")
        self.assertEqual(self.run_it("plan", "planter", "--out", "p").returncode, 2)

    def test_what_is_no_plain_file_is_not_replaced(self):
        os.mkfifo(self.here / "pipe.json")
        with open(self.here / "pipe.json", "r+b", buffering=0) as pipe:  # held open at both ends, so that nothing waits
            pipe.write(b"{}")
        for name in ("/dev/stdin", "/proc/self/fd/0"):
            with open(self.planter, "rb") as text:
                piped = subprocess.run(f"cat | '{BOARDRING}' change {name} 'kerf is 2.5'", shell=True, cwd=self.here, stdin=text, capture_output=True, text=True, check=False, env=ENVIRONMENT)
            self.assertEqual(piped.returncode, 2, piped.stderr)
            self.assertIn("it is no plain file; nothing was changed", piped.stderr)
        self.assertEqual(self.names(), ["pipe.json", "planter.json"])

    def test_a_name_as_long_as_the_disk_takes(self):
        name = "p" * 250
        self.planter.rename(self.here / f"{name}.json")
        run = self.run_it("plan", name, "--out", "out")
        self.assertEqual(run.returncode, 0, run.stderr)
        run = self.run_it("change", name, "kerf is 2.5")  # no room for .before in the name of the kept one
        self.assertEqual(run.returncode, 2)
        self.assertIn("File name too long; nothing was changed", run.stderr)
        self.assertEqual((self.here / f"{name}.json").read_bytes(), self.old)
        self.assertEqual(self.names(), ["out", f"{name}.json"])


class ReaderLeaves(InAFolder):
    """`boardring plan planter --out | head -1`: quiet, and every file is there."""

    def left(self, *words):
        read_end, write_end = os.pipe()
        os.close(read_end)
        with os.fdopen(write_end, "wb") as out:
            return self.run_it(*words, capture_output=False, stdout=out, stderr=subprocess.PIPE)

    def test_nothing_is_lost(self):
        for command in (["plan", "planter", "--more"], ["papers", "planter"], ["buy", "planter"], ["closure", "planter", "--runs", "100"]):
            with self.subTest(command=command):
                self.run_it(*command, "--out", "whole")
                run = self.left(*command, "--out", "left")
                self.assertEqual(run.returncode, -signal.SIGPIPE)
                self.assertRegex(run.stderr, r"^wrote into left: .*\n$")
                self.assertEqual(self.contents("left"), self.contents("whole"))
                shutil.rmtree(self.here / "left")
                shutil.rmtree(self.here / "whole")
        run = self.left("change", "planter", "kerf is 2.5")
        self.assertEqual((run.returncode, run.stderr), (-signal.SIGPIPE, ""))
        self.assertEqual((self.here / "planter.before.json").read_bytes(), self.old)
        self.assertIn(b'"kerf": 2.5', self.planter.read_bytes())
        run = self.left("plan", "hexagon", "640", "inside", "flats,", "145x38", "on", "edge")
        self.assertEqual((run.returncode, run.stderr), (-signal.SIGPIPE, ""))
        self.assertEqual(len([name for name in self.names() if name.startswith("hexagon")]), 1)

    def test_the_first_line_is_enough_for_head(self):
        for words in ("plan planter --more", "plan planter --json", "closure planter --runs 100", "explain --help", "buy planter"):
            run = subprocess.run(f"'{BOARDRING}' {words} | head -1", shell=True, cwd=self.here, capture_output=True, text=True, check=False, env=ENVIRONMENT)
            self.assertEqual((run.returncode, run.stderr), (0, ""), words)


@unittest.skipUnless(CAN_TRACE, "strace is not installed, or not allowed here")
class OnlyWhatWasNamed(InAFolder):
    # Libraries, fonts, the clock's zone, and how many processors there are, which the C library reads from /proc where /sys is not mounted:
    # what the system gives every program.
    SYSTEM = ("/usr/", "/lib", "/etc/ld.so.", "/etc/fonts", "/etc/localtime", "/proc/self", "/proc/sys", "/proc/cpuinfo", "/proc/meminfo", "/proc/stat", "/sys/",
              "/dev/null", "/dev/tty", "/var/cache/fontconfig")

    def touched(self, *words, **more):
        """(read, written) paths of everything a command opened, made, renamed or removed, as the kernel saw it."""
        log = pathlib.Path(tempfile.mkstemp()[1])
        self.addCleanup(log.unlink)
        run = self.run_it(*words, before=["strace", "-f", "-qq", "-y", "-s", "4096", "-o", str(log), "-e", "trace=%file,socket"], **more)
        read, written = set(), set()
        for line in log.read_text(errors="replace").splitlines():
            call = re.match(r"\d+ +(\w+)\((.*)\) += (-?\d+)", line)
            if not call or call.group(3).startswith("-") or call.group(1) == "execve":
                continue
            name, arguments = call.group(1), call.group(2)
            self.assertNotEqual(name, "socket", line)
            paths = [os.path.normpath(self.here / path) for path in re.findall(r'"([^"]*)"', arguments)]
            if re.match(r"rename|link|symlink|mkdir|unlink|rmdir|chmod|chown|truncate|utime|mknod", name):
                written.update(paths)
            elif name in ("open", "openat", "creat"):
                (written if re.search(r"O_WRONLY|O_RDWR|O_CREAT", arguments) or name == "creat" else read).add(paths[0])
        own = tuple(str(folder) + "/" for folder in {pathlib.Path(BOARDRING).resolve().parent.parent})
        read = {path for path in read if not path.startswith(self.SYSTEM) and not path.startswith(own) and path != str(self.here)}
        return run, {os.path.relpath(path, self.here) for path in read}, {os.path.relpath(path, self.here) for path in written if path != "/dev/null"}

    def test_every_command(self):
        home = self.here / "home"
        home.mkdir()
        (self.here / "other.json").write_bytes(self.old)
        environment = ENVIRONMENT | {"HOME": str(home), "TMPDIR": str(home)}
        sentence = ["hexagon", "640", "inside", "flats,", "145x38", "on", "edge"]
        project = {"planter.json"}
        for words, reads, writes in (
                (["check", "planter"], project, r"^$"), (["plan", "planter"], project, r"^$"), (["plan", "planter", "--json"], project, r"^$"),
                (["plan", "planter", "--out", "p"], project, r"p(/.*)?$"), (["papers", "planter", "--out", "q"], project, r"q(/.*)?$"),
                (["papers", "planter"], project, r"planter(/.*)?$"), (["buy", "planter", "--out", "b"], project, r"b(/.*)?$"),
                (["closure", "planter", "--runs", "100", "--out", "c"], project, r"c(/.*)?$"), (["refit", "planter", "1=413"], project, r"^$"),
                (["explain", "angle-sum"], set(), r"^$"), (["--help"], set(), r"^$"), (["joint", "--corner", "108", "--boards", "90,45"], set(), r"^$"),
                (["plan", *sentence], set(), r"(hexagon[^/]*\.json|\.boardring-\w{6})$"),
                (["change", "planter", "kerf is 2.5"], project, r"(planter(\.before)?\.json|\.boardring-\w{6})$")):
            with self.subTest(words=words):
                run, read, written = self.touched(*words, env=environment)
                self.assertEqual(run.returncode, 0, run.stderr)
                self.assertLessEqual(read, reads)
                for path in written:
                    self.assertRegex(path, "^" + writes)
                self.assertEqual(list(home.iterdir()), [])
        self.assertEqual((self.here / "other.json").read_bytes(), self.old)

    def test_a_stock_list_is_read_beside_the_project_only(self):
        text = json.dumps({"format": "boardring-stock-1", "units": "mm", "stock": {"rail": {"width": 145, "thickness": 38}}})
        outside = tempfile.TemporaryDirectory()
        self.addCleanup(outside.cleanup)
        (pathlib.Path(outside.name) / "list.json").write_text(text)
        (self.here / "list.json").write_text(text)
        (self.here / "link.json").symlink_to(pathlib.Path(outside.name) / "list.json")
        for name, good in (("list.json", True), ("link.json", False), (f"{outside.name}/list.json", False), (f"../{pathlib.Path(outside.name).name}/list.json", False),
                           ("./list.json/../../../../../../etc/passwd", False)):
            with self.subTest(name=name):
                (self.here / "bed.json").write_text(json.dumps({
                    "format": "boardring-project-1", "title": "Bed", "units": "mm", "stock_file": name,
                    "outline": {"line": "inside", "regular": {"corners": 6, "side": 500}}, "boards": {"lie": "on edge", "all": {"stock": "rail"}}}))
                run, read, written = self.touched("check", "bed")
                self.assertEqual(run.returncode, 0 if good else 1, run.stdout)
                self.assertEqual((read, written), ({"bed.json", "list.json"} if good else {"bed.json"}, set()))


class Loader(unittest.TestCase):
    @unittest.skipUnless(shutil.which("readelf"), "binutils is not installed")
    def test_no_library_is_looked_for_in_the_folder_one_works_in(self):
        # CMake once filled the search path with colons, and between two of them stands the working folder: a libz.so.1 left among
        # somebody's projects would have been run.
        dynamic = subprocess.run(["readelf", "-d", BOARDRING], capture_output=True, text=True, check=True).stdout
        paths = re.findall(r"\((?:RPATH|RUNPATH)\)[^[]*\[([^]]*)\]", dynamic)
        self.assertEqual(len(paths), 1)
        for path in paths[0].split(":"):
            self.assertRegex(path, r"^(\$ORIGIN|/)")


if __name__ == "__main__":
    unittest.main()
