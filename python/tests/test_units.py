"""Quantities, columns and the units module."""

from __future__ import annotations

import pickle
from typing import Any

import numpy as np
import pytest

import proofspan as ps
from proofspan import units
from proofspan.units import MPa, ft, inch, kN, kip, ksi, lbf, m, mm, psf


def test_text_unit_and_kind_give_equal_bits() -> None:
    span = ps.Quantity("45 ft", "Length")
    assert span == ps.Quantity("45 ft") == 45 * ft == ft * 45
    assert span.to("m") == 45 * 0.3048
    assert repr(span) == "13.716 m (Length)"
    assert (2.0 * span).to("ft") == pytest.approx(90.0)
    with pytest.raises(ValueError, match="did you mean ft"):
        ps.Quantity("45 fet", "Length")
    with pytest.raises(ValueError, match="did you mean ft"):
        ps.Quantity("45 fet")


def test_products_keep_the_kind_where_only_one_fits() -> None:
    assert (76 * psf * (8 * ft)).kind == "LineLoad"
    assert (kN * m).kind == "Moment"
    assert (4000 * ksi * (16200 * inch**4)).kind == "FlexuralRigidity"
    open_kind = kN / m
    assert open_kind.kind is None and open_kind.as_kind("SpringStiffness").kind == "SpringStiffness"
    assert (3 * ft) / (2 * inch) == pytest.approx(18.0)
    with pytest.raises(ps.InputError, match="do not mix"):
        kN.as_kind("Length")
    # open between stress and pressure: the argument decides
    assert MPa.kind is None and ps.Rigidity(30_000 * MPa, 1e9 * mm**4) is not None


def test_unlike_quantities_do_not_mix() -> None:
    one: Any = 1
    for wrong in (lambda: ft + lbf, lambda: ft - lbf, lambda: ft < lbf):
        with pytest.raises(ps.InputError):
            wrong()
    with pytest.raises(TypeError):
        ft + one
    assert ft != lbf and ft != 1 and 12 * inch > 0.9 * ft
    assert -ft == -1 * ft and abs(-ft) == ft


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), True, "3", None])
def test_what_is_no_number_is_refused(bad: Any) -> None:
    with pytest.raises((TypeError, ValueError)):
        bad * ft
    with pytest.raises((TypeError, ValueError)):
        ft * bad
    with pytest.raises((TypeError, ValueError)):
        ft / bad


def test_arrays_from_both_sides() -> None:
    x = np.linspace(0.0, 45.0, 6)
    left, right = x * ft, ft * x
    assert isinstance(left, ps.Column) and left == right and len(left) == 6
    assert np.array_equal(left.to("m"), np.array([v * 0.3048 for v in x]))
    assert left[1] == x[1] * ft and left[-1] == 45 * ft and left[1:3].values("ft") == pytest.approx([9, 18])
    assert [q.to("ft") for q in left[:2]] == [0.0, pytest.approx(9.0)]
    assert left.max() == 45 * ft and left.min() == 0 * ft
    loads = left * (76 * psf)
    assert loads.kind == "LineLoad" and (loads / (76 * psf)).values("ft") == pytest.approx(list(x))
    assert (left - left).values("m") == [0.0] * 6 and (left + 1 * ft)[0] == ft and (1 * ft - left)[0] == ft
    assert (ft * [1, 2]).values("ft") == [1.0, 2.0]
    assert (np.float64(2.0) * ft) == 2 * ft
    with pytest.raises(ValueError, match="entry 1"):
        np.array([1.0, np.nan]) * ft
    with pytest.raises(ps.InputError, match="do not mix"):
        left + kip
    with pytest.raises(ValueError, match="do not pair"):
        left + left[1:]
    with pytest.raises(IndexError):
        left[6]


def test_pickles() -> None:
    for q in (45 * ft, kN / m, psf):
        assert pickle.loads(pickle.dumps(q)) == q and pickle.loads(pickle.dumps(q)).kind == q.kind
    column = np.arange(3.0) * ft
    assert pickle.loads(pickle.dumps(column)) == column


def test_every_unit_of_the_module_is_one_of_itself() -> None:
    written = {"inch": "in", "tonne": "t", "minute": "min", "hour": "h", "day": "d", "percent": "%"}
    for name in units.__all__:
        unit = getattr(units, name)
        assert unit.to(written.get(name, name)) == 1.0
