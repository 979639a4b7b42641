"""Levels against an independent stiffness matrix, drops on pads against time integration, the sketch read back."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

import numpy as np
import proofspan as ps
import pytest

SCENARIO = Path(__file__).parents[2] / "examples/scenarios/terrace_strip.test.json"


def caught(levels: list[ps.Level | dict[str, Any]], **more: Any) -> Any:
    """10 m with 10 kN/m on a catch at mid-span that drops 10 mm on 10 kN/mm: 100 (1 + sqrt 3) kN."""
    post = ps.Catch(at="5 m", stiffness="10 kN/mm", gap="10 mm", resistance={"posts": 4, "rated": "900 kN"}, **more)
    return ps.catch("10 m", "10 kN/m", post, mode="shear", region=("0 m", "1 m"), levels=levels)


def contact(k: list[float], posts: list[float], gaps: list[float], force: float) -> np.ndarray[Any, Any]:
    """Every set of closed posts is tried on the full stiffness matrix; the one that contradicts nothing is it."""
    n = len(k)
    for closed in itertools.product([False, True], repeat=n - 1):
        matrix, right = np.diag(k).astype(float), np.zeros(n)
        right[0] = force
        for i in np.flatnonzero(closed):
            matrix[i, i] += posts[i]
            matrix[i + 1, i + 1] += posts[i]
            matrix[i, i + 1] -= posts[i]
            matrix[i + 1, i] -= posts[i]
            right[i] += posts[i] * gaps[i]
            right[i + 1] -= posts[i] * gaps[i]
        u: np.ndarray[Any, Any] = np.linalg.solve(matrix, right)
        over = u[:-1] - u[1:] - np.array(gaps)
        if all((o >= -1e-9) if c else (o <= 1e-9) for o, c in zip(over, closed, strict=True)):
            shares: np.ndarray[Any, Any] = np.array(k) * u
            return shares
    raise AssertionError("no set of closed posts holds")


@pytest.mark.parametrize("seed", range(12))
def test_levels_against_a_stiffness_matrix(seed: int) -> None:
    r = np.random.default_rng(seed)
    n = int(r.integers(2, 7))
    k, posts = r.uniform(3, 30, n).tolist(), r.uniform(5, 60, n - 1).tolist()
    gaps = [0.0 if r.random() < 0.3 else float(g) for g in r.uniform(0, 6, n - 1)]
    levels: list[ps.Level | dict[str, Any]] = []
    for i in range(n):
        level: dict[str, Any] = {"id": f"L{i}", "stiffness": f"{k[i]!r} kN/mm", "spare": "900 kN", "spare_after": "all"}
        if i + 1 < n:
            level["posts"] = {"stiffness": f"{posts[i]!r} kN/mm", "gap": f"{gaps[i]!r} mm", "resistance": {"posts": 1, "rated": "900 kN"}}
        levels.append(level)
    found = [row["force"].to("kN") for row in caught(levels).stack]
    assert found == pytest.approx(contact(k, posts, gaps, 100 * (1 + 3**0.5)), rel=1e-9, abs=1e-7)


@pytest.mark.parametrize(("crush", "travel"), [(None, None), (200.0, 30.0), (200.0, 4.0)])
def test_a_drop_against_time_integration(crush: float | None, travel: float | None) -> None:
    integrate = pytest.importorskip("scipy.integrate")
    # kN, mm, ms: 100 kN fall 10 mm, then meet a pad that yields at one force, on a spring of 10 kN/mm
    weight, k, drop, g = 100.0, 10.0, 10.0, 9.81e-3
    mass = weight / g

    def push(x: float) -> float:
        if crush is None or travel is None or x <= crush / k:
            return k * max(x, 0.0)
        return max(crush, k * (x - travel))

    def move(_: float, y: Any) -> list[float]:
        return [y[1], g - push(y[0]) / mass]

    def stands(_: float, y: Any) -> float:
        return float(y[1])

    stands.terminal, stands.direction = True, -1  # type: ignore[attr-defined]
    path = integrate.solve_ivp(move, (0, 2000), [0.0, (2 * g * drop) ** 0.5], events=stands, rtol=1e-10, atol=1e-10, max_step=0.5)
    most = push(float(path.y[0][-1]))
    pad = {} if crush is None else {"pad": {"crush": f"{crush} kN", "travel": f"{travel} mm"}}
    level: list[ps.Level | dict[str, Any]] = [{"id": "L", "stiffness": "10 kN/mm", "spare": "900 kN", "spare_after": "all"}]
    assert caught(level, **pad).catches[0].force.to("kN") == pytest.approx(most, rel=1e-5)


def test_locked_off_oil() -> None:
    """Bulk modulus: dF = k V0 a dT/(A + k V0/(K A)), here k from 100 kN over 12 + 3 mm and bars that give nothing known."""
    found = ps.hydraulics(
        "100 kN", number=2, area="5000 mm^2", rated_pressure="70 MPa", stroke="150 mm", deflection="12 mm", rise="3 mm",
        oil_volume="2 l", oil_bulk_modulus="1400 MPa", pump={"stroke": "0.001 l", "dead_man": True, "remote_release": True},
        hold={"band": 0.05, "expansion": "7e-4 1/K", "cooling": "15 K", "warming": "5 K", "leak": {"volume": "0.002 l", "over": "1 h"}},
    )  # fmt: skip
    k, area, v0, bulk = 100e3 / 15, 10_000.0, 2e6, 1400.0
    give = area + k * v0 / (bulk * area)
    assert found.locked is not None
    assert found.locked["cooling"].to("N") == pytest.approx(k * v0 * 7e-4 * 15 / give, rel=1e-9)
    assert found.locked["per_stroke"].to("N") == pytest.approx(k * 1000 / give, rel=1e-9)
    assert found.springs_back is None and [code for code, _ in found.notes] == ["rig.bars-warm", "rig.bars-unsaid"]


def test_the_sketch_is_drawn_from_what_was_computed() -> None:
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("Agg")
    design = ps.design(SCENARIO.read_text())
    axes: Any = design.plot_rig("US")
    catches = [line for line in axes.get_lines() if line.get_gid() == "catch"]
    assert [line.get_xdata()[0] for line in catches] == pytest.approx([5, 9.5])
    assert [line.get_ydata()[0] for line in catches] == pytest.approx([22.4 / 12, 22.5 / 12])
    marks = {shape["mark"] for shape in design.sketch() if shape["mark"]}
    assert marks <= {text.get_text() for text in axes.texts} and axes.get_aspect() == 1
