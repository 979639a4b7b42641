"""Conformity, risks, budgets; one record under every edition. Figures of tests/published/uncertainty.json."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

ROOT = Path(__file__).resolve().parents[2]
CASES: dict[str, dict[str, Any]] = {
    c["id"]: c
    for c in json.loads((ROOT / "tests/published/uncertainty.json").read_text(encoding="utf-8"))["cases"]
}
SCENARIOS = ROOT / "examples/scenarios"


def test_conformity() -> None:
    for name in ("U01", "U02", "U03", "U04", "U05"):
        given, expected = CASES[name]["inputs"], CASES[name]["expected"]
        p = ps.conformity(given["y"], given["u"], given["TL"], given["TU"])
        assert p == pytest.approx(expected["conformance_probability"], rel=1e-11)
    with pytest.raises(ps.InputError) as refused:
        ps.conformity(1.0, 0.0, upper=2.0)
    assert refused.value.issues[0]["code"] == "uncertainty.zero"
    with pytest.raises(ps.InputError) as refused:
        ps.conformity(1.0, 1.0)
    assert refused.value.issues[0]["code"] == "uncertainty.limits"


def test_risks() -> None:
    for name, guard in (("U11", 0.0), ("U12", 0.5)):
        given, expected = CASES[name]["inputs"], CASES[name]["expected"]
        acceptance, rejection = ps.decision_risks(given["y0"], given["u0"], given["um"], upper=given["TU"], guard=guard)
        assert acceptance == pytest.approx(expected["consumer_risk"], abs=1e-9)
        assert rejection == pytest.approx(expected["producer_risk"], abs=1e-9)
    u10 = CASES["U10"]
    guard = ps.guard_for_risk(u10["inputs"]["u"], u10["inputs"]["max_risk"])
    assert guard == pytest.approx(u10["expected"]["guard_band"], rel=1e-10)


def test_ratio_and_freedom() -> None:
    ratio = ps.shared_ratio(1.2, 6.0, 0.05)
    assert ratio.value == pytest.approx(0.2) and ratio.u == pytest.approx(0.0108012345, abs=1e-9)
    assert ratio.interval == pytest.approx((0.178224125, 0.221442356), abs=1e-8)
    u13 = CASES["U13"]
    u, freedom = ps.effective(u13["inputs"]["rel_u_percent"], u13["inputs"]["dof"])
    assert (u, freedom) == pytest.approx((u13["expected"]["uc_percent"], u13["expected"]["nu_eff"]))
    assert ps.effective([3.0, 3.0], [4.0, None]) == pytest.approx((18**0.5, 16.0))
    assert ps.effective([3.0])[1] is None


def test_one_record_under_every_edition() -> None:
    design = ps.design((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8"))
    log = (SCENARIOS / "gallery_beam.log.csv").read_text(encoding="utf-8")
    layout = json.loads((SCENARIOS / "gallery_beam.log.json").read_text(encoding="utf-8"))
    record = json.loads((SCENARIOS / "gallery_beam.record.json").read_text(encoding="utf-8"))
    found = design.side_by_side(log, layout, record)
    own = next(e for e in found.editions if e.edition == "ACI 318-19")
    assert own.guarded == ps.judge(design, log, layout, record).state
    assert found.table.count("all together") == len(found.editions) > 8 and not found.refused
    plain = ps.side_by_side(log, layout, record, span="9 m", depth="700 mm", clear_span="8.7 m", target="113.4 kN")
    assert [e.edition for e in plain.editions] == [e.edition for e in found.editions]
    assert plain.editions[0].criteria[0].code.state in {"pass", "fail"}
    with pytest.raises(ps.ProofspanError):
        ps.side_by_side(log, layout, record, span="9 m", depth="-700 mm")
    beside = ps.judge(design, log, layout, record, side_by_side=True)
    assert "The same record by every edition" in design.html(beside)
    assert "The same record by every edition" not in design.html(ps.judge(design, log, layout, record))
    assert len(beside.to_dict("SI")["by_edition"]["editions"]) == len(found.editions)
