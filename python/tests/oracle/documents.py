"""Random test documents of every kind, each beside the plain numbers it was made from (SI)."""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass, field
from typing import Any

from .frame import Held, Line, Load, uniform

MEMBERS = ("simple", "cantilever", "overhanging", "continuous", "line")
CARRIERS = ("jack_line", "spreader", "pad", "bags", "water", "wheels", "several")
REACTIONS = ("shift", "two spans", "cantilever", "platform", "anchors")
GAMMA_WATER = 9810.0


@dataclass
class Carrier:
    """A carrier as unit shares of its force: lines of contact, or line loads."""

    kind: str
    unit: list[Load]
    at: float
    jack: bool
    step: float | None = None
    given: float | None = None
    depth: float | None = None
    width: float = 0.0


@dataclass
class Case:
    """A document and what it was made from."""

    number: int
    member: str
    loading: str
    reaction: str
    document: dict[str, Any]
    line: Line
    regions: list[tuple[str, float, float]]
    actions: list[tuple[str, Load, float]]
    edition: str
    carriers: list[Carrier] = field(default_factory=list)
    given: bool = False
    below: Line | None = None
    below_at: float = 0.0
    own: float = 0.0
    weights: list[tuple[float, float]] = field(default_factory=list)
    bars: list[float] = field(default_factory=list)
    frame: list[float] = field(default_factory=list)
    shear_alone: bool = False
    anchors: list[float] = field(default_factory=list)
    catches: list[tuple[float, float, float]] = field(default_factory=list)
    catch: str = "none"
    gauges: list[float] = field(default_factory=list)
    levels: list[float] = field(default_factory=list)
    posts: float = 0.0
    ground: float = 0.0

    def pulled(self, carrier: Carrier) -> list[Load]:
        """What a frame that holds on the member pulls up under a unit force: levers about the jack."""
        if not self.frame or not carrier.jack:
            return []
        a, b = self.frame
        return [Load(a, -(b - carrier.at) / (b - a)), Load(b, -(carrier.at - a) / (b - a))]

    @property
    def name(self) -> str:
        return f"{self.number}: {self.member}, {self.regions}, {self.loading}, {self.reaction}, {self.catch}"


def m(x: float) -> str:
    return f"{x!r} m"


def _member(r: random.Random, kind: str) -> tuple[dict[str, Any], Line]:
    def length(a: float = 5.0, b: float = 11.0) -> float:
        return round(r.uniform(a, b), 2)

    inertia = round(r.uniform(0.002, 0.006), 5)
    soft = {"modulus": "25 GPa", "second_moment": f"{inertia!r} m^4"}
    stiff = {"modulus": "30 GPa", "second_moment": f"{2 * inertia!r} m^4"}
    spec: dict[str, Any] = {"kind": kind, "depth": "600 mm", "soft": soft, "stiff": stiff}
    ei = [(0.0, 25e9 * inertia)]
    if kind == "simple":
        span = length()
        spec["span"] = m(span)
        return spec, Line(span, [Held(0.0), Held(span)], ei)
    if kind == "cantilever":
        span = length(2.5, 5.0)
        spec["span"] = m(span)
        return spec, Line(span, [Held(0.0, fixed=True)], ei)
    if kind == "overhanging":
        span, over = length(), length(1.5, 3.0)
        left = r.choice([0.0, 0.8])
        spec |= {"span": m(span), "right_overhang": m(over)} | ({"left_overhang": m(left)} if left else {})
        return spec, Line(left + span + over, [Held(left), Held(left + span)], ei)
    spans = [length(4.0, 8.0) for _ in range(r.choice([2, 3]))]
    places = [round(x, 6) for x in itertools.accumulate([0.0, *spans])]
    if kind == "continuous":
        spec["span"] = [m(x) for x in spans]
        return spec, Line(places[-1], [Held(x) for x in places], ei)
    spec["kind"] = "continuous"
    supports, held = [], []
    for i, x in enumerate(places):
        word, more = Held(x), {"at": m(x)}
        if i == 0 and r.random() < 0.5:
            more["kind"], word = "fixed", Held(x, fixed=True)
            if r.random() < 0.5:
                more["rotational"], word = "30000 kN·m/rad", Held(x, fixed=True, turning=3e7)
        elif r.random() < 0.5:
            more["stiffness"], word = "80 kN/mm", Held(x, spring=8e7)
        supports.append(more)
        held.append(word)
    spec["supports"] = supports
    line = Line(places[-1], held, ei)
    if r.random() < 0.5:
        line.hinges = [round(places[1] + 0.2 * spans[1], 4)]
        spec["hinges"] = [m(line.hinges[0])]
    if r.random() < 0.5:
        start = round(places[1] + 0.5, 4)
        spec["stretches"] = [{"from": m(start), "soft": {"modulus": "25 GPa", "second_moment": "0.0065 m^4"}, "stiff": {"modulus": "30 GPa", "second_moment": "0.013 m^4"}}]
        line.stiffness = [*ei, (start, 25e9 * 0.0065)]
    return spec, line


