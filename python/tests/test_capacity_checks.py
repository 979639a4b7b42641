"""Sections against shapely, the energy of moment over curvature, limits as laws, both systems of units.

Every number comes from geometry, statics or the published constants beside it; how many digits agree is printed.
"""

from __future__ import annotations

import math
import random
from typing import Any, Literal

import numpy as np
import numpy.typing as npt
import pytest
from shapely import LineString, Point, Polygon, box  # type: ignore[import-untyped]
from shapely.affinity import translate  # type: ignore[import-untyped]
from shapely.ops import unary_union  # type: ignore[import-untyped]

import proofspan as ps

Array = npt.NDArray[np.floating[Any]]
SEED = 12
GAUSS = 0.5 / math.sqrt(3.0)


def agree(what: str, found: float, want: float, rel: float) -> None:
    off = abs(found / want - 1)
    print(f"{what}: {found:.9g} against {want:.9g}, {-math.log10(max(off, 1e-16)):.1f} digits")
    assert off <= rel, (what, found, want)


def integrals(shape: Any) -> tuple[float, float, float, float]:
    """Height, area, centroid and second moment: area and centroid by shapely, the second moment by its widths."""
    left, top, right, bottom = shape.bounds
    rings = [g.exterior for g in getattr(shape, "geoms", [shape])] + [r for g in getattr(shape, "geoms", [shape]) for r in g.interiors]
    depths = sorted({round(z, 9) for ring in rings for _, z in ring.coords})
    centre = shape.centroid.y
    second = 0.0
    for a, b in zip(depths, depths[1:], strict=False):
        for part in (0.5 - GAUSS, 0.5 + GAUSS):  # the width is linear between corners: width times square is a cubic
            z = a + (b - a) * part
            width = shape.intersection(LineString([(left - 1, z), (right + 1, z)])).length
            second += width * (z - centre) ** 2 * (b - a) / 2
    return bottom - top, shape.area, centre - top, second


def gross(shape: dict[str, Any]) -> ps.SectionProperties:
    return ps.section_strength({"shape": shape, "concrete": "30 MPa"}, code="ACI 318-19", cracking="ACI 318-19, MPa").gross


def same(what: str, shape: dict[str, Any], drawn: Any, rel: float = 1e-9) -> None:
    found = gross(shape)
    height, area, centroid, second = integrals(drawn)
    agree(f"{what}, height", float(found.height.to("mm")), height, 1e-9)
    agree(f"{what}, A", float(found.area.to("mm^2")), area, rel)
    agree(f"{what}, c", float(found.centroid.to("mm")), centroid, rel)
    agree(f"{what}, I", float(found.second_moment.to("mm^4")), second, rel * 10)
    agree(f"{what}, S top", float(found.top.to("mm^3")), second / centroid, rel * 10)
    agree(f"{what}, S bottom", float(found.bottom.to("mm^3")), second / (height - centroid), rel * 10)


def ring(corners: Any) -> list[dict[str, str]]:
    return [{"across": f"{x!r} mm", "depth": f"{z!r} mm"} for x, z in list(corners)[:-1]]


def test_named_shapes_are_those_of_shapely() -> None:
    tee = unary_union([box(-600, 0, 600, 150), box(-150, 0, 150, 900), box(-250, 750, 250, 900)])
    same("tee", {
        "kind": "tee", "height": "900 mm", "web": "300 mm", "flange": "1200 mm", "flange_depth": "150 mm",
        "bottom_flange": "500 mm", "bottom_flange_depth": "150 mm",
    }, tee)  # fmt: skip
    rib = Polygon([(-80, 60), (80, 60), (55, 420), (-55, 420)])
    ribs = unary_union([box(0, 0, 2400, 60), *(translate(rib, 2400 * (i + 0.5) / 4, 0) for i in range(4))])
    same("ribbed", {
        "kind": "ribbed", "height": "420 mm", "width": "2400 mm", "slab": "60 mm", "ribs": 4, "rib_top": "160 mm", "rib_bottom": "110 mm",
    }, ribs)  # fmt: skip
    hollow = box(0, 0, 1200, 300)
    for i in range(6):
        hollow = hollow.difference(Point(1200 * (i + 0.5) / 6, 140).buffer(75, quad_segs=128))
    same("hollow", {
        "kind": "hollow", "width": "1200 mm", "height": "300 mm", "voids": {"number": 6, "diameter": "150 mm", "depth": "140 mm"},
    }, hollow, 3e-5)  # fmt: skip


