"""The main job through the installed package."""

from __future__ import annotations

import json
import pickle
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.integrate import cumulative_trapezoid  # type: ignore[import-untyped]

import proofspan as ps
from proofspan.units import N, ft, m

SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"


def text(name: str) -> str:
    return (SCENARIOS / name).read_text(encoding="utf-8")


def run(name: str) -> tuple[ps.Design, ps.Judgement]:
    design = ps.design(text(f"{name}.test.json"))
    return design, ps.judge(design, text(f"{name}.log.csv"), text(f"{name}.log.json"), text(f"{name}.record.json"))


def test_force_of_the_terrace_strip_is_the_exact_fraction() -> None:
    design, judgement = run("terrace_strip")
    force = design.to_dict()["layout"]["force"]
    # own derivation, closed form
    assert force.to("lbf") == pytest.approx(2098760 / 117, rel=1e-12)
    assert judgement.state == "inconclusive"


def test_gallery_beam_passes_and_reports() -> None:
    design, judgement = run("gallery_beam")
    assert judgement.state == "pass"
    page = design.html(judgement)
    assert page.startswith("<!doctype html>") and "<svg" in page and "<script" not in page
    assert design.recheck() == []
    assert "# Market hall" in design.markdown(judgement)


def test_dicts_and_text_are_one_door() -> None:
    spec: dict[str, Any] = json.loads(text("terrace_strip.test.json"))
    assert ps.design(spec) == ps.design(text("terrace_strip.test.json"))
    spec["loads"]["width"] = ps.Quantity("8 ft", "Length")
    same = ps.design(spec).to_dict()["layout"]["force"]
    assert same == ps.design(text("terrace_strip.test.json")).to_dict()["layout"]["force"]


def test_pickle_and_json_give_equal_designs() -> None:
    design, _ = run("gallery_beam")
    assert pickle.loads(pickle.dumps(design)) == design
    assert ps.design(design.spec.to_json()) == design
    force = design.to_dict()["layout"]["force"]
    assert pickle.loads(pickle.dumps(force)) == force


def test_every_problem_is_listed_at_once() -> None:
    spec: dict[str, Any] = json.loads(text("terrace_strip.test.json"))
    spec["loads"]["width"] = 8
    spec["scope"]["member"]["kind"] = "column"
    spec["beam"]["spam"] = 1
    spec["beam"]["span"] = True
    with pytest.raises(ps.InputError) as caught:
        ps.design(spec)
    found = {issue["code"] for issue in caught.value.issues}
    assert found == {"units.missing", "scope.member-kind", "source.field-unknown", "units.bool-as-number"}
    assert all(issue["path"] and issue["remedy"] for issue in caught.value.issues)
    assert isinstance(caught.value, ValueError)


def test_odd_objects_are_refused_without_a_crash() -> None:
    loop: list[Any] = []
    loop.append(loop)
    for bad in ({"a": loop}, {"schema_version": float("nan")}, {"x": object()}, {1: 2}):
        with pytest.raises((ValueError, TypeError)):
            ps.design(bad)  # type: ignore[arg-type]
    with pytest.raises(ps.InputError, match="source.syntax"):
        ps.design("{")


def test_stops_hold() -> None:
    spec: dict[str, Any] = json.loads(text("terrace_strip.test.json"))
    spec["rig"]["counterweights"] = []
    design = ps.design(spec)
    with pytest.raises(ps.StopError) as caught:
        ps.judge(design, text("terrace_strip.log.csv"), text("terrace_strip.log.json"), text("terrace_strip.record.json"))
    assert [issue["code"] for issue in caught.value.issues] == ["rig.liftoff-below-floor", "rig.reaction-over-capacity"]


def test_bad_logs() -> None:
    design, _ = run("gallery_beam")
    log = text("gallery_beam.log.csv")

    def codes(log: str) -> list[str]:
        with pytest.raises(ps.DataError) as caught:
            ps.judge(design, log, text("gallery_beam.log.json"), text("gallery_beam.record.json"))
        return [issue["code"] for issue in caught.value.issues]

    lines = log.splitlines()
    assert codes("") == ["readings.empty"]
    assert codes("\n".join(lines[:1])) == ["readings.empty"]
    assert codes("\n".join(lines[:2])) == ["readings.empty"]
    assert codes(log.replace("mid_mm", "mid_m")) == ["readings.column-missing"]
    assert codes("\n".join([*lines[:3], lines[1], *lines[3:]])) == ["readings.time-backwards"]
    cells = lines[5].split(",")
    for cell, code in (('"2,31"', "units.text-number"), ("0.09 in", "units.mixed-column"), ("#N/A", "units.nonfinite")):
        bad = ",".join([*cells[:2], cell, *cells[3:]])
        assert codes("\n".join([*lines[:5], bad, *lines[6:]])) == [code]


