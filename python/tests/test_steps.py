"""The steps one by one: beam, loads, target, layout; documents as objects."""

from __future__ import annotations

import json
import pickle
from pathlib import Path
from typing import Literal

import matplotlib
import pytest

import proofspan as ps
from proofspan.units import ft, inch, kN, ksi, m, psf

matplotlib.use("Agg")
SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"
# shear of a2 equals shear of a3 (own derivation, closed form)
CROSSING = (945 - 20 * 465**0.5) / 99
BASES: tuple[Literal["net", "total"], ...] = ("net", "total")
TERRACE = (SCENARIOS / "terrace_strip.test.json").read_text(encoding="utf-8")


def terrace() -> ps.Target:
    """The invented terrace strip, object by object."""
    strip = ps.Beam.simple(45 * ft, 4000 * ksi * (16200 * inch**4))
    loads = ps.Loads(
        width=8 * ft,
        self_weight=76 * psf,
        superimposed_dead=12 * psf,
        live="40 psf",
        rain=[20 * psf, ps.Taper(peak=40 * psf, at=0 * ft, zero_at=10 * ft)],
        in_place=["self_weight", "superimposed_dead"],
    )
    return ps.target(strip, loads, "ACI 437.2-13", ps.Doubt("shear", 0 * ft, 6 * ft), "strip")


def test_objects_and_document_agree() -> None:
    target = terrace()
    layout = ps.layout(target, carrier=ps.JackLine(at="6 ft"), ends="seated")
    design = ps.design(TERRACE)
    # own derivation, closed form
    assert layout.force.to("lbf") == pytest.approx(2098760 / 117, rel=1e-12)
    assert layout.force.si == pytest.approx(design.layout.force.si, rel=1e-12)
    for effect in ("shear", "moment"):
        for basis in BASES:
            ours = layout.overshoot(effect, basis)
            assert ours == pytest.approx(design.layout.overshoot(effect, basis), rel=1e-12)
    assert target.governing_term("shear", 0 * ft) == "a3" and target.governing_term("moment", 22.5 * ft) == "a2"

    place, left, right = target.crossings("shear")[0]
    assert (left, right) == ("a3", "a2") and place.to("ft") == pytest.approx(CROSSING, rel=1e-9)
    assert "V_ref" in layout.working("US") and layout.ratio("shear", "0 ft", "right") == pytest.approx(1.0)


def test_searched_place_is_not_worse_than_a_given_one() -> None:
    target = terrace()
    searched, given = ps.layout(target), ps.layout(target, carrier=ps.JackLine(at="6 ft"))
    found, known = searched.overshoot("moment", "net"), given.overshoot("moment", "net")
    assert found is not None and known is not None and found <= known * (1 + 1e-9)


def test_actions_of_a_simple_span() -> None:
    # P a b / L, from any handbook of statics (common practice)
    found = ps.Beam.simple(9 * m, "120000 kN·m^2").response([ps.Load.point("3 m", 60 * kN)])
    assert found.moment("3 m").to("kN·m") == pytest.approx(60 * 3 * 6 / 9)
    assert found.shear(3 * m).to("kN") == pytest.approx(40) and found.shear(3 * m, "right").to("kN") == pytest.approx(-20)
    assert found.extremes("moment")["max"]["at"] == 3 * m
    assert [r["force"].to("kN") for r in found.reactions] == pytest.approx([40, 20])
    assert found.breakpoints.values("m") == [0, 3, 9]
    with pytest.raises(ValueError, match="beyond the member"):
        found.shear("10 m")
    with pytest.raises(ValueError, match="not a side"):
        found.shear("1 m", "middle")  # type: ignore[call-overload]
    with pytest.raises(ps.InputError, match="beam.load-outside"):
        ps.Beam.simple(9 * m, "1 kN·m^2").response([ps.Load.point(10 * m, 1 * kN)])
    with pytest.raises(ps.InputError, match="beam.mechanism"):
        ps.Beam(9 * m, [ps.Support(3 * m)], "1 kN·m^2")