def test_random_polygons_with_holes_are_those_of_shapely() -> None:
    dice = random.Random(SEED)
    tried = 0
    while tried < 30:
        number = dice.randint(4, 14)
        turns = sorted(dice.uniform(0, 2 * math.pi) for _ in range(number))
        outer = Polygon([(r * math.cos(t), r * math.sin(t)) for t in turns for r in [dice.uniform(300, 900)]])
        holes: list[Any] = []
        for _ in range(2):
            x, z, r = dice.uniform(-300, 300), dice.uniform(-300, 300), dice.uniform(30, 120)
            corners = dice.randint(3, 7)
            hole = Polygon([(x + r * math.cos(2 * math.pi * i / corners), z + r * math.sin(2 * math.pi * i / corners)) for i in range(corners)])
            if outer.is_valid and outer.contains(hole.buffer(1)) and not any(hole.buffer(1).intersects(h) for h in holes):
                holes.append(hole)
        if not outer.is_valid or not holes:
            continue
        tried += 1
        drawn = outer
        for hole in holes:
            drawn = drawn.difference(hole)
        shape = {"kind": "polygon", "corners": ring(outer.exterior.coords), "holes": [ring(h.exterior.coords) for h in holes]}
        same(f"polygon {tried}", shape, drawn, 1e-7)


def test_what_shapely_calls_invalid_is_refused() -> None:
    """Random outlines and holes: refused where shapely finds no polygon in them, and only there."""
    dice = random.Random(SEED)
    refused = 0
    for _ in range(200):
        outer = [(dice.uniform(0, 1000), dice.uniform(0, 1000)) for _ in range(dice.randint(3, 5))]
        hole = [(dice.uniform(350, 550), dice.uniform(350, 550)) for _ in range(3)]
        drawn = Polygon(outer, [hole])
        sound = drawn.is_valid and Polygon(outer).contains(Polygon(hole))
        shape = {"kind": "polygon", "corners": ring([*outer, outer[0]]), "holes": [ring([*hole, hole[0]])]}
        try:
            gross(shape)
            found = True
        except ps.InputError as error:
            assert {i["code"] for i in error.issues} == {"capacity.polygon"}
            found = False
        assert found == sound, (outer, hole)
        refused += not found
    assert 20 < refused < 190, refused


def block(strain: float) -> dict[str, Any]:
    return {"kind": "parabola_rectangle", "stress": 0.9, "peak": "0.001 m/m", "strain": f"{strain!r} m/m", "source": "of this test"}


def at_strain(section: dict[str, Any], strain: float, axial: float) -> ps.FlexuralStrength:
    """The section with its compressed face at a strain."""
    found = ps.section_strength(section, code="own", block=block(strain), cracking="ACI 318-19, MPa", axial=f"{axial!r} kN")
    return next(f for f in found.flexure if f.face == "bottom" and f.set == "expected")


def steel_energy(strain: float, e: float, fy: float) -> float:
    """∫ σ dε of an elastic, then even stress: N/mm²."""
    size = abs(strain)
    return e * size**2 / 2 if size * e <= fy else fy * size - fy**2 / e / 2


def concrete_energy(strain: Array, peak: float, most: float) -> Array:
    """∫ σ dε of a parabola of the second degree, then even stress: N/mm²."""
    energy: Array = np.where(strain < peak, most * (strain**2 / peak - strain**3 / (3 * peak**2)), most * (strain - peak / 3))
    return energy


@pytest.mark.parametrize("axial", [0.0, 400.0])
def test_moment_over_curvature_is_the_energy_of_the_fibres(axial: float) -> None:
    """∫ M dφ + ∫ N dε at the centroid is what concrete, bars and tendon store and lose between the same two states.

    The law has an energy, so the sum over fibres of ∫ σ dε does not know the path.
    """
    e_ten, e_bar, fy, fpy, fc = 195e3, 200e3, 460.0, 1600.0, 35.0
    section = {
        "shape": {"kind": "tee", "height": "700 mm", "web": "250 mm", "flange": "800 mm", "flange_depth": "120 mm"},
        "concrete": f"{fc} MPa",
        "bars": [
            {"area": "1500 mm^2", "depth": "640 mm", "yields": f"{fy} MPa"},
            {"area": "600 mm^2", "depth": "50 mm", "yields": f"{fy} MPa"},
        ],
        "tendons": {
            "area": "500 mm^2", "bond": "grouted", "breaks": "1860 MPa", "yields": f"{fpy} MPa", "modulus": "195 GPa",
            "effective": "900 MPa", "profile": {"kind": "straight", "depth": "580 mm"},
        },
    }  # fmt: skip
    strains = np.linspace(0.001, 0.0035, 401)
    n = 7000
    z = (np.arange(n) + 0.5) * 700 / n
    width = np.where(z < 120, 800.0, 250.0)
    area = float(width.sum()) * 700 / n
    middle = float((width * z).sum()) * 700 / n / area
    moments, curvatures, centres, stored = [], [], [], []
    for top in strains:
        found = at_strain(section, float(top), axial)
        c = float(found.neutral_axis.to("mm"))
        curvature = top / c
        squeezed = np.maximum(curvature * (c - z), 0.0)
        energy = float((concrete_energy(squeezed, 0.001, 0.9 * fc) * width).sum()) * 700 / n
        for a, d, e, y, before in [(1500, 640, e_bar, fy, 0.0), (600, 50, e_bar, fy, 0.0), (500, 580, e_ten, fpy, 900 / e_ten)]:
            own = curvature * (d - c)
            energy += a * steel_energy(before + own, e, y)
            energy -= a * float(concrete_energy(np.array([max(-own, 0.0)]), 0.001, 0.9 * fc)[0])  # what it takes the place of
        moments.append(float(found.moment.to("N·mm")))
        curvatures.append(curvature)
        centres.append(curvature * (c - middle))
        stored.append(energy)
    m, phi, eps = np.array(moments), np.array(curvatures), np.array(centres)
    work = float(np.sum((m[1:] + m[:-1]) / 2 * np.diff(phi)) + axial * 1e3 * (eps[-1] - eps[0]))
    agree(f"M over curvature, N {axial} kN", work, stored[-1] - stored[0], 2e-4)


