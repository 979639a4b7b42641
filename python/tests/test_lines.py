"""Lines of spans: influence, patterns, envelopes, contact; snow, water; every edition side by side."""

from __future__ import annotations

from typing import Any

import matplotlib
import numpy as np
import pytest
import sympy  # type: ignore[import-untyped]
from sympy.physics.continuum_mechanics.beam import Beam as Symbolic  # type: ignore[import-untyped]

import proofspan as ps
from proofspan.units import ft, kN, kPa, m, mm, pcf, psf

matplotlib.use("Agg")
EI = 20_000 * kN * m**2
LINE = kN / m


def three() -> ps.Beam:
    return ps.Beam(15 * m, [ps.Support(x * m) for x in (0, 5, 9, 15)], EI)


def test_continuous_spans_against_finite_elements() -> None:
    """Hermite elements of scikit-fem, settlement of a support included; nodal values are exact there."""
    from skfem import Basis, BilinearForm, ElementLineHermite, LinearForm, MeshLine, condense, solve  # type: ignore[import-untyped]
    from skfem.helpers import dd, ddot  # type: ignore[import-untyped]

    basis = Basis(MeshLine(np.linspace(0.0, 15.0, 61)), ElementLineHermite())

    @BilinearForm  # type: ignore[untyped-decorator]
    def stiffness(u: Any, v: Any, _: Any) -> Any:
        return 2e7 * ddot(dd(u), dd(v))

    @LinearForm  # type: ignore[untyped-decorator]
    def load(v: Any, _: Any) -> Any:
        return 1.2e4 * v

    places = (0.0, 5.0, 9.0, 15.0)
    dofs = [basis.get_dofs(lambda x, at=at: np.isclose(x[0], at)).nodal["u"][0] for at in places]
    start = np.zeros(basis.N)
    start[dofs[1]] = 0.004
    found = solve(*condense(stiffness.assemble(basis), load.assemble(basis), x=start, D=np.array(dofs).ravel()))
    x = basis.doflocs[0][basis.nodal_dofs[0]]
    expected = found[basis.nodal_dofs[0]]
    supports = [ps.Support(at * m, settlement=(0.004 if at == 5.0 else 0.0) * m) for at in places]
    ours = ps.Beam(15 * m, supports, EI).response([ps.Load.line(0 * m, 15 * m, 12 * LINE)]).deflection(x * m).to("m")
    assert np.max(np.abs(ours - expected)) < 1e-9 * np.max(np.abs(expected))


def test_reactions_against_sympy() -> None:
    """Symbolic beam of SymPy, a propped cantilever with a point load (no settlement: it is wrong there)."""
    beam = Symbolic(6, sympy.Integer(20000), 1)
    r0, m0, r1 = sympy.symbols("R0 M0 R1")
    beam.apply_load(r0, 0, -1)
    beam.apply_load(m0, 0, -2)
    beam.apply_load(r1, 6, -1)
    beam.apply_load(24, 2, -1)
    beam.bc_deflection = [(0, 0), (6, 0)]
    beam.bc_slope = [(0, 0)]
    beam.solve_for_reaction_loads(r0, m0, r1)
    theirs = [-float(beam.reaction_loads[r]) for r in (r0, r1)]
    ours = ps.Beam(6 * m, [ps.Support(0 * m, fixed=True), ps.Support(6 * m)], EI).response([ps.Load.point(2 * m, 24 * kN)])
    assert [r["force"].to("kN") for r in ours.reactions] == pytest.approx(theirs, rel=1e-12)