def test_continuous_beam_with_settlement() -> None:
    # two equal spans, middle support down by s: R = 6 E I s / L^3 less than without load (slope deflection)
    ei, s = 2.0e4, 0.01
    ends = [ps.Support(0 * m), ps.Support(5 * m, settlement=s * m), ps.Support(10 * m)]
    found = ps.Beam(10 * m, ends, ei * kN * m**2).response([])
    assert found.reactions[1]["force"].to("kN") == pytest.approx(-6 * ei * s / 125)


def test_documents_are_objects() -> None:
    spec = ps.TestSpec.from_json(TERRACE)
    assert ps.design(spec) == ps.design(TERRACE) and ps.design(spec).spec == spec
    assert ps.TestSpec(**json.loads(TERRACE)) == spec
    for document in (spec, ps.Doubt("shear", "0 ft", "6 ft"), ps.Facts(), ps.LogSpec.from_json((SCENARIOS / "terrace_strip.log.json").read_text(encoding="utf-8"))):
        assert pickle.loads(pickle.dumps(document)) == document
        assert type(document).from_json(document.to_json()) == document
    doubt = ps.Doubt(mode="shear", from_="0 ft", to="6 ft")
    assert doubt == ps.Doubt("shear", "0 ft", "6 ft")
    assert doubt.replace(to="7 ft") == ps.Doubt("shear", "0 ft", "7 ft") and "from_=" in repr(doubt)
    assert set(ps.Doubt.fields()) == {"mode", "from", "to"} and all(ps.Doubt.fields().values())
    moved = spec.replace(scope=ps.Scope(member=ps.Member("T4", "joist_strip", unit="strip"), doubt=doubt.replace(to="5 ft")))
    assert ps.design(moved).target.region[1] == 5 * ft and ps.design(moved) != ps.design(spec)


def test_all_problems_of_an_object_at_once() -> None:
    with pytest.raises(ps.InputError) as caught:
        ps.Doubt("sheer", 6, "0 kN", spam=1)  # type: ignore[call-arg, arg-type]
    assert [i["code"] for i in caught.value.issues] == ["source.field-unknown", "source.choice", "units.missing", "units.dimension"]
    with pytest.raises(ps.InputError, match="in_place") as caught:
        ps.Loads(width="8 ft", self_weight="76 psf")
    assert [i["code"] for i in caught.value.issues] == ["loads.in-place-missing"]
    with pytest.raises(ps.InputError, match="units.dimension"):
        ps.Loads(width="8 ft", live="76 kN")
    with pytest.raises(TypeError, match="4 values for 3 fields"):
        ps.Doubt("shear", "0 ft", "6 ft", 1)  # type: ignore[call-arg]
    with pytest.raises(ps.InputError) as caught:
        ps.target(ps.Beam.simple(1 * m, "1 kN·m^2"), ps.Loads(width="1 m", live="1 kPa"), "ACI 437.2-12", ps.Doubt("shear", "0 m", "2 m"), "beam")
    assert [i["code"] for i in caught.value.issues] == ["scope.region-outside", "editions.edition-unknown"]


def test_parts_of_a_design() -> None:
    design = ps.design(TERRACE)
    assert design.layout.target == design.target and design.layout.force == design.to_dict()["layout"]["force"]
    assert design.rig["bearings"] and design.shoring["catches"][0]["gap_high"].kind == "Length"
    assert len(design.schedule["steps"]) == 5 and not design.stops
    assert {part for part, *_ in design.checks} >= {"layout", "lift-off", "rig", "shoring"}
    assert all("<table>" in page._repr_html_() for page in (design, design.layout))
    unsafe = json.loads(TERRACE)
    unsafe["rig"]["counterweights"] = []
    with pytest.raises(ps.StopError):
        ps.design(unsafe).schedule


def test_pictures_come_back_as_axes() -> None:
    design = ps.design(TERRACE)
    for what in ("shear", "moment", "deflection"):
        assert design.layout.response.plot(what, "US").get_ylabel().startswith(what)
    for effect in ("shear", "moment"):
        assert design.layout.plot(effect).get_xlabel() == "x, m"
    with pytest.raises(ValueError, match="not a unit system"):
        design.layout.plot("moment", "imperial")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="not an effect"):
        design.layout.plot("torsion")  # type: ignore[arg-type]
