"""Certified layouts from Python; members and loads are invented."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import proofspan as ps
import pytest
from proofspan.units import kN, m
from scipy.optimize import linprog  # type: ignore[import-untyped]

BEAM = ps.Beam("14 m", [ps.Support("0 m"), ps.Support("8 m"), ps.Support("14 m")], "162000 kN m2")


def spans(first: float, second: float) -> list[ps.Load]:
    return [ps.Load.line("0 m", "8 m", f"{first} kN/m"), ps.Load.line("8 m", "14 m", f"{second} kN/m")]


REFERENCE = ps.Reference(
    BEAM,
    {"live on A-B": spans(34.6, 2.6), "live on both": spans(34.6, 34.6)},
    spans(22, 22),
    ("2.5 m", "4.5 m"),
)
ASKED = [ps.Reach("moment", sense="positive")]


def documented() -> Any:
    """The script that the documentation of certificates prints, as it stands there."""
    source = Path(__file__).parents[2] / "crates/proofspan/src/equivalent/answered/certificate.rs"
    lines = source.read_text().split("```python")[1].split("```")[0].splitlines()
    script = "\n".join(line.removeprefix("    ///").removeprefix(" ") for line in lines[1:])
    names: dict[str, Any] = {}
    exec(script, names)  # noqa: S102
    return names["bound"]


bound = documented()


def found(answer: ps.Certified | ps.Conflict) -> ps.Certified:
    assert isinstance(answer, ps.Certified), answer
    return answer


def test_both_optima_and_their_certificates_in_fractions() -> None:
    jacks = [ps.jack("2.5 m"), ps.jack("4.5 m")]
    peak = found(ps.optimise(REFERENCE, jacks, "peak", ASKED))
    total = found(ps.optimise(REFERENCE, jacks, ["total"], ASKED))
    # closed form, three-moment equation: (2891208512 - 8192 sqrt(123363679915))/157115 kN
    exact = (2891208512 - 8192 * 123363679915**0.5) / 157115
    assert [p.to("kN") for _, p in peak.forces] == pytest.approx([exact, exact], rel=1e-9)
    assert [p.to("kN") for _, p in total.forces] == pytest.approx([11337728 / 136161, 299726274688 / 3197741085], rel=1e-6)
    assert peak.unique and total.unique
    for answer in (peak, total):
        certificate = answer.certificates[0]
        objective = answer.objectives[0][1].si
        assert float(bound(certificate, 1e7)) == pytest.approx(objective, rel=1e-8)
        assert answer.confirmation["violation"] == 0
    assert peak.overshoot("moment", "net") > peak.overshoot("moment", "total") > 1  # type: ignore[operator]
    assert "2.5" in repr(peak)
    assert total.to_dict()["unique"] and "certificates" in total.to_json()


def test_a_contradiction_in_fractions_and_prose() -> None:
    capped = [*ASKED, ps.Within("moment", "net", 1.01, "2.5 m", "4.5 m")]
    conflict = ps.optimise(REFERENCE, [ps.jack("2.5 m"), ps.jack("4.5 m")], "total", capped)
    assert isinstance(conflict, ps.Conflict)
    # costs are zero, so whatever is above zero contradicts itself
    assert bound(conflict.certificate, 1e7) > 0
    assert len(conflict.requirements) == 2
    assert "0 >= " in str(conflict) and "a cap of 1." in conflict.words
    better = conflict.further([3.5 * m, 12 * m])
    assert isinstance(better[0][1], (ps.Certified, ps.Conflict))


@pytest.mark.parametrize("points", [100, 1000])
def test_a_grid_of_rows_is_never_above_and_comes_near(points: int) -> None:
    """SciPy's HiGHS over rows at a grid of places, against every place."""
    places = [1.5, 2.5, 3.5, 4.5, 5.5]
    jacks = [ps.jack(x * m) for x in places]
    own = found(ps.optimise(REFERENCE, jacks, "total", ASKED))
    xs = np.linspace(2.5, 4.5, points) * m
    units = [BEAM.response([ps.Load.point(x * m, 1 * kN)]).moment(xs).values("kN·m") for x in places]
    asked = np.max([case.moment(xs).values("kN·m") for case in REFERENCE.terms.values()], axis=0)
    peer = linprog(np.ones(5), A_ub=-np.array(units).T, b_ub=-asked, method="highs")
    total = own.objectives[0][1].to("kN")
    assert peer.fun <= total * (1 + 1e-9)
    assert peer.fun == pytest.approx(total, rel=1e-4)
    # the grid's forces fall short between its places; ours nowhere; the verifier finds the grid out
    peers = ps.confirm(REFERENCE, jacks, [max(float(p), 0.0) * kN for p in peer.x], ASKED)
    assert peers["violation"] > 1e-9 and own.confirmation["violation"] == 0
    loads = [ps.Load.point(x * m, p * kN) for x, p in zip(places, peer.x, strict=True)]
    fine = np.linspace(2.5, 4.5, 200_001) * m
    asked = np.max([case.moment(fine).values("kN·m") for case in REFERENCE.terms.values()], axis=0)
    short = np.min(np.array(BEAM.response(loads).moment(fine).values("kN·m")) / asked)
    ours = np.min(np.array(own.actions.moment(fine).values("kN·m")) / asked)
    assert short < 1 - 1e-9 and ours > 1 - 1e-10


