"""What a hostile user or a tired engineer writes: refused in words, never a wrong number without one."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps
from proofspan.units import m

SCENARIOS = Path(__file__).parents[2] / "examples" / "scenarios"
TEXT = (SCENARIOS / "terrace_strip.test.json").read_text(encoding="utf-8")
BEAM = ps.Beam.simple("8 m", "30000 kN·m²")
LOADS = ps.Loads(width="2 m", self_weight="4 kPa", live="3 kPa", in_place=["self_weight"])


def told(call: Callable[[], Any]) -> list[tuple[str, str]]:
    with pytest.raises(ps.InputError) as caught:
        call()
    return [(issue["code"], issue.get("path", "")) for issue in caught.value.issues]


def document(**changes: Any) -> dict[str, Any]:
    whole: dict[str, Any] = copy.deepcopy(json.loads(TEXT))
    for name, change in changes.items():
        whole[name].update(change)
    return whole


def test_words_that_are_none_are_refused_under_their_name() -> None:
    case: Any = BEAM.response([])
    for bad in (None, 3, b"left", "\ud800", ["left"]):
        assert told(lambda bad=bad: case.shear("1 m", side=bad)) == [("source.type", "side")]  # type: ignore[misc]
    assert told(lambda: case.shear("1 m", side="lefd")) == [("source.choice", "side")]
    any_: Any = ps
    assert told(lambda: any_.usual_patterns(-1)) == [("source.type", "spans")]
    assert told(lambda: any_.usual_patterns(10**30)) == [("beam.pattern", "spans")]
    assert told(lambda: any_.Support("1 m", lifts=1)) == [("source.type", "lifts")]
    assert told(lambda: any_.design(TEXT).html("passed")) == [("source.type", "judgement")]
    assert told(lambda: any_.Beam("8 m", [ps.Support("0 m"), "8 m", 3], "3 kN·m²")) == [
        ("source.type", "supports[1]"),
        ("source.type", "supports[2]"),
    ]
    assert told(lambda: any_.Beam(None, [], "3 kN·m²")) == [("source.field-missing", "length")]


def test_stages_and_regions_that_are_none() -> None:
    any_: Any = ps
    reference = ps.Reference(BEAM, {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}, [], ("3 m", "5 m"))
    jacks = [ps.jack("3 m"), ps.jack("5 m")]
    for stages in (["a"], [("a", reference)], [3], [(3, reference, None)]):
        assert told(lambda stages=stages: any_.search(stages, jacks, "total")) == [("source.type", "reference[0]")]  # type: ignore[misc]
    assert told(lambda: any_.search([], jacks, "total")) == [("equivalent.reference", "reference")]
    for region in (True, (), "3 m"):
        assert told(lambda region=region: any_.Reference(BEAM, {"a": []}, [], region)) == [("source.type", "region")]  # type: ignore[misc]
    assert told(lambda: any_.Reference(BEAM, {"a": []}, [], ("3 m", 5))) == [("units.missing", "region.to")]
    assert told(lambda: any_.Reference(BEAM, {"a": [3]}, [], ("3 m", "5 m"))) == [("source.type", "terms.a[0]")]
    assert told(lambda: any_.assured(reference, jacks, [0.1, -0.1], requirements=[ps.Reach("moment", sense="positive")])) == [("equivalent.deviation", "u")]


def test_a_list_given_by_its_name_is_no_list_of_contacts() -> None:
    assert told(lambda: ps.Candidate(name=["3 m"], contacts=["3 m"])) == [("source.type", "name")]
    assert ps.Candidate(["3 m"]).contacts[0].to("m") == 3


def test_sizes_of_stacks_basins_and_grids() -> None:
    assert told(lambda: ps.stack("5 m", "3 m", "2 m", "8 kPa")) == [("equivalent.candidate", "to")]
    assert told(lambda: ps.stack("3 m", "5 m", "2000 m", "8 kPa")) == [("source.magnitude", "width")]
    assert told(lambda: ps.basin("3 m", "5 m", "2 m", "0.5 m", weight="-9.81 kN/m³")) == [("equivalent.candidate", "weight")]
    assert told(lambda: ps.basin("3 m", "5 m", "2 m", "-0.5 m")) == [("equivalent.candidate", "at_least")]
    of = ps.jack("1 m")
    assert told(lambda: ps.grid(of, "3 m", "1 m", "1 m")) == [("equivalent.stretch", "to")]
    assert told(lambda: ps.grid(of, "1 m", "3 m", "-1 m")) == [("equivalent.stretch", "step")]


def test_places_that_are_none_are_told_before_anything_is_tried() -> None:
    reference = ps.Reference(BEAM, {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}, [], ("3 m", "5 m"))
    found = ps.optimise(reference, [ps.jack("4 m")], "total", [ps.Reach("moment", sense="positive")])
    for ask in (found.further, found.elsewhere):
        assert told(lambda ask=ask: ask(["3 m", "9 m", "-1 m"])) == [  # type: ignore[misc]
            ("beam.place-outside", "places[1]"),
            ("beam.place-outside", "places[2]"),
        ]
    assert told(lambda: BEAM.influence("moment", at="9 m")) == [("beam.place-outside", "at")]


def test_a_gradient_over_no_depth_or_upside_down() -> None:
    for depth, expansion, at in (
        ("0 mm", "1e-5 1/K", "depth"),
        ("-300 mm", "1e-5 1/K", "depth"),
        ("300 m", "1e-5 1/K", "depth"),
        ("300 mm", "-1e-5 1/K", "expansion"),
        ("300 mm", "12 1/K", "expansion"),  # 12e-6 is meant
    ):
        issues = told(lambda d=depth, e=expansion: ps.Load.temperature("0 m", "8 m", "10 K", e, d))  # type: ignore[misc]
        assert [path for _, path in issues] == [at]
    # 1e-5 /K times 10 K over 0.5 m
    warm = ps.Load.temperature("0 m", "8 m", "10 K", "1e-5 1/K", "500 mm")
    assert warm.parts[1][2].si == pytest.approx(2e-4)


def test_an_effective_depth_that_cannot_be() -> None:
    target = ps.target(BEAM, LOADS, "ACI 437.2-13", ps.Doubt("shear", "0 m", "2 m"), "strip")
    for depth in ("-1 m", "0 m", "500 m"):
        issues = told(lambda depth=depth: ps.layout(target, effective_depth=depth))  # type: ignore[misc]
        assert [path for _, path in issues] == ["effective_depth"]


def test_snow_in_the_units_of_a_person_and_shares_that_are_shares() -> None:
    with pytest.raises(ps.InputError) as caught:
        ps.snow_drift("ASCE 7-16", ground="-2 kPa", balanced="1 kPa", upper="20 m", lower="10 m", step="2 m")
    assert caught.value.issues[0]["value"] == "-2 kPa"
    new = {"ground": "2 kPa", "balanced": "1 kPa", "upper": "20 m", "step": "2 m"}
    # the parameter of winter wind is a share of the time: 0.55, not 55
    assert told(lambda: ps.snow_drift("ASCE 7-22", **new, winter=55)) == [("loads.snow", "winter")]
    # an importance factor stands near one (library rule: up to two)
    assert told(lambda: ps.snow_drift("ASCE 7-16", **new, lower="10 m", importance=12)) == [("loads.snow", "importance")]


def test_water_as_deep_as_a_sea() -> None:
    assert told(lambda: ps.ponding(BEAM, ["0 m", "8 m"], ["50 m", "50 m"], "2 m")) == [("loads.ponding-bed", "depth")]
    assert told(lambda: ps.ponding(BEAM, ["0 m", "8 m"], ["50 mm", "50 mm"], "2000 m")) == [("source.magnitude", "width")]


@pytest.mark.parametrize("date", ["2026-13-01", "05/01/2026", "soon", ""])
def test_a_signature_has_a_date_that_can_be_read(date: str) -> None:
    signed = {"state": "done", "by": "test director", "date": date}
    assert told(lambda: ps.design(document(records={"zone_clear": signed}))) == [("criteria.date", "records.zone_clear.date")]
    assert told(lambda: ps.SiteRecords(survey=signed)) == [("criteria.date", "survey.date")]
    # what is not done has no date yet
    ps.SiteRecords(survey={**signed, "state": "not_done", "date": ""})


def test_a_decision_has_a_date_that_can_be_read() -> None:
    held = ps.design(document(records={"survey": {"state": "not_done", "by": "a", "date": ""}}))
    signed = {"role": "director", "name": "a", "reason": "b", "measure": "c", "second_signature": "d"}
    override = {**signed, "code": "scope.survey-missing", "date": "whenever", "design": held.to_dict()["fingerprint"]}
    whole = {**json.loads(held.spec.to_json()), "overrides": [override]}
    assert told(lambda: ps.design(whole)) == [("criteria.date", "overrides[0].date")]


def test_a_clear_span_of_another_unit() -> None:
    # 4.4 ft for 44 ft: bearings of 20 ft each; the limits of criteria go with its square
    assert told(lambda: ps.design(document(beam={"clear_span": "4.4 ft"}))) == [("beam.clear-span", "beam.clear_span")]


def test_a_support_that_settles_out_of_sight() -> None:
    assert told(lambda: ps.Support(0 * m, settlement="20 m")) == [("source.magnitude", "settlement")]
    assert ps.Support(0 * m, settlement="-20 mm") is not None


def signed_override(second: str) -> dict[str, Any]:
    held = ps.design(document(records={"survey": None}))
    signed = {"role": "director", "name": "A. B.", "reason": "b", "measure": "c", "date": "2026-05-01"}
    signed |= {"second_signature": second, "code": "scope.survey-missing", "design": held.to_dict()["fingerprint"]}
    return {**json.loads(held.spec.to_json()), "overrides": [signed]}


def test_two_people_lift_a_stop_not_one() -> None:
    assert told(lambda: ps.design(signed_override(" a. b. "))) == [("verdict.override-incomplete", "overrides[0].second_signature")]
    assert [stop["holds"] for stop in ps.design(signed_override("C. D.")).stops] == [False]


def held(**records: Any) -> list[str]:
    return [stop["code"] for stop in ps.design(document(records=records)).stops if stop["holds"]]


def test_what_nobody_signed_or_explained_counts_as_not_done() -> None:
    signed = {"by": "survey team", "date": "2026-04-22"}
    assert held(tendons_located={**signed, "state": "not_needed", "note": "no tendons"}) == []
    assert held(tendons_located={**signed, "state": "not_needed", "note": "  "}) == ["protocol.tendons-not-located"]
    assert held(zone_clear={**signed, "state": "done", "by": " "}) == ["protocol.people-in-zone"]


def judged(layout: dict[str, Any] | None = None, record: dict[str, Any] | None = None, **records: Any) -> ps.Judgement:
    def text(name: str) -> str:
        return (SCENARIOS / f"terrace_strip.{name}").read_text(encoding="utf-8")

    whole = json.loads(text("record.json"))
    whole["observation"].update(record or {})
    channels = json.loads(text("log.json"))
    channels["channels"][3].update(layout or {})
    return ps.judge(ps.design(document(records=records)), text("log.csv"), channels, whole)


def test_signatures_after_the_test() -> None:
    late = {"state": "done", "by": "engineer of record", "date": "2030-01-01"}
    assert told(lambda: judged(strength_ready=late)) == [("criteria.date", "records.strength_ready.date")]
    # the observation of 2026-05-06 moved before everything that was signed for the test
    early = told(lambda: judged(record={"date": "2020-05-06"}))
    assert {code for code, _ in early} == {"criteria.date"} and len(early) == 6
    assert told(lambda: judged(record={"by": ""})) == [("source.field-missing", "record.observation.by")]


def test_a_reading_of_another_unit_sign_or_column_has_a_word() -> None:
    def notes(**layout: Any) -> list[tuple[str, str]]:
        all_of = judged(layout).to_dict()["notes"]
        return [(n["code"], n["path"]) for n in all_of if n["code"] == "criteria.far-from-predicted"]

    assert notes() == []
    for slip in ({"unit": "mm"}, {"unit": "ft"}, {"sign": -1}):
        assert notes(**slip) == [("criteria.far-from-predicted", "readings.mid")], slip
    # a column that is another channel's already
    assert {code for code, _ in told(lambda: judged({"column": "left_in"}))} == {"readings.column-twice"}


@pytest.mark.parametrize("size", ["1e308 m", "-1e300 m"])
def test_a_bare_length_beyond_any_member_is_refused_under_its_name(size: str) -> None:
    """Contacts half-way between two places of 1e308 m are no number; the argument is to blame, not a part of the answer."""
    calls: list[Callable[[], Any]] = [
        lambda: ps.given(size, size, "3 kN/m"),
        lambda: ps.patch(size, "1 m"),
        lambda: ps.jack(at=size),
    ]
    for call in calls:
        with pytest.raises(ps.InputError) as caught:
            call()
        assert {issue["code"] for issue in caught.value.issues} == {"source.magnitude"}
        assert {issue["path"].split("[")[0] for issue in caught.value.issues} <= {"from", "to", "contacts"}
