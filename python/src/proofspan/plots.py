"""Pictures of a design and of its judgement, with matplotlib."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ._core import Design, Judgement

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def _axes(ax: Axes | None) -> Axes:
    if ax is not None:
        return ax
    import matplotlib.pyplot as plt

    return plt.subplots(figsize=(8, 3), layout="constrained")[1]


def effect(design: Design, which: str, length: float, region: tuple[float, float], ax: Axes | None = None) -> Axes:
    """Draw reference and test along a member, net; ``which`` is "shear" (kN) or "moment" (kN·m).

    ``length`` and ``region`` are in metres; x runs from the left end, sagging moment positive.
    """
    axes = _axes(ax)
    x = [length * i / 400 for i in range(401)]
    axes.axvspan(*region, color="#f3e3c8", label="region in doubt")
    for what, style in (("reference", "--"), ("test", "-")):
        values = [v / 1e3 for v in design.along(f"{what}_{which}", x)]
        axes.plot(x, values, style, label=what)
    axes.axhline(0, color="k", lw=0.6)
    axes.set_xlabel("x, m")
    axes.set_ylabel("shear, kN" if which == "shear" else "moment, kN·m")
    axes.legend()
    return axes


def curve(judgement: Judgement, ax: Axes | None = None) -> Axes:
    """Draw force (kN) against deflection (mm) of the leading gauge."""
    axes = _axes(ax)
    points = judgement.curve()
    axes.plot([1e3 * v for _, v in points], [f / 1e3 for f, _ in points], lw=1)
    axes.set_xlabel("deflection, mm")
    axes.set_ylabel("force, kN")
    return axes


def by_name(result: dict[str, Any], path: str) -> Any:
    """The value at a dotted path of ``to_dict()``, for example ``"layout.force"``."""
    for name in path.split("."):
        result = result[name]
    return result