def test_uncertain_forces_against_a_cone_solver() -> None:
    """clarabel from Python over the same rows at many places."""
    import clarabel  # type: ignore[import-untyped]
    from scipy import sparse  # type: ignore[import-untyped]

    places = [2.5, 4.5]
    u, k = 0.02, 2.0
    own = ps.assured(REFERENCE, [ps.jack(x * m) for x in places], [u, u], requirements=ASKED)
    assert own is not None
    xs = np.linspace(2.5, 4.5, 2001) * m
    a = np.array([BEAM.response([ps.Load.point(x * m, 1 * kN)]).moment(xs).values("kN·m") for x in places]).T
    asked = np.max([case.moment(xs).values("kN·m") for case in REFERENCE.terms.values()], axis=0)
    blocks, right, cones = [], [], []
    for row, b in zip(a, asked, strict=True):
        blocks += [-row[None, :], -k * u * np.diag(row)]
        right += [-b, 0.0, 0.0]
        cones.append(clarabel.SecondOrderConeT(3))
    settings = clarabel.DefaultSettings()
    settings.verbose = False
    system = sparse.csc_matrix(np.vstack(blocks))
    none = sparse.csc_matrix((2, 2))
    solver = clarabel.DefaultSolver(none, np.ones(2), system, np.array(right), cones, settings)
    peer = np.array(solver.solve().x)
    assert sum(p.to("kN") for _, p in own) == pytest.approx(peer.sum(), rel=1e-5)


def test_search_finds_number_and_places() -> None:
    places = ps.grid(ps.jack("1 m"), "1 m", "7 m", "0.5 m")
    assert len(places) == 13
    best = ps.search(REFERENCE, places, ["carriers", ps.Objective("overshoot", "moment", "net")], requirements=ASKED)
    assert best.best is not None and best.best["number"] == 1 and best.best["exact"]
    more = ps.search(REFERENCE, places, ps.Objective("overshoot", "moment", "net"), at_most=3, requirements=ASKED)
    values = [choice["objectives"][0] for choice in more.by_number]
    assert len(values) == 3 and values == sorted(values, reverse=True)
    assert more.bound is not None and more.bound <= values[-1] * (1 + 1e-9)
    layout = more.by_number[1]["stages"]["test"]
    moved, answers = ps.refine(
        REFERENCE, layout.candidates, [("1 m", "7 m"), ps.Room("1 m", "7 m")], ps.Objective("overshoot", "moment", "net"), ASKED
    )
    assert len(moved) == 2 and found(answers[0]).objectives[0][1] <= values[1] * (1 + 1e-12)
    both = ps.search([("first", REFERENCE, ASKED), ("again", REFERENCE, ASKED)], places, "total", at_most=1)
    assert both.best is not None and list(both.best["stages"]) == ["first", "again"]


