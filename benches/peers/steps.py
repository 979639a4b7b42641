"""Each step from Python beside its time in Rust, with quantities and with text.

    cargo bench --bench steps > steps.txt
    python benches/peers/steps.py steps.txt
"""

from __future__ import annotations

import gc
import sys
import time
from collections.abc import Callable
from pathlib import Path

import proofspan as ps
from proofspan.units import MPa, ft, inch, kN, kPa, m, mm

READ = {end: Path(f"examples/scenarios/terrace_strip.{end}").read_text(encoding="utf-8") for end in ("test.json", "log.csv", "log.json", "record.json")}
TARGET = ps.design(READ["test.json"]).target
COLUMNS, RECORD = ps.LogSpec.from_json(READ["log.json"]), ps.RunRecord.from_json(READ["record.json"])
SPEC = ps.LayoutSpec(carrier=ps.JackLine(at=6 * ft))
LINE, AREA = kN / m, mm * mm
PAIRS, WEIGHTS = [(3 * m, 60 * kN)], [(2 * m, 20 * kN)]
CATCH = ps.Catch(at=5 * m, stiffness=10 * kN / mm, gap=10 * mm, resistance={"posts": 4, "rated": 100 * kN})
Q = {"own": 4.8 * kPa, "live": 4 * kPa, "L": 8 * m, "w": 10 * LINE, "F": 100 * kN, "A": 5000 * AREA, "p": 70 * MPa, "s": 150 * mm}
T = {"d": 12 * mm, "r": 2 * mm, "l": 6 * m, "h": 400 * mm, "u": 0.1 * mm, "x0": 0 * m, "x1": 1 * m, "span": 10 * m, "g": 300 * kN, "S": 45 * ft, "H": 34 * inch}
NAME = "ACI 437.2-13"

# the step with quantities, the same with text, how many texts
STEPS: dict[str, tuple[Callable[[], object], Callable[[], object], int]] = {
    "edition": (lambda: ps.edition(NAME), lambda: ps.edition(NAME), 0),
    "test_load": (
        lambda: ps.test_load(NAME, {"self_weight": Q["own"], "live": Q["live"]}, in_place="self_weight"),
        lambda: ps.test_load(NAME, {"self_weight": "4.8 kPa", "live": "4 kPa"}, in_place="self_weight"),
        2,
    ),
    "equivalent": (lambda: ps.layout(TARGET, SPEC, effective_depth=T["H"]), lambda: ps.layout(TARGET, SPEC, effective_depth="34 in"), 1),
    "reaction": (
        lambda: ps.reaction(Q["L"], Q["w"], PAIRS, weights=WEIGHTS),
        lambda: ps.reaction("8 m", "10 kN/m", [("3 m", "60 kN")], weights=[("2 m", "20 kN")]),
        6,
    ),
    "hydraulics": (
        lambda: ps.hydraulics(Q["F"], number=2, area=Q["A"], rated_pressure=Q["p"], stroke=Q["s"]),
        lambda: ps.hydraulics("100 kN", number=2, area="5000 mm^2", rated_pressure="70 MPa", stroke="150 mm"),
        4,
    ),
    "catch": (
        lambda: ps.catch(T["span"], Q["w"], CATCH, mode="shear", region=(T["x0"], T["x1"]), to_ground=True, ground={"carries": T["g"]}),
        lambda: ps.catch("10 m", "10 kN/m", CATCH, mode="shear", region=("0 m", "1 m"), to_ground=True, ground={"carries": "300 kN"}),
        5,
    ),
    "acceptance": (
        lambda: ps.acceptance(NAME, T["d"], residual=T["r"], span=T["l"], depth=T["h"], u=T["u"]),
        lambda: ps.acceptance(NAME, "12 mm", residual="2 mm", span="6 m", depth="400 mm", u="0.1 mm"),
        5,
    ),
    "judge a record": (
        lambda: ps.judge_record(NAME, READ["log.csv"], COLUMNS, RECORD, span=T["S"], depth=T["H"]),
        lambda: ps.judge_record(NAME, READ["log.csv"], COLUMNS, RECORD, span="45 ft", depth="34 in"),
        2,
    ),
}


def best(step: Callable[[], object]) -> float:
    """The shortest of many runs in microseconds."""
    shortest, begun = float("inf"), time.perf_counter()
    while time.perf_counter() - begun < 0.7:
        start = time.perf_counter()
        step()
        shortest = min(shortest, time.perf_counter() - start)
    return shortest * 1e6


def main() -> None:
    gc.disable()
    rust = {}
    for line in Path(sys.argv[1]).read_text(encoding="utf-8").splitlines():
        name, _, nanoseconds = line.rpartition(" ")
        if name in STEPS:
            rust[name] = int(nanoseconds) / 1000
    print(f"{'step':<16}{'Rust':>9}{'Python':>9}{'over':>7}{'text':>9}{'a text':>8}   us")
    for name, (quantities, texts, count) in STEPS.items():
        own, by_text = best(quantities), best(texts)
        each = (by_text - own) / count if count else 0.0
        print(f"{name:<16}{rust[name]:9.2f}{own:9.2f}{own - rust[name]:7.2f}{by_text:9.2f}{each:8.2f}")


if __name__ == "__main__":
    main()
