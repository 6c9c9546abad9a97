#!/usr/bin/env python3
"""plan.json's last_joint against another program, on every demo that is a ring. It reads only marks, widths, places, kinds of joints and
the sources' sizes, and works with its own chain: boards as complex numbers.

First order: every error on its own through the exact chain by differences; covariance and shares held stiff from these, shares drawn in
by least squares over the places of all boards at once (numpy). The odds: builds with Python's own random numbers, the least openings by
trying sets of shut gaps.
"""
import cmath
import copy
import json
import math
import os
import pathlib
import random
import re
import subprocess
import sys

import numpy

BOARDRING = os.environ["BOARDRING"]
SOURCE = pathlib.Path(os.environ["BOARDRING_SOURCE"])
BUILDS = 4000 if os.environ.get("BOARDRING_FULL") else 1000


def dot(a, b):
    return (a * b.conjugate()).real


def unit(a):
    return a / abs(a)


class Ring:
    """Boards as the plan prints them, each with its own x axis from the inside mark of its first end; inside at y = 0."""

    def __init__(self, plan):
        self.boards, self.pose = [], []
        points = [[complex(*q) for q in b["plan_mm"]] for b in plan["boards"]]
        # Letters that run clockwise are a mirrored picture.
        area = sum((p[0].conjugate() * q[0]).imag for p, q in zip(points, points[1:] + points[:1]))
        for b, p in zip(plan["boards"], points):
            if area < 0:
                p = [q.conjugate() for q in p]
            along = unit(p[3] - p[0])
            own = [(q - p[0]) / along for q in p]
            ends = []
            for e, (inside, outside) in zip(b["ends"], ((own[0], own[1]), (own[3], own[2]))):
                end = {"in": inside.real, "out": outside.real, "saw": math.radians(e["saw_deg"]), "through": e["runs_through"],
                       "base": e["bevel"]["base_mm"]}
                if e["lap"]:  # the line that meets its mate is the shoulder; marks count from the datum
                    for key, mark, shoulder in (("in", "inside_mark_mm", "shoulder_inside_mm"), ("out", "outside_mark_mm", "shoulder_outside_mm")):
                        way = 1.0 if b["left_end"] == b["ends"][0]["corner"] else -1.0
                        end[key] += way * (e["lap"][shoulder] - e[mark])
                    towards = -1.0 if not ends else 1.0
                    end["saw"] = math.atan(towards * (end["out"] - end["in"]) / b["width_in_joint_mm"])
                ends.append(end)
            self.boards.append({"w": b["width_in_joint_mm"], "ends": ends})
            self.pose.append((p[0], along))
        self.kinds = [(j["kind"], j["interior_deg"]) for j in plan["joints"]]
        self.size = max(abs(p[0][0] - p[1][0]) for p in zip(self.pose, self.pose[1:]))

    def made(self, by):
        """Boards made with deviations: shift of the long point, slope more, wider (outwards)."""
        made = copy.deepcopy(self.boards)
        for k, b in enumerate(made):
            b["w"] += by["wide"][k]
            for e, end in enumerate(b["ends"]):
                towards = -1.0 if e == 0 else 1.0
                run = towards * b["w"] * math.tan(end["saw"] + by["slope"][k][e])
                if end["saw"] >= 0:
                    end["out"] += by["shift"][k][e]
                    end["in"] = end["out"] - run
                else:
                    end["in"] += by["shift"][k][e]
                    end["out"] = end["in"] + run
        return made

    def nothing(self):
        n = len(self.boards)
        return {"shift": [[0.0, 0.0] for _ in range(n)], "slope": [[0.0, 0.0] for _ in range(n)], "wide": [0.0] * n}

    def faces(self, made, c):
        """Inner and outer point of the own face and of the other board's, each in its own coordinates, and which pair a tight joint holds."""
        kind, interior = self.kinds[c]
        own, other = made[c], made[c - 1]
        convex = interior < 180.0
        cut = lambda b, e: (complex(b["ends"][e]["in"], 0.0), complex(b["ends"][e]["out"], -b["w"]))
        if kind == "mitre":
            return cut(own, 0), cut(other, 1), 0
        if kind == "butt":
            through, e = (own, 0) if own["ends"][0]["through"] else (other, 1)
            stops = cut(other, 1) if e == 0 else cut(own, 0)
            face = abs(stops[1] - stops[0])
            inwards = 1.0 if e == 0 else -1.0
            end = cut(through, e)
            edge = (end[0] + inwards * face, end[0]) if convex else (end[1], end[1] + inwards * face)
            return (edge, stops, 1 if convex else 0) if e == 0 else (stops, edge, 1 if convex else 0)
        turn = math.radians(180.0 - interior)
        face = (own["w"] + other["w"]) / (2.0 * math.cos(turn / 2.0))
        sides = []
        for b, e in ((own, 0), (other, 1)):
            shoulder = cut(b, e)
            edge = 1.0 if (e == 1) == convex else -1.0
            bisector = unit(unit(shoulder[1] - shoulder[0]) + edge)
            sides.append((shoulder[0], shoulder[0] + face * bisector) if convex else (shoulder[1] - face * bisector, shoulder[1]))
        return sides[0], sides[1], 0 if convex else 1

    def shown(self, pose, made, c):
        """Gap in, gap out, lip in at one joint, and its angle left, + open outside."""
        own, other, _ = self.faces(made, c)
        P, Q = (pose[c][0] + pose[c][1] * x for x in own)
        C, D = (pose[c - 1][0] + pose[c - 1][1] * x for x in other)
        e = unit(Q - P)
        return dot(C - P, -1j * e), dot(D - Q, -1j * e), dot(C - P, e), -cmath.phase((D - C) / (Q - P))

    def stiff(self, made, last):
        """All joints but one held tight, from the board that starts there once round."""
        n = len(made)
        pose = [None] * n
        pose[last] = (0j, 1 + 0j)
        for step in range(1, n):
            c = (last + step) % n
            own, other, hold = self.faces(made, c)
            at, along = pose[c - 1]
            turn = unit(along * (other[1] - other[0])) / unit(own[1] - own[0])
            pose[c] = (at + along * other[hold] - turn * own[hold], turn)
        return self.shown(pose, made, last)

    def widest(self, made):
        """Drawn in: boards where the plan has them, what shows there, and the motions that shut it, again from where they then lie."""
        n = len(made)
        pose = list(self.pose)
        for _ in range(6):
            misfit, columns = [], []
            faces = [self.faces(made, c) for c in range(n)]
            points = [tuple(pose[c - 1][0] + pose[c - 1][1] * x for x in faces[c][1]) for c in range(n)]
            mid = sum(C for C, _ in points) / n
            scale = abs(points[0][0] - mid)
            for c, (C, D) in enumerate(points):
                misfit += self.shown(pose, made, c)[:3]
                P, Q = (pose[c][0] + pose[c][1] * x for x in faces[c][0])
                e, f = unit(Q - P), abs(D - C)
                m, swing = -1j * e, (mid - C) * 1j / f
                columns += [(-(m + swing).real, -(m + swing).imag, -scale / f), (swing.real, swing.imag, scale / f), (-e.real, -e.imag, 0.0)]
            wanted = [sum(col[r] * x for col, x in zip(columns, misfit)) for r in range(3)]
            x = least(columns, wanted)
            if x is None:
                return math.inf
            # Lay the boards with these openings; the last one then misses the first by what is second order.
            new = [pose[0]]
            for c in range(1, n + 1):
                at, along = new[c - 1]
                k = c % n
                own, other, _ = faces[k]
                C, D = at + along * other[0], at + along * other[1]
                e = unit(D - C) * cmath.exp(1j * math.asin((x[3 * k + 1] - x[3 * k]) / abs(D - C)))
                turn = e / unit(own[1] - own[0])
                new.append((C - x[3 * k] * (e * -1j) - x[3 * k + 2] * e - turn * own[0], turn))
            missed = abs(new[n][0] - pose[0][0])
            pose = new[:n]
            if missed < 1e-6 * scale:
                break
        return max(max(x[3 * c], x[3 * c + 1]) for c in range(n))


