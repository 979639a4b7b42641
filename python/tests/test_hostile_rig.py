"""A stranger's rig: what is left out, another door, unequal jacks, a hot night. Expected values by hand, beside each."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import proofspan as ps
import pytest

SCENARIO = Path(__file__).parents[2] / "examples/scenarios/terrace_strip.test.json"


def press(**more: Any) -> Any:
    """100 kN on two pistons of 5000 mm²: 10 MPa; 15 mm of way."""
    given: dict[str, Any] = {
        "number": 2, "area": "5000 mm^2", "rated_pressure": "70 MPa", "stroke": "150 mm", "deflection": "12 mm", "rise": "3 mm",
        "oil_volume": "2 l", "oil_bulk_modulus": "1400 MPa", "pump": {"stroke": "1 ml", "dead_man": True, "remote_release": True},
        "fittings": {"hose_burst": "300 MPa", "relief": "10.5 MPa", "held_at_jack": True},
    } | more  # fmt: skip
    return ps.hydraulics("100 kN", **given)


def codes(said: Any) -> list[str]:
    return [row[0] if isinstance(row, (tuple, list)) else row.code for row in said]


def test_bars_of_a_press_alone_are_checked() -> None:
    """Four bars take 25 kN each, 50 MPa on 500 mm²: over 24 kN of one, and over 0.60 of 80 MPa."""
    bars = {"number": 4, "area": "500 mm^2", "length": "3 m", "modulus": "200 GPa"}
    good = {"working_load": "26 kN", "strength": "90 MPa", "fixings": "26 kN"}
    assert codes(press(bars=bars | good).stops) == []
    for field, value, code in [
        ("working_load", "24 kN", "rig.bar-over-load"),
        ("strength", "80 MPa", "rig.bar-stress"),
        ("fixings", "24 kN", "rig.bar-fixings"),
    ]:
        assert codes(press(bars=bars | good | {field: value}).stops) == [code]
    assert "rig.bar-unchecked" in codes(press(bars=bars).stops)


def test_a_hot_day_lifts_the_pressure_over_its_rating() -> None:
    """e = V0 a dT/A = 2.1 mm, k = 100/15 kN/mm, dF = k e/(1 + k V0/(K A²)) = 12.78 kN: 10 MPa become 11.278."""
    hold = {"band": 0.2, "expansion": "7e-4 1/K", "cooling": "0 K", "warming": "15 K"}
    k = 100e3 / 15
    gain = k * 2.1 / (1 + k * 2e6 / (1400 * 1e8))
    hot = 10 * (1 + gain / 100e3)
    for rated, expected in [(hot + 0.01, []), (hot - 0.01, ["rig.pressure-over-rating"])]:
        found = press(rated_pressure=f"{rated} MPa", hold=hold)
        assert codes(found.stops) == expected


def test_a_gauge_that_the_needle_leaves() -> None:
    gauge = {"class": 0.01, "division": "0.1 MPa"}
    assert codes(press(gauge=gauge | {"full_scale": "16 MPa"}).stops) == []
    assert codes(press(gauge=gauge | {"full_scale": "9.9 MPa"}).stops) == ["rig.gauge-short"]


def caught(levels: Any, **more: Any) -> Any:
    """100 kN that drop 10 mm on 10 kN/mm: 273.2 kN."""
    post = ps.Catch(at="5 m", stiffness="10 kN/mm", gap="10 mm", resistance={"posts": 4, "rated": "900 kN"})
    return ps.catch("10 m", "10 kN/m", post, mode="shear", region=("0 m", "1 m"), levels=levels, **more)


def level(name: str, **more: Any) -> dict[str, Any]:
    return {"id": name, "stiffness": "10 kN/mm", "spare": "200 kN", "spare_after": "all"} | more


def test_strength_of_posts_and_ground_that_is_not_given_is_said() -> None:
    two = [level("one"), level("two")]
    assert "shoring.posts-unchecked" in codes(caught(two, post_stiffness="20 kN/mm").stops)
    posts = {"stiffness": "20 kN/mm", "resistance": {"posts": 1, "rated": "200 kN"}}
    known = caught([level("one", posts=posts), level("two")])
    assert "shoring.posts-unchecked" not in codes(known.stops)
    on_ground = [level("one", posts=posts)]
    assert "shoring.ground-unchecked" in codes(caught(on_ground, to_ground=True).stops)
    assert "shoring.ground-unchecked" not in codes(caught(on_ground, to_ground=True, ground={"carries": "300 kN"}).stops)


def test_levels_that_are_needed_stand_on_posts_that_carry() -> None:
    """Two levels 10, posts 20 kN/mm: the lower one takes (20/3)/(10 + 20/3) = 0.4 of 273.2, 109.3 kN through its posts."""

    def needed(carry: str) -> Any:
        posts = {"stiffness": "20 kN/mm", "resistance": {"posts": 1, "rated": carry}}
        return caught([level("one", posts=posts), level("two")]).levels_needed

    assert needed("110 kN") == 2
    assert needed("109 kN") is None


def test_the_sketch_says_once_what_all_posts_take() -> None:
    design = ps.design(SCENARIO.read_text())
    says = [shape["says"] for shape in design.sketch() if shape["kind"] == "post"]
    assert says and all("in all" in text for text in says)


def test_unequal_jacks_share_one_oil() -> None:
    """20 kip on 9 in², 10 kip on 4.5 in²: p V0/(K A) with p = 20000/9 psi, 45 in³, 200 ksi and all 13.5 in², for both records."""
    document = json.loads(SCENARIO.read_text())
    line = {"kind": "jack_line", "circuit": "m"}
    document["layout"] = {"carrier": [line | {"at": "6 ft", "force": "20 kip"}, line | {"at": "14 ft", "force": "10 kip"}]}
    jacks = document["rig"]["jacks"] | {"circuit": "m"}
    document["rig"]["jacks"] = [jacks | {"piston": {"area": area}} for area in ("3 in^2", "1.5 in^2")]
    found = ps.design(json.dumps(document)).rig["hydraulics"]
    assert [h["oil_travel"].to("in") for h in found] == pytest.approx([20e3 / 9 / 200e3 * 45 / 13.5] * 2)


def test_a_hold_without_change_changes_nothing() -> None:
    hold = {"band": 0.05, "expansion": "7e-4 1/K", "cooling": "0 K", "warming": "0 K"}
    found = press(hold=hold)
    assert found.locked["cooling"].to("N") == 0 and found.stops == []


@pytest.mark.parametrize(("to", "refused"), [("4.9 ft", True), ("4.5 ft", False)])
def test_a_catch_at_the_edge_of_a_block(to: str, refused: bool) -> None:
    """A block of 2 ft whose right edge lies at 4.9 ft reaches under the foot of the catch, 4.5 to 5.5 ft."""
    document = json.loads(SCENARIO.read_text())
    document["rig"]["counterweights"] = []
    left = f"{float(to.split()[0]) - 2} ft"
    kind = {"id": "A", "weight": "9 kip", "length": "2 ft", "width": "2 ft", "number": 1}
    document["rig"]["blocks"] = {"kinds": [kind], "places": [{"from": left, "to": to, "carries": "9000 psf"}]}
    if not refused:
        assert ps.design(json.dumps(document)).rig["placement"]["lifts"] == 1
        return
    with pytest.raises(ps.ProofspanError, match="shoring.catch-on-weight"):
        ps.design(json.dumps(document))


def test_a_column_at_its_euler_load_has_a_strength() -> None:
    """Without eccentricity the strength is the smaller of squash and Euler load, also where they meet to the last digits."""
    euler = math.pi**2 * 1e6 / 9
    for ulp in range(-40, 40):
        column = {"rigidity": "1e6 N·m^2", "squash": f"{euler * (1 + ulp * 7e-16)!r} N", "yields_at": "10 kN*m", "eccentricity": "0 mm"}
        resistance = {"posts": 1, "height": "3 m", "material_factor": 1.0, "column": column}
        post = ps.Catch(at="5 m", stiffness="10 kN/mm", gap="10 mm", resistance=resistance)
        found = ps.catch("10 m", "10 kN/m", post, mode="shear", region=("0 m", "1 m"), to_ground=True)
        assert found.catches[0].resistance.to("N") == pytest.approx(euler, rel=1e-7)


def test_a_weight_carried_over_an_overhang_tips_the_member() -> None:
    """15 ft of overhang, 30 ft of span, 608 plf: 27.36 · 7.5/30 = 6.84 kip at the far bearing; 60 kip at the end take 30 from it."""
    document = json.loads(SCENARIO.read_text())
    document["rig"]["reaction"] |= {"left_overhang": "15 ft", "span": "30 ft", "at": "15 ft", "shear_capacity": "500 kip"}
    document["rig"]["reaction"] |= {"hogging_capacity": "2000 kip·ft", "sagging_capacity": "2000 kip·ft"}

    def lifts(weight: str) -> list[str]:
        document["rig"]["transport"] = {"force": weight, "from": "0 ft", "to": "44 ft"}
        stops = ps.design(json.dumps(document)).stops
        return [s["message"] for s in stops if s["path"] == "rig.transport"]

    assert lifts("13.6 kip") == []
    (message,) = lifts("60 kip")
    assert "at 45 ft" in message and "23160 lbf" in message


def test_a_circuit_of_two_presses_is_as_stiff_as_the_ways_of_both() -> None:
    """9 kip at 6 ft and at mid-span of 45 ft, on one pressure: the oil they take is the mean of their ways, not the larger one."""
    document = json.loads(SCENARIO.read_text())
    line = {"kind": "jack_line", "circuit": "m", "force": "9 kip"}
    document["layout"] = {"carrier": [line | {"at": "6 ft"}, line | {"at": "22.5 ft"}]}
    gauge = {"full_scale": "3000 psi", "class": 0.01, "division": "20 psi"}
    document["rig"]["jacks"] |= {"circuit": "m", "gauge": gauge}
    (found,) = ps.design(json.dumps(document)).rig["hydraulics"]
    span, ei, places = 540.0, 4000e3 * 16200, (72.0, 270.0)

    def deflects(x: float, at: float) -> float:
        if x > at:
            x, at = span - x, span - at
        b = span - at
        return 9000 * b * x * (span**2 - b**2 - x**2) / (6 * span * ei)

    own = [sum(deflects(x, at) for at in places) for x in places]
    bars = 9000 / 6 * 132 / (29e6 * 0.30)
    # member and reaction are alike; both by the stiff prediction
    way = sum(2 * v * 16200 / 26800 + bars for v in own) / 2
    assert found["locked"]["stiffness"].to("kip/in") == pytest.approx(18 / way, rel=1e-6)
