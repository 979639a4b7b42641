"""What statics and the clauses ask of a document: every number from the plain numbers of a case."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
from scipy.optimize import linprog  # type: ignore[import-untyped]

from .documents import GAMMA_WATER, Case
from .frame import Array, Load, Solution, uniform

EDITIONS = Path(__file__).resolve().parents[3] / "crates" / "proofspan" / "editions"
GRID = 120
Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")


def rows(edition: str, load_set: str) -> dict[str, dict[str, float]]:
    """The rows of a set as the edition's file gives them: data."""
    name = {"ACI 437.2-13": "aci-437.2-13", "IS 456:2000": "is-456-2000"}[edition]
    data = tomllib.loads((EDITIONS / f"{name}.toml").read_text(encoding="utf-8"))
    (found,) = (s for s in data["sets"] if s["id"] == load_set)
    return {row["id"]: row["factors"] for row in found["rows"]}


def factor(row: dict[str, float], symbol: str) -> float:
    """``Lr|S|R`` is any one of them; Q is every imposed load."""
    for key, value in row.items():
        if symbol in key.split("|") or (key == "Q" and symbol == "L"):
            return value
    return 0.0


@dataclass
class Statics:
    """Every load case of a document, solved once: actions by span, unit carriers."""

    case: Case
    parts: dict[tuple[str, int], Solution]
    units: list[Solution]
    shares: dict[tuple[str, int], float]

    @staticmethod
    def of(case: Case) -> Statics:
        spans = case.line.spans()
        cases: list[list[Load]] = []
        keys: list[tuple[str, int]] = []
        shares: dict[tuple[str, int], float] = {}
        for i, (symbol, load, in_place) in enumerate(case.actions):
            if symbol != "L":
                cases.append([load])
                keys.append((f"{symbol}{i}", -1))
            else:
                for s, (a, b) in enumerate(spans):
                    part = load.within(a, b)
                    cases.append([part] if part else [])
                    keys.append((f"{symbol}{i}", s))
            shares |= {key: in_place for key in keys if key[0] == f"{symbol}{i}"}
        cases += [[*c.unit, *case.pulled(c)] for c in case.carriers]
        solved = case.line.solve(cases, case.gauges)
        return Statics(case, dict(zip(keys, solved[: len(keys)], strict=True)), solved[len(keys) :], shares)

    def in_place(self, what: str, x: float, side: str) -> float:
        return sum(self.shares[k] * s.effect(what, x, side) for k, s in self.parts.items())

    def term(self, row: dict[str, float], loaded: set[int], what: str, x: float, side: str) -> float:
        """Total: the factors times the nominal actions, the live load on the spans that are loaded."""
        return sum(
            factor(row, key[0].rstrip("0123456789")) * s.effect(what, x, side)
            for key, s in self.parts.items()
            if key[1] == -1 or key[1] in loaded
        )

    def envelope(self, every: dict[str, dict[str, float]], what: str, x: float, side: str) -> tuple[float, float]:
        """The largest and the smallest net value of all rows and all 2ⁿ patterns: a span joins where it adds.

        One span alone has no pattern: the rows hold as they are written."""
        values = [(key, s.effect(what, x, side)) for key, s in self.parts.items()]
        held = sum(self.shares[key] * v for key, v in values)
        most, least = -np.inf, np.inf
        spans = len(self.case.line.spans())
        for row in every.values():
            still, each = -held, [0.0] * spans
            for (name, span), v in values:
                part = factor(row, name.rstrip("0123456789")) * v
                if span == -1 or spans == 1:
                    still += part
                else:
                    each[span] += part
            most = max(most, still + sum(v for v in each if v > 0))
            least = min(least, still + sum(v for v in each if v < 0))
        return most, least

    def of_carriers(self, forces: list[float], what: str, x: float, side: str) -> float:
        return sum(f * u.effect(what, x, side) for f, u in zip(forces, self.units, strict=True))


def loaded_spans(name: str, spans: int) -> set[int]:
    """The spans that a term's name lists."""
    if "live on" not in name:
        return set(range(spans))
    return {int(i) - 1 for i in re.findall(r"\d+", name.split("live on")[1])}