def test_influence_line_is_the_effect() -> None:
    beam = three()
    loads = [ps.Load.line(1 * m, 8 * m, 4 * LINE, 9 * LINE), ps.Load.point(11 * m, 30 * kN)]
    found = beam.response(loads)
    for response, value in (("shear", found.shear(6 * m)), ("moment", found.moment(6 * m)), ("deflection", found.deflection(6 * m))):
        assert beam.influence(response, at=6 * m).response(loads).si == pytest.approx(value.si, rel=1e-9)
    reaction = beam.influence("reaction", support=2)
    assert reaction.response(loads).to("kN") == pytest.approx(found.reactions[2]["force"].to("kN"), rel=1e-9)
    assert reaction.ordinate([9 * m, 0 * m]) == pytest.approx([1.0, 0.0], abs=1e-12)
    worst = beam.influence("shear", at="2 m").worst(10 * LINE)
    on = [ps.Load.line(a, b, 10 * LINE) for a, b in worst["max_on"]]
    assert beam.response(on).shear("2 m").si == pytest.approx(worst["max"].si, rel=1e-9)
    with pytest.raises(ValueError, match="reaction"):
        beam.influence("reaction", at=1 * m)
    with pytest.raises(ps.InputError, match="beam.support-outside"):
        beam.influence("reaction", support=9)


def test_patterns_and_envelope() -> None:
    beam = three()
    live = [ps.Load.line(0 * m, 15 * m, 9 * LINE)]
    patterns = ps.usual_patterns(len(beam.spans))
    assert patterns[0] == ([True, True, True], "all spans")
    cases = [beam.response(beam.patterned(marks, live)) for marks, _ in patterns]
    envelope = ps.Envelope(cases)
    x = np.linspace(0, 15, 31) * m
    high, low = envelope.max("moment", x).to("kN·m"), envelope.min("moment", x).to("kN·m")
    each = np.array([case.moment(x).to("kN·m") for case in cases])
    assert np.allclose(high, each.max(axis=0)) and np.allclose(low, each.min(axis=0))
    pair = envelope.pairs("shear", 4 * m)["min"]
    assert pair["moment"] == cases[pair["case"]].moment(4 * m)
    top = envelope.extremes("moment")["max"]
    assert top["value"].si == pytest.approx(max(case.extremes("moment")["max"]["value"].si for case in cases))
    with pytest.raises(ValueError, match="no case"):
        ps.Envelope([])


def test_hinges_contact_shear_and_curvature() -> None:
    gerber = ps.Beam(12 * m, [ps.Support(x * m) for x in (0, 6, 12)], EI).with_hinges([7.5 * m])
    found = gerber.response([ps.Load.line(0 * m, 12 * m, 8 * LINE)])
    # statics: M at the inner support is -36 kN m (closed form)
    assert found.moment(6 * m).to("kN·m") == pytest.approx(-36) and found.moment(7.5 * m).to("kN·m") == pytest.approx(0, abs=1e-9)
    with pytest.raises(ps.SolverError, match="the hinge at x = 9 m"):
        gerber.with_hinges([7.5 * m, 9 * m]).response([])
    seats = ps.Beam(16 * m, [ps.Support(x * m, lifts=True) for x in (0, 4, 12, 16)], EI)
    lifted = seats.response([ps.Load.line(4 * m, 12 * m, 12 * LINE), ps.Load.line(0 * m, 16 * m, 2 * LINE)])
    assert lifted.reactions[0]["force"].to("kN") == pytest.approx(0, abs=1e-9) and lifted.deflection(0 * m) < 0 * m
    simple = ps.Beam.simple(8 * m, EI)
    stiff, soft = (b.response([ps.Load.point(4 * m, 24 * kN)]).deflection(4 * m) for b in (simple, simple.with_shear(40_000 * kN)))
    assert (soft - stiff).to("mm") == pytest.approx(24 * 8 / (4 * 40_000) * 1e3)
    warm = ps.Load.temperature(0 * m, 8 * m, "10 dK", "0.00001 1/K", 600 * mm)
    assert simple.response([warm]).deflection(4 * m).to("mm") == pytest.approx(10e-6 * 10 * 64 / (8 * 0.6) * 1e3)