def test_a_built_layout_and_what_it_does_not_test() -> None:
    layout = found(ps.optimise(REFERENCE, [ps.jack("2.5 m"), ps.jack("4.5 m")], "peak", ASKED))
    built = layout.buildable("25 mm", "1 kN")
    assert built is not None and [p.to("kN") for _, p in built.forces] == pytest.approx([89, 89])
    assert built.unique is None and built.certificates == []
    hogging = next(r for r in built.reached() if r["what"] == "hogging at B")
    assert hogging["net"] == pytest.approx(0.602872, rel=1e-5) and hogging["state"] == "not applicable"
    text = [note["message"] for note in built.warnings()["notes"]]
    assert any("hogging at B is not tested" in t for t in text)
    checked = built.as_built(force=0.02, stiffness=1.5, ends="seated")
    assert checked["state"] == "inconclusive" and checked["raise"] > 1
    assert built.as_built(ps.Deviations(ends="seated"))["state"] == "pass"
    # ends cast in place count as unknown between pinned and fixed: three more beams
    assert len(built.as_built(ps.Deviations())["each"]) == 4


def test_bags_and_water_and_pictures() -> None:
    beam = ps.Beam.simple("6 m", "20000 kN m2")
    # one metre of a floor (invented): 4 kN/m to be added, sagging in doubt
    floor = ps.Reference(beam, {"live": [ps.Load.line("0 m", "6 m", "4 kN/m")]}, [], ("1.5 m", "4.5 m"), unit="metre")
    water = [ps.basin("0 m", "6 m", width="1 m", at_least="0.05 m", at_most="0.5 m", name="water")]
    bags = [ps.patch(f"{i} m", f"{i + 1} m", capacity="6 kN", name=f"bags {i + 1}") for i in range(6)]
    for carriers in (water, bags, [ps.jack("2 m"), ps.jack("4 m")]):
        layout = found(ps.optimise(floor, carriers, "total", [ps.Reach("moment")]))
        assert layout.confirmation["violation"] == 0
        for effect in ("moment", "shear"):
            axes = layout.plot(effect)
            assert "region" in axes.get_title()
    flooded = found(ps.optimise(floor, water, "total", [ps.Reach("moment")]))
    assert flooded.forces[0][1].to("kN") == pytest.approx(24)
    assert flooded.overshoot("moment", "net") == pytest.approx(1, abs=1e-9)
    # half of it is there already; blocks bring the rest
    blocks = ps.stack("1 m", "5 m", width="1 m", at_least="0.5 kPa", at_most="8 kPa", name="blocks")
    half = found(ps.optimise(floor, [ps.given("0 m", "6 m", "2 kN/m"), blocks], "total", [ps.Reach("moment")]))
    assert half.forces[0][1].to("kN") == pytest.approx(12) and half.forces[1][0] == "blocks"
    built = half.buildable("0.5 m", "2.5 kN")
    assert built is not None and built.forces[0][1].to("kN") == pytest.approx(12)
    # the edge of a patch stands on the step, and its fields can be read
    assert built.candidates[1].plate.to("m") == pytest.approx(4)
    assert (built.candidates[1].contacts[0].to("m") - 2) % 0.5 == pytest.approx(0, abs=1e-9)
    with pytest.raises(AttributeError):
        _ = built.candidates[1].colour  # type: ignore[attr-defined]
    bays = ps.grid(ps.patch("0 m", "1 m"), "0 m", "5 m", "1 m")
    assert [b.contacts[0].to("m") for b in bays] == pytest.approx([0.5, 1.5, 2.5, 3.5, 4.5, 5.5])


def test_words_in_us_units() -> None:
    beam = ps.Beam.simple("20 ft", "2.0e5 kip·ft^2")
    span = ps.Reference(beam, {"live": [ps.Load.line("0 ft", "20 ft", "500 plf")]}, [], ("6 ft", "14 ft"), units="US")
    limit = ps.MomentLimit("cracking", sagging="20 kip·ft", share=0.8)
    conflict = ps.optimise(span, [ps.jack("8 ft")], "total", [ps.Reach("moment"), limit])
    assert isinstance(conflict, ps.Conflict)
    assert "from 6 ft to 14 ft" in conflict.words and "lbf·ft" in conflict.words and " m " not in conflict.words
    assert conflict.to_dict()["relaxations"] and "requirements" in conflict.to_json()
    jacks = found(ps.optimise(span, [ps.jack("8 ft"), ps.jack("12 ft")], "total", [ps.Reach("moment")]))
    assert "jack at 8 ft" in repr(jacks) and "lbf" in repr(jacks)
    assert jacks.to_dict()["forces"][0]["name"] and jacks.to_dict()["unit"] == "beam"


