"""Pictures of predictions, and what strengthens as steps on their own: numbers by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import matplotlib
import numpy as np
import pytest
from matplotlib.lines import Line2D

import proofspan as ps
from proofspan import plots

matplotlib.use("Agg")
SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"


def xs(line: Line2D) -> list[float]:
    """The places of a line."""
    return [float(v) for v in np.asarray(line.get_xdata())]


def ys(line: Line2D) -> list[float]:
    """The values of a line, gaps left out."""
    return [float(v) for v in np.asarray(line.get_ydata()) if not np.isnan(v)]


SECTION: dict[str, Any] = {
    "shape": {"kind": "rectangle", "width": "300 mm", "height": "700 mm"},
    "concrete": {"strength": "30 MPa", "modulus": "27 GPa"},
    "bars": {"area": "2000 mm^2", "depth": "630 mm", "yields": "420 MPa"},
}


def gallery(**more: Any) -> ps.Design:
    """The gallery beam with a section of its own."""
    document = json.loads((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8"))
    capacity = {"sections": {"section": SECTION}, "code": "ACI 318-19", "cracking": "ACI 318-19, MPa"}
    document["capacity"] = {**capacity, **more}
    return ps.design(document)


def test_added_stirrups_and_a_strip_by_statics() -> None:
    found = ps.added_stirrups("0.4 in^2", "8 in", reached="40 ksi", depth="18 in")
    assert found.shear.to("kip") == pytest.approx(0.4 * 40 * 18 / 8)
    strip = ps.bonded_strip(
        "100 mm^2", "160 GPa", "600 mm", debonding_strain="0.008 m/m", installed_strain="0.0005 m/m",
        crushing_strain="0.003 m/m", neutral_axis="200 mm", compression="80 mm",
    )  # fmt: skip
    # 0.003 · 400/200 - 0.0005 is below the debonding strain
    assert not strip.debonds
    assert strip.force.to("kN") == pytest.approx(100 * 160 * 0.0055)
    assert strip.moment.to("kN·m") == pytest.approx(100 * 160 * 0.0055 * 0.52)


@pytest.mark.parametrize("what", ["moment", "shear"])
def test_demand_against_strength_along_the_member(what: Any) -> None:
    axes = gallery(scatter={"tension": 0.15}).plot_predicted(what)
    lines = {line.get_label(): line for line in axes.get_lines()}
    total = lines["full test load, with what is in place"]
    if what == "moment":
        # 18.6 · 81/8 in place and 19.56 · 81/8 of the test
        assert max(ys(total)) == pytest.approx((18.6 + 19.56) * 81 / 8, rel=1e-6)
        a = 2000 * 420 / (0.85 * 30 * 300)
        assert max(ys(lines["strength, expected"])) == pytest.approx(2000 * 420 * (630 - a / 2) / 1e6)
        assert axes.yaxis_inverted()
    else:
        near = min(zip(xs(total), ys(total), strict=True), key=lambda p: abs(p[0] - 0.63))
        assert near[1] == pytest.approx(18.6 * (4.5 - 0.63) + 19.56 * 81 / 8 / 3.5, rel=1e-6)
    assert "no approval" in axes.get_title()
    shaded = [p for p in axes.patches if p.get_label() == "region in doubt"]
    assert shaded


def test_the_band_of_load_and_deflection() -> None:
    design = gallery()
    axes = design.plot_predicted("deflection")
    lines = {line.get_label(): line for line in axes.get_lines()}
    soft, stiff = (xs(lines[f"{name}, by the sections"]) for name in ("soft", "stiff"))
    assert all(a >= b for a, b in zip(soft, stiff, strict=True))
    # cracked by its own weight: the soft one well beyond the stiff one, which is that of the gross section
    half, a, length = 19.56 * 81 / 8 / 3.5 * 1e3, 3.5, 9.0
    gross = half * a * (3 * length**2 - 4 * a**2) / (24 * 27e9 * 0.3 * 0.7**3 / 12) * 1e3
    assert stiff[-1] == pytest.approx(gross, rel=1e-6)
    assert soft[-1] > 1.5 * gross
    with pytest.raises(ValueError, match="capacity"):
        ps.design((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8")).plot_predicted("deflection")


def test_a_section_with_strain_and_stress() -> None:
    found = ps.section_strength(SECTION, code="ACI 318-19", cracking="ACI 318-19, MPa")
    assert [(z.to("mm"), w.to("mm")) for z, w in found.outline] == [(0, 300), (700, 300)]
    ((name, depth, area),) = found.steel
    assert name == "bars"
    assert [depth.to("mm"), area.to("mm^2")] == pytest.approx([630, 2000])
    drawn, strains, stresses = plots.section(found)
    plane = strains.get_lines()[0]
    # 0.003 at the top, 0.003 (700 - c)/c at the bottom
    c = 2000 * 420 / (0.85 * 30 * 300) / (0.85 - 0.05 * (30 / 0.006894757 - 4000) / 1000)
    assert xs(plane) == pytest.approx([-3, 3 * (700 - c) / c], rel=1e-3)
    assert any("840" in text.get_text() for text in stresses.texts)
    assert drawn.yaxis_inverted()
    with pytest.raises(ValueError, match="top"):
        plots.section(found, face="top")
