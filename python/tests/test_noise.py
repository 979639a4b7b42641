"""What a reader sees of exact actions: at a free end and over a bearing zero is zero, not 3.6e-14."""

import re

import numpy as np
import pytest

import proofspan as ps

NOISE = re.compile(r"\de-1[2-9]")


@pytest.mark.parametrize("seed", range(40))
def test_zero_is_zero(seed: int) -> None:
    rng = np.random.default_rng(seed)
    first, second = (round(float(x), 2) for x in rng.uniform(3, 9, 2))
    end = round(first + second, 2)
    supports = [ps.Support("0 m"), ps.Support(f"{first} m"), ps.Support(f"{end} m")]
    beam = ps.Beam(f"{end} m", supports, "1e5 kN·m^2")
    loads = [
        ps.Load.line("0 m", f"{end} m", f"{float(rng.uniform(1, 9)):.2f} kN/m"),
        ps.Load.point(f"{first * 0.37:.3f} m", "13 kN"),
    ]
    response = beam.response(loads)
    # a simple end carries no moment, a bearing does not move
    assert response.moment(f"{end} m").to("kN·m") == 0.0
    assert response.moment("0 m").to("kN·m") == 0.0
    assert response.deflection(f"{first} m").to("mm") == 0.0
    shown = [
        response.extremes("moment"),
        response.extremes("deflection"),
        response.extremes("shear"),
        response.moment(["0 m", f"{first} m", f"{end} m"]),
        response.deflection(["0 m", f"{first} m", f"{end} m"]),
        response.rotation(["0 m", f"{first} m", f"{end} m"]),
        response.reactions,
    ]
    for value in shown:
        assert not NOISE.search(repr(value)), value
    # what is not noise keeps every digit: moment at mid-span by the shear beside it
    x = first / 2
    step = 1e-4
    slope = (
        response.moment(f"{x + step} m").to("kN·m") - response.moment(f"{x - step} m").to("kN·m")
    ) / (2 * step)
    assert slope == pytest.approx(response.shear(f"{x} m").to("kN"), abs=1e-6)