def solve3(m, b):
    """Three equations by elimination; None if they are dependent."""
    a = [row[:] + [v] for row, v in zip(m, b)]
    for i in range(3):
        p = max(range(i, 3), key=lambda r: abs(a[r][i]))
        if abs(a[p][i]) < 1e-12:
            return None
        a[i], a[p] = a[p], a[i]
        for r in range(3):
            if r != i:
                f = a[r][i] / a[i][i]
                a[r] = [x - f * y for x, y in zip(a[r], a[i])]
    return [a[i][3] / a[i][i] for i in range(3)]


def least(columns, wanted):
    """Least squares with gaps >= 0 and free lips. Shut what is negative, open what would pull apart: an active set, not a dual."""
    shut = set()
    for _ in range(200):
        use = [j for j in range(len(columns)) if j not in shut]
        m = [[sum(columns[j][r] * columns[j][c] for j in use) for c in range(3)] for r in range(3)]
        y = solve3(m, wanted)
        if y is None:
            return None
        pull = [sum(a * b for a, b in zip(col, y)) for col in columns]
        worst_shut = [j for j in shut if pull[j] > 1e-12]
        negative = [j for j in use if j % 3 != 2 and pull[j] < -1e-12]
        if not negative and not worst_shut:
            return [0.0 if j in shut else pull[j] for j in range(len(columns))]
        shut = (shut | set(negative)) - set(worst_shut)
    return None


