"""Documents that lie at the joints of the chain. Expected values: statics, written beside each."""

import json
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"
LINE: dict[str, Any] = {"kind": "jack_line", "at": "4.5 m"}
BAGS: dict[str, Any] = {
    "kind": "bags", "from": "0.5 m", "to": "8.5 m", "pile": "1 m", "gap": "0.2 m", "width": "3 m",
    "unit_weight": "15 kN/m^3", "layer": "0.1 m", "most_layers": 20,
}
WATER: dict[str, Any] = {"kind": "water", "from": "0 m", "to": "9 m", "width": "3 m", "rim": "2 m", "freeboard": "0.1 m"}


def gallery(**parts: Any) -> Any:
    """The gallery beam with parts put in place of its own."""
    document = json.loads((SCENARIOS / "gallery_beam.test.json").read_text())
    for path, value in parts.items():
        at = document
        *road, last = path.split("__")
        for key in road:
            at = at[key]
        at[last] = value
    return document


def designed(document: Any) -> Any:
    return ps.design(json.dumps(document))


def state(design: Any, code: Any) -> Any:
    """The states of the checks of this code in the layout."""
    tree = json.loads(design.to_json())
    return [v["state"] for v in tree["layout"]["verdicts"] if v["code"] == code]


def codes(document: Any) -> Any:
    with pytest.raises(ps.ProofspanError) as refused:
        designed(document)
    return [(i["code"], i["path"]) for i in refused.value.issues]


def test_range_of_a_place() -> None:
    """A jack of the force found for mid-span, at 2 m: its moment at 4.5 m falls to 2/4.5."""
    at = {"value": "4.5 m", "low": "2 m", "high": "4.6 m"}
    design = designed(gallery(layout__carrier={**LINE, "at": at}))
    assert state(design, "equivalent.short") == ["inconclusive"]
    assert any("layout.carrier.at" in n["path"] for n in design.notes)


def test_range_of_a_given_force() -> None:
    """At 20 kN of about 106 kN asked it falls short; at 900 kN, 450 kN a bearing lift what holds 97.5."""
    force = {"value": "107 kN", "low": "20 kN", "high": "900 kN"}
    design = designed(gallery(layout__carrier={**LINE, "force": force}))
    assert state(design, "equivalent.short") == ["inconclusive"]
    stops = {s["code"] for s in design.stops}
    assert {"rig.liftoff-below-floor", "rig.reaction-over-capacity"} <= stops


@pytest.mark.parametrize("settled", [{}, {"layers": 6}])
def test_range_of_a_unit_weight(settled: Any) -> None:
    """The same layers at 8 in place of 15 kN/m3 weigh about half."""
    weight = {"value": "15 kN/m^3", "low": "8 kN/m^3", "high": "16 kN/m^3"}
    document = gallery(layout__carrier={**BAGS, **settled, "unit_weight": weight}, shoring__drive="weights")
    assert state(designed(document), "equivalent.short") == ["inconclusive"]


def test_range_of_a_depth() -> None:
    depth = {"value": "0.9 m", "low": "0.3 m", "high": "1 m"}
    document = gallery(layout__carrier={**WATER, "depth": depth}, shoring__drive="weights")
    assert state(designed(document), "equivalent.short") == ["inconclusive"]


def test_depth_found_above_a_lower_rim() -> None:
    rim = {"value": "2 m", "low": "0.3 m", "high": "2 m"}
    document = gallery(layout__carrier={**WATER, "rim": rim}, shoring__drive="weights")
    assert codes(document) == [("equivalent.freeboard", "layout.carrier.rim")]


def test_a_range_that_leaves_the_member() -> None:
    at = {"value": "4.5 m", "low": "4 m", "high": "9.5 m"}
    assert codes(gallery(layout__carrier={**LINE, "at": at})) == [("equivalent.jack-outside", "layout.carrier")]


def test_given_force_above_capacity() -> None:
    design = designed(gallery(layout__carrier={**LINE, "force": "107 kN", "capacity": "50 kN"}))
    assert state(design, "equivalent.over-capacity") == ["fail"]


def test_range_of_a_capacity() -> None:
    """About 57 kN a line are found; the low end of the capacity is 10 kN."""
    capacity = {"value": "100 kN", "low": "10 kN", "high": "120 kN"}
    two = [{**LINE, "at": "3.5 m", "circuit": "A", "capacity": capacity}, {**LINE, "at": "5.5 m", "circuit": "A"}]
    assert state(designed(gallery(layout__carrier=two)), "equivalent.over-capacity") == ["inconclusive"]