def _region(r: random.Random, kind: str, line: Line) -> tuple[list[tuple[str, float, float]], list[tuple[float, float]]]:
    """Regions in doubt, and the stretches on which carriers reach them."""
    spans = line.spans()

    def part(span: tuple[float, float], a: float, b: float) -> tuple[float, float]:
        return round(span[0] + a * (span[1] - span[0]), 4), round(span[0] + b * (span[1] - span[0]), 4)

    if kind == "cantilever":
        mode = r.choice(["hogging", "shear"])
        return [(mode, 0.0, part(spans[0], 0, r.uniform(0.15, 0.3))[1])], [part(spans[0], 0.45, 0.95)]
    if kind == "overhanging":
        main, over = spans[-2], spans[-1]
        if r.random() < 0.6:
            xs = over[0]
            return [("hogging", round(xs - 0.5, 4), round(xs + 0.3, 4))], [part(over, 0.45, 0.95)]
        return [("flexure", *part(main, 0.35, 0.55))], [part(main, 0.3, 0.6)]
    if kind == "simple":
        if r.random() < 0.4:
            region = part(spans[0], r.uniform(0.1, 0.14), r.uniform(0.2, 0.28))
            return [("shear", *region)], [(round(region[1] + 0.05, 4), part(spans[0], 0, 0.5)[1])]
        return [("flexure", *part(spans[0], r.uniform(0.35, 0.45), r.uniform(0.5, 0.65)))], [part(spans[0], 0.3, 0.7)]
    if kind in ("continuous", "line") and r.random() < 0.3:
        # left of the inner support the shear has one sign under every pattern
        region = part(spans[0], r.uniform(0.72, 0.76), r.uniform(0.84, 0.88))
        return [("shear", *region)], [part(spans[0], 0.4, 0.65)]
    if kind == "continuous" and r.random() < 0.5:
        xs = spans[0][1]
        return [("hogging", round(xs - 0.3, 4), round(xs + 0.3, 4))], [part(spans[0], 0.4, 0.65), part(spans[1], 0.35, 0.6)]
    return [("flexure", *part(spans[0], 0.35, 0.5))], [part(spans[0], 0.35, 0.6)]


