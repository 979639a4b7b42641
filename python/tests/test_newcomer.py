"""The steps of the table on a member of one's own, without a document; every number redone from its working.

The formulas are read as text and computed in Python: nothing of the library is trusted but what it prints.
"""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import proofspan as ps
import pytest

SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"

#: What a formula may call: quotients and products that are asked for by name, and plain functions.
CALLS = {
    "per": lambda a, b: a / b,
    "over": lambda a, b: a / b,
    "spread": lambda a, b: a / b,
    "of": lambda a, b: a * b,
    "of_stress": lambda a, b: a * b,
    "rectangle": lambda b, h: b * h**3 / 12,
    "sqrt": math.sqrt,
    "pow": pow,
    "abs": abs,
    "min": min,
    "max": max,
}


def by_hand(step: ps.WorkingStep) -> float:
    """A formula with its numbers, in Python."""
    assert step.formula is not None
    assert "\n" not in step.formula
    text = re.sub(r"\w+\s*::\s*(\w+)", r"\1", step.formula).replace("^", "**")
    # the name of a letter that Python keeps for itself
    text = re.sub(r"\blambda\b", "lambda_", text)
    inputs = {"lambda_" if name == "lambda" else name: value.si for name, _, value in step.inputs}
    return float(eval(text, {"__builtins__": {}}, {**CALLS, **inputs}))


def redone(working: ps.Working) -> int:
    """How many lines were redone."""
    assert working.recheck() == []
    done = 0
    for step in working.steps:
        if step.formula is None or not step.symbol:
            continue
        # what cancels is as exact as its terms
        same = [abs(v.si) for _, _, v in step.inputs if v.kind == step.result.kind]
        assert by_hand(step) == pytest.approx(step.result.si, rel=1e-12, abs=1e-12 * max([abs(step.result.si), *same])), step.line
        done += 1
    for text in (working.text(), working.markdown(), working.html(), working.latex()):
        assert len(text) > 10
    return done


# a strip of two metres over eight metres
SPAN, DEPTH = "8 m", "450 mm"


def test_edition() -> None:
    edition = ps.edition("ACI 318-19")
    assert edition.sets and edition.criteria and edition.protocols
    assert {c.id for c in edition.criteria} >= {"residual"}


def test_test_load() -> None:
    asked = ps.test_load("IS 456:2000", {"self_weight": "5 kPa", "imposed": "4 kPa"}, in_place="self_weight", width="2 m")
    assert asked.net.to("kN/m") == pytest.approx(1.25 * 4 * 2)
    assert redone(asked.working()) > 0


def test_equivalent() -> None:
    beam = ps.Beam.simple(SPAN, "30000 kN·m²")
    reference = ps.Reference(beam, {"imposed": ps.Load.line("0 m", SPAN, "10 kN/m")}, region=("3 m", "5 m"))
    found = ps.optimise(reference, [ps.jack("3 m"), ps.jack("5 m")], "total", [ps.Reach("moment")])
    assert isinstance(found, ps.Certified)
    # 80 kN·m in the middle from both, 3 m from either bearing: only their sum counts there
    assert sum(force.to("kN") for _, force in found.forces) == pytest.approx(160 / 3)
    assert redone(found.working()) > 2
    none = ps.optimise(reference, [ps.jack("3 m")], "total", [ps.Reach("moment"), ps.DeflectionLimit(down="0.01 mm")])
    assert isinstance(none, ps.Conflict) and redone(none.working()) > 1


def test_reaction() -> None:
    below = ps.reaction(SPAN, "8 kN/m", [("3 m", "26.7 kN"), ("5 m", "26.7 kN")], weights=[("4 m", "20 kN")])
    # 8 * 8/2 + 10 against 26.7
    assert [b.factor for b in below.bearings] == pytest.approx([42 / 26.7] * 2)
    assert redone(below.working()) > 20