def test_refusals_name_every_problem() -> None:
    with pytest.raises(ps.InputError) as caught:
        ps.optimise(
            REFERENCE,
            [ps.jack("15 m"), ps.jack("3 m"), ps.jack("3 m")],
            ["carriers"],
            [ps.Reach("moment", "4 m", "2 m"), ps.Within("moment", "net", 0.5)],
        )
    codes = [issue["code"] for issue in caught.value.issues]
    for code in (
        "equivalent.jack-outside",
        "equivalent.jack-duplicate",
        "equivalent.stretch",
        "equivalent.cap-below-one",
        "equivalent.objective",
    ):
        assert code in codes
    with pytest.raises(ps.InputError, match="requirements"):
        ps.optimise(REFERENCE, [ps.jack("3 m")], "total", ["moment"])
    with pytest.raises(ps.InputError, match="overshoot"):
        ps.optimise(REFERENCE, [ps.jack("3 m")], "overshoot", ASKED)
    with pytest.raises(ps.InputError, match="rise"):
        ps.Reference(BEAM, {"live": spans(1, 1)}, [], ("4 m", "2 m"))
    with pytest.raises(ValueError):
        ps.optimise("no reference", [ps.jack("3 m")], "total")  # type: ignore[arg-type]
    with pytest.raises(ps.InputError):
        ps.optimise(REFERENCE, [ps.jack("3 m")], "cheapest", ASKED)


def test_senses_and_bearings() -> None:
    beam = ps.Beam.simple("8 m", "20000 kN m2")
    load = ps.Load.line("0 m", "8 m", "10 kN/m")
    # one load stands for a list of one
    reference = ps.Reference(beam, {"live": load}, [], ("0 m", "2 m"))
    jacks = [ps.jack("2 m"), ps.jack("7.9 m")]
    for sense in ("sagging", "positive"):
        asked = [ps.Reach("moment", "2 m", "6 m", sense=sense)]
        # 40 x - 5 x² less 15 x is largest at 2.5 m
        short = ps.confirm(reference, [ps.jack("4 m")], ["30 kN"], asked)["violation"]
        assert short == pytest.approx(31.25 / 80)
    shear = [ps.Reach("shear", "0 m", "1.9 m"), ps.Reach("shear", "7.95 m", "8 m")]
    layout = found(ps.optimise(reference, jacks, "total", shear))
    with pytest.raises(ps.ProofspanError, match="jack at 7.9 m goes straight into bearing B"):
        layout.warnings("0.5 m")
    with pytest.raises(ps.ProofspanError, match="effective_depth"):
        layout.warnings("0 m")
    assert REFERENCE.units == "SI"


def test_us_units_all_the_way() -> None:
    beam = ps.Beam.simple("20 ft", "20000 kN m2")
    load = ps.Load.line("0 ft", "20 ft", "500 plf")
    reference = ps.Reference(beam, {"live": load}, [], ("5 ft", "15 ft"), units="US")
    layout = found(ps.optimise(reference, [ps.jack("10 ft")], "total", [ps.Reach("moment", at=["10 ft"])]))
    # w L²/8 against P L/4
    assert layout.objectives[0][1].to("lbf") == pytest.approx(5000)
    assert layout.forces[0][0] == "jack at 10 ft" and "jack at 10 ft: 5000 lbf" in repr(layout)
    assert layout.plot().get_ylabel().endswith("lbf·ft (sagging down)")
    assert repr(reference) == "Reference(live; region 5.00000 ft to 15.0000 ft, per beam)"
    with pytest.raises(ps.ProofspanError, match="15 ft to 5 ft runs backwards"):
        ps.optimise(reference, [ps.jack("10 ft")], "total", [ps.Reach("moment", "15 ft", "5 ft")])