def test_one_pump_gives_one_force() -> None:
    """Lines that share a circuit push with one force; equal pistons then have one pressure."""
    two = [{**LINE, "at": "3.5 m", "circuit": "A"}, {**LINE, "at": "5.7 m", "circuit": "A"}]
    tree = json.loads(designed(gallery(layout__carrier=two)).to_json())
    a, b = (float(c["force"].split()[0]) for c in tree["layout"]["carriers"])
    assert a == pytest.approx(b, rel=1e-12)


def test_reaction_that_is_the_member_in_other_letters() -> None:
    document = gallery(rig__reaction={**gallery()["rig"]["reaction"], "id": " g2 "})
    for catch in document["shoring"]["catch"]:
        del catch["on"]
    assert codes(document) == [("rig.reaction-is-test", "rig.reaction.id")]


def test_grid_too_fine_names_the_step() -> None:
    document = gallery(layout__carrier=[{"kind": "jack_line"}], layout__search={"at_most": 2, "step": "1 mm"})
    assert codes(document) == [("equivalent.candidate", "layout.search.step")]


def test_error_of_a_stage_names_it() -> None:
    rig = {k: v for k, v in gallery()["rig"].items() if k not in ("reaction", "counterweights")}
    stage = {"name": "left", "doubt": {"mode": "flexure", "from": "2.5 m", "to": "3.6 m"}, "rig": rig}
    with pytest.raises(ps.ProofspanError) as refused:
        designed({**gallery(), "stages": [stage]})
    assert all(i["message"].startswith("stage left: ") for i in refused.value.issues)


def test_two_basins_on_one_stretch() -> None:
    two = [{**WATER, "to": "5 m"}, {**WATER, "from": "4 m"}]
    document = gallery(layout__carrier=two, shoring__drive="weights")
    assert codes(document) == [("equivalent.spacing", "layout.carrier[1]")]
    # side by side they may stand
    two = [{**WATER, "to": "4.5 m"}, {**WATER, "from": "4.5 m"}]
    designed(gallery(layout__carrier=two, shoring__drive="weights"))


def test_a_jack_inside_a_pile() -> None:
    """The fourth pile stands from 4.1 to 5.1 m; a jack has room between two piles, at 4 m."""
    for at, there in (("4.5 m", True), ("4 m", False)):
        document = gallery(layout__carrier=[{**BAGS, "layers": 3}, {**LINE, "at": at}])
        if there:
            assert codes(document) == [("equivalent.spacing", "layout.carrier[1]")]
        else:
            designed(document)


def test_a_contact_over_a_support() -> None:
    document = gallery(layout__carrier={"kind": "spreader", "contacts": ["0 m", "5.5 m"]})
    assert codes(document) == [("equivalent.jack-near-support", "layout.carrier")]


def test_a_gauge_that_the_log_puts_elsewhere() -> None:
    def read(name: str) -> str:
        return (SCENARIOS / f"terrace_strip.{name}").read_text()

    design = ps.design(read("test.json"))
    layout = json.loads(read("log.json"))
    layout["channels"][3]["at"] = "6 ft"
    judged = ps.judge(design, read("log.csv"), json.dumps(layout), read("record.json"))
    notes = json.loads(judged.to_json())["notes"]
    said = [n["message"] for n in notes if n["path"] == "layout.channels[3].at"]
    assert len(said) == 1 and "22.5 ft" in said[0] and "6 ft" in said[0]


def test_a_requirement_holds_for_given_forces() -> None:
    """In place (5.0 + 1.2) 3 = 18.6 kN/m bring 188.3 kNm at mid-span, 110 kN bring 247.5 more: 435.8 of 50."""
    line = {**LINE, "force": "110 kN"}
    asked = [{"kind": "moment_limit", "of": "cracking", "sagging": "50 kN·m"}]
    document = gallery(layout__carrier=line, layout__requirements=asked)
    design = designed(document)
    (broken,) = [v for v in json.loads(design.to_json())["layout"]["verdicts"] if v["code"] == "equivalent.requirement-broken"]
    assert broken["state"] == "fail"
    assert broken["demand"] == pytest.approx((18.6 * 81 / 8 + 110 * 9 / 4) / 50, rel=1e-9)
    (note,) = [n for n in design.notes if n["code"] == "equivalent.requirement-broken"]
    assert note["path"] == "layout.requirements[0]" and "4.5 m" in note["message"]
    asked[0]["to"] = "12 m"
    assert codes(document)[0][1].startswith("layout.requirements[0]")


def test_a_bearing_longer_than_a_bearing_can_be() -> None:
    """A bearing of 10 m would hold every stub of this beam without a catch."""
    document = gallery(shoring__stub={"held": "resultant_on_bearing", "bearing": "10 m"})
    assert codes(document) == [("source.magnitude", "shoring.stub.bearing")]
