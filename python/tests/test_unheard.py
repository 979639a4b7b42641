"""What nobody would hear is refused: ranges of a step on its own, ends of a point load, words that the geometry
contradicts, places beyond the member. Expected values are statics, written beside them."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

SCENARIOS = Path(__file__).parents[2] / "examples" / "scenarios"
TERRACE = json.loads((SCENARIOS / "terrace_strip.test.json").read_text(encoding="utf-8"))
CANOPY = json.loads((SCENARIOS / "station_canopy.test.json").read_text(encoding="utf-8"))


def told(call: Callable[[], Any]) -> set[tuple[str, str]]:
    """Code and path of every problem; nothing where there is none."""
    try:
        call()
    except ps.ProofspanError as refusal:
        return {(i["code"], i.get("path", "")) for i in refusal.issues}
    return set()


def between(value: str, low: str, high: str) -> dict[str, str]:
    return {"value": value, "low": low, "high": high}


def test_a_step_on_its_own_counts_one_value() -> None:
    """A jack of 2 x 5000 mm2 at 70 MPa gives 700 kN: a force of up to 1000 kN does not pass by its value of 100."""
    force: Any = between("100 kN", "90 kN", "1000 kN")
    press: Any = lambda f: ps.hydraulics(f, number=2, area="5000 mm^2", rated_pressure="70 MPa", stroke="150 mm")  # noqa: E731
    assert "fail" in {v.state for v in press("1000 kN").verdicts}
    assert told(lambda: press(force)) == {("source.range-alone", "force")}
    weight: Any = between("20 kN/m", "2 kN/m", "20 kN/m")
    assert told(lambda: ps.reaction("8 m", weight, [("3 m", "60 kN")])) == {("source.range-alone", "self_weight")}
    read: Any = {"value": "12 mm", "u": "50 mm"}
    assert told(lambda: ps.acceptance("ACI 437.2-13", read, residual="2 mm", span="6 m", u="0.1 mm")) == {("source.range-alone", "deflection")}
    live: Any = between("4 kPa", "4 kPa", "40 kPa")
    asked = told(lambda: ps.test_load("ACI 437.2-13", {"self_weight": "4.8 kPa", "live": live}, in_place="self_weight"))
    assert {code for code, _ in asked} == {"source.range-alone"}
    catch: dict[str, Any] = {"at": "0.4 m", "stiffness": "10 kN/mm", "gap": between("10 mm", "1 mm", "10 mm"), "resistance": {"posts": 4, "rated": "200 kN"}}
    found = told(lambda: ps.catch("10 m", "10 kN/m", catch, mode="shear", region=("0 m", "0.9 m"), to_ground=True, ground={"carries": "600 kN"}))
    assert {code for code, _ in found} == {"source.range-alone"}


def test_line_loads_have_no_intensity_per_area() -> None:
    """1.6 * 3 kPa = 4.8 kPa beside 4 kPa in place at factor 1; 1 kN/m among them has no area."""
    combined: Any = lambda live, **more: ps.test_load("ACI 437.2-13", {"self_weight": "4 kPa", "live": live}, in_place="self_weight", **more)  # noqa: E731
    assert combined("3 kPa").net.to("kPa") == pytest.approx(4.8)
    assert {code for code, _ in told(lambda: combined("1 kN/m"))} == {"loads.shape"}
    assert {code for code, _ in told(lambda: combined({"area": "3 kPa", "width": "5 m"}))} == {"loads.shape"}
    # with a width of 2 m the same is a load along the member: 1.3 * 8 kN/m less the 8 in place, more than 1.6 * 1
    assert combined("1 kN/m", width="2 m").net.to("kN/m") == pytest.approx(2.4)


def test_forces_and_regions_of_a_catch_lie_on_the_member() -> None:
    catch: dict[str, Any] = {"at": "0.4 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {"posts": 4, "rated": "900 kN"}}
    step: Any = lambda region, forces: ps.catch("9 m", "10 kN/m", catch, mode="shear", region=region, forces=forces, to_ground=True, ground={"carries": "900 kN"})  # noqa: E731
    assert told(lambda: step(("0 m", "0.9 m"), [("1 m", "20 kN")])) == set()
    assert told(lambda: step(("0 m", "0.9 m"), [("1 m", "20 kN"), ("30 m", "4400 kN")])) == {("shoring.catch-outside", "forces[1].at")}
    assert told(lambda: step(("0 m", "60 m"), [("1 m", "20 kN")])) == {("scope.region-outside", "region[1]")}
    assert told(lambda: step(("0.9 m", "0.1 m"), [("1 m", "20 kN")])) == {("scope.region-empty", "region[1]")}


def changed(change: Callable[[dict[str, Any]], Any], document: dict[str, Any] = TERRACE) -> dict[str, Any]:
    own = copy.deepcopy(document)
    change(own)
    return own


def refused(change: Callable[[dict[str, Any]], Any], document: dict[str, Any] = TERRACE) -> set[tuple[str, str]]:
    return told(lambda: ps.design(changed(change, document)))


def test_an_action_has_no_end_and_no_width_that_nobody_hears() -> None:
    taper = {"action": "rain", "in_place": 0, "taper": {"peak": "2 kPa", "at": "0 m", "zero_at": "6 m"}}
    point = {"action": "live", "in_place": 0, "point": {"force": "10 kN", "at": "4 m"}}
    line = {"action": "live", "in_place": 0, "line": "2 kN/m"}
    adds: Any = lambda action: refused(lambda d: d["loads"]["actions"].append(action))  # noqa: E731
    n = len(TERRACE["loads"]["actions"])
    here = f"loads.actions[{n}]"
    assert adds(taper) == adds(point) == adds(line) == set()
    assert adds({**taper, "from": "3 m", "to": "5 m"}) == {("loads.shape", f"{here}.from"), ("loads.shape", f"{here}.to")}
    assert adds({**point, "from": "3 m", "width": "3 m"}) == {("loads.shape", f"{here}.from"), ("loads.shape", f"{here}.width")}
    assert adds({**line, "width": "3 m"}) == {("loads.shape", f"{here}.width")}
    assert adds({**line, "snow_level": "nominal"}) == {("loads.shape", f"{here}.snow_level")}
    assert adds({"action": "self_weight", "in_place": 1, "line": "1 kN/m", "occupancy": "parking"}) == {("loads.shape", f"{here}.occupancy")}


def test_a_doubt_is_in_a_moment_that_acts_there() -> None:
    """A simple span sags everywhere, a cantilever hogs everywhere."""
    span = ps.Beam.simple("9 m", "1e5 kN·m^2")
    held = ps.Beam("3 m", [ps.Support("0 m", fixed=True)], "1e5 kN·m^2")
    loads = ps.Loads(width="1 m", self_weight="4 kPa", live="3 kPa", in_place="self_weight")
    doubted: Any = lambda beam, mode, to: told(lambda: ps.target(beam, loads, "ACI 318-19", ps.Doubt(mode, "0.5 m", to), "beam"))  # noqa: E731
    assert doubted(span, "flexure", "6 m") == set()
    assert doubted(span, "hogging", "6 m") == {("scope.mode-absent", "doubt")}
    assert doubted(held, "hogging", "2 m") == set()
    assert doubted(held, "flexure", "2 m") == {("scope.mode-absent", "doubt")}


def test_facts_do_not_contradict_supports() -> None:
    """Three bearings are one more than statics solves."""
    two = ps.Beam("9 m", [ps.Support("0 m"), ps.Support("5 m"), ps.Support("9 m")], "1e5 kN·m^2")
    one = ps.Beam.simple("9 m", "1e5 kN·m^2")
    loads = ps.Loads(width="1 m", self_weight="4 kPa", live="3 kPa", in_place="self_weight")
    edition = ps.EditionChoice("ACI 437.2-13", facts={"indeterminate": False})
    doubt = ps.Doubt("flexure", "2 m", "3 m")
    assert told(lambda: ps.target(one, loads, edition, doubt, "beam", determinate=True)) == set()
    assert ("editions.facts-contradict", "edition.facts.indeterminate") in told(lambda: ps.target(two, loads, edition, doubt, "beam"))
    assert told(lambda: ps.target(two, loads, "ACI 437.2-13", doubt, "beam", determinate=True)) == {("editions.facts-contradict", "determinate")}


def test_a_share_of_a_strength_is_a_share() -> None:
    limit = {"kind": "moment_limit", "sagging": "900 kN·m"}
    asks: Any = lambda *all_of: refused(lambda d: d["layout"].update(requirements=list(all_of)))  # noqa: E731
    assert asks({**limit, "share": 0.9}) == set()
    assert asks({**limit, "share": 5}) == {("equivalent.requirement", "layout.requirements[0].share")}
    assert asks({"kind": "shear_limit", "strength": "900 kN", "share": 5}) == {("equivalent.requirement", "layout.requirements[0].share")}
    reach = {"kind": "reach", "effect": "moment", "at": ["2 m"], "from": "1 m"}
    assert asks(reach) == {("equivalent.requirement", "layout.requirements[0].at")}


def test_holes_contacts_rods_and_steel_lie_inside() -> None:
    hole = {"of": "test", "what": "cut", "scan": "S1", "recheck": "R1"}
    assert refused(lambda d: d["rig"].update(holes=[{**hole, "at": "3 m"}])) == set()
    for at in ("100 m", "45.1 ft"):
        assert refused(lambda d: d["rig"].update(holes=[{**hole, "at": at}])) == {("rig.hole-outside", "rig.holes[0].at")}  # noqa: B023
    beam = {"id": "RB", "carries": "bars", "span": "1.2 m", "rigidity": "20000 kN·m^2", "moment": "900 kN·m", "shear": "900 kN", "web": "900 kN", "held_sideways": True}
    with_beam: Any = lambda contact: refused(lambda d: d["rig"].update(beams=[{**beam, "contact": contact}]))  # noqa: E731
    assert with_beam("0.2 m") == set()
    assert with_beam("9 m") == {("rig.bars-unstable", "rig.beams[0].contact")}
    pressed = told(lambda: ps.hydraulics("100 kN", area="9500 mm^2", rod="90 mm", rated_pressure="70 MPa", stroke="150 mm"))
    assert {code for code, _ in pressed} == {"rig.piston"}
    depth = TERRACE["beam"]["depth"]
    stretch = {"from": "10 ft", "soft": TERRACE["beam"]["soft"], "stiff": TERRACE["beam"]["stiff"]}
    own: Any = lambda more: refused(lambda d: d["beam"].update(stretches=[{**stretch, **more}]))  # noqa: E731
    assert own({"depth": depth}) == set()
    assert own({"effective_depth": "3 m"}) == {("beam.effective-depth", "beam.stretches[0].effective_depth")}
    assert own({"depth": "2 in"}) == {("beam.effective-depth", "beam.stretches[0].effective_depth")}


def test_a_layout_on_its_own_knows_no_sections() -> None:
    target = ps.design(TERRACE).target
    assert told(lambda: ps.layout(target, carrier=ps.JackLine(at="6 ft"), effective_depth="34 in", stay_uncracked=True)) == {
        ("source.field-missing", "stay_uncracked")
    }


def test_catches_are_few() -> None:
    one = {"at": "6 ft", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {"posts": 4, "rated": "900 kN"}}
    many = [{**one, "at": f"{1 + 0.5 * i} m"} for i in range(21)]
    found = refused(lambda d: d["shoring"].update(catch=many))
    assert ("source.size", "shoring.catch") in found


def test_water_stands_deepest_where_the_member_gives_way() -> None:
    """The basin is level: its depth at the tip is what was set out and the deflection there."""
    design = ps.design(CANOPY)
    answer = design.to_dict()["layout"]
    levels = {v["of"]: v for v in answer["verdicts"] if v["code"] == "equivalent.water-level"}
    assert set(levels) == {f"carrier {c['carrier'] + 1}" for c in answer["carriers"] if c["kind"] == "water"}
    for basin in answer["carriers"]:
        verdict = levels[f"carrier {basin['carrier'] + 1}"]
        left, right = basin["from"].to("m"), basin["to"].to("m")
        places = [left + (right - left) * i / 400 for i in range(401)]
        deepest = max(design.layout.response.deflection(f"{x} m").to("m") for x in places)
        assert verdict["demand"].to("m") == pytest.approx(basin["depth"].to("m") + deepest, rel=1e-6)
        assert verdict["state"] == "pass"


def test_sentences_are_in_the_units_that_are_asked_for() -> None:
    """Notes and stops of an answer in US units speak of feet and pounds, whatever page they were made for."""
    design = ps.design((SCENARIOS / "archive_floor.test.json").read_text(encoding="utf-8"))
    notes = [n["message"] for n in design.to_dict(units="US")["notes"]]
    metric = re.compile(r"\d (?:m|mm|kN|kN·m|kPa)\b")
    assert [n for n in notes if metric.search(n)] == []
    assert [n for n in (n["message"] for n in design.to_dict(units="SI")["notes"]) if metric.search(n)]


def test_parts_of_a_section_fit_each_other() -> None:
    """Steel of a fifth of 0.3 m x 0.5 m at the most, a gross area of at least that product, the height above d."""
    given: dict[str, Any] = {"strength": "30 MPa", "width": "0.3 m", "depth": "0.5 m", "tension_steel": "1500 mm^2"}
    asked: Any = lambda **more: told(lambda: ps.shear_strength("ACI 318M-19", **{**given, **more}))  # noqa: E731
    assert asked() == asked(height="0.55 m", axial="10 kN", gross_area="0.165 m^2") == set()
    assert asked(tension_steel="0.031 m^2") == {("capacity.shape", "tension_steel")}
    assert asked(axial="10 kN", gross_area="0.149 m^2") == {("capacity.shape", "gross_area")}
    assert asked(height="0.4 m") == {("capacity.shape", "height")}


def test_the_member_is_shaped_like_one() -> None:
    """45 ft long: no deeper than that, bearings shorter than half of it, feet of catches beside each other."""
    assert refused(lambda d: d["scope"]["member"].update(kind="cantilever")) == {("scope.member-kind", "scope.member.kind")}
    assert refused(lambda d: d["beam"].update(depth="46 ft")) == {("source.magnitude", "beam.depth")}
    assert refused(lambda d: d["layout"].update(bearing_length="23 ft")) == {("source.magnitude", "layout.bearing_length")}
    places = [c["at"] for c in TERRACE["shoring"]["catch"]]
    assert len(places) == 2
    feet: Any = lambda width: refused(lambda d: [c.update(width=width) for c in d["shoring"]["catch"]])  # noqa: E731
    apart = abs(ps.Quantity(places[1]).to("m") - ps.Quantity(places[0]).to("m"))
    meets = ("shoring.catch-outside", "shoring.catch[1].width")
    assert meets not in feet(f"{0.98 * apart} m")
    assert meets in feet(f"{1.02 * apart} m")


def test_a_force_is_known_to_itself_at_the_worst() -> None:
    """An uncertainty of a force is a part of it, zero to one; more than one kept the search going without an end."""
    beam = ps.Beam.simple("8 m", "30000 kN·m²")
    reference = ps.Reference(beam, {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}, [], ("3 m", "5 m"))
    jacks, reach = [ps.jack("3 m"), ps.jack("5 m")], [ps.Reach("moment", sense="positive")]
    asked: Any = lambda u, k=2.0: told(lambda: ps.assured(reference, jacks, [u, 0.02], requirements=reach, k=k))  # noqa: E731
    assert asked(0.02) == asked(1.0) == set()
    for u in (-0.02, 1.01, 1e308):
        assert asked(u) == {("equivalent.deviation", "u")}
    assert asked(0.02, 1e308) == {("equivalent.deviation", "k")}


def test_live_loads_on_one_place_are_one_live_load() -> None:
    """Two of 60 psf are 120, more than the 100 up to which row b may count the half: 120 + 1.6 * 100 = 280 psf."""
    facts: Any = {"parking": False, "public_assembly": False}
    choice: Any = {"id": "ACI 318-19", "reduce_live": True}
    net: Any = lambda live: ps.test_load(choice, {"self_weight": "80 psf", "live": live, "rain": "100 psf"}, in_place="self_weight", facts=facts).net.to("psf")  # noqa: E731
    assert net("120 psf") == pytest.approx(280.0)
    assert net(["60 psf", "60 psf"]) == pytest.approx(280.0)
    # a half of 60 is 30 in row b; row a has 1.6 * 60 + 0.5 * 100 = 146, row b 30 + 160 = 190 or with the whole 220
    assert net("60 psf") < 230.0


def test_a_target_and_a_layout_count_one_value() -> None:
    beam = ps.Beam.simple("9 m", "1e5 kN·m^2")
    doubt = ps.Doubt("flexure", "2 m", "3 m")
    loads: Any = lambda live: ps.Loads(width="1 m", self_weight="4 kPa", live=live, in_place="self_weight")  # noqa: E731
    asked: Any = lambda live: ps.target(beam, loads(live), "ACI 318-19", doubt, "beam")  # noqa: E731
    assert {code for code, _ in told(lambda: asked(between("3 kPa", "3 kPa", "30 kPa")))} == {"source.range-alone"}
    place: Any = between("4 m", "2 m", "6 m")
    assert told(lambda: ps.layout(asked("3 kPa"), carrier=ps.JackLine(at=place))) == {("source.range-alone", "carrier.at")}


def test_counts_and_columns_hold_the_rules_of_one() -> None:
    """More than 200 pulls are no test; a fifth of 0.3 m x 0.5 m is the most steel, in a column too; EN has no lambda here."""
    pulls: Any = [("4 m", "1 kN")] * 201
    assert ("source.size", "pulls") in told(lambda: ps.reaction("8 m", "10 kN/m", pulls))
    found = told(lambda: ps.shear_strengths("ACI 318M-19", "30 MPa", "0.3 m", "0.5 m", ["1500 mm^2", "0.031 m^2"]))
    assert found == {("capacity.shape", "tension_steel[1]")}
    light = told(lambda: ps.shear_strength("EN 1992-1-1:2004", "30 MPa", "0.3 m", "0.5 m", "1500 mm^2", lightweight=0.5))
    assert ("capacity.not-known", "lightweight") in light


def test_fibres_along_the_member_hold_no_crack_together() -> None:
    wrap: Any = lambda angle: told(lambda: ps.wrap_shear("u_wrap", "3000 psi", "16 in", thickness="0.0065 in", modulus="33000 ksi", ultimate_strain="0.015865 m/m", width="10 in", spacing="12 in", angle=angle))  # noqa: E731
    assert wrap("90 deg") == wrap("45 deg") == set()
    assert wrap("0 deg") == wrap("44 deg") == {("capacity.wrap-angle", "angle")}