def places(case: Case) -> list[tuple[str, float, Side]]:
    """The places of a fine grid where something must be reached: effect, place, side; edges from inside."""
    found = []
    for mode, a, b in case.regions:
        breaks = {load.at for c in case.carriers for load in c.unit} | {load.to for c in case.carriers for load in c.unit if load.to is not None}
        breaks |= {load.at for _, load, _ in case.actions} | {load.to for _, load, _ in case.actions if load.to is not None}
        breaks |= {s.at for s in case.line.supports}
        grid = sorted({*np.linspace(a, b, GRID), a, b, *(x for x in breaks if a < x < b)})
        for what in (("shear",) if case.shear_alone else ("shear", "moment")) if mode == "shear" else ("moment",):
            for x in grid:
                found += [(what, x, side) for side in SIDES if not (x == a and side == "left") and not (x == b and side == "right")]
    return found


def asked(statics: Statics, every: dict[str, dict[str, float]]) -> tuple[Array, Array, list[tuple[str, float, Side]]]:
    """Rows ``a · forces ≥ b`` of the fine grid."""
    left, right, where = [], [], []
    for what, x, side in places(statics.case):
        most, least = statics.envelope(every, what, x, side)
        mode = next(mode for mode, a, b in statics.case.regions if a <= x <= b)
        row = [u.effect(what, x, side) for u in statics.units]
        if most > 0 and not (mode == "hogging"):
            left.append(row)
            right.append(most)
            where.append((what, x, side))
        if least < 0 and mode != "flexure":
            left.append([-v for v in row])
            right.append(-least)
            where.append((what, x, side))
    return np.array(left), np.array(right), where


def least_total(a: Array, b: Array) -> float | None:
    """The least sum of forces that reaches every place of the grid: below the one that reaches all."""
    scale = float(np.max(b))
    found = linprog(np.ones(a.shape[1]), A_ub=-a, b_ub=-b / scale, bounds=(0, None), method="highs")
    return float(found.fun) * scale if found.status == 0 else None


def water(case: Case, cells: int = 40) -> list[float]:
    """The water that stands at last in each basin, where it follows the deflection that it makes."""
    basins = [c for c in case.carriers if c.depth is not None]
    edges = [np.linspace(c.unit[0].at, float(c.unit[0].to or 0), cells + 1) for c in basins]
    nodes = [float(x) for e in edges for x in e]
    # a tent at each node: the intensity between the nodes is linear
    tents = []
    for e in edges:
        for i in range(len(e)):
            sides = [Load(float(e[i - 1]), 0.0, float(e[i]), 1.0)] if i else []
            sides += [Load(float(e[i]), 1.0, float(e[i + 1]), 0.0)] if i < cells else []
            tents.append(sides)
    solved = case.line.solve(tents, nodes)
    flexibility = np.array([[s.deflection(x) for s in solved] for x in nodes])
    gamma = np.repeat([GAMMA_WATER * c.width for c in basins], cells + 1)
    depth = np.repeat([c.depth or 0.0 for c in basins], cells + 1)
    q = np.linalg.solve(np.eye(len(nodes)) - gamma[:, None] * flexibility, gamma * depth)
    return [float(np.trapezoid(q[i * (cells + 1) : (i + 1) * (cells + 1)], e)) for i, e in enumerate(edges)]


@dataclass
class Reaction:
    """A reaction member: support forces from its own weight, each counterweight and each pull."""

    own: Solution
    weights: list[Solution]
    pulls: list[Solution]
    bars: int

    def forces(self, fraction: float) -> list[float]:
        count = len(self.own.reactions)
        rest = [self.own.reactions[i] + sum(w.reactions[i] for w in self.weights) for i in range(count)]
        return [rest[i] - fraction * sum(p.reactions[i] for p in self.pulls) for i in range(count)]

    def lift_off(self, i: int) -> tuple[float, float]:
        """What presses a bearing down and what lifts it: what holds down and may go counts as nothing (EN 1990)."""
        down = self.own.reactions[i] + sum(max(0.0, w.reactions[i]) for w in self.weights)
        each = [p.reactions[i] for p in self.pulls]
        up = sum(max(0.0, sum(each[j : j + self.bars])) for j in range(0, len(each), self.bars))
        return down, up + sum(max(0.0, -w.reactions[i]) for w in self.weights)

    def parts(self, at: list[float]) -> list[tuple[float, float]]:
        """At each place and side, the moment of what rests there and of the pulls at full load."""
        return [
            (self.own.moment(x, side) + sum(w.moment(x, side) for w in self.weights), sum(p.moment(x, side) for p in self.pulls))
            for x in at
            for side in SIDES
        ]