def errors_of(ring, plan):
    """(source, list of (what, board, end, by)) of every independent error by bevel, for one standard deviation."""
    sd = {s["source"]: s["sd"] for s in plan["last_joint"]["sources"]}
    errors, settings = [], {}
    for k, b in enumerate(ring.boards):
        for e, end in enumerate(b["ends"]):
            errors.append(("cut", [("slope", k, e, math.radians(sd.get("cut", 0.0)))]))
            errors.append(("mark", [("shift", k, e, sd.get("mark", 0.0))]))
            if abs(end["saw"]) > 1e-8:
                by = math.copysign(sd.get("bevel setting", 0.0) * math.cos(end["saw"]) ** 2 / end["base"], end["saw"])
                settings.setdefault(round(abs(end["saw"]), 7), []).append(("slope", k, e, by))
        errors.append(("width in the joint", [("wide", k, 0, sd.get("width in the joint", 0.0))]))
    errors += [("bevel setting", effects) for effects in settings.values()]
    # A rule that is long: the right end of every board moves away from the left one; which end that is changes nothing.
    rule = []
    for k, b in enumerate(ring.boards):
        long = [end["out"] if end["saw"] >= 0 else end["in"] for end in b["ends"]]
        rule.append(("shift", k, 1, 1e-3 * sd.get("rule", 0.0) * (long[1] - long[0])))
    errors.append(("rule", rule))
    return errors


def apply(by, effects, times):
    for what, k, e, size in effects:
        if what == "wide":
            by[what][k] += times * size
        else:
            by[what][k][e] += times * size


def first_order(ring, plan, told, bad, name):
    """Covariance and shares, each error on its own by differences."""
    n = len(ring.boards)
    last = [j["corner"] for j in plan["joints"]].index(told["corner"])
    step = 1e-3
    # How the misfits of all joints change when boards are moved: two displacements and a turn each.
    base = ring.made(ring.nothing())
    moves = []
    for k in range(n):
        for axis in range(3):
            up, down = list(ring.pose), list(ring.pose)
            at, along = ring.pose[k]
            h = 1e-5 * (1.0 if axis == 2 else ring.size)
            up[k], down[k] = [(at + s * h * (1, 1j)[axis], along) if axis < 2 else (at, along * cmath.exp(s * 1j * h)) for s in (1, -1)]
            moves.append([(a - b) / (2 * h) for c in range(n) for a, b in zip(ring.shown(up, base, c)[:3], ring.shown(down, base, c)[:3])])
    moves = numpy.array(moves).T * ([1.0, 1.0, 1.0 / ring.size] * n)
    rows, gaps, efforts = [], {}, {}
    for source, effects in errors_of(ring, plan):
        sides = []
        for sign in (1, -1):
            by = ring.nothing()
            apply(by, effects, sign * step)
            made = ring.made(by)
            sides.append((ring.stiff(made, last), [x for c in range(n) for x in ring.shown(ring.pose, made, c)[:3]]))
        gap_in, gap_out, lip, angle = ((a - b) / (2 * step) for a, b in zip(sides[0][0], sides[1][0]))
        rows.append((gap_in, lip, math.degrees(angle)))
        gaps[source] = gaps.get(source, 0.0) + gap_in ** 2 + gap_out ** 2
        misfit = (numpy.array(sides[0][1]) - numpy.array(sides[1][1])) / (2 * step)
        left = misfit - moves @ numpy.linalg.lstsq(moves, misfit, rcond=1e-9)[0]
        efforts[source] = efforts.get(source, 0.0) + float(left @ left)
    covariance = numpy.array(rows).T @ numpy.array(rows)
    theirs = numpy.array(told["stiff"]["covariance"])
    spread = numpy.sqrt(numpy.outer(numpy.diag(covariance), numpy.diag(covariance)))
    off = float(numpy.max(numpy.abs(covariance - theirs) / spread))
    if off > 1e-6:
        bad.append(f"{name}: covariance off by {off:.2e}\n{covariance}\n{theirs}")
    for s in told["sources"]:
        for key, mine in (("stiff_share", gaps), ("spread_share", efforts)):
            share = mine[s["source"]] / sum(mine.values())
            if abs(share - s[key]) > 1e-6:
                bad.append(f"{name}: {key} of {s['source']} {share:.6f} against {s[key]:.6f}")
    return off