def _carriers(r: random.Random, loading: str, room: list[tuple[float, float]], total: float | None) -> tuple[list[dict[str, Any]], list[Carrier]]:
    """Carriers on stretches; with their forces where a total is given."""
    specs: list[dict[str, Any]] = []
    made: list[Carrier] = []
    kinds = [loading] if loading != "several" else [r.choice(["jack_line", "spreader", "pad"]), r.choice(["jack_line", "spreader", "pad"])]
    if len(kinds) < len(room):
        kinds = kinds * len(room)
    stretches = list(room)
    if len(kinds) > len(stretches):
        (a, b) = stretches[0]
        stretches = [(a, round((a + b) / 2 - 0.05, 4)), (round((a + b) / 2 + 0.05, 4), b)]
    for i, (kind, (a, b)) in enumerate(zip(kinds, stretches, strict=True)):
        force = None if total is None else round(total * r.uniform(0.7, 1.3) / len(kinds), 0)
        told = {} if force is None else {"force": f"{force!r} N"}
        width = b - a
        if kind == "jack_line":
            at = round(r.uniform(a, b), 3)
            specs.append({"kind": kind, "at": m(at), **told})
            made.append(Carrier(kind, [Load(at, 1.0)], at, True, given=force))
        elif kind == "spreader":
            if r.random() < 0.3 and width > 0.6:
                places = [round(a + f * width, 4) for f in (0.1, 0.5, 0.9)]
                shares = [0.25, 0.5, 0.25]
                told["shares"] = shares  # type: ignore[assignment]
            else:
                places = [round(a + f * width, 4) for f in (r.uniform(0.0, 0.3), r.uniform(0.7, 1.0))]
                shares = [0.5, 0.5]
            specs.append({"kind": kind, "contacts": [m(x) for x in places], **told})
            unit = [Load(x, s) for x, s in zip(places, shares, strict=True)]
            made.append(Carrier(kind, unit, sum(u.at * u.size for u in unit), True, given=force))
        elif kind == "pad":
            specs.append({"kind": kind, "from": m(a), "to": m(b), **told})
            made.append(Carrier(kind, [uniform(a, b, 1 / width)], (a + b) / 2, True, given=force))
        elif kind == "wheels":
            behind = round(min(width * 0.6, 1.2), 3)
            shares = [0.4, 0.6]
            specs.append({"kind": kind, "at": m(a), "behind": [m(behind)], "shares": shares, **told})
            made.append(Carrier(kind, [Load(a, 0.4), Load(round(a + behind, 6), 0.6)], a + 0.6 * behind, False, given=force))
        elif kind == "bags":
            pile, gap, layer, unit_weight, across = round(min(0.5, width / 3), 3), 0.05, 0.05, 15e3, 2.0
            count = int((width + gap) / (pile + gap) * (1 + 1e-12))
            per = unit_weight * layer * across
            spec: dict[str, Any] = {"kind": kind, "from": m(a), "to": m(b), "pile": m(pile), "gap": "0.05 m", "width": "2.0 m", "unit_weight": "15 kN/m^3", "layer": "0.05 m", "most_layers": 1000}
            weight = per * pile * count
            if force is not None:
                layers = max(1, round(force / weight))
                spec["layers"], force = layers, layers * weight
            specs.append(spec)
            starts = [a + i * (pile + gap) for i in range(count)]
            made.append(Carrier(kind, [uniform(s, s + pile, 1 / (count * pile)) for s in starts], a + (count * (pile + gap) - gap) / 2, False, weight, force))
        else:
            depth = round(r.uniform(0.2, 0.6), 3)
            specs.append({"kind": "water", "from": m(a), "to": m(b), "width": "2.0 m", "rim": "3 m", "freeboard": "0.1 m", "depth": m(depth)})
            made.append(Carrier("water", [uniform(a, b, 1 / width)], (a + b) / 2, False, given=GAMMA_WATER * depth * 2.0 * width, depth=depth, width=2.0))
    return specs, made


RECORDS = {
    key: {"state": "done", "by": "engineer", "date": "2026-06-01"} for key in ("survey", "consent", "watch", "zone_clear", "tendons_located", "strength_ready")
}
STRONG = {
    "rigidity": {"modulus": "30 GPa", "second_moment": "0.05 m^4"},
    "shear_capacity": "90 MN",
    "sagging_capacity": "90000 kN·m",
    "hogging_capacity": "90000 kN·m",
}