def pulls(case: Case, forces: list[float]) -> list[tuple[float, float]]:
    """Where the reaction is pulled: under the jacks, or by levers at the two places of bars."""
    jacks = [(c.at, f) for c, f in zip(case.carriers, forces, strict=True) if c.jack and f > 0]
    held = case.bars or case.anchors
    if not held:
        return jacks
    a, b = held
    return [(a, sum(f * (b - x) / (b - a) for x, f in jacks)), (b, sum(f * (x - a) / (b - a) for x, f in jacks))]


def reaction(case: Case, forces: list[float]) -> Reaction:
    assert case.below is not None
    line, start = case.below, case.below_at
    alone = [[Load(x - start, w)] for x, w in case.weights] + [[Load(x - start, p)] for x, p in pulls(case, forces)]
    own = [uniform(0.0, line.length, case.own)] if case.own else []
    solved = line.solve([own, *alone])
    count = len(case.weights)
    return Reaction(solved[0], solved[1 : 1 + count], solved[1 + count :], 2 if case.bars else 1)


def falling(case: Case, forces: list[float]) -> list[tuple[float, float]]:
    """The largest static force on each catch from what is in place and from the test load, over all cracks."""
    own = [load.times(share) for _, load, share in case.actions if share]
    # a jack presses on its axis, a spreader at its contacts; weights slide to where the piece drops
    jacks = [(c, f) for c, f in zip(case.carriers, forces, strict=True) if c.jack]
    test = [part for c, f in jacks for part in ([Load(c.at, f)] if c.kind == "pad" else [u.times(f) for u in c.unit])]
    weights = [(c, f) for c, f in zip(case.carriers, forces, strict=True) if not c.jack]
    loose = [(c.unit[0].at, c.unit[-1].at if c.unit[-1].to is None else c.unit[-1].to, f) for c, f in weights]
    (_, a, b), length = case.regions[0], case.line.length
    at = [x for x, _, _ in case.catches]
    jumps = {load.at for load in test} | {load.to for load in test if load.to is not None}
    cracks = sorted({*np.linspace(a, b, 401), *(x for x in jumps if a <= x <= b), *(s.at for s in case.line.supports if a <= s.at <= b)})

    def piece(loads: list[Load], p: float, q: float, about: float) -> float:
        """The moment of what stands from p to q; a force at a crack may stand on either piece."""
        cut = (load.within(p, q) if load.to is not None else (load if p - 1e-9 <= load.at <= q + 1e-9 else None) for load in loads)
        return sum(part.about(about) for part in cut if part)

    def turns(p: float, q: float, about: float, arm: float) -> tuple[float, float]:
        farthest = max((p - about) / arm, (q - about) / arm)
        return piece(own, p, q, about) / arm, piece(test, p, q, about) / arm + sliding(p, q) * farthest

    def sliding(p: float, q: float) -> float:
        return sum(f for start, end, f in loose if start <= q + 1e-9 and end >= p - 1e-9)

    def standing(p: float, q: float) -> float:
        """All forces of a piece: its moments about two places a metre apart."""
        return sum(piece(loads, p, q, 0.0) - piece(loads, p, q, 1.0) for loads in (own, test)) + sliding(p, q)

    def free(p: float, q: float, here: float, other: float) -> tuple[float, float]:
        """On two catches alone, which only push: none carries more than all that stands on the piece."""
        at_rest, more = turns(p, q, other, here - other)
        return at_rest, min(more, standing(p, q) - at_rest) if loose else more

    def lever(p: float, q: float, about: float, catch: float, beyond: float = 0.0) -> tuple[float, float]:
        """About a support on a catch; nothing where the piece turns the other way. ``beyond`` is a moment against it."""
        arm = catch - about
        held = piece(own, p, q, about) / arm - beyond / abs(arm)
        more = piece(test, p, q, about) / arm
        if min(held, held + more) < 0:
            return 0.0, 0.0
        return held, max(more, 0.0) + sliding(p, q) * max((p - about) / arm, (q - about) / arm)

    def worst(found: list[tuple[float, float]]) -> tuple[float, float]:
        return max(found, key=sum)

    if case.catch in ("shear", "flexure"):
        # left piece about the left bearing, right piece about the right one
        return [
            worst([turns(0.0, c, 0.0, at[0]) for c in cracks]),
            worst([turns(c, length, length, at[1] - length) for c in cracks]),
        ]
    if case.catch == "cantilever":
        # the piece is free: levers on two catches
        s1, s2 = at
        return [worst([free(c, length, s1, s2) for c in cracks]), worst([free(c, length, s2, s1) for c in cracks])]
    supports = [s.at for s in case.line.supports]
    if case.catch == "hinge over a support":
        # neither span hangs on the other: each turns about its other support
        xs, end = supports[1], supports[2]
        return [
            worst([lever(0.0, c, 0.0, at[0]) for c in cracks if c <= xs]),
            worst([lever(c, end, end, at[1]) for c in cracks if c >= xs]),
        ]
    if case.catch == "line":
        first = max(x for x in supports if x < a)
        then = min(x for x in supports if x > b)
        beyond, end = 0.0, then
        after = [x for x in supports if x > then]
        if not after:
            end = length
        elif case.line.hinges and len(after) == 1:
            # the part beyond the hinge hangs on it and lifts the piece there
            (h,), (x,), end = case.line.hinges, after, case.line.hinges[0]
            hangs = sum(-part.about(x) / (x - h) for part in (load.within(h, length) for load in own) if part)
            beyond = hangs * (h - then)
        return [
            worst([lever(0.0, c, first, at[0]) for c in cracks]),
            worst([lever(c, end, then, at[1], beyond) for c in cracks]),
        ]
    assert case.catch == "overhang"
    xs = supports[1]
    s0, s1, s2 = at
    arms = (s1 - xs) ** 2 + (s2 - xs) ** 2
    over = [c for c in cracks if c <= xs]
    beside = [c for c in cracks if c >= xs]
    inner = worst([turns(0.0, c, 0.0, s0) for c in over])
    # equal springs without gap share by their arms while the piece hangs over the support
    one = [turns(c, length, xs, arms / (s1 - xs)) for c in over] + [free(c, length, s1, s2) for c in beside]
    two = [turns(c, length, xs, arms / (s2 - xs)) for c in over] + [free(c, length, s2, s1) for c in beside]
    return [inner, worst(one), worst(two)]


def tips(case: Case, forces: list[float]) -> bool:
    """Whether weights that slide to an end of a piece on two catches alone tip it off them."""
    own = [load.times(share) for _, load, share in case.actions if share]
    (_, a, b), length = case.regions[0], case.line.length
    (s1, s2), sliding = [x for x, _, _ in case.catches][-2:], sum(forces)
    for c in np.linspace(max(a, *(s.at for s in case.line.supports)), b, 401):
        parts = [part for part in (load.within(float(c), length) for load in own) if part]
        inner, outer = (sum(part.about(s) for part in parts) for s in (s1, s2))
        if inner < sliding * (s1 - c) or -outer < sliding * (length - s2):
            return True
    return False


def level_shares(stiffness: list[float], posts: float, ground: float) -> list[float]:
    """Floors and posts below as springs: a floor beside its posts, which stand on the next floor or the ground."""
    below: list[float] = []
    under = 1 / (1 / posts + 1 / ground)
    for k in reversed(stiffness):
        below.insert(0, under)
        under = 1 / (1 / posts + 1 / (k + under))
    shares, left = [], 1.0
    for k, u in zip(stiffness, below, strict=True):
        shares.append(left * k / (k + u))
        left *= u / (k + u)
    return shares
