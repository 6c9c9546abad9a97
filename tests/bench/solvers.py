#!/usr/bin/env python3
"""`boardring buy` against general-purpose solvers, GLPK's glpsol and CBC's cbc, on an arc-flow model of the same instances, in one run.

Prints the table of docs/performance.md; --write puts it there. Instances are those of tests/reference/data/cutting-stock, and the open ones
of $BOARDRING_REFERENCES/cutting-stock where that is set. Times are of the processor and of whole processes: ours read a project, look for
the fewest boards too and lay out the page; theirs read the model, whose making is not counted. Needs packages glpk-utils and coinor-cbc.
  BOARDRING=build/bench/cli/boardring tests/bench/solvers.py [--seconds 60] [--write]
"""
import argparse
import os
import pathlib
import re
import resource
import shutil
import statistics
import subprocess
import sys

SOURCE = pathlib.Path(__file__).resolve().parents[2]
BOARDRING = os.path.abspath(os.environ.get("BOARDRING", str(SOURCE / "build/bench/cli/boardring")))
PAGE = SOURCE / "docs/performance.md"
MOST_ARCS = 100_000  # beyond it neither solver gets anywhere, and the file alone takes minutes
sys.path.insert(0, str(SOURCE / "tests/support"))
from cutting_stock import TooLarge, cbc_price, glpk_price, model_of, project_of, proven_price, read_instance  # noqa: E402

CLASSES = [
    ("gen_lumber", "lumber: 2 to 6 lengths, prices not in proportion, saw cut, offcuts"),
    ("gen_vsbpp", "3 or 5 lengths, price = length, 25 or 100 pieces"),
    ("gen_schwerin", "one length, 100 or 120 pieces of 150 to 200 on 1000"),
    ("u", "one length of 150, 120 to 1000 pieces"),
    ("PM", "one length of 150, 60 or 120 pieces"),
    ("N", "one length of 100 to 1000, 50 to 500 pieces"),
    ("HARD", "one length of 100,000, 200 pieces"),
]


def instances():
    """{class: [(path, known optimum)]}"""
    own = SOURCE / "tests/reference/data/cutting-stock"
    found = [(own / f"{name}.csp", float(optimum)) for name, optimum, _ in map(str.split, (own / "optima.tsv").read_text().splitlines())]
    if references := os.environ.get("BOARDRING_REFERENCES"):
        folder = pathlib.Path(references, "cutting-stock")
        rows = [line.split("\t") for line in (folder / "index.tsv").read_text().splitlines()[1:]]
        found += [(folder / "instances" / f"{row[0]}.csp", float(row[9])) for row in rows if not (own / f"{row[0]}.csp").exists()]
    return {start: [(path, optimum) for path, optimum in found if path.name.startswith(start)] for start, _ in CLASSES}


def processor_seconds(call):
    def spent():
        usage = resource.getrusage(resource.RUSAGE_CHILDREN)
        return usage.ru_utime + usage.ru_stime

    before = spent()
    answer = call()
    return answer, spent() - before


def ours(job, seconds):
    run = subprocess.run([BOARDRING, "buy", "--time-limit", str(seconds), "-"], input=project_of(job), capture_output=True, text=True, check=True)
    return proven_price(run.stdout)


def measure(path, optimum, seconds):
    """Processor seconds to the proof for each of the three, None where there is none."""
    job = read_instance(path)
    calls = [lambda: ours(job, seconds)]
    try:
        model = model_of(job, MOST_ARCS)
        calls += [lambda: glpk_price(model, seconds), lambda: cbc_price(model, seconds)]
    except TooLarge:
        calls += [lambda: None, lambda: None]
    times = []
    for call in calls:
        price, took = processor_seconds(call)
        if price is not None and abs(price - optimum) > 1e-6:
            print(f"{path.name}: {price} is called proven, known is {optimum}", file=sys.stderr)
        times.append(None if price is None else took)
    print(path.name, *("-" if t is None else f"{t:.2f}" for t in times), file=sys.stderr, flush=True)
    return times


def cell(times, own):
    """Proven, and how many times as long as ours, where both have a proof."""
    ratios = [t / o for t, o in zip(times, own) if t is not None and o is not None]
    proven = len([t for t in times if t is not None])
    return f"{proven} | {statistics.median(ratios):.1f}" if ratios else f"{proven} | "


def table(seconds):
    lines = [f"| instances | how many | boardring: proven | median, longest | GLPK: proven in {seconds} s | times as long | CBC: proven in {seconds} s | times as long |",
             "|---|---|---|---|---|---|---|---|"]
    every = []
    for (_, words), found in zip(CLASSES, instances().values()):
        if not found:
            continue
        rows = [measure(path, optimum, seconds) for path, optimum in found]
        every += rows
        lines.append(row(words, rows))
    return "\n".join([*lines, row("all", every)]) + "\n"


def row(words, rows):
    own, glpk, cbc = zip(*rows)
    proven = [t for t in own if t is not None]
    return f"| {words} | {len(rows)} | {len(proven)} | {statistics.median(proven):.2f} s, {max(proven):.2f} s | {cell(glpk, own)} | {cell(cbc, own)} |"


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seconds", type=int, default=60, help="limit for each solver and instance")
    parser.add_argument("--write", action="store_true", help="write the table into docs/performance.md")
    arguments = parser.parse_args()
    for program in ("glpsol", "cbc"):
        if not shutil.which(program):
            sys.exit(f"{program} is not installed (packages glpk-utils, coinor-cbc)")
    text = table(arguments.seconds)
    print(text, end="")
    if arguments.write:
        page = PAGE.read_text()
        PAGE.write_text(re.sub(r"(<!-- solvers -->\n).*?(<!-- end -->)", lambda m: m.group(1) + text + m.group(2), page, flags=re.S))


if __name__ == "__main__":
    main()
