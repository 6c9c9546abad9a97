#!/usr/bin/env python3
"""Tests the tests: makes small wrong changes in the engine, one at a time, and tells which of them no test sees.

    tests/mutate/mutate.py                                   300 changes in the rooms that compute
    tests/mutate/mutate.py --rooms joinery frame --count 60  some rooms
    tests/mutate/mutate.py --only engine/frame/frame.cpp     one file, every change
    tests/mutate/mutate.py --again build/mutate/survivors.tsv  those that survived last time

Works on a copy of what git has at HEAD, in build/mutate; the tree itself is not touched. A change is *killed* if the compiler refuses it or
a test fails or takes five times its usual time. What survives is written to build/mutate/survivors.tsv: kill it with a test, or say in
tests/mutate/equal.tsv why the program is the same with it (that file is read here: what stands there is not counted).

Tests run cheapest first: the room's own unit tests, then those of all rooms and the golden pages, then the property tests with few cases.
"""
import argparse
import collections
import math
import os
import pathlib
import random
import re
import resource
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
WORK = ROOT / "build" / "mutate"
COPY, BUILD = WORK / "source", WORK / "build"
EQUAL = ROOT / "tests" / "mutate" / "equal.tsv"
ROOMS = ["outline", "joinery", "frame", "closure", "season", "cutlist", "arrange", "stock"]
# Files that mostly word findings: what they say is held by the golden pages, and a wrong word is no wrong number.
WORDS = re.compile(r"(findings|wording|_words|_text|speaker|explain)\.cpp$")

# What is looked for in a line without its comments and texts, and what stands there instead.
CHANGES = [
    ("plus to minus", r" \+ ", " - "),
    ("minus to plus", r" - ", " + "),
    ("times to divided", r" \* ", " / "),
    ("divided to times", r" / ", " * "),
    ("added to taken off", r" \+= ", " -= "),
    ("taken off to added", r" -= ", " += "),
    ("below to at most", r" < (?![A-Za-z_:]+>)", " <= "),
    ("at most to below", r" <= ", " < "),
    ("above to at least", r" > ", " >= "),
    ("at least to above", r" >= ", " > "),
    ("below to above", r" < (?![A-Za-z_:]+>)", " > "),
    ("above to below", r" > ", " < "),
    ("equal to unequal", r" == ", " != "),
    ("unequal to equal", r" != ", " == "),
    ("and to or", r" && ", " || "),
    ("or to and", r" \|\| ", " && "),
    ("condition turned", r"\bif \((?!!|const |auto )([^;{}]*)\)(?= [^;]*;$| \{$|$)", r"if (!(\1))"),
    ("least to most", r"std::min\b", "std::max"),
    ("most to least", r"std::max\b", "std::min"),
    ("sine to cosine", r"\bsin(_deg)?\(", r"cos\1("),
    ("cosine to sine", r"\bcos(_deg)?\(", r"sin\1("),
    ("first to second", r"\[0\]", "[1]"),
    ("second to first", r"\[1\]", "[0]"),
    ("front to back", r"\.front\(\)", ".back()"),
    ("back to front", r"\.back\(\)", ".front()"),
    ("sign dropped", r"(?<=[(=,?:] )-(?=[A-Za-z])|(?<=\()-(?=[A-Za-z])|(?<=return )-(?=[A-Za-z])", ""),
    ("term dropped", r" [+-] [\w.\[\]]+(?=[;,)])", ""),
    ("half to whole", r"\b0\.5 \* ", "1.0 * "),
    ("twice to once", r"\b2\.0 \* ", "1.0 * "),
    ("one to two", r"\b1\.0\b(?! \*)", "2.0"),
    ("absolute dropped", r"std::abs\b", ""),
    ("true to false", r"= true;", "= false;"),
    ("false to true", r"= false;", "= true;"),
]
# A real number that is exactly at a limit is met by chance only: moving the limit from "below" to "at most" is no change there.
LIMIT = re.compile(r" to at (most|least)$|^at (most|least) to ")
REAL = re.compile(r"_mm\b|_deg\b|\bk[A-Z]|\d\.\d|\de-|abs\(|length\(|dot\(|cross\(")
Mutant = collections.namedtuple("Mutant", "file line name before after")


