"""Random documents against an oracle of its own: stiffness matrix, levers, HiGHS; nothing of the library."""

from __future__ import annotations

import json
import math
import os
from collections import Counter, defaultdict
from typing import Any

import numpy as np
import pytest
from oracle import expected
from oracle.documents import CARRIERS, MEMBERS, REACTIONS, Case, case
from oracle.expected import SIDES, Statics
from oracle.frame import Held, Line, Load, uniform

import proofspan as ps

DOCUMENTS = 315
SOAK = 10 if os.environ.get("PROOFSPAN_SOAK") == "1" else 1
TIGHT, GRID = 2e-8, 2e-3

Worst = dict[str, tuple[float, str]]


def si(value: Any) -> float:
    return float(str(value).split()[0])


class Compared:
    """The largest relative difference of each quantity, and what is too far off."""

    def __init__(self) -> None:
        self.worst: Worst = defaultdict(lambda: (0.0, ""))
        self.count: Counter[str] = Counter()
        self.off: list[str] = []

    def near(self, what: str, ours: float, theirs: float, scale: float, name: str, limit: float = TIGHT) -> None:
        difference = abs(ours - theirs) / max(scale, abs(theirs), 1e-9)
        self.count[what] += 1
        if difference > self.worst[what][0]:
            self.worst[what] = (difference, name)
        if not difference <= limit:
            self.off.append(f"{what}: {ours!r} for {theirs!r}, {difference:.2e}; {name}")

    def holds(self, what: str, right: bool, told: str, name: str) -> None:
        self.count[what] += 1
        if not right:
            self.off.append(f"{what}: {told}; {name}")


def spots(k: Case) -> list[float]:
    (_, a, b) = k.regions[0]
    inside = [0.137 * k.line.length, 0.611 * k.line.length, *(s.at for s in k.line.supports)]
    return [a, (a + b) / 2, b, *inside]


def check_target(k: Case, design: ps.Design, statics: Statics, load_set: str, found: Compared) -> dict[str, dict[str, float]]:
    """Loads in place, every term, and what governs, at places and from both sides."""
    every = expected.rows(k.edition, load_set)
    target, spans = design.target, len(k.line.spans())
    names = [str(n) for n in json.loads(design.to_json())["terms"]]
    for what in ("shear", "moment"):
        grid = [expected.Statics.envelope(statics, every, what, x, "right") for x in spots(k)]
        scale = max(max(abs(v) for v in pair) for pair in grid)
        for x in spots(k):
            for side in SIDES:
                if (x <= 0 and side == "left") or (x >= k.line.length and side == "right"):
                    continue
                at = f"{x!r} m"
                actions = target.in_place
                value = (actions.shear if what == "shear" else actions.moment)(at, side).si
                found.near(f"in place, {what}", value, statics.in_place(what, x, side), scale, k.name)
                most, least = statics.envelope(every, what, x, side)
                largest = most if most > -least else least
                if what == "moment":
                    # in the sense of the doubt; where shear is in doubt the largest in size
                    if k.regions[0][0] != "shear":
                        largest = least if k.regions[0][0] == "hogging" else most
                    value = target.governing(what, at, side).si
                    tied = abs(most + least) <= TIGHT * scale and k.regions[0][0] == "shear"
                    value, largest = (abs(value), abs(largest)) if tied else (value, largest)
                    found.near("governing moment", value, largest, scale, k.name)
                else:
                    value = abs(target.governing(what, at, side).si)
                    found.near("governing shear", value, abs(largest), scale, k.name)
    x = spots(k)[1]
    for name in names:
        row = every[name.split(",")[0]]
        for what in ("shear", "moment"):
            term = target.term(name, "total")
            value = (term.shear if what == "shear" else term.moment)(f"{x!r} m").si
            theirs = statics.term(row, expected.loaded_spans(name, spans), what, x, "left")
            scale = max(abs(v) for v in statics.envelope(every, what, x, "left"))
            found.near(f"terms, {what}", value, theirs, scale, k.name)
    return every