RC: dict[str, Any] = {
    "shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"},
    "concrete": {"strength": "30 MPa", "modulus": "27 GPa"},
    "bars": {"area": "1500 mm^2", "depth": "540 mm", "yields": "420 MPa"},
}


def predicted(section: dict[str, Any]) -> ps.SectionStrength:
    return ps.section_strength(section, code="ACI 318-19", cracking="ACI 318-19, MPa", reductions={"flexure": 0.9})


def test_no_strip_and_no_prestress_are_the_plain_section() -> None:
    plain = predicted(RC)
    strip = {
        "width": "1 mm", "thickness": "0.01 mm", "modulus": "165 GPa", "ultimate_strain": "0.017 m/m", "debonding_strain": "0.017 m/m",
        "installed_strain": "0 m/m", "development": "300 mm",
    }  # fmt: skip
    thin: Any = ps.section_strength({**RC, "strips": strip}, code="ACI 318-19", cracking="ACI 318-19, MPa", at="3 m", length="6 m")
    idle = {
        "area": "1500 mm^2", "bond": "grouted", "breaks": "600 MPa", "yields": "420 MPa", "modulus": "200 GPa", "effective": "0.001 MPa",
        "profile": {"kind": "straight", "depth": "540 mm"},
    }  # fmt: skip
    slack = predicted({**{k: v for k, v in RC.items() if k != "bars"}, "tendons": idle})
    # a hundredth of a square millimetre of strip: up to 28 N on 0.6 m, of 314 kN·m
    for other, rel in ((thin, 6e-5), (slack, 1e-5)):
        agree("M_n", float(other.flexure[0].moment.to("kN·m")), float(plain.flexure[0].moment.to("kN·m")), rel)
        for a, b in zip(other.cracking[:2], plain.cracking[:2], strict=True):
            agree("M_cr", float(a.moment.to("kN·m")), float(b.moment.to("kN·m")), 1e-5)


def test_thin_wraps_carry_nothing_and_wide_stirrups_nothing() -> None:
    wraps: dict[str, Any] = {"modulus": "230 GPa", "ultimate_strain": "0.0128 m/m", "width": "100 mm"}
    some = ps.wrap_shear("u_wrap", "30 MPa", "500 mm", thickness="0.165 mm", spacing="200 mm", form="SI", **wraps).expected.to("N")
    far = ps.wrap_shear("u_wrap", "30 MPa", "500 mm", thickness="0.165 mm", spacing="99 m", form="SI", **wraps).expected.to("N")
    agree("wraps far apart", far * 99 / 0.2, some, 1e-9)
    assert far < 0.003 * some
    added = ps.added_stirrups("100 mm^2", "99 m", reached="300 MPa", depth="400 mm").shear.to("N")
    agree("stirrups far apart", added, 100 * 300 * 400 / 99e3, 1e-9)