def bare(line):
    """The line with its texts and comments blanked out, as long as it was."""
    line = re.sub(r'"(?:[^"\\]|\\.)*"|\'(?:[^\'\\]|\\.)\'', lambda m: "~" * len(m.group()), line)
    at = line.find("//")
    return line if at < 0 else line[:at] + " " * (len(line) - at)


def mutants_of(file):
    lines = (ROOT / file).read_text().split("\n")
    for number, line in enumerate(lines, 1):
        code = bare(line)
        if not code.strip() or code.lstrip().startswith("#") or "~" in code:
            continue  # includes, and lines that word something
        if re.search(r"\b(ENSURE|static_assert|template|operator)\b", code) or re.match(r"\s*(using|namespace|struct|enum)\b", code):
            continue
        for name, pattern, instead in CHANGES:
            if LIMIT.search(name) and REAL.search(code):
                continue
            for found in re.finditer(pattern, code):
                after = line[:found.start()] + found.expand(instead) + line[found.end():]
                if after != line:
                    yield Mutant(file, number, name, line, after)


def run(words, seconds, **more):
    """The exit code, not 0 either if it works longer than this; seconds of the processor, as others may be working here."""
    def limited():
        resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(seconds), math.ceil(seconds) + 1))

    try:
        return subprocess.run(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL, timeout=20.0 * seconds + 60.0,
                              check=False, preexec_fn=limited, **more).returncode
    except subprocess.TimeoutExpired:
        return -1


