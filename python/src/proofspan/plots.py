"""Pictures with matplotlib; every function returns the Axes it drew on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ._core import Actions, Column, Judgement, Layout

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# what is drawn: unit in SI and in US, words
_UNITS = {
    "shear": ("kN", "lbf"),
    "moment": ("kN·m", "lbf·ft"),
    "deflection": ("mm", "in"),
    "length": ("m", "ft"),
    "force": ("kN", "lbf"),
}


def _unit(what: str, units: str) -> str:
    if units not in ("SI", "US"):
        raise ValueError(f"`{units}` is not a unit system: SI, US")
    if what not in _UNITS:
        raise ValueError(f"`{what}` is not one of shear, moment, deflection")
    return _UNITS[what][units == "US"]


def _axes(ax: Axes | None) -> Axes:
    if ax is not None:
        return ax
    import matplotlib.pyplot as plt

    return plt.subplots(figsize=(8, 3), layout="constrained")[1]


def _places(found: Actions) -> tuple[Column, Column]:
    """Places between the breakpoints, and the breakpoints themselves, each with its left and right side."""
    points = found.breakpoints.values("m")
    left: list[float] = []
    right: list[float] = []
    for a, b in zip(points, points[1:], strict=False):
        step = (b - a) / 60
        right += [a + step * i for i in range(60)]
        left += [a + step * i for i in range(1, 61)]
    return Column(left, "m", "Length"), Column(right, "m", "Length")


def actions(found: Actions, what: str = "moment", units: str = "SI", ax: Axes | None = None) -> Axes:
    """Draw shear, moment (sagging down, as on the tension side) or deflection along a beam.

    The largest and smallest value are labelled with their place.
    """
    unit, place = _unit(what, units), _unit("length", units)
    axes = _axes(ax)
    left, right = _places(found)
    if what == "shear":
        xs = [x for pair in zip(right.values(place), left.values(place), strict=True) for x in pair]
        starts = found.shear(right, side="right").values(unit)
        ends = found.shear(left, side="left").values(unit)
        ys = [y for pair in zip(starts, ends, strict=True) for y in pair]
    else:
        xs = right.values(place) + left.values(place)[-1:]
        value = found.moment if what == "moment" else found.deflection
        ys = value(right).values(unit) + value(left[-1:]).values(unit)
    axes.plot(xs, ys, "k", lw=1.2)
    axes.fill_between(xs, ys, color="#dfe7ef")
    axes.axhline(0, color="k", lw=0.6)
    for name in ("max", "min"):
        extreme = found.extremes(what)[name]
        x, y = extreme["at"].to(place), extreme["value"].to(unit)
        if y:
            axes.annotate(f"{y:.4g} {unit} at {x:.4g} {place}", (x, y), fontsize=8)
            axes.plot([x], [y], "o", ms=3, color="#b03a2e")
    axes.set_xlabel(f"x, {place}")
    axes.set_ylabel(f"{what}, {unit}")
    if what != "shear":
        axes.invert_yaxis()
    return axes


def layout(found: Layout, effect: str = "moment", units: str = "SI", ax: Axes | None = None) -> Axes:
    """Draw reference and test, net, with the region in doubt shaded and the overshoot of both bases."""
    unit, place = _unit(effect, units), _unit("length", units)
    axes = _axes(ax)
    test, reference = found.actions, found.target
    left, right = _places(test)
    start, end = (x.to(place) for x in reference.region)
    axes.axvspan(start, end, color="#f3e3c8", label="region in doubt")
    xs = [x for pair in zip(right.values(place), left.values(place), strict=True) for x in pair]

    def both(starts: Column, ends: Column) -> list[float]:
        return [y for pair in zip(starts.values(unit), ends.values(unit), strict=True) for y in pair]

    axes.plot(
        xs,
        both(reference.governing(effect, right, side="right"), reference.governing(effect, left)),
        "--",
        label="reference",
    )
    if effect == "shear":
        ys = both(test.shear(right, side="right"), test.shear(left, side="left"))
    else:
        ys = both(test.moment(right, side="right"), test.moment(left, side="left"))
    axes.plot(xs, ys, "-", label="test")
    ratios = [(basis, found.overshoot(effect, basis)) for basis in ("net", "total")]
    shown = ", ".join(f"{basis} {ratio:.4f}" for basis, ratio in ratios if ratio is not None)
    axes.set_title(f"largest test over reference in the region: {shown}", fontsize=9)
    axes.axhline(0, color="k", lw=0.6)
    axes.set_xlabel(f"x, {place}")
    axes.set_ylabel(f"{effect}, net, {unit}")
    axes.legend(fontsize=8)
    return axes


def curve(judgement: Judgement, units: str = "SI", ax: Axes | None = None) -> Axes:
    """Draw force against deflection of the leading gauge."""
    force, deflection = judgement.curve
    axes = _axes(ax)
    axes.plot(deflection.values(_unit("deflection", units)), force.values(_unit("force", units)), lw=1)
    axes.set_xlabel(f"deflection, {_unit('deflection', units)}")
    axes.set_ylabel(f"force, {_unit('force', units)}")
    return axes