def check_layout(k: Case, out: dict[str, Any], statics: Statics, every: dict[str, dict[str, float]], found: Compared) -> list[float]:
    layout = out["layout"]
    forces = [si(c["force"]) for c in layout["carriers"]]
    for c, force, given in zip(k.carriers, forces, layout["carriers"], strict=True):
        if c.depth is None and k.given and c.given:
            found.near("force given", force, c.given, 0.0, k.name)
        found.near("place of the resultant", si(given["at"]), c.at, 1.0, k.name)
    if k.loading == "water":
        for force, theirs in zip(forces, expected.water(k), strict=True):
            found.near("water that follows", force, theirs, 0.0, k.name, 1e-4)
    lines = [(si(line["at"]), si(line["force"])) for line in layout["lines"]]
    if all(load.to is None for c in k.carriers for load in c.unit):
        shares = [(u.at, u.size * f) for c, f in zip(k.carriers, forces, strict=True) if f > 0 for u in c.unit]
        lines = [line for line in lines if line[1] > 0]
        for (x, f), (y, g) in zip(sorted(lines), sorted(shares), strict=True):
            found.near("shares, place", x, y, 1.0, k.name)
            found.near("shares, force", f, g, sum(forces) * 1e-6, k.name)
    if k.loading == "water" or k.shear_alone:
        return forces
    a, b, where = expected.asked(statics, every)
    # verifier: every place of the grid, from above
    ratio = a @ np.array(forces) / b
    scale = np.array([max(b[i] for i in range(len(b)) if where[i][0] == w) for w, _, _ in where])
    # what is next to nothing beside the largest of the region is a matter of rounding
    reached = float(np.min(ratio[b >= 1e-6 * scale]))
    least = min(v["fidelity"] for v in layout["verification"]["least"])
    if k.given:
        found.holds("given: fidelity not above the grid", least <= reached + 1e-6, f"{least} {reached}", k.name)
        found.near("given: fidelity", least, reached, 1.0, k.name, GRID)
        return forces
    found.holds("reaches everywhere", reached >= 1 - 1e-7, f"{reached} at {where[int(np.argmin(ratio))]}", k.name)
    lower = expected.least_total(a, b)
    if lower is None:
        found.holds("reached, or no forces do", least < 1, f"HiGHS finds none, {least}", k.name)
        return forces
    total = sum(forces)
    found.holds("not below HiGHS", total >= lower * (1 - 1e-7), f"{total} {lower}", k.name)
    over = sum(c.step or 0.0 for c in k.carriers)
    if over:
        found.holds("whole layers", total <= lower * (1 + GRID) + over, f"{total} {lower} {over}", k.name)
    else:
        found.near("least total force", total, lower, 0.0, k.name, GRID)
    return forces