def _rig(r: random.Random, case: Case) -> dict[str, Any]:
    jacks = [c for c in case.carriers if c.jack]
    if not jacks:
        return {}
    first, last = min(c.at for c in jacks), max(c.at for c in jacks)
    kind = case.reaction
    _, low, high = case.regions[0]
    spec: dict[str, Any] = {"id": "R", "kind": "member", "seat": "seated", **STRONG}
    reach = (first, last)
    reaction: dict[str, Any]
    if kind == "frame":
        main = next((a, b) for a, b in case.line.spans() if a <= low and high <= b)
        a = round(min(low, first) - r.uniform(0.1, 0.9) * (min(low, first) - main[0]), 3)
        b = round(max(high, last) + r.uniform(0.1, 0.9) * (main[1] - max(high, last)), 3)
        case.frame = [a, b]
        reaction = {"id": "R", "kind": "frame"}
    elif kind == "anchors":
        a, b = round(first - r.uniform(0.2, 1.0), 3), round(last + r.uniform(0.2, 1.0), 3)
        case.anchors = [a, b]
        reaction = {"id": "R", "kind": "anchors", "anchors": [{"at": m(x), "capacity": "90 MN"} for x in (a, b)]}
    else:
        case.own = round(r.uniform(20e3, 60e3), 0)
        spec["self_weight"] = f"{case.own!r} N/m"
        start = case.below_at = round(first - r.uniform(0.5, 3.0), 3)
        end = round(last + r.uniform(0.5, 3.0), 3)
        length = round(end - start, 6)
        ei = [(0.0, 30e9 * 0.05)]
        if kind == "cantilever":
            spec |= {"kind": "cantilever", "span": m(length), "uplift_capacity": "90 MN"}
            spec.pop("seat")
            case.below = Line(length, [Held(0.0, fixed=True)], ei)
        elif kind == "two spans":
            one = round(length * r.uniform(0.4, 0.6), 4)
            two = round(length - one, 6)
            spec["span"] = [m(one), m(two)]
            case.below = Line(one + two, [Held(0.0), Held(one), Held(one + two)], ei)
        elif kind == "platform":
            spec |= {"kind": "platform", "span": m(length)}
            spec.pop("self_weight")
            spec.pop("seat")
            case.own = 0.0
            case.below = Line(length, [Held(0.0), Held(length)], ei)
        else:
            over = r.choice([0.0, 1.0])
            spec["span"] = m(length)
            if over:
                spec["right_overhang"] = m(over)
            case.below = Line(length + over, [Held(0.0), Held(length)], ei)
        spec["at"] = m(start)
        reach = (start, start + case.below.length)
        reaction = spec
        for _ in range(r.choice([1, 2])):
            at = round(r.uniform(start + 0.1, end - 0.1), 3)
            case.weights.append((at, round(r.choice([1, 8]) * r.uniform(2e4, 2e5), 0)))
    circuits = [f"c{i}" for i in range(len(jacks))]
    records = [{"circuit": c, "number": 2, "piston": {"area": "9000 mm^2"}, "rated_pressure": "700 MPa", "stroke": "900 mm", "friction": "2 %"} for c in circuits]
    rig: dict[str, Any] = {"reaction": reaction, "jacks": records if len(records) > 1 else records[0]}
    for c, spec_of in zip(circuits, [s for s, made in zip(case.document["layout"]["carrier"], case.carriers, strict=True) if made.jack], strict=True):
        spec_of["circuit"] = c
    if case.weights:
        rig["counterweights"] = [{"force": f"{w!r} N", "at": m(at)} for at, w in case.weights]
    if kind == "frame":
        rig["bars"] = {"number": 4, "area": "900 mm^2", "length": "3 m", "modulus": "200 GPa", "working_load": "90 MN", "places": [m(x) for x in case.frame]}
    if len(jacks) == 1 and kind in ("shift", "two spans") and r.random() < 0.5:
        at = jacks[0].at
        case.bars = [round(max(reach[0], at - r.uniform(0.2, 0.8)), 3), round(min(reach[1], at + r.uniform(0.2, 0.8)), 3)]
        rig["bars"] = {"number": 4, "area": "900 mm^2", "length": "3 m", "modulus": "200 GPa", "working_load": "90 MN", "places": [m(x) for x in case.bars]}
    return rig


def _catches(r: random.Random, case: Case) -> dict[str, Any]:
    """Catches where a piece falls in a way that equilibrium alone tells."""
    mode, a, b = case.regions[0]
    gap = 0.2
    places: list[float] = []
    if case.member == "simple":
        case.catch = "shear" if mode == "shear" else "flexure"
        places = [round(a * r.uniform(0.6, 0.95), 3), round(b + (case.line.length - b) * r.uniform(0.05, 0.3), 3)]
    elif case.member == "cantilever":
        case.catch = "cantilever"
        places = [round(b + 0.2, 3), round(case.line.length * r.uniform(0.85, 1.0), 3)]
    elif case.member == "overhanging" and mode == "hogging" and case.line.supports[0].at == 0.0:
        case.catch, gap = "overhang", 0.0
        xs = case.line.supports[1].at
        places = [round(a - r.uniform(0.2, 1.0), 3), round(b + r.uniform(0.2, 0.4), 3), round(case.line.length - r.uniform(0.0, 0.3), 3)]
        assert places[1] > xs
    elif len(case.line.supports) >= 2:
        # a place right of the first bearing, one left of the next or of that after it
        case.catch = "hinge over a support" if mode == "hogging" and case.member == "continuous" else "line"
        if mode == "hogging" and case.member != "continuous":
            case.catch = "not compared"
        near = [s.at for s in case.line.supports]
        places = [round(max(a - 0.3, near[0] + 0.2), 3), round(b + 0.3, 3)]
    stiffness = 1e7
    case.catches = [(x, stiffness, gap) for x in places]
    spec: dict[str, Any] = {"drive": "locked_off_jacks" if any(c.jack for c in case.carriers) else "weights"}
    if places:
        spec["catch"] = [
            {"at": m(x), "stiffness": "10 kN/mm", "gap": m(gap), "resistance": {"posts": 10, "rated": "90 MN"}} for x in places
        ]
        case.levels = [round(r.uniform(5e6, 2e7), 0) for _ in range(r.choice([1, 2, 3]))]
        case.posts = round(r.uniform(3e7, 9e7), 0)
        case.ground = 20 * case.posts - 3 * case.levels[0]
        spec["levels"] = [{"id": f"level {i}", "stiffness": f"{k!r} N/m", "spare": "90 MN", "spare_after": "all"} for i, k in enumerate(case.levels)]
        spec |= {"to_ground": True, "post_stiffness": f"{case.posts!r} N/m", "ground": {"stiffness": f"{case.ground!r} N/m", "carries": "900 MN"}}
    return spec