def test_hydraulics() -> None:
    pump = ps.hydraulics("53.4 kN", number=2, area="2000 mm²", rated_pressure="70 MPa", stroke="100 mm", deflection="14 mm", friction=0.05)
    assert pump.pressure.to("MPa") == pytest.approx(26.7 / 2 / 0.95)
    assert redone(pump.working()) > 3


def test_catch() -> None:
    post = ps.Catch(at="4 m", stiffness="10 kN/mm", gap="20 mm", resistance={"posts": 4, "rated": "200 kN"})
    level = ps.Level("below", stiffness="5 kN/mm", spare="400 kN", spare_after="own weight")
    held = ps.catch(
        SPAN, "10 kN/m", post, mode="shear", region=("0 m", "1 m"), reading="14 mm", reading_uncertainty="1 mm",
        levels=[level], post_stiffness="40 kN/mm", to_ground=True, depth=DEPTH,
    )  # fmt: skip
    assert held.catches[0].gap_low.to("mm") == pytest.approx(15)
    assert redone(held.working()) > 10


def test_acceptance() -> None:
    found = ps.acceptance("ACI 437.2-13", "14 mm", residual="2 mm", span=SPAN, depth=DEPTH, u="0.1 mm")
    assert all(row.code.state == "pass" for row in found.criteria)
    assert redone(found.working()) > 2


def test_record() -> None:
    columns = {
        "time": {"column": "t", "unit": "h"},
        "channels": [{"id": "middle", "column": "d", "unit": "mm", "role": "deflection", "at": "4 m", "u": 0.1}],
        "moments": {
            "zero": {"from": "0 h", "to": "0.5 h"}, "peak": {"from": "24 h", "to": "25 h"},
            "unloaded": "26 h", "residual": {"from": "50 h", "to": "51 h"},
        },
    }  # fmt: skip
    record = {
        "reached": "100 %", "held": "24 h", "stated_by": "engineer", "expiry": "2031-10-05",
        "observation": {"distress": "none", "by": "inspector", "date": "2026-10-05"},
    }  # fmt: skip
    log = "t,d\n0,0.1\n0.5,0.1\n24,14.1\n25,14.1\n50,2.1\n51,2.1\n"
    judged = ps.judge_record("ACI 437.2-13", log, columns, record, span=SPAN, depth=DEPTH)
    assert judged.deflections[0].d_max.to("mm") == pytest.approx(14)
    # two readings with u = 0.1 mm
    u = [step.result.to("mm") for step in judged.working().steps if step.symbol == "u_v"]
    assert u[0] == pytest.approx(0.1 * 2**0.5)
    assert redone(judged.working()) > 5


@pytest.mark.parametrize("name", ["terrace_strip", "gallery_beam", "classroom_strip", "archive_floor", "station_canopy"])
def test_a_design_and_its_judgement(name: str) -> None:
    def read(end: str) -> str:
        return (SCENARIOS / f"{name}.{end}").read_text(encoding="utf-8")

    design = ps.design(read("test.json"))
    judged = ps.judge(design, read("log.csv"), read("log.json"), read("record.json"))
    assert redone(design.working()) > 100 and redone(judged.working()) > 5


def test_a_wrong_line_is_seen() -> None:
    class Wrong:
        formula, symbol, line, inputs = "a * b", "c", "", [("a", "a", ps.Quantity("2 m")), ("b", "b", ps.Quantity("3 m"))]

    assert by_hand(Wrong()) == 6.0  # type: ignore[arg-type]


def names(found: Any) -> set[str]:
    return {step.symbol for step in found.working().steps}


def test_no_number_is_looked_up_elsewhere() -> None:
    below = ps.reaction(SPAN, "8 kN/m", [("3 m", "60 kN")], weights=[("4 m", "20 kN")])
    # stages, the least weight and its place are lines
    assert {"V", "M", "R", "C", "z", "lack", "stabilising", "uplift", "factor"} <= names(below)
