"""Cutting-stock jobs for tests and benches: read from a file, as a project of `pieces`, and as an arc-flow model for solvers of other people.

A job is (kerf, bars [length, price, count or None], pieces [length, count]), all whole numbers; n pieces fit a bar when their sum and n - 1
kerfs do.
"""
import json
import math
import pathlib
import re
import subprocess
import tempfile


def read_instance(path):
    """The format is told in tests/reference/data/cutting-stock/README.md."""
    words = iter(pathlib.Path(path).read_text().split()[1:])
    number = lambda: int(next(words))
    kerf, kinds = number(), number()
    bars = [[number(), number(), number()] for _ in range(kinds)]
    pieces = [[number(), number()] for _ in range(number())]
    return kerf, [[length, price, None if count < 0 else count] for length, price, count in bars], pieces


def project_of(job, per_mm=1):
    """The job as text of a project file, `per_mm` of its units to the millimetre. Ends are not trimmed, boards at no price are offcuts."""
    kerf, bars, pieces = job
    lengths = []
    for length, price, count in bars:
        offer = {"length": length / per_mm}
        offer.update({"offcut": True} if price == 0 else {"price": price})
        offer.update({} if count is None else {"count": count})
        lengths.append(offer)
    return json.dumps({
        "format": "boardring-project-1", "units": "mm",
        "stock": {"rail": {"width": 40, "thickness": 20, "end_trim": 0, "lengths": lengths}},
        "tools": {"kerf": kerf / per_mm},
        "pieces": [{"name": f"piece {i + 1}", "stock": "rail", "length": length / per_mm, "count": count}
                   for i, (length, count) in enumerate(pieces)],
    })


def proven_price(page):
    """The sum a page of `boardring buy` calls cheapest, or None where it calls none so."""
    found = re.search(r"(\d+\.\d\d)\. Nothing cheaper exists", " ".join(page.split()))
    return float(found.group(1)) if found else None


class TooLarge(Exception):
    """A model of more arcs than anybody wants to build."""


def arcs_of(job, most=math.inf):
    """(ends of the bars, arcs (piece, from, to)): pieces one after another along a bar, longest first, each only from where it can start."""
    kerf, bars, pieces = job
    unit = math.gcd(*[length + kerf for length, _, _ in bars], *[length + kerf for length, _ in pieces])
    ends = [(length + kerf) // unit for length, _, _ in bars]
    last = max(ends)
    starts, arcs = {0}, []
    for i, (length, count) in sorted(enumerate(pieces), key=lambda piece: -piece[1][0]):
        step = (length + kerf) // unit
        fresh = {}  # how many of this piece lie before a start, at the least
        for start in sorted(starts):
            for before in range(count):
                at = start + before * step
                if at + step > last or fresh.get(at, count) <= before:
                    break
                fresh[at] = before
        arcs += [(i, at, at + step) for at in sorted(fresh)]
        starts |= {at + step for at in fresh}
        if len(arcs) > most:
            raise TooLarge(f"over {most} arcs")
    return ends, arcs


def model_of(job, most=math.inf):
    """The job as a CPLEX LP file: flow along the arcs from every bar's start to its length, least price, whole numbers."""
    _, bars, pieces = job
    ends, arcs = arcs_of(job, most)
    points = sorted({0, *ends, *(to for _, _, to in arcs)})
    flow = {point: [] for point in points}
    cut = [[] for _ in pieces]
    names = []

    def arc(name, start, to):
        names.append(name)
        flow[start].append(f"+ {name}")
        flow[to].append(f"- {name}")

    for i, start, to in arcs:
        arc(f"x{i}_{start}", start, to)
        cut[i].append(f"x{i}_{start}")
    for start, to in zip(points, points[1:]):
        arc(f"rest{start}", start, to)
    for k, end in enumerate(ends):
        names.append(f"bar{k}")
        flow[0].append(f"- bar{k}")
        flow[end].append(f"+ bar{k}")
    lines = ["Minimize", " price: " + "\n + ".join(f"{price} bar{k}" for k, (_, price, _) in enumerate(bars)), "Subject To"]
    lines += [f" flow{point}: " + "\n ".join(terms) + " = 0" for point, terms in flow.items()]
    lines += [f" cut{i}: " + "\n + ".join(cut[i]) + f" >= {count}" for i, (_, count) in enumerate(pieces)]
    lines.append("Bounds")
    lines += [f" bar{k} <= {count}" for k, (_, _, count) in enumerate(bars) if count is not None]
    lines += ["Generals"] + [f" {name}" for name in names] + ["End"]
    return "\n".join(lines) + "\n"


def glpk_price(model, seconds):
    """The least price by GLPK's own program, or None where it did not finish."""
    command = ["glpsol", "--lp", "model", "--tmlim", str(seconds), "-o", "answer"]
    return price_by(command, model, seconds, r"^Status: +INTEGER OPTIMAL", r"^Objective: +price = ([-\d.e+]+)")


def cbc_price(model, seconds):
    """The same by CBC's."""
    command = ["cbc", "model.lp", "-sec", str(seconds), "-solve", "-solution", "answer"]
    return price_by(command, model, seconds, r"^Optimal - objective", r"objective value +([-\d.e+]+)")


def price_by(command, model, seconds, is_proven, price):
    """A solver does not always keep the limit it is given: it is stopped a little after."""
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "model.lp").write_text(model)
        pathlib.Path(folder, "model").write_text(model)
        try:
            subprocess.run(command, cwd=folder, capture_output=True, check=True, timeout=seconds + 2)
            text = pathlib.Path(folder, "answer").read_text()
        except (subprocess.TimeoutExpired, FileNotFoundError):
            return None
    return float(re.search(price, text, re.M).group(1)) if re.search(is_proven, text, re.M) else None
