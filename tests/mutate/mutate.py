#!/usr/bin/env python3
"""Tests the tests: makes small wrong changes in the engine, one at a time, and tells which of them no test sees.

    tests/mutate/mutate.py                                   300 changes in the rooms that compute
    tests/mutate/mutate.py --rooms joinery frame --count 60  some rooms
    tests/mutate/mutate.py --only engine/frame/frame.cpp     one file, every change
    tests/mutate/mutate.py --again build/mutate/survivors.tsv  those that survived last time

Works on a copy of what git has at HEAD, in build/mutate; the tree itself is not touched. All changes are built at once, each a switch
(`a + b` becomes `mutant_is(7) ? (a - b) : (a + b)`) that an environment variable turns on, so that a hundred take little more building than
one; a change that makes no program is left out. A change is *killed* if a test fails with it on or takes five times its usual time. Steps
beyond the end of an array are seen (_GLIBCXX_ASSERTIONS). What survives is written to build/mutate/survivors.tsv: kill it with a test, or
say in tests/mutate/equal.tsv why the program is the same with it (that file is read here: what stands there is not counted).

The room's own unit tests run first, those of the changed file before all; then, of all tests that come by the place (which is noted in one
run without any change), what has killed most in that room so far: the golden pages, other rooms' unit tests, the property tests with few
cases, the reference tests that need nothing from outside. Each stops at its first failure.
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
# As deep as the build folders of the tree, so that what a compiler cache has of them fits.
COPY, BUILD = WORK / "source", WORK / "source" / "build" / "mutate"
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
# `start` and `end` are the place in the line, `instead` is what stands there.
Mutant = collections.namedtuple("Mutant", "file line name before after start end instead")

# Put before a file that holds its changes as switches: which of them is on, which of them were met, and no warnings of what they look like.
SWITCHES = """#define _GLIBCXX_ASSERTIONS 1
#pragma GCC diagnostic ignored "-Wparentheses"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#pragma GCC diagnostic ignored "-Wsign-compare"
#pragma GCC diagnostic ignored "-Wdouble-promotion"
#pragma GCC diagnostic ignored "-Wextra"
#pragma GCC diagnostic ignored "-Wtype-limits"
#pragma GCC diagnostic ignored "-Wunused-variable"
#include <cstdio>
#include <cstdlib>
namespace {
struct MutantSwitch {
    const char* met = std::getenv("BOARDRING_MUTANTS_MET");
    int on = std::getenv("BOARDRING_MUTANT") ? std::atoi(std::getenv("BOARDRING_MUTANT")) : 0;
    bool was[20000] = {};
    ~MutantSwitch() {
        std::FILE* file = met ? std::fopen(met, "a") : nullptr;
        for (int i = 0; i < 20000 && file; ++i) if (was[i]) std::fprintf(file, "%d\\n", i);
        if (file) std::fclose(file);
    }
} mutant_switch;
inline bool mutant_is(int i) { if (mutant_switch.met) mutant_switch.was[i] = true; return mutant_switch.on == i; }
}
#line 1
"""


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
                start, end, there = found.start(), found.end(), found.expand(instead)
                if name == "condition turned":
                    start = found.start(1)
                    end = closing(code, start)
                    there = f"!({line[start:end]})"
                after = line[:start] + there + line[end:]
                if after != line:
                    yield Mutant(file, number, name, line, after, start, end, there)


def closing(code, at):
    """Where what stands at `at` within brackets ends."""
    depth = 0
    for i in range(at, len(code)):
        depth += (code[i] in "([{") - (code[i] in ")]}")
        if depth < 0:
            return i
    return len(code)


def expression_around(code, start, end):
    """The whole expression or statement without its semicolon that holds [start, end) of a bare text; nothing where that is not plain."""
    def is_assignment(i):
        return code[i] == "=" and code[i + 1] != "=" and (code[i - 1] not in "=<>!" or code[i - 2:i] in ("<<", ">>"))

    def is_colon(i):
        return code[i] == ":" and code[i + 1] != ":" and code[i - 1] != ":"

    left, depth = start, 0
    while left > 0:
        c, before = code[left - 1], left - 1
        if c in ")]}":
            rest = code[left:].lstrip()
            if depth == 0 and re.match(r"[A-Za-z_+-]{2}|[A-Za-z_]|\*[A-Za-z]", rest) and not re.match(r"[+-] ", rest):
                break  # a condition, a block or a declaration stands before
            depth += 1
        elif c in "([{":
            if depth == 0:
                break
            depth -= 1
        elif depth == 0 and (c in ",;?" or is_colon(before) or is_assignment(before)):
            break
        elif depth == 0 and re.search(r"\b(return|else|case|throw|do)\s$", code[:left]):
            break
        left -= 1
    right, depth = end, 0
    while right < len(code):
        c = code[right]
        if c in ")]}":
            if depth == 0:
                break
            depth -= 1
        elif c in "([{":
            depth += 1
        elif depth == 0 and (c in ",;?" or is_colon(right)):
            break
        elif depth == 0 and is_assignment(right):
            return None
        right += 1
    while left < start and code[left].isspace():
        left += 1
    while right > end and code[right - 1].isspace():
        right -= 1
    return left, right


def with_switches(text, mutants):
    """The text with all these changes in it, each on where its number is asked for; numbers and mutants that have no place in it are left out."""
    code = "\n".join(bare(line) for line in text.split("\n"))
    starts = [0]
    for line in text.split("\n"):
        starts.append(starts[-1] + len(line) + 1)
    places = []
    for number, m in mutants:
        if sum(bare(m.after).count(c) - bare(m.before).count(c) for c in "([{") != sum(bare(m.after).count(c) - bare(m.before).count(c) for c in ")]}"):
            continue  # no program
        line = text[starts[m.line - 1]:starts[m.line] - 1]
        if "constexpr" in line:
            continue
        start, end = starts[m.line - 1] + m.start, starts[m.line - 1] + m.end
        was, now = text[start:end], m.instead
        while was and now and was[0] == now[0] and m.name != "condition turned":
            was, now, start = was[1:], now[1:], start + 1
        while was and now and was[-1] == now[-1] and m.name != "condition turned":
            was, now, end = was[:-1], now[:-1], end - 1
        around = expression_around(code, start, end)
        if around:
            places.append((*around, number, start, end, now))
    places.sort(key=lambda p: (p[0], -p[1]))
    joined = []  # expressions that hold one another are one
    for place in places:
        if joined and place[0] < joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], place[1]), [*joined[-1][2], place])
        else:
            joined.append((place[0], place[1], [place]))
    for left, right, inside in reversed(joined):
        ways = "".join(f"mutant_is({number}) ? ({text[left:start]}{now}{text[end:right]}) : " for _, _, number, start, end, now in inside)
        text = f"{text[:left]}({ways}({text[left:right]})){text[right:]}"
    return SWITCHES + text, {place[2] for place in places}


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
    """The copy, its build, and its tests, each with the target it needs."""

    def __init__(self, jobs, quick):
        self.jobs, self.quick = str(jobs), quick
        self.usual, self.met, self.killed, self.seconds = {}, {}, collections.Counter(), collections.Counter()
        self.environment = {**os.environ, "BOARDRING": str(BUILD / "cli/boardring"), "BOARDRING_SOURCE": str(COPY), "BOARDRING_BUILD": str(BUILD),
                            "BOARDRING_FRAMES": "5000", "PYTHONDONTWRITEBYTECODE": "1", "CCACHE_BASEDIR": str(COPY), "CCACHE_NOHASHDIR": "1"}
        self.environment.pop("BOARDRING_REFERENCES", None)
        COPY.mkdir(parents=True, exist_ok=True)
        fresh = WORK / "fresh"
        fresh.mkdir(exist_ok=True)
        subprocess.run(f"git -C '{ROOT}' archive HEAD | tar -x -C '{fresh}'", shell=True, check=True)
        self.take_over(fresh, COPY)
        shutil.rmtree(fresh)
        quick = ["-DCMAKE_CXX_COMPILER_LAUNCHER=ccache"] if shutil.which("ccache") else []
        if shutil.which("ld.lld"):
            quick += [f"-DCMAKE_{kind}_LINKER_FLAGS=-fuse-ld=lld" for kind in ("EXE", "MODULE")]
        subprocess.run(["cmake", "-S", str(COPY), "-B", str(BUILD), "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release",
                        "-DCMAKE_CXX_FLAGS_RELEASE=-O1 -DNDEBUG", "-DBOARDRING_WERROR=ON", *quick], stdout=subprocess.DEVNULL, check=True)
        listed = subprocess.run(["ninja", "-C", str(BUILD), "-t", "targets", "all"], capture_output=True, text=True, check=True).stdout
        programs = sorted(set(re.findall(r"^tests/((?:unit|property|reference)_\w+): CXX_EXECUTABLE", listed, re.M)))
        # What takes over a few seconds would make the whole a matter of days.
        self.tests = {"golden": ("boardring", [sys.executable, str(COPY / "tests/golden/golden_test.py"), "--failfast"])}
        self.tests |= {p: (p, [str(BUILD / "tests" / p), "--abort"]) for p in programs if "pages" not in p and "blunders" not in p}
        self.rooms = {}  # of each target, those it is linked with
        for target in {target for target, _ in self.tests.values()}:
            inputs = subprocess.run(["ninja", "-C", str(BUILD), "-t", "inputs", target], capture_output=True, text=True, check=True).stdout
            self.rooms[target] = set(re.findall(r"libboardring_(\w+)\.a", inputs))

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
            if BUILD not in path.parents and path.is_file() and not (fresh / path.relative_to(copy)).exists():
                path.unlink()

    def build(self, target):
        begun = time.monotonic()
        done = subprocess.run(["ninja", "-C", str(BUILD), "-j", self.jobs, target], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                              env=self.environment, check=False).returncode == 0
        self.seconds["building"] += time.monotonic() - begun
        return done

    def order(self, room):
        """The tests that are linked with the room."""
        kinds = ["golden", "unit", "property", "reference"]
        own = f"unit_{room}"
        return sorted((name for name, (target, _) in self.tests.items()
                       if room in self.rooms[target] and (name == own or self.usual.get(name, 0.0) <= self.quick)),
                      key=lambda name: (name != own, -self.killed[room, name], kinds.index(name.split("_")[0]), self.usual.get(name, 0.0), name))

    def first_to_fail(self, number, file):
        """Name of the test that sees the change when it is on; none if all pass."""
        room, stem = file.split("/")[1], pathlib.Path(file).stem
        environment = {**self.environment, "BOARDRING_MUTANT": str(number)}
        for name in self.order(room):
            if number not in self.met[name]:
                continue  # it never comes by this place
            words = self.tests[name][1]
            alone = []
            if name == f"unit_{room}" and (ROOT / f"tests/unit/{room}/{stem}_test.cpp").exists():
                alone = [[*words, "-#", f"[#{stem}_test]"]]
            begun = time.monotonic()
            fails = lambda w: run(w, self.usual[name] * 5.0 + 5.0, env=environment) != 0
            # A test of another room may measure time, on a machine with other work: it has to fail twice.
            sees = any(fails(w) for w in [*alone, words]) and (name == f"unit_{room}" or fails(words))
            self.seconds[name] += time.monotonic() - begun
            if sees:
                self.killed[room, name] += 1
                return name
        return None

    def build_with(self, numbered):
        """Builds the engine with all these changes as switches; the numbers of those it could take."""
        whole = {m.file: (COPY / m.file).read_text() for _, m in numbered}
        left = dict(numbered)
        for _ in range(8):
            taken, lines_of = set(), {}
            for file, text in whole.items():
                switched, numbers = with_switches(text, [(n, m) for n, m in left.items() if m.file == file])
                taken |= numbers
                if (COPY / file).read_text() != switched:
                    (COPY / file).write_text(switched)
            objects = [f"engine/CMakeFiles/boardring_{file.split('/')[1]}.dir/{file.removeprefix('engine/')}.o" for file in whole]
            done = subprocess.run(["ninja", "-C", str(BUILD), "-k", "0", "-j", self.jobs, *objects], capture_output=True, text=True,
                                  env=self.environment, check=False)
            if done.returncode == 0:
                return taken
            for file, line in re.findall(r"(engine/\w+/\w+\.cpp):(\d+):\d+: error", done.stdout):
                lines_of.setdefault(file, set()).add(int(line))
            left = {n: m for n, m in left.items() if n in taken and not any(abs(m.line - line) <= 1 for line in lines_of.get(m.file, []))}
            print(f"{len(left)} of {len(numbered)} changes make a program", flush=True)
            if not lines_of:
                break
        sys.exit(done.stdout[-5000:])

    def learn_usual_times(self, rooms):
        """Every test passes with no change on, in this time, and comes by these places."""
        for name, (target, words) in list(self.tests.items()):
            own = name in [f"unit_{room}" for room in rooms]
            if not rooms & self.rooms[target]:
                continue
            if not self.build(target):
                sys.exit(f"the unchanged program does not build: ninja -C {BUILD} {target}")
            met = WORK / "met"
            met.unlink(missing_ok=True)
            for _ in range(2):
                before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
                passes = run(words, 600, env={**self.environment, "BOARDRING_MUTANTS_MET": str(met)}) == 0
                self.usual[name] = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before
                if passes:
                    break
            else:
                print(f"left out: {name} fails without any change", flush=True)
                if own:
                    sys.exit(1)
                del self.tests[name], self.usual[name]
                continue
            self.met[name] = {int(n) for n in met.read_text().split()} if met.exists() else set()
        print("usual seconds: " + ", ".join(f"{name} {t:.1f}" for name, t in sorted(self.usual.items(), key=lambda i: -i[1])), flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--rooms", nargs="+", default=ROOMS)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="one file, every change")
    parser.add_argument("--again", type=pathlib.Path, help="a file of survivors")
    parser.add_argument("--quick", type=float, default=1e9, help="leave out tests of other rooms that take longer than this many seconds")
    parser.add_argument("--after", type=int, default=0, help="leave out so many of those chosen: they were tried in an earlier run")
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

    chosen = chosen[asked.after:]
    bench = Bench(asked.jobs, asked.quick)
    numbered = list(enumerate(chosen, 1))
    program = bench.build_with(numbered)
    bench.learn_usual_times({m.file.split("/")[1] for m in chosen})
    tried, killed, by, survivors = collections.Counter(), collections.Counter(), collections.Counter(), []
    started = time.monotonic()
    for number, m in numbered:
        if time.monotonic() - begun > asked.minutes * 60.0:
            break
        room = m.file.split("/")[1]
        if number not in program:
            continue  # no test of a test
        seen = bench.first_to_fail(number, m.file)
        tried[room] += 1
        if seen:
            killed[room] += 1
            by[seen] += 1
            print(f"{seen} sees {m.file}:{m.line} {m.name}", flush=True)
        else:
            survivors.append(m)
            print(f"survives: {m.file}:{m.line} {m.name}\n    {m.before.strip()}\n    {m.after.strip()}", flush=True)
        if sum(tried.values()) % 10 == 0:
            took = time.monotonic() - started
            print(f"  {sum(killed.values())} of {sum(tried.values())} killed, {took / sum(tried.values()):.1f} s each: "
                  + ", ".join(f"{name} {100.0 * t / took:.0f} %" for name, t in bench.seconds.most_common(6)), flush=True)
        (WORK / "survivors.tsv").write_text("".join(f"{s.file}\t{s.line}\t{s.name}\t{s.after.strip()}\n" for s in survivors))
    for room in asked.rooms:
        if tried[room]:
            print(f"{room}: {killed[room]} of {tried[room]} killed, {100.0 * killed[room] / tried[room]:.0f} %")
    if sum(tried.values()):
        print(f"all: {sum(killed.values())} of {sum(tried.values())} killed, {100.0 * sum(killed.values()) / sum(tried.values()):.1f} %")
    print("seen by: " + ", ".join(f"{name} {n}" for name, n in by.most_common()))


if __name__ == "__main__":
    main()