def case(number: int, seed: int) -> Case:
    """One document; member, carrier and reaction change with the number, all else by chance."""
    r = random.Random(f"{seed} {number}")
    member = MEMBERS[number % 5]
    loading = CARRIERS[(number // 5) % 7]
    edition = "IS 456:2000" if r.random() < 0.25 else "ACI 437.2-13"
    spec, line = _member(r, member)
    regions, room = _region(r, member, line)
    width = round(r.uniform(2.0, 4.0), 2)
    own, more, live = (round(r.uniform(a, b), 2) for a, b in ((3, 6), (0.5, 2), (2, 6)))
    in_place = r.choice([1.0, 0.5])
    whole = (0.0, line.length)
    listed: list[dict[str, Any]] = [
        {"action": "self_weight", "area": f"{own!r} kPa", "in_place": 1},
        {"action": "superimposed_dead", "area": f"{more!r} kPa", "in_place": in_place},
        {"action": "live", "area": f"{live!r} kPa", "occupancy": "other"},
    ]
    actions = [
        ("Dw", uniform(*whole, own * 1e3 * width), 1.0),
        ("Ds", uniform(*whole, more * 1e3 * width), in_place),
        ("L", uniform(*whole, live * 1e3 * width), 0.0),
    ]
    if edition.startswith("ACI"):
        if r.random() < 0.4:
            listed.append({"action": "rain", "area": "0.5 kPa"})
            actions.append(("R", uniform(*whole, 500.0 * width), 0.0))
        if r.random() < 0.4:
            end = round(line.length * 0.4, 3)
            listed.append({"action": "rain", "taper": {"peak": "1.5 kPa", "at": "0 m", "zero_at": m(end)}})
            actions.append(("R", Load(0.0, 1500.0 * width, end, 0.0), 0.0))
    if r.random() < 0.4:
        at = round(line.length * r.uniform(0.1, 0.9), 3)
        listed.append({"action": "live", "point": {"at": m(at), "force": "8 kN"}, "occupancy": "other"})
        actions.append(("L", Load(at, 8e3), 0.0))
    rough = (own + more + live) * 1e3 * width * max(b - a for a, b in line.spans())
    # a far span loaded alone asks for a little shear of the other sign, which no jack here reaches
    alone = regions[0][0] == "shear" and member in ("continuous", "line")
    given = loading == "water" or r.random() < 0.3 or alone
    specs, carriers = _carriers(r, loading, room, rough if given else None)
    document: dict[str, Any] = {
        "schema_version": 1,
        "title": f"random {number}",
        "scope": {
            "question": "Does it carry?",
            "member": {"id": "T", "kind": "beam", "unit": "beam"},
            "doubt": [{"mode": mode, "from": m(a), "to": m(b)} for mode, a, b in regions],
        },
        "beam": spec,
        "loads": {"width": m(width), "actions": listed},
        "edition": {"id": edition},
        "layout": {"carrier": specs, "ends": "seated"},
        "records": RECORDS,
    }
    made = Case(number, member, loading, "none", document, line, regions, actions, edition, carriers, given)
    if any(c.jack for c in carriers):
        made.reaction = REACTIONS[number % 7 % 5]
        if member in ("simple", "overhanging") and regions[0][0] == "flexure" and r.random() < 0.5:
            made.reaction = "frame"
    if alone:
        document["layout"]["reproduce"] = ["shear"]
        made.shear_alone = True
    document["rig"] = _rig(r, made)
    document["shoring"] = _catches(r, made)
    a, b = regions[0][1:]
    made.gauges = [round((a + b) / 2, 4)]
    document["protocol"] = {"gauges": [{"id": "g", "at": m(made.gauges[0]), "u": "0.02 mm", "range": "500 mm"}]}
    return made