def test_statics_against_quadrature() -> None:
    """Shear and moment integrated with SciPy, deflection twice more: an independent second way."""
    length, ei, w, p = 9.0, 1.2e8, 1.7e4, 6.0e4
    x = np.linspace(0.0, length, 20001)
    beam = ps.Beam.simple(length * m, ei * N * m**2)
    found = beam.response([ps.Load.point(3 * m, p * N), ps.Load.line(1 * m, 7 * m, w * N / m, 2 * w * N / m)])
    shear, moment, deflection = found.shear(x * m).to("N"), found.moment(x * m).to("N·m"), found.deflection(x * m).to("m")
    slope = w / 6.0
    q = np.where((x >= 1.0) & (x <= 7.0), w + slope * (x - 1.0), 0.0)
    left = (p * 6.0 + ((w * 6.0) * (length - 4.0) + (w * 6.0 / 2) * (length - 5.0))) / length
    by_hand = left - cumulative_trapezoid(q, x, initial=0.0) - np.where(x > 3.0, p, 0.0)
    assert np.max(np.abs(by_hand - shear)) < 2e-4 * left
    by_hand = cumulative_trapezoid(shear, x, initial=0.0)
    assert np.max(np.abs(by_hand - moment)) < 2e-4 * moment.max()
    turn = cumulative_trapezoid(-moment / ei, x, initial=0.0)
    bend = cumulative_trapezoid(turn, x, initial=0.0)
    bend -= bend[-1] * x / length
    assert np.max(np.abs(bend - deflection)) < 1e-6 * deflection.max()


def test_statics_against_finite_elements() -> None:
    """Hermite elements of scikit-fem; nodal deflections of beams are exact there."""
    from skfem import (  # type: ignore[import-untyped]
        Basis,
        BilinearForm,
        ElementLineHermite,
        LinearForm,
        MeshLine,
        condense,
        solve,
    )
    from skfem.helpers import dd, ddot  # type: ignore[import-untyped]

    length, ei, w = 6.0, 2.0e7, 1.6e4
    basis = Basis(MeshLine(np.linspace(0.0, length, 25)), ElementLineHermite())

    @BilinearForm  # type: ignore[untyped-decorator]
    def stiffness(u: Any, v: Any, _: Any) -> Any:
        return ei * ddot(dd(u), dd(v))

    @LinearForm  # type: ignore[untyped-decorator]
    def load(v: Any, _: Any) -> Any:
        return w * v

    # propped cantilever: held at the left, bearing at the right
    dofs = [*basis.get_dofs(lambda x: x[0] == 0.0).all(), basis.get_dofs(lambda x: x[0] == length).nodal["u"][0]]
    found = solve(*condense(stiffness.assemble(basis), load.assemble(basis), D=np.array(dofs)))
    x = basis.doflocs[0][basis.nodal_dofs[0]]
    expected = found[basis.nodal_dofs[0]]
    beam = ps.Beam(length * m, [ps.Support(0 * m, fixed=True), ps.Support(length * m)], ei * N * m**2)
    ours = beam.response([ps.Load.line(0 * m, length * m, w * N / m)]).deflection(x * m).to("m")
    assert np.max(np.abs(ours - expected)) < 1e-9 * np.max(np.abs(expected))


def test_codes_and_editions() -> None:
    codes = ps.codes()
    assert len({c[0] for c in codes}) == len(codes) > 80
    assert ("ACI 318-19", "superseded") in {(n, s) for n, _, s in ps.editions()}
    schema = json.loads(ps.schema())
    assert schema["additionalProperties"] is False and "scope" in schema["required"]


def test_import_loads_no_numpy() -> None:
    code = "import sys, proofspan; print('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"