def test_snow_and_water() -> None:
    # formulas of ASCE 7 from memory
    drift = ps.snow_drift("ASCE 7-16", ground=25 * psf, balanced=17.5 * psf, upper=40 * ft, lower=20 * ft, step=15 * ft)
    assert drift["peak"].to("psf") == pytest.approx(53.3263, abs=5e-5) and drift["level"] == "nominal"
    with pytest.raises(ValueError, match="not mixed"):
        ps.snow_drift("ASCE 7-22", ground="63 psf", balanced="44 psf", upper="40 ft", lower="20 ft", step="4 ft")
    with pytest.raises(ps.InputError, match="units.missing"):
        ps.snow_drift("ASCE 7-16", ground=25)
    strip = ps.Beam.simple(45 * ft, "450000000 lbf·ft^2")
    water = ps.ponding(strip, [0 * ft, 45 * ft], [0.3 * ft, 0.3 * ft], 8 * ft, 62.4 * pcf, pieces=64)
    assert water["amplification"] == pytest.approx(1.049174, abs=5e-6)
    with pytest.raises(ps.SolverError, match="loads.ponding-unstable"):
        ps.ponding(ps.Beam.simple(45 * ft, "20000000 lbf·ft^2"), ["0 ft", "45 ft"], ["1 ft", "1 ft"], "8 ft")


def test_every_edition_side_by_side() -> None:
    loads = ps.Loads(width=1 * m, self_weight=4.8 * kPa, live=4 * kPa, in_place=["self_weight"])
    table = ps.compare(ps.Beam.simple(8 * m, EI), loads, ps.Doubt("flexure", "0 m", "8 m"), "strip")
    by_name = {row["name"]: row for row in table}
    # w L^2 / 8 by hand
    assert by_name["ACI 437.2-13"]["moment"].to("kN·m") == pytest.approx((4.8 + 6.4) * 8)
    assert by_name["NYC BC 1708.3.2"]["moment"].to("kN·m") == pytest.approx(17.6 * 8)
    assert by_name["ACI CODE-437.2-22"]["refused"][0]["code"] == "editions.values-unknown"


OWN = """
id = "own"
name = "Own rule"
title = "A rule of ones own, invented"
year = 2026
status = "current"
clause = "1"
default_set = "a"

[[sets]]
id = "a"
about = "the only set"
confidence = "user"
rows = [ { id = "r", factors = { Dw = 1.0, L = 1.5 } } ]
"""


def test_an_edition_file_of_ones_own() -> None:
    loads = ps.Loads(width=1 * m, self_weight=4 * kPa, live=2 * kPa, in_place=["self_weight"])
    doubt = ps.Doubt("flexure", "0 m", "8 m")
    target = ps.target(ps.Beam.simple(8 * m, EI), loads, ps.EditionChoice("own", file=OWN), doubt, "strip")
    assert target.edition.startswith("Own rule (own edition ") and target.terms == {"r": {"self_weight": 1.0, "live": 1.5}}
    assert target.governing("moment", 4 * m).to("kN·m") == pytest.approx(3.0 * 8)
    bad = OWN.replace("year = 2026", "yaer = 2026").replace("L = 1.5", "L = 0.0, X = 2")
    with pytest.raises(ps.InputError) as caught:
        ps.target(ps.Beam.simple(8 * m, EI), loads, ps.EditionChoice("own", file=bad), doubt, "strip")
    codes = {issue["code"] for issue in caught.value.issues}
    assert codes == {"source.field-unknown", "source.field-missing", "editions.factor"} and "line 5" in str(caught.value)
    project = {"id": "project", "project": {"title": "Agreed", "by": "engineer", "reason": "agreed with the authority", "rows": [{"id": "p", "factors": {"Dw": 1.0, "L": 1.3}}]}}
    assert ps.target(ps.Beam.simple(8 * m, EI), loads, project, doubt, "strip").terms["p"]["live"] == 1.3


def test_sketches() -> None:
    beam = three().with_hinges([6.5 * m])
    loads = [ps.Load.line(0 * m, 9 * m, 4 * LINE), ps.Load.point(11 * m, 30 * kN), ps.Load.moment(2 * m, "5 kN·m")]
    assert beam.plot(loads).get_xlabel().startswith("x, m")
    envelope = ps.Envelope([beam.response(loads), beam.response(loads[1:])])
    for what in ("shear", "moment", "deflection"):
        assert envelope.plot(what, "US").get_ylabel().startswith(what)
