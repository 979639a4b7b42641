"""Strips in flexure and members that fail as they crack, from Python: answers and drawings."""

from typing import Any

import pytest

import proofspan as ps
from proofspan import plots

BARS = {"area": "1000 mm^2", "depth": "540 mm", "yields": "420 MPa"}
STRIP = {
    "width": "100 mm", "thickness": "1.2 mm", "plies": 2, "modulus": "165 GPa", "ultimate_strain": "0.017 m/m",
    "installed_strain": "0.0004 m/m", "development": "500 mm",
}  # fmt: skip


def section(**more: Any) -> dict[str, Any]:
    shape = {"kind": "rectangle", "width": "300 mm", "height": "600 mm"}
    return {"shape": shape, "concrete": {"strength": "30 MPa", "modulus": "25 GPa"}, **more}


def test_a_strip_is_drawn_where_it_is_bonded() -> None:
    found = ps.section_strength(section(bars=BARS, strips=STRIP), code="ACI 318-19", cracking="ACI 318-19, MPa")
    expected = next(f for f in found.flexure if f.face == "bottom" and f.set == "expected")
    assert expected.mode == "strip comes off"
    # 0.41 √(f'c / (n E t)) in MPa and mm
    last = 0.41 * (30 / (165e3 * 2.4)) ** 0.5
    strip = next(s for s in expected.steel if s.steel == "strips")
    assert strip.strain.to("m/m") == pytest.approx(last, rel=1e-9)
    assert strip.force.to("kN") == pytest.approx(last * 165e3 * 240 / 1e3, rel=1e-9)
    assert [(name, depth.to("mm")) for name, depth, _ in found.steel] == [("bars", 540.0), ("strips", 600.0)]
    _, _, stresses = plots.section(found)
    assert stresses.get_title() is not None


def test_a_member_without_steel_fails_by_cracking() -> None:
    found = ps.deflections("6 m", section(), "5 kN/m", [("3 m", "80 kN")], cracking="ACI 318-19, MPa")
    broken = found.breaks
    assert broken is not None and broken.state == "fails by cracking"
    # (0.62 √30 · 0.018 m³ − 5 · 36/8) over 80 · 6/4
    share = (0.62 * 30**0.5 * 18 - 22.5) / 120
    assert broken.share == pytest.approx(share, rel=1e-8)
    assert broken.at.to("m") == pytest.approx(3)
    assert [step[0] for step in found.steps] == [0.25]
    held = ps.deflections("6 m", section(bars=BARS), "5 kN/m", [("3 m", "80 kN")], cracking="ACI 318-19, MPa")
    assert held.breaks is None and len(held.steps) == 4