def test_what_is_built_keeps_its_growth_and_shares() -> None:
    layout = found(ps.optimise(REFERENCE, [ps.jack("2.5 m"), ps.jack("4.5 m")], "peak", ASKED))
    built = layout.buildable("25 mm", "1 kN")
    assert built is not None and layout.growth is None
    assert built.growth == pytest.approx(89 / layout.forces[0][1].to("kN"), rel=1e-9)
    with pytest.raises(ps.ProofspanError, match="a step larger than every force"):
        layout.buildable("25 mm", "1000 kN")
    both = ps.search([("first", REFERENCE, ASKED), ("again", REFERENCE, ASKED)], [ps.jack("2.51 m")], "total", at_most=1)
    stages = both.buildable("25 mm", "1 kN")
    assert stages is not None and list(stages) == ["first", "again"]
    assert stages["first"].candidates == stages["again"].candidates
    beam = ps.Beam.simple("8 m", "20000 kN m2")
    load = ps.Load.line("0 m", "8 m", "10 kN/m")
    reference = ps.Reference(beam, {"live": load}, [], ("2 m", "6 m"))
    uneven = ps.Candidate(contacts=["2 m", "6 m"], shares=[0.75, 0.25])
    drawn = found(ps.optimise(reference, [uneven], "total", [ps.Reach("moment", at=["4 m"])]))
    texts = [t.get_text() for t in drawn.plot().texts]
    # P (0.75·2 + 0.25·2)/2 = 80 kN·m at mid-span
    assert texts == ["60 kN", "20 kN"]


def test_why_no_choice_will_do_and_what_helps() -> None:
    beam = ps.Beam.simple("8 m", "20000 kN m2")
    reference = ps.Reference(beam, {"live": ps.Load.line("0 m", "8 m", "10 kN/m")}, [], ("2 m", "6 m"))
    asked = [ps.Reach("moment"), ps.Within("moment", "net", 1.2)]
    found_ = ps.search(reference, ps.grid(ps.jack("1 m"), "1 m", "7 m", "1 m"), "total", at_most=1, requirements=asked)
    assert found_.best is None and found_.conflict is not None and "1.2 times" in found_.conflict
    assert "the nearest, jack at 4 m" in found_.about
    conflict = ps.optimise(reference, [ps.jack("2.5 m"), ps.jack("7 m")], "total", asked)
    assert isinstance(conflict, ps.Conflict)
    index, at, better = conflict.elsewhere(["5.5 m"])[0]
    assert index == 1 and at.to("m") == 5.5 and isinstance(better, ps.Certified)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: ps.patch("6 m", "2 m"), "a patch from 6 m to 2 m"),
        (lambda: ps.patch("4 m", "4 m"), "a patch from 4 m to 4 m"),
        (lambda: ps.given("0 m", "8 m", "-5 kN/m"), "does not press down"),
        (lambda: ps.stack("0 m", "8 m", "1 m", "10 kPa", at_least="-5 kPa"), "least"),
        (lambda: ps.basin("0 m", "8 m", "1 m", "0.2 m", at_least="0.5 m"), "least of zero or more, up to most"),
        (lambda: ps.basin("0 m", "8 m", "0 m", "0.2 m"), "length must be above zero"),
    ],
)
def test_carriers_that_cannot_be(make: Callable[[], ps.Candidate], words: str) -> None:
    with pytest.raises(ps.ProofspanError, match=words):
        ps.optimise(REFERENCE, [make()], "total", ASKED)


def test_closeness_and_wrong_words() -> None:
    with pytest.raises(ps.ProofspanError, match="stands where candidate 0 does"):
        ps.optimise(REFERENCE, [ps.jack("3 ft"), ps.jack("36 in")], "total", ASKED)
    close = [ps.jack("2.5 m", clear="1 m"), ps.jack("3 m")]
    with pytest.raises(ps.ProofspanError, match=r"equivalent\.spacing"):
        ps.optimise(REFERENCE, close, "total", ASKED)
    layout = found(ps.optimise(REFERENCE, [ps.jack("2.5 m"), ps.jack("4.5 m")], "peak", ASKED))
    with pytest.raises(ps.ProofspanError) as refused:
        layout.as_built(ends="glued")
    assert "did you mean" not in str(refused.value) and "seated" in str(refused.value)
    with pytest.raises(ps.ProofspanError, match="at least one carrier"):
        ps.search(REFERENCE, [ps.jack("2.5 m")], "total", at_most=0, requirements=ASKED)