def check_rig(k: Case, out: dict[str, Any], forces: list[float], found: Compared) -> None:
    rig = out["rig"]
    if k.reaction == "none":
        found.holds("no reaction", not rig["stages"] and not rig["pulls"], str(rig["pulls"]), k.name)
        return
    jacks = [f for c, f in zip(k.carriers, forces, strict=True) if c.jack and f > 0]
    for hydraulics, f in zip(rig["hydraulics"], jacks, strict=True):
        found.near("pressure", si(hydraulics["pressure"]), f / 2 / 0.009 / 0.98, 0.0, k.name)
    if k.reaction == "frame":
        found.holds("a frame has no stages", not rig["stages"] and not rig["bearings"], str(rig["stages"]), k.name)
        on_jacks = [(c, f) for c, f in zip(k.carriers, forces, strict=True) if c.jack and f > 0]
        theirs_up = [(u.at, -u.size * f) for c, f in sorted(on_jacks, key=lambda one: one[0].at) for u in k.pulled(c)]
        for pull, (x, f) in zip(rig["pulls"], theirs_up, strict=True):
            found.near("pull of a frame, place", si(pull["at"]), x, 1.0, k.name)
            found.near("pull of a frame, force", si(pull["force"]), f, sum(forces) * 1e-6, k.name)
        return
    pulled = expected.pulls(k, forces)
    if k.anchors:
        for anchor, (_, f) in zip(rig["reactions"][0]["anchors"], pulled, strict=True):
            found.near("anchors", si(anchor["force"]), f, 0.0, k.name)
        return
    for pull, (x, f) in zip(rig["pulls"], pulled, strict=True):
        found.near("pulls, place", si(pull["at"]), x, 1.0, k.name)
        found.near("pulls, force", si(pull["force"]), f, sum(forces) * 1e-6, k.name)
    theirs = expected.reaction(k, forces)
    scale = sum(abs(v) for v in theirs.forces(0.0)) + sum(jacks)
    assert k.below is not None
    kinds = {round(s["fraction"], 6) for s in rig["stages"]}
    found.holds("stages", {0.0, 1.0, -1.0} <= kinds, str(kinds), k.name)
    grid = sorted({*np.linspace(0.0, k.below.length, 61), *(x - k.below_at for x, _ in [*k.weights, *pulled]), *(s.at for s in k.below.supports)})
    parts = theirs.parts([float(x) for x in grid])
    for stage in rig["stages"]:
        if stage["name"].startswith("placing"):
            # only a part of the weights is on: the oracle has all of them or none
            continue
        for ours, r in zip(stage["reactions"], theirs.forces(stage["fraction"]), strict=True):
            name = {0.0: "placed", 1.0: "full", -1.0: "lost at once"}.get(stage["fraction"], "steps")
            found.near(f"reaction, {name}", si(ours["force"]), r, scale, k.name)
        moments = [rest - stage["fraction"] * pulled for rest, pulled in parts]
        size = max(abs(v) for v in moments) + scale * 0.1
        # from a grid: the library's extreme lies no lower, and hardly higher
        for ours, m in ((si(stage["sagging"]), max(0.0, *moments)), (-si(stage["least_moment"]), max(0.0, -min(moments)))):
            found.holds("reaction, extreme moments", ours >= m - 1e-7 * size, f"{ours} {m}", k.name)
            found.near("reaction, extreme moments", max(0.0, ours), m, size, k.name, GRID)
    if k.reaction == "cantilever":
        return
    for i, bearing in enumerate(rig["bearings"]):
        down, up = theirs.lift_off(i)
        found.near("lift-off, stabilising", si(bearing["stabilising"]), down, scale * 1e-3, k.name)
        found.near("lift-off, uplift", si(bearing["uplift"]), up, scale * 1e-3, k.name)
        if up > 1e-6 * scale and bearing.get("factor") is not None:
            found.near("lift-off, factor", bearing["factor"], down / up, 0.0, k.name)


def check_catch(k: Case, out: dict[str, Any], forces: list[float], found: Compared) -> None:
    shoring = out["shoring"]
    if k.levels:
        theirs = expected.level_shares(k.levels, k.posts, k.ground)
        for level, share in zip(shoring["levels"], theirs, strict=False):
            found.near("shares of levels", level["share"], share, 0.0, k.name)
    if k.catch in ("none", "not compared"):
        return
    weights = not any(c.jack for c in k.carriers)
    if k.catch in ("cantilever", "overhang") and weights:
        stopped = any(s["code"] == "shoring.piece-uncaught" for s in shoring["stops"])
        found.holds("weights that tip a piece", stopped == expected.tips(k, forces), str(stopped), k.name)
    for ours, (own, test) in zip(shoring["catches"], expected.falling(k, forces), strict=True):
        scale = abs(own) + abs(test)
        limit = 1e-3 if k.catch == "overhang" or (weights and k.catch == "cantilever") else TIGHT
        under = " under water" if k.loading == "water" else ""
        found.near(f"catch, {k.catch}{under}", si(ours["own"]) + si(ours["test"]), own + test, scale, k.name, limit)
        if weights:
            _, stiffness, gap = k.catches[0]
            all_of_it = si(ours["own"]) + si(ours["test"])
            drop = all_of_it * (1 + math.sqrt(1 + 2 * stiffness * gap / all_of_it)) if all_of_it > 0 else 0.0
            found.near("catch, dropped", si(ours["force"]), drop, 0.0, k.name)