class Bench:
    """The copy, its build and its tests in stages."""

    def __init__(self, jobs):
        self.jobs = str(jobs)
        self.usual = {}
        self.environment = {**os.environ, "BOARDRING": str(BUILD / "cli/boardring"), "BOARDRING_SOURCE": str(COPY), "BOARDRING_BUILD": str(BUILD),
                            "BOARDRING_FRAMES": "5000", "PYTHONDONTWRITEBYTECODE": "1", "CCACHE_BASEDIR": str(COPY), "CCACHE_NOHASHDIR": "1"}
        self.environment.pop("BOARDRING_REFERENCES", None)
        COPY.mkdir(parents=True, exist_ok=True)
        fresh = WORK / "fresh"
        fresh.mkdir(exist_ok=True)
        subprocess.run(f"git -C '{ROOT}' archive HEAD | tar -x -C '{fresh}'", shell=True, check=True)
        self.take_over(fresh, COPY)
        shutil.rmtree(fresh)
        launcher = ["-DCMAKE_CXX_COMPILER_LAUNCHER=ccache"] if shutil.which("ccache") else []
        subprocess.run(["cmake", "-S", str(COPY), "-B", str(BUILD), "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release",
                        "-DCMAKE_CXX_FLAGS_RELEASE=-O1 -DNDEBUG", "-DBOARDRING_WERROR=ON", *launcher], stdout=subprocess.DEVNULL, check=True)
        listed = subprocess.run(["ninja", "-C", str(BUILD), "-t", "targets", "all"], capture_output=True, text=True, check=True).stdout
        programs = sorted(set(re.findall(r"^tests/((?:unit|property)_\w+): CXX_EXECUTABLE", listed, re.M)))
        self.units = [p for p in programs if p.startswith("unit_")]
        # What takes over a few seconds would make the whole a matter of days.
        self.properties = [p for p in programs if p.startswith("property_") and "pages" not in p and "blunders" not in p]

    @staticmethod
    def take_over(fresh, copy):
        """Makes `copy` what `fresh` is; a file gets a new time only where its text is new, so that little is built again."""
        for path in fresh.rglob("*"):
            target = copy / path.relative_to(fresh)
            if path.is_dir():
                target.mkdir(exist_ok=True)
            elif not target.exists() or target.read_bytes() != path.read_bytes():
                target.write_bytes(path.read_bytes())
                target.chmod(path.stat().st_mode)
        for path in sorted(copy.rglob("*"), reverse=True):
            if path.is_file() and not (fresh / path.relative_to(copy)).exists():
                path.unlink()

    def build(self, targets):
        return subprocess.run(["ninja", "-C", str(BUILD), "-j", self.jobs, *targets], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                              env=self.environment, check=False).returncode == 0

    def stages(self, room):
        golden = [("golden", [sys.executable, str(COPY / "tests/golden/golden_test.py")])]
        programs = lambda names: [(name, [str(BUILD / "tests" / name)]) for name in names]
        own = [f"unit_{room}"] if f"unit_{room}" in self.units else []
        yield own, programs(own)
        others = [u for u in self.units if u not in own]
        yield others + ["boardring"], programs(others) + golden
        yield self.properties, programs(self.properties)

    def first_to_fail(self, room):
        """Name of the stage or test that sees the change; none if all pass."""
        for targets, tests in self.stages(room):
            if targets and not self.build(targets):
                return "the compiler"
            for name, words in tests:
                if run(words, self.usual.get(name, 60.0) * 5.0 + 5.0, env=self.environment) != 0:
                    return name
        return None

    def learn_usual_times(self, room):
        for targets, tests in self.stages(room):
            if targets and not self.build(targets):
                sys.exit("the unchanged program does not build: ninja -C build/mutate/build")
            for name, words in tests:
                before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
                if run(words, 600, env=self.environment) != 0:
                    sys.exit(f"{name} fails without any change")
                self.usual[name] = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--rooms", nargs="+", default=ROOMS)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="one file, every change")
    parser.add_argument("--again", type=pathlib.Path, help="a file of survivors")
    parser.add_argument("--minutes", type=float, default=1e9, help="stop then, and tell what was tried")
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    asked = parser.parse_args()
    begun = time.monotonic()

    equal = {tuple(line.split("\t")[:3]) for line in (EQUAL.read_text().split("\n") if EQUAL.exists() else []) if line and not line.startswith("#")}
    files = [asked.only] if asked.only else [str(p.relative_to(ROOT)) for room in asked.rooms for p in sorted((ROOT / "engine" / room).glob("*.cpp"))
                                             if not WORDS.search(p.name)]
    every = [m for file in files for m in mutants_of(file)]
    if asked.again:
        wanted = {tuple(line.split("\t")[i] for i in (0, 2, 3)) for line in asked.again.read_text().split("\n") if line}
        chosen = [m for m in every if (m.file, m.name, m.after.strip()) in wanted]
    elif asked.only:
        chosen = every
    else:
        # As many of every room: the rooms are of unlike size, and what is wrong in a small one is as wrong.
        chosen = []
        for room in asked.rooms:
            of_room = [m for m in every if m.file.split("/")[1] == room]
            chosen += random.Random(f"{asked.seed} {room}").sample(of_room, min(len(of_room), asked.count // len(asked.rooms)))
        random.Random(asked.seed).shuffle(chosen)
    chosen = [m for m in chosen if (m.file, m.name, m.after.strip()) not in equal]
    print(f"{len(every)} places, {len(chosen)} tried", flush=True)

    bench = Bench(asked.jobs)
    for room in sorted({m.file.split("/")[1] for m in chosen}):
        bench.learn_usual_times(room)
    tried, killed, by, survivors = collections.Counter(), collections.Counter(), collections.Counter(), []
    for m in chosen:
        if time.monotonic() - begun > asked.minutes * 60.0:
            break
        path, room = COPY / m.file, m.file.split("/")[1]
        whole = path.read_text()
        lines = whole.split("\n")
        lines[m.line - 1] = m.after
        path.write_text("\n".join(lines))
        seen = bench.first_to_fail(room)
        path.write_text(whole)
        if seen == "the compiler":
            continue  # no program, no test of a test
        tried[room] += 1
        if seen:
            killed[room] += 1
            by[seen] += 1
        else:
            survivors.append(m)
            print(f"survives: {m.file}:{m.line} {m.name}\n    {m.before.strip()}\n    {m.after.strip()}", flush=True)
        (WORK / "survivors.tsv").write_text("".join(f"{s.file}\t{s.line}\t{s.name}\t{s.after.strip()}\n" for s in survivors))
    for room in asked.rooms:
        if tried[room]:
            print(f"{room}: {killed[room]} of {tried[room]} killed, {100.0 * killed[room] / tried[room]:.0f} %")
    if sum(tried.values()):
        print(f"all: {sum(killed.values())} of {sum(tried.values())} killed, {100.0 * sum(killed.values()) / sum(tried.values()):.1f} %")
    print("seen by: " + ", ".join(f"{name} {n}" for name, n in by.most_common()))


if __name__ == "__main__":
    main()
