"""Each step on its own: plain quantities in, a typed answer out; the same bits as inside `design`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import proofspan as ps
from proofspan.units import kN, m, mm

SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"
NAMES = ("terrace_strip", "gallery_beam")


def document(name: str) -> dict[str, object]:
    found: dict[str, object] = json.loads((SCENARIOS / f"{name}.test.json").read_text(encoding="utf-8"))
    return found


def paths(caught: pytest.ExceptionInfo[ps.ProofspanError]) -> list[str]:
    return [issue["path"] for issue in caught.value.issues]


def test_acceptance_by_hand() -> None:
    # 12.0 and 3.2 mm on 6 m: limits 6000/180 and 12/4 mm; U = 0.2 sqrt(1 + 1/16 + 9/16) mm
    found = ps.acceptance("ACI 437.2-13", "12.0 mm", residual=3.2 * mm, span="6 m", depth="400 mm", u="0.1 mm")
    rows = {row.id: row for row in found.criteria}
    residual, deflection = rows["residual"], rows["deflection"]
    assert (residual.code.state, residual.guarded.state) == ("fail", "inconclusive")
    assert residual.code.limit is not None and residual.code.limit.to("mm") == pytest.approx(3, rel=1e-12)
    assert residual.code.expanded_uncertainty is not None
    assert residual.code.expanded_uncertainty.to("mm") == pytest.approx(0.2 * 1.625**0.5, rel=1e-12)
    assert deflection.guarded.state == "pass" and deflection.code.side == "at_most"
    assert deflection.code.limit is not None and deflection.code.limit.to("mm") == pytest.approx(100 / 3, rel=1e-12)
    assert found.retest is not None and not residual.waived
    assert len(found.verdicts) == len(found.criteria) and found.lt == 6 * m
    assert "lt / 180" in found.working() and found.to_dict()["edition"] == found.edition
    assert found == ps.acceptance("ACI 437.2-13", 12 * mm, residual="3.2 mm", span=6 * m, depth=0.4 * m, u=0.1 * mm)


def test_acceptance_is_that_of_a_judgement() -> None:
    for name in NAMES:
        design = ps.design(document(name))
        read = {end: (SCENARIOS / f"{name}.{end}").read_text(encoding="utf-8") for end in ("log.csv", "log.json", "record.json")}
        judged = ps.judge(design, read["log.csv"], read["log.json"], read["record.json"]).to_dict()
        beam = design.spec.beam
        for gauge in judged["deflections"]:
            found = ps.acceptance(
                design.spec.edition["id"],
                gauge["d_max"],
                residual=gauge["d_r"],
                u=gauge["u_reading"],
                span=beam["span"],
                clear_span=beam["clear_span"],
                depth=beam["depth"],
            )
            for row in found.criteria:
                inside = next(c for c in judged["criteria"] if c["id"] == row.id)
                own = next((g for g in inside["gauges"] if g["gauge"] == gauge["gauge"]), None)
                if own is not None:
                    assert row.code.demand == own["code"]["demand"] and row.code.limit == own["code"]["limit"]


def test_load_by_hand() -> None:
    # 4.8 + 1.1 * 1.2 + 1.6 * 4 + 0.5 * 1.5 = 13.27 kPa, of which 6.0 are there
    nominal = {"self_weight": "4.8 kPa", "superimposed_dead": "1.2 kPa", "live": "4 kPa", "snow": "1.5 kPa"}
    found = ps.test_load("ACI 437.2-13", nominal, in_place=["self_weight", "superimposed_dead"])
    assert found.total.to("kPa") == pytest.approx(13.27, rel=1e-12) and found.net.to("kPa") == pytest.approx(7.27, rel=1e-12)
    assert found.in_place.to("kPa") == pytest.approx(6, rel=1e-12) and found.total.kind == "AreaLoad"
    assert [t.id for t in found.terms if t.governs] == found.governing and len(found.governing) == 1
    tie = ps.test_load("ACI 437.2-13", {"self_weight": "4 kPa", "live": "3.6666666666666667 kPa", "snow": "2 kPa"}, in_place="self_weight")
    assert len(tie.governing) == 2
    wide = ps.test_load("ACI 437.2-13", nominal, in_place=["self_weight"], width="3 m")
    assert wide.total.kind == "LineLoad" and wide.total.to("kN/m") == pytest.approx(3 * 13.27, rel=1e-12)
    assert "w" in found.working() and found.verdicts == []


def test_load_is_the_intensity_of_a_target() -> None:
    target = ps.design(document("gallery_beam")).target
    nominal: dict[str, str | dict[str, str]] = {"self_weight": "5.0 kPa", "superimposed_dead": "1.2 kPa", "live": {"area": "4.0 kPa", "occupancy": "public_assembly"}}
    found = ps.test_load("ACI 318-19", nominal, in_place=["self_weight", "superimposed_dead"], width="3.0 m")
    assert found.net == target.governing("intensity", "2 m") and found.set == target.set
    assert found.total == target.governing("intensity", "2 m", basis="total")


def test_reaction_by_hand() -> None:
    # 8 m, 10 kN/m: 40 kN a bearing; 60 kN at 3 m lift 37.5 and 22.5; 20 kN at 2 m hold 15 and 5
    found = ps.reaction("8 m", "10 kN/m", [("3 m", "60 kN")], weights=[(2 * m, 20 * kN)])
    assert [b.factor for b in found.bearings] == pytest.approx([55 / 37.5, 45 / 22.5], rel=1e-12)
    assert found.floor == pytest.approx(1.5 / 0.9, rel=1e-12)
    assert [b.verdict.state for b in found.bearings] == ["fail", "pass"]
    full = next(s for s in found.stages if s.name == "full test load")
    assert [r[1].to("kN") for r in full.reactions] == pytest.approx([17.5, 22.5], rel=1e-9)
    assert found.advice == "a weight" and found.least_weight is not None
    # the moment under the pull, 112.5 less 75 of own weight, asks for 37.5/(3 · 5/8) = 20 kN at 3 m
    assert found.least_weight.force.to("kN") >= 20 - 1e-9
    assert any(code == "rig.liftoff-below-floor" for code, _ in found.stops)
    light = ps.reaction("8 m", "10 kN/m", [("4 m", "10 kN")], weights=[], hogging_capacity="0 kN·m")
    assert light.advice == "nothing lifts" and light.least_weight is None


def test_catch_by_hand() -> None:
    # 10 · 10 · 5/5 = 100 kN falls 10 mm on 10 kN/mm: 100 (1 + sqrt 3) kN; 400 kN stop 40 mm
    post = ps.Catch(at="5 m", stiffness="10 kN/mm", gap="10 mm", resistance={"posts": 4, "rated": "100 kN"})
    found = ps.catch("10 m", "10 kN/m", post, mode="shear", region=("0 m", "1 m"), reading="4 mm", to_ground=True)
    [caught] = found.catches
    assert caught.own.to("kN") == pytest.approx(100, rel=1e-12) and caught.force.to("kN") == pytest.approx(100 * (1 + 3**0.5), rel=1e-12)
    assert caught.gap_high is not None and caught.gap_high.to("mm") == pytest.approx(40, rel=1e-9)
    assert caught.gap_low.to("mm") == pytest.approx(4, rel=1e-12) and caught.resistance == 400 * kN


def test_hydraulics_by_hand() -> None:
    # 100 kN on two pistons of 5000 mm²: 10 MPa; 12 + 3 mm of travel
    found = ps.hydraulics("100 kN", number=2, area="5000 mm^2", rated_pressure="70 MPa", stroke="150 mm", deflection="12 mm", rise="3 mm")
    assert found.pressure.to("MPa") == pytest.approx(10, rel=1e-12) and found.travel.to("mm") == pytest.approx(15, rel=1e-12)
    assert found.stroke_used == pytest.approx(0.1, rel=1e-12) and [v.state for v in found.verdicts] == ["pass", "pass"]


def test_problems_are_called_as_the_arguments() -> None:
    with pytest.raises(ps.InputError) as caught:
        ps.acceptance("ACI 318-19", 6, residual="1 kN", span="-6 m", u="0 mm")  # type: ignore[arg-type]
    assert sorted(paths(caught)) == ["deflection", "residual", "span", "u"]
    with pytest.raises(ps.InputError) as caught:
        ps.acceptance("ACI 318-91", "6 mm", span="6 m")
    assert paths(caught) == ["edition.id"]
    with pytest.raises(ps.InputError) as caught:
        ps.test_load("ACI 318-19", {"live": "4 kN", "lve": "4 kPa"}, in_place=["self_weight"])
    assert set(paths(caught)) <= {"nominal.live", "nominal.lve", "nominal", "in_place[0]", "in_place"}, paths(caught)
    with pytest.raises(ps.InputError) as caught:
        ps.reaction("8 m", "10 kN/m", [("9 m", "60 kN")], weights=[("1 m", "-2 kN")])
    assert paths(caught) == ["weights[0].force"]
    with pytest.raises(ps.InputError) as caught:
        ps.reaction("8 m", "10 kN/m", [("9 m", "60 kN")])
    assert paths(caught) == ["pulls.at"]
    with pytest.raises(ps.InputError) as caught:
        ps.hydraulics("100 kN", rated_pressure="70 MPa", stroke="150 mm")
    assert paths(caught) == ["area"]
    with pytest.raises(TypeError):
        ps.hydraulics("100 kN", rated_pressure="70 MPa")  # type: ignore[call-arg]