def odds(ring, plan, told, bad, name):
    rng = random.Random(7)
    errors = errors_of(ring, plan)
    widest = []
    for _ in range(BUILDS):
        by = ring.nothing()
        for _, effects in errors:
            apply(by, effects, rng.gauss(0.0, 1.0))
        widest.append(ring.widest(ring.made(by)))
    widest.sort()
    mean = sum(widest) / BUILDS
    sd = math.sqrt(sum((x - mean) ** 2 for x in widest) / (BUILDS - 1))
    # Standard errors of the two together: boardring's page takes 1024 builds. Quantiles by the density a normal shape of this mean and
    # standard deviation would have: 0.399 / sd in the middle, 0.103 / sd at 95 of 100; four of them are allowed.
    both = math.sqrt(1.0 / BUILDS + 1.0 / 1024.0) * sd
    for what, mine, theirs, error in (("mean", mean, told["mean_mm"], both), ("sd", sd, told["sd_mm"], 0.8 * both),
                                      ("half", widest[BUILDS // 2], told["typical_mm"], 1.2533 * both),
                                      ("95 of 100", widest[int(0.95 * BUILDS)], told["most_mm"], 2.11 * both)):
        if abs(mine - theirs) > 4.0 * error:
            bad.append(f"{name}: {what} {mine:.4f} against {theirs:.4f}, {abs(mine - theirs) / error:.1f} standard errors")
    return mean / told["mean_mm"] - 1.0


def main():
    bad, seen, rings = [], 0, 0
    for path in sorted((SOURCE / "projects").glob("*.json")):
        # With a fine rule nothing but the errors is left: what rounding leaves is not drawn here.
        asked = json.loads(re.sub(r"(?m)^\s*//.*$|\s//[^\"\n]*$", "", path.read_text()))
        inches = asked.get("units") in ("in", "ft")
        asked.setdefault("tools", {})["rule_step"] = "1/128 in" if inches else 0.001
        run = subprocess.run([BOARDRING, "plan", "-", "--json"], input=json.dumps(asked), capture_output=True, text=True, cwd=path.parent)
        plan = json.loads(run.stdout)
        if not plan["joints"] or not plan["outline"]["closed"]:
            continue
        rings += 1
        told = plan["last_joint"]
        if told is None or told["way"] != "bevel":
            bad.append(f"{path.stem}: a ring without a budget by bevel")
            continue
        seen += 1
        ring = Ring(plan)
        off = first_order(ring, plan, told, bad, path.stem)
        more = odds(ring, plan, told["spread"], bad, path.stem)
        print(f"{path.stem}: covariance within {off:.1e}, mean opening {100 * more:+.1f} %")
    if seen < 6 or seen != rings:
        bad.append(f"only {seen} of {rings} rings compared")
    print("\n".join(bad) if bad else f"{seen} demos agree")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