def check_steps(k: Case, out: dict[str, Any], statics: Statics, forces: list[float], found: Compared) -> None:
    steps = out["schedule"].get("steps")
    if steps is None or k.loading == "water":
        return
    if k.edition.startswith("ACI"):
        found.holds("increments", len(steps) >= 4, str(len(steps)), k.name)
    before = 0.0
    soft = sum(f * u.deflection(k.gauges[0]) for f, u in zip(forces, statics.units, strict=True))
    for step in steps:
        found.holds("steps rise", step["fraction"] > before, str(step["fraction"]), k.name)
        before = step["fraction"]
        found.near("steps, force", si(step["force"]), step["fraction"] * sum(forces), 0.0, k.name)
        found.near("steps, reading", si(step["readings"][0]["soft"]), step["fraction"] * soft, abs(soft) * 1e-3, k.name, 1e-7)
    found.near("steps, last", before, 1.0, 0.0, k.name)


def test_random_documents() -> None:
    """Every quantity of every document, then how far off each was and how many ran."""
    found = Compared()
    ran: Counter[str] = Counter()
    for number in range(DOCUMENTS * SOAK):
        k = case(number, 1)
        try:
            design = ps.design(k.document)
        except ps.InputError as error:
            found.off.append(f"refused: {error}"[:300] + f"; {k.name}")
            continue
        out = json.loads(design.to_json())
        statics = Statics.of(k)
        every = check_target(k, design, statics, out["set"], found)
        forces = check_layout(k, out, statics, every, found)
        check_rig(k, out, forces, found)
        check_catch(k, out, forces, found)
        check_steps(k, out, statics, forces, found)
        modes = {"mode " + mode for mode, _, _ in k.regions}
        settled = "forces given" if k.given else "forces found"
        ran.update(["all", k.member, k.loading, "reaction " + k.reaction, "catch " + k.catch, settled, k.edition, *modes])
    print("\nran:", dict(ran))
    for what, (difference, name) in sorted(found.worst.items()):
        print(f"{what}: {found.count[what]} compared, largest difference {difference:.1e} ({name})")
    assert not found.off, f"{len(found.off)} differ:\n" + "\n".join(found.off[:40])
    assert ran["all"] >= 300
    assert all(ran[kind] >= 10 for kind in ("reaction frame", "catch line", "catch hinge over a support")), ran
    assert all(ran[kind] >= 20 for kind in (*MEMBERS, *CARRIERS, *("reaction " + r for r in REACTIONS))), ran


def test_the_frame_against_closed_forms() -> None:
    """The oracle itself: wL²/8, 5wL⁴/384EI, two equal spans 3/8 and 10/8, a cantilever tip, a hinge."""
    (one,) = Line(6.0, [Held(0.0), Held(6.0)], [(0.0, 2e7)]).solve([[uniform(0.0, 6.0, 1e3)]], [3.0])
    assert one.moment(3.0) == pytest.approx(4500.0)
    assert one.deflection(3.0) == pytest.approx(5 * 1e3 * 6.0**4 / 384 / 2e7)
    (two,) = Line(8.0, [Held(0.0), Held(4.0), Held(8.0)], [(0.0, 2e7)]).solve([[uniform(0.0, 8.0, 1e3)]])
    assert two.reactions == pytest.approx([1500.0, 5000.0, 1500.0])
    (arm,) = Line(3.0, [Held(0.0, fixed=True)], [(0.0, 2e7)]).solve([[Load(0.0, 0.0, 3.0, 900.0), Load(2.0, 500.0)]])
    assert arm.moment(0.0, "right") == pytest.approx(-(900.0 * 1.5 * 2.0 + 1000.0))
    assert arm.shear(0.0, "right") == pytest.approx(1850.0)
    (hung,) = Line(8.0, [Held(0.0), Held(4.0), Held(8.0)], [(0.0, 2e7)], [5.0]).solve([[uniform(5.0, 8.0, 1e3)]])
    assert hung.moment(5.0) == pytest.approx(0.0, abs=1e-6)
    assert hung.moment(4.0) == pytest.approx(-1500.0)
