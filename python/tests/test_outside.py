"""Outside is refused by the core: places, stretches, patterns, cases; what a conflict and a crossing say."""

from typing import Any

import pytest
from proofspan.units import kN, m

import proofspan as ps

EI = "20000 kN·m^2"
BEAM = ps.Beam.simple(8 * m, EI)
LOAD = ps.Load.line(0 * m, 8 * m, "3 kN/m")


def refused(code: str, call: Any, *arguments: Any, **named: Any) -> ps.ProofspanError:
    with pytest.raises(ps.InputError) as caught:
        call(*arguments, **named)
    issues = caught.value.issues
    assert [i["code"] for i in issues][:1] == [code], issues
    return caught.value


def test_places_off_the_member() -> None:
    actions = BEAM.response([LOAD])
    for what in (actions.shear, actions.moment, actions.line_load, actions.rotation, actions.deflection):
        refused("beam.place-outside", what, 9 * m)
        refused("beam.place-outside", what, [1 * m, -1 * m])
    refused("beam.place-outside", actions.extremes, "moment", 5 * m, 3 * m)
    refused("beam.place-outside", actions.extremes, "shear", 5 * m, 9 * m)
    influence = BEAM.influence("moment", at=3 * m)
    refused("beam.place-outside", influence.ordinate, 9 * m)
    refused("beam.load-outside", influence.response, [ps.Load.point(9 * m, 1 * kN)])
    envelope = ps.Envelope([actions])
    refused("beam.place-outside", envelope.max, "moment", 9 * m)
    refused("beam.place-outside", envelope.pairs, "shear", 9 * m)


def test_cases_and_patterns_that_do_not_fit() -> None:
    other = ps.Beam.simple(9 * m, EI).response([])
    refused("beam.cases", ps.Envelope, [])
    refused("beam.cases", ps.Envelope, [BEAM.response([LOAD]), other])
    refused("beam.pattern", BEAM.patterned, [True, True], [LOAD])
    refused("beam.pattern", ps.usual_patterns, 10**15)
    assert BEAM.patterns() == ([([True], "all spans"), ([False], "no span")], True)


def test_hogging_in_doubt_and_crossings() -> None:
    line = ps.Beam(16 * m, [ps.Support(0 * m), ps.Support(8 * m), ps.Support(16 * m)], EI)
    loads = ps.Loads(width=1 * m, self_weight="18 kPa", live="20 kPa", in_place=["self_weight"])
    # two equal spans: M over the inner bearing is -w l^2/8; a2 has 18 + 1.6 * 20, net 32
    for mode, left, net in (("hogging", 7, -32.0 * 8), ("flexure", 4, 0.0)):
        target = ps.target(line, loads, "ACI 437.2-13", ps.Doubt(mode, left * m, 9 * m), unit="strip")  # type: ignore[arg-type]
        assert target.governing("moment", 8 * m).to("kN·m") == pytest.approx(net, abs=1e-9), mode
        assert target.governing("hogging", 8 * m).to("kN·m") == pytest.approx(-256)
        assert target.governing("sagging", 8 * m).to("kN·m") == pytest.approx(0, abs=1e-9)
        refused("beam.place-outside", target.governing, "moment", 17 * m)
        refused("beam.place-outside", target.governing_term, "moment", 17 * m)
        for basis in ("net", "total"):
            assert target.crossings("shear", basis)
        assert target.crossings("shear") == target.crossings("shear", "net")
    with pytest.raises(ValueError, match="load basis"):
        target.crossings("shear", "both")  # type: ignore[arg-type]


def test_a_conflict_names_the_bound_of_the_library_apart() -> None:
    spans = [3.8054438736229974, 3.459469604285987, 6.313478056185557]
    ends = [sum(spans[:i]) for i in range(4)]
    line = ps.Beam(ends[-1] * m, [ps.Support(x * m) for x in ends], EI)
    load = [
        ps.Load.line(0 * m, spans[0] * m, "21.87767260743553 kN/m"),
        ps.Load.line(spans[0] * m, ends[-1] * m, "2 kN/m"),
    ]
    region = (1.4765791270387503 * m, 2.9877389636157496 * m)
    there = [ps.Load.line(0 * m, ends[-1] * m, "3 kN/m")]
    reference = ps.Reference(line, {"t0": load}, there, region)
    asked = [ps.Reach("moment", sense="sagging")]
    answer = ps.optimise(reference, [ps.jack(0.09513609684057495 * m)], "total", asked)
    assert isinstance(answer, ps.Conflict)
    assert len(answer.requirements) == 1 and "thousand" not in answer.requirements[0]
    [(whose, most)] = answer.bounds
    assert "95.1361 mm" in whose and most > 1000 * kN
    assert "the library's own bound" in answer.words
    assert answer.to_dict()["bounds"][0]["of"] == whose
    # a capacity of one's own is a requirement like any other, and no bound of the library
    own = ps.optimise(reference, [ps.jack(0.09513609684057495 * m, capacity=1 * kN)], "total", asked)
    assert isinstance(own, ps.Conflict)
    assert own.bounds == [] and len(own.requirements) == 2