def test_wraps_of_both_systems_differ_by_the_published_constants() -> None:
    """2500 in, 4000 psi, 468 against 23300 mm, 27 MPa, 11900: each form redone in its own units, on one member."""
    dice = random.Random(SEED)
    psi = 4.4482216152605 / 645.16
    worst = 0.0
    for _ in range(100):
        fc, d, t, e = dice.uniform(2500, 6000), dice.uniform(15, 40), dice.uniform(0.005, 0.03), dice.uniform(8e6, 35e6)
        efu, w = dice.uniform(0.01, 0.02), dice.uniform(2, 12)
        s, ends = w * dice.uniform(1, 2), dice.choice([1, 2])
        found = {}
        forms: tuple[Literal["US", "SI"], ...] = ("US", "SI")
        for form in forms:
            us = form == "US"
            l, f = (1.0, 1.0) if us else (25.4, psi)
            c, strength, divisor = (2500.0, 4000.0, 468.0) if us else (23300.0, 27.0, 11900.0)
            bond = c / (t * l * e * f) ** 0.58
            kappa = min(0.75, (fc * f / strength) ** (2 / 3) * (d * l - ends * bond) / (d * l) * bond / (divisor * efu))
            want = 2 * t * w * l * l * e * f * min(kappa * efu, 0.004) * d / s * (4.4482216152605 if us else 1.0)
            scheme: Literal["u_wrap", "two_sided"] = "u_wrap" if ends == 1 else "two_sided"
            shear = ps.wrap_shear(
                scheme, f"{fc!r} psi", f"{d!r} in", thickness=f"{t!r} in", modulus=f"{e!r} psi", ultimate_strain=f"{efu!r} m/m",
                width=f"{w!r} in", spacing=f"{s!r} in", form=form,
            ).expected.to("N")  # fmt: skip
            assert shear == pytest.approx(want, rel=1e-10), form
            found[form] = shear
        worst = max(worst, abs(found["SI"] / found["US"] - 1))
    print(f"US against SI: up to {worst:.2%}")
    assert 0.005 < worst < 0.03


def test_more_of_what_holds_cracks_and_bends_later() -> None:
    """Cracking moment and strength in flexure of a prestressed section: strength, area, depth."""
    def of(fc: float, area: float, depth: float, width: float) -> tuple[float, float]:
        tendon = {
            "area": f"{area!r} mm^2", "bond": "grouted", "breaks": "1860 MPa", "yields": "1670 MPa", "modulus": "195 GPa",
            "effective": "1000 MPa", "profile": {"kind": "straight", "depth": f"{depth!r} mm"},
        }  # fmt: skip
        shape = {"kind": "rectangle", "width": f"{width!r} mm", "height": "700 mm"}
        found = predicted({"shape": shape, "concrete": f"{fc!r} MPa", "tendons": tendon})
        return float(found.cracking[0].moment.to("kN·m")), float(found.flexure[0].moment.to("kN·m"))

    dice = random.Random(SEED)
    for _ in range(40):
        given = [dice.uniform(*ends) for ends in ((25, 60), (300, 1500), (400, 620), (200, 500))]
        before = of(*given)
        for i in range(4):
            more = [v * 1.03 if i == j else v for j, v in enumerate(given)]
            after = of(*more)
            assert after[0] >= before[0] * (1 - 1e-9) or i == 3, (i, given)  # a wider section spreads the prestress
            assert after[1] >= before[1] * (1 - 1e-9), (i, given)


def test_stresses_stage_by_stage_of_a_topped_section() -> None:
    """400 by 500 mm with 100 kN at 400 mm; 50 kN·m before and 80 after a topping of 600 by 100 mm of half the modulus."""
    section = {
        "shape": {"kind": "rectangle", "width": "400 mm", "height": "500 mm"},
        "concrete": {"strength": "30 MPa", "modulus": "26 GPa"},
        "tendons": {
            "area": "100 mm^2", "bond": "grouted", "breaks": "1860 MPa", "yields": "1670 MPa", "modulus": "195 GPa",
            "effective": "1000 MPa", "profile": {"kind": "straight", "depth": "400 mm"},
        },
        "topping": {"width": "600 mm", "depth": "100 mm", "concrete": {"strength": "25 MPa", "modulus": "13 GPa"}},
    }  # fmt: skip
    found = ps.section_strength(section, code="ACI 318-19", cracking="ACI 318-19, MPa", before="50 kN·m", moment="130 kN·m")
    area, own = 200e3, 400 * 500.0**3 / 12
    topping = 300 * 100.0
    c = (topping * 50 + area * 350) / (topping + area)
    whole = own + area * (350 - c) ** 2 + 300 * 100.0**3 / 12 + topping * (c - 50) ** 2
    first: Any = lambda z: -100e3 / area + (50e6 - 100e3 * 150) * (z - 250) / own  # noqa: E731
    want = {
        "top": first(0) + 80e6 * (100 - c) / whole, "bottom": first(500) + 80e6 * (600 - c) / whole,
        "topping_top": 80e6 * (0 - c) / whole / 2, "topping_bottom": 80e6 * (100 - c) / whole / 2,
    }  # fmt: skip
    assert set(found.stresses) == set(want)
    for name, stress in want.items():
        agree(name, float(found.stresses[name].to("MPa")), stress, 1e-9)
    assert "f_pc" in str(found.working()) and found.working().recheck() == []
    assert ps.section_strength(section, code="ACI 318-19", cracking="ACI 318-19, MPa", before="50 kN·m").stresses == {}
