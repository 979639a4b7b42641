"""Pictures with matplotlib; every function returns the Axes it drew on.

Moments and deflections are drawn down positive everywhere: a sagging moment on the side that it stretches. A
second picture on the same axes adds its lines and changes nothing of the first; other units or another
effect are refused there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from ._core import Response, Beam, Certified, Column, Design, Envelope, Judgement, Layout, Load, Quantity, SectionStrength, _refusal

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
        raise _refusal("source.choice", "units", f"`{units}` is not a unit system: SI, US")
    if what not in _UNITS:
        raise _refusal("source.choice", "what", f"`{what}` is not one of shear, moment, deflection")
    return _UNITS[what][units == "US"]


def _axes(ax: Axes | None, what: str = "", units: str = "") -> Axes:
    """Axes to draw on; those of another picture where they show the same in the same units."""
    if ax is None:
        try:
            import matplotlib.pyplot as plt
        except ImportError as missing:
            raise ImportError("pictures need matplotlib, which is not installed: pip install 'proofspan[pictures]'") from missing
        ax = plt.subplots(figsize=(8, 3), layout="constrained")[1]
    elif not hasattr(type(ax), "has_data"):
        raise _refusal("source.type", "ax", f"the axes of a picture of matplotlib are wanted; here is `{type(ax).__name__}`")
    shown = getattr(ax, "_proofspan_shows", None)
    if what and ax.has_data() and shown is not None and shown != (what, units):
        raise _refusal("source.contradiction", "ax", f"these axes show {shown[0]} in {shown[1]} units: draw {what} in {units} units on others")
    if what:
        ax._proofspan_shows = (what, units)  # type: ignore[attr-defined]
    return ax


#: What is drawn down positive: a sagging moment lies on the side that it stretches.
_DOWN = ("moment", "deflection")


def _directed(axes: Axes, what: str) -> None:
    """Down positive, once."""
    if what in _DOWN and not axes.yaxis_inverted():
        axes.invert_yaxis()


def _worded(axes: Axes, x: str, y: str, title: str = "") -> None:
    """Names of the axes and the title, where the axes have none yet; a second title goes below the first."""
    if not axes.get_xlabel():
        axes.set_xlabel(x)
    if not axes.get_ylabel():
        axes.set_ylabel(y)
    if title and not axes.get_title():
        axes.set_title(title, fontsize=9)


def _said(what: str, unit: str) -> str:
    return f"{what}, {unit}" + (" (sagging down)" if what == "moment" else " (down)" if what == "deflection" else "")


def _legend(axes: Axes, fontsize: int) -> None:
    """One entry a label."""
    handles: dict[str, Any] = {}
    for handle, label in zip(*axes.get_legend_handles_labels(), strict=True):
        handles.setdefault(label, handle)
    if handles:
        axes.legend(handles.values(), handles.keys(), fontsize=fontsize)


def _labels(axes: Axes, wanted: list[tuple[float, float, str]], fontsize: int = 8, color: str = "k", weight: str = "normal") -> None:
    """Labels beside their points, each where it covers no other label of the axes; none twice at one point."""
    axes.autoscale_view()
    axes.apply_aspect()
    for x, y, text in wanted:
        if any(t.get_text() == text and getattr(t, "xy", None) == (x, y) for t in axes.texts):
            continue
        taken = [t.get_window_extent() for t in axes.texts if t.get_text()]
        low, high = sorted(axes.get_xlim())
        side: Literal["left", "right"] = "right" if high > low and (x - low) / (high - low) > 0.7 else "left"
        label = axes.annotate(text, (x, y), xytext=(0, 4), textcoords="offset points", ha=side, fontsize=fontsize, color=color, weight=weight)
        for step in range(40):
            above = 4 + 6 * (step // 2) if step % 2 == 0 else -12 - 6 * (step // 2)
            label.set_position((0, above))
            own = label.get_window_extent()
            if not any(own.overlaps(other) for other in taken):
                break


def _places(found: Response) -> tuple[Column, Column]:
    """Places between the breakpoints, and the breakpoints themselves, each with its left and right side."""
    points = found.breakpoints.values("m")
    left: list[float] = []
    right: list[float] = []
    for a, b in zip(points, points[1:], strict=False):
        step = (b - a) / 60
        right += [a + step * i for i in range(60)]
        left += [a + step * i for i in range(1, 61)]
    return Column(left, "m", "Length"), Column(right, "m", "Length")


def response(found: Response, what: Literal["shear", "moment", "deflection"] = "moment", units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw shear, moment (sagging down, as on the tension side) or deflection (down) along a beam.

    The largest and smallest value are labelled with their place.
    """
    unit, place = _unit(what, units), _unit("length", units)
    axes = _axes(ax, what, units)
    left, right = _places(found)
    if what == "deflection":
        xs = right.values(place) + left.values(place)[-1:]
        ys = found.deflection(right).values(unit) + found.deflection(left[-1:]).values(unit)
    else:
        xs, ys = _line(found, what, units)
    axes.plot(xs, ys, "k", lw=1.2)
    axes.fill_between(xs, ys, color="#dfe7ef")
    axes.axhline(0, color="k", lw=0.6)
    labels = []
    for name in ("max", "min"):
        extreme = getattr(found.extremes(what), name)
        x, y = extreme.at.to(place), extreme.value.to(unit)
        if y:
            labels.append((x, y, f"{y:.4g} {unit} at {x:.4g} {place}"))
            axes.plot([x], [y], "o", ms=3, color="#b03a2e")
    _worded(axes, f"x, {place}", _said(what, unit))
    _directed(axes, what)
    _labels(axes, labels)
    return axes


def _line(found: Response, effect: str, units: str) -> tuple[list[float], list[float]]:
    """Shear or moment along a beam, with both sides of every breakpoint."""
    unit, place = _unit(effect, units), _unit("length", units)
    left, right = _places(found)
    value = found.shear if effect == "shear" else found.moment
    return _sides(left, right, place), _sides(value(left, side="left"), value(right, side="right"), unit)


def _sides(left: Column, right: Column, unit: str) -> list[float]:
    """Right and left side of one stretch after the other."""
    return [v for pair in zip(right.values(unit), left.values(unit), strict=True) for v in pair]


def _reference_and_test(
    found: Layout | Certified,
    references: list[tuple[str, tuple[list[float], list[float]]]],
    region: tuple[Quantity, Quantity],
    effect: Literal["shear", "moment"],
    units: Literal["SI", "US"],
    per: str,
    ax: Axes | None,
) -> Axes:
    """References dashed and the test, net, the region in doubt shaded, the largest overshoot of both bases."""
    unit, place = _unit(effect, units), _unit("length", units)
    axes = _axes(ax, effect, units)
    start, end = (x.to(place) for x in region)
    axes.axvspan(start, end, color="#f3e3c8", label="region in doubt")
    for i, (label, line) in enumerate(references):
        axes.plot(*line, "--", lw=1.0, color="#1f5fa8", alpha=1.0 if i == 0 else 0.5, label=label)
    axes.plot(*_line(found.response, effect, units), "-", lw=1.6, color="#b03a2e", label="test")
    axes.axhline(0, color="k", lw=0.8)
    ratios = [(basis, found.overshoot(effect, "net" if basis == "net" else "total")) for basis in ("net", "total")]
    shown = ", ".join(f"{basis} {ratio:.4f}" for basis, ratio in ratios if ratio is not None)
    title = f"largest test over reference in the region, {effect}: {shown or 'none'}"
    _worded(axes, f"x, {place}", _said(effect, unit).replace(effect, f"{effect}, net per {per}", 1), title)
    _directed(axes, effect)
    _legend(axes, 8)
    return axes


def layout(found: Layout, effect: Literal["shear", "moment"] = "moment", units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw reference and test, net, with the region in doubt shaded and the overshoot of both bases."""
    reference, unit = found.target, _unit(effect, units)
    left, right = _places(found.response)
    governing = _sides(reference.governing(effect, left), reference.governing(effect, right, side="right"), unit)
    line = (_sides(left, right, _unit("length", units)), governing)
    return _reference_and_test(found, [("reference", line)], reference.region, effect, units, reference.unit, ax)


def certified(found: Certified, effect: Literal["shear", "moment"] = "moment", units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw the terms and the test, net, with the region in doubt shaded, the carriers with their forces,
    and the largest overshoot of both bases."""
    reference = found.reference
    lines = [(f"reference {name}", _line(case, effect, units)) for name, case in reference.terms.items()]
    axes = _reference_and_test(found, lines, reference.region, effect, units, reference.unit, ax)
    place, force = _unit("length", units), _unit("force", units)
    labels = []
    for candidate, (_, p) in zip(found.candidates, found.forces, strict=True):
        if p.si <= 0:
            continue
        half = candidate.plate.to(place) / 2
        equal = [1 / len(candidate.contacts)] * len(candidate.contacts)
        for contact, share in zip(candidate.contacts, candidate.shares or equal, strict=True):
            x = contact.to(place)
            if half:
                axes.plot([x - half, x + half], [0, 0], color="#b03a2e", lw=5, solid_capstyle="butt")
            axes.plot([x], [0], "v", color="#b03a2e", ms=8)
            labels.append((x, 0.0, f"{p.to(force) * share:.4g} {force}"))
    _labels(axes, labels)
    return axes


def _width(load: Load) -> tuple[float, float, float]:
    """Left edge, right edge in metres and the larger intensity in N/m of a line load."""
    _, (a, b, q, r) = load.parts
    return a.to("m"), b.to("m"), max(abs(q.si), abs(r.si))


def beam(member: Beam, loads: list[Load] | None = None, units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw a beam like a hand sketch: supports, hinges, loads with their values."""
    loads = loads or []
    place, force = _unit("length", units), _unit("force", units)
    line = "kN/m" if units == "SI" else "plf"
    axes = _axes(ax, "a beam", units)
    labels = []
    length = member.length.to(place)
    axes.plot([0, length], [0, 0], "k", lw=3, solid_capstyle="butt")
    for at, kind in member.supports:
        x = at.to(place)
        if kind == "fixed":
            axes.plot([x, x], [-0.25, 0.25], "k", lw=4)
        else:
            axes.plot([x], [-0.1], "^", color="k", ms=11, fillstyle="full" if kind == "bearing" else "none")
        label = "" if kind in ("fixed", "bearing") else kind
        labels.append((x, -0.42, f"{label} {x:.4g}".strip()))
    for x in member.hinges.values(place):
        axes.plot([x], [0], "o", mfc="w", mec="k", ms=8)
    largest = max((_width(load)[2] for load in loads if load.parts[0] == "line"), default=1.0) or 1.0
    for load in loads:
        kind, parts = load.parts
        if kind == "point":
            x, p = parts[0].to(place), parts[1]
            head, tail = (0.03, 0.75) if p.si >= 0 else (0.75, 0.03)
            axes.annotate("", (x, head), (x, tail), arrowprops={"arrowstyle": "-|>", "color": "#b03a2e", "lw": 1.6})
            labels.append((x, 0.8, f"{p.to(force):.4g} {force}"))
        elif kind == "line":
            a, b = parts[0].to(place), parts[1].to(place)
            top = [0.06 + 0.44 * q.si / largest for q in parts[2:]]
            axes.fill([a, b, b, a], [0.06, 0.06, top[1], top[0]], color="#dfe7ef", ec="#1f5fa8", lw=0.8)
            labels += [(x, y, f"{q.to(line):.4g}") for x, y, q in ((a, top[0], parts[2]), (b, top[1], parts[3]))]
        elif kind == "moment":
            x, m = parts[0].to(place), parts[1]
            mark = "$\\circlearrowright$" if m.si >= 0 else "$\\circlearrowleft$"
            axes.annotate(mark, (x, 0), ha="center", va="center", fontsize=18, color="#b03a2e")
            labels.append((x, 0.25, f"{m.to(_unit('moment', units)):.4g} {_unit('moment', units)}"))
    axes.set_ylim(-0.5, 1.0)
    axes.set_yticks([])
    _worded(axes, f"x, {place}" + (f"; line loads in {line}" if any(load.parts[0] == "line" for load in loads) else ""), "")
    _labels(axes, labels)
    for side in ("left", "right", "top"):
        axes.spines[side].set_visible(False)
    return axes


def envelope(found: Envelope, what: Literal["shear", "moment", "deflection"] = "moment", units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw the largest and the smallest value along a beam over all cases, the extremes labelled."""
    unit, place = _unit(what, units), _unit("length", units)
    axes = _axes(ax, what, units)
    pairs = [_places(case) for case in found.cases]
    sides: list[tuple[float, int, Quantity]] = []
    for left, right in pairs:
        sides += [(x.si, 1, x) for x in right] + [(x.si, 0, x) for x in left]
    sides.sort(key=lambda entry: entry[:2])
    xs = [x.to(place) for _, _, x in sides]
    high = [found.max(what, x, "right" if right else "left").to(unit) for _, right, x in sides]
    low = [found.min(what, x, "right" if right else "left").to(unit) for _, right, x in sides]
    axes.fill_between(xs, low, high, color="#dfe7ef")
    axes.plot(xs, high, color="#1f5fa8", lw=1.2, label="largest")
    axes.plot(xs, low, color="#b03a2e", lw=1.2, label="smallest")
    axes.axhline(0, color="k", lw=0.6)
    labels = []
    ends = found.extremes(what)
    for extreme in (ends.max, ends.min):
        x, y = extreme.at.to(place), extreme.value.to(unit)
        if y:
            labels.append((x, y, f"{y:.4g} {unit} at {x:.4g} {place}, case {extreme.case + 1}"))
            axes.plot([x], [y], "o", ms=3, color="k")
    _worded(axes, f"x, {place}", _said(what, unit))
    _directed(axes, what)
    _legend(axes, 8)
    _labels(axes, labels)
    return axes


def _predicted_rows(design: Design, shear: bool) -> list[dict[str, Any]]:
    found = design.predicted
    if found is None:
        raise _refusal("source.field-missing", "capacity", "nothing is predicted: the document has no part `capacity`")
    rows: list[dict[str, Any]] = found["shear" if shear else "sections"]
    return rows


def predicted(design: Design, what: Literal["shear", "moment", "deflection"] = "moment", units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw demand at full test load against predicted strength along the member, in place and total, with the
    region in doubt shaded and the first failure marked; of "deflection" what the test adds over its load,
    stiff and soft, as a band. Predictions to plan a test by, no approval."""
    if what == "deflection":
        return _band(design, units, ax)
    unit, place = _unit(what, units), _unit("length", units)
    axes = _axes(ax, what, units)
    rows = _predicted_rows(design, what == "shear")
    start, end = (x.to(place) for x in design.layout.target.region)
    axes.axvspan(start, end, color="#f3e3c8", label="region in doubt")
    if what == "shear":
        # where the test brings no shear no strength is drawn
        turns = [i for i, (a, b) in enumerate(zip(rows, rows[1:], strict=False), 1) if (a["total"].si < 0) != (b["total"].si < 0)]
        for i in reversed(turns):
            rows.insert(i, {"at": rows[i]["at"], "total": rows[i]["total"]})
    xs = [row["at"].to(place) for row in rows]

    def of(name: str) -> list[float]:
        # a strength in shear has the sign of what it holds
        values = [row[name].to(unit) if row.get(name) is not None else float("nan") for row in rows]
        if what == "shear" and name not in ("total", "in_place"):
            return [v if row["total"].si >= 0 else -v for v, row in zip(values, rows, strict=True)]
        return values

    axes.plot(xs, of("in_place"), color="k", lw=0.8, label="in place")
    axes.plot(xs, of("total"), color="#b03a2e", lw=1.6, label="full test load, with what is in place")
    cracks = "cracking" if what == "moment" else "cracks"
    axes.plot(xs, of(cracks), ":", color="#1f5fa8", lw=1.2, label="cracks, expected")
    strength = of("expected")
    axes.plot(xs, strength, color="#1f5fa8", lw=1.4, label="strength, expected")
    if any(row.get("design") is not None for row in rows):
        axes.plot(xs, of("design"), "--", color="#1f5fa8", lw=1.0, label="strength, design")
    sure = of(cracks if what == "moment" else "expected")
    spread = [row["uncertainty"].to(unit) if row.get("uncertainty") is not None else 0.0 for row in rows]
    if any(spread):
        low = [v - 2 * u for v, u in zip(sure, spread, strict=True)]
        high = [v + 2 * u for v, u in zip(sure, spread, strict=True)]
        axes.fill_between(xs, low, high, color="#1f5fa8", alpha=0.15, label="within twice the scatter")
    axes.axhline(0, color="k", lw=0.6)
    found = design.predicted
    first = found.get("first_failure") if found else None
    title = "predicted, no approval"
    if first is not None:
        title += f": first failure {first['mode']} at {first['at'].to(place):.4g} {place}, {first['share']:.3g} of the test load"
        if first["mode"] == ("shear" if what == "shear" else "flexure"):
            axes.axvline(first["at"].to(place), color="#b03a2e", lw=0.8, ls="-.")
    _worded(axes, f"x, {place}", _said(what, unit), title)
    _directed(axes, what)
    _legend(axes, 7)
    return axes


def _band(design: Design, units: Literal["SI", "US"], ax: Axes | None) -> Axes:
    """The deflection that the test adds over its load: the band between stiff and soft by the sections, and the
    two straight lines of the beam of the document."""
    predicted = design.predicted
    found = predicted.stiffness if predicted else None
    if found is None:
        raise _refusal("source.field-missing", "capacity", "no stiffness is predicted: the document has no part `capacity`, or a modulus is missing in it")
    length, force = _unit("deflection", units), _unit("force", units)
    axes = _axes(ax, "force over deflection", units)
    whole = design.layout.force.to(force)
    loads = [0.0] + [step["share"] * whole for step in found["steps"]]
    soft = [0.0] + [step["soft"].to(length) for step in found["steps"]]
    stiff = [0.0] + [step["stiff"].to(length) for step in found["steps"]]
    axes.fill_betweenx(loads, stiff, soft, color="#dfe7ef", label="by the sections, stiff to soft")
    axes.plot(soft, loads, color="#1f5fa8", lw=1.2, label="soft, by the sections")
    axes.plot(stiff, loads, color="k", lw=1.2, label="stiff, by the sections")
    for name, most, style in (("soft", found["beam_soft"], "--"), ("stiff", found["beam_stiff"], ":")):
        axes.plot([0, most.to(length)], [0, whole], style, lw=1, color="#7f8c8d", label=f"{name}, by the beam of the document")
    broken = found.get("breaks")
    if broken is not None:
        axes.axhline(broken["share"] * whole, color="#b03a2e", lw=0.8, ls="-.", label=broken["state"])
    place = _unit("length", units)
    title = f"predicted, no approval: at {found['at'].to(place):.4g} {place}; the design counts with the stiffness of the {found['used']}"
    _worded(axes, f"deflection that the test adds, {length}", f"test load, {force}", title)
    _legend(axes, 7)
    return axes


def section(found: SectionStrength, face: Literal["bottom", "top"] = "bottom", set: Literal["expected", "design"] = "expected", units: Literal["SI", "US"] = "SI") -> tuple[Axes, Axes, Axes]:
    """Draw a section with its bars, and strain and stress over its depth when it fails with one face in tension:
    strain of the concrete as a plane, that of each steel as a point; stress of each steel, and the resultant of
    the compressed concrete. Returns the three Axes."""
    wanted = [f for f in found.flexure if f.face == face and f.set == set]
    if not wanted:
        raise _refusal("source.choice", "face", f"no strength in flexure of the {face} face, {set} set: no steel there, or no reductions")
    strong = wanted[0]
    try:
        import matplotlib.pyplot as plt
    except ImportError as missing:
        raise ImportError("pictures need matplotlib, which is not installed: pip install 'proofspan[pictures]'") from missing
    length, stress, force = _unit("deflection", units), ("MPa", "ksi")[units == "US"], _unit("force", units)
    drawn, strains, stresses = plt.subplots(1, 3, figsize=(9, 3.6), sharey=True, layout="constrained")[1]
    depths = [z.to(length) for z, _ in found.outline]
    halves = [w.to(length) / 2 for _, w in found.outline]
    drawn.fill(halves + [-h for h in reversed(halves)], depths + list(reversed(depths)), facecolor="#d5d8dc", edgecolor="#333333")
    height = max(depths)
    at = {name: depth.to(length) for name, depth, _ in found.steel}
    for name, depth in at.items():
        width = next((h for z, h in zip(depths, halves, strict=True) if z >= depth), halves[-1])
        drawn.plot([-0.8 * width, 0.8 * width], [depth, depth], "o", color="#b03a2e", ms=4)
        drawn.annotate(name, (0, depth), ha="center", va="bottom", fontsize=7)
    c, crushed = strong.neutral_axis.to(length), -strong.compressed_strain.si * 1000
    top, bottom = crushed, -crushed * (height - c) / c
    plane = [top, bottom] if face == "bottom" else [bottom, top]
    strains.fill_betweenx([0, height], plane, color="#dfe7ef")
    strains.plot(plane, [0, height], color="k", lw=1.2)
    axis = c if face == "bottom" else height - c
    for axes in (drawn, strains, stresses):
        axes.axhline(axis, color="#1f5fa8", lw=0.8, ls="-.")
    for steel in strong.steel:
        strains.plot([steel.strain.si * 1000], [at[steel.steel]], "o", color="#b03a2e", ms=4)
        stresses.plot([0, steel.stress.to(stress)], [at[steel.steel]] * 2, color="#b03a2e", lw=3)
        stresses.annotate(f"{steel.force.to(force):.4g} {force}", (steel.stress.to(stress), at[steel.steel]), ha="right", va="bottom", fontsize=7)
    for axes in (strains, stresses):
        axes.axvline(0, color="k", lw=0.6)
    middle = axis / 2 if face == "bottom" else (height + axis) / 2
    stresses.annotate(f"concrete: {strong.compression.to(force):.4g} {force}", (0, middle), ha="left", va="center", fontsize=7)
    drawn.set_ylabel(f"depth, {length}")
    drawn.set_xlabel(f"width, {length}")
    drawn.set_aspect("equal", adjustable="datalim")
    drawn.invert_yaxis()
    strains.set_xlabel("strain, per mille, tension positive")
    stresses.set_xlabel(f"stress of the steel, {stress}")
    moment = _unit("moment", units)
    strains.set_title(f"predicted, no approval: {strong.moment.to(moment):.4g} {moment}, {set} set; {strong.mode}", fontsize=8)
    return drawn, strains, stresses


def curve(judgement: Judgement, units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw force against deflection of the leading gauge, with what was predicted at the target load (soft and
    stiff, as straight lines) and the limits of the criteria on the largest deflection."""
    force, deflection = judgement.curve
    length, load = _unit("deflection", units), _unit("force", units)
    axes = _axes(ax, "force over deflection", units)
    axes.plot(deflection.values(length), force.values(load), lw=1, color="k", label="measured")
    found = judgement.to_dict()
    compared = max(judgement.comparisons, key=lambda c: abs(c.measured.si), default=None)
    target = found.get("target_force")
    if compared is not None and target is not None:
        for name, style in (("soft", "--"), ("stiff", ":")):
            far = getattr(compared, name).to(length)
            axes.plot([0, far], [0, target.to(load)], style, lw=1, color="#1f5fa8", label=f"predicted, {name}")
        axes.axhline(target.to(load), color="#1f5fa8", lw=0.6)
    labels = []
    for row in found["criteria"]:
        limit = row["code"].get("limit")
        if limit is not None and limit.kind == "Length" and "d_r" not in row["formula"]:
            x = limit.to(length)
            axes.axvline(x, color="#b03a2e", lw=1, label=f"limit, {row['id']}")
            labels.append((x, 0.0, f"{x:.4g} {length}"))
    _worded(axes, f"deflection, {length}", f"force, {load}")
    _legend(axes, 8)
    _labels(axes, labels)
    return axes


#: Colours of the shapes of a rig, as in the report.
_RIG = {
    "test": "#d5d8dc", "reaction": "#d5d8dc", "level": "#d5d8dc", "support": "#555555", "jack": "#b03a2e",
    "spreader": "#7d6608", "contact": "#cb6d51", "pad": "#cb6d51", "pile": "#d7bd91", "layer": "#555555", "basin": "#ffffff", "water": "#85c1e9", "wheel": "#424949",
    "crosshead": "#7d6608", "bar": "#7d6608", "anchor": "#7d6608", "weight": "#7f8c8d", "catch": "#1e8449", "post": "#1e8449",
    "column": "#aeb6bf", "holding": "#aeb6bf",
}  # fmt: skip


def rig(design: Design, units: Literal["SI", "US"] = "SI", ax: Axes | None = None) -> Axes:
    """Draw the elevation of a rig to scale: members, jacks, bars, weights, catches, levels, each mark with its numbers."""
    unit = _unit("length", units)
    axes = _axes(ax, "rig", units)
    lines: list[str] = []
    marks: list[tuple[float, float, str]] = []
    shapes = design.sketch(units)
    forces = [abs(shape.force.si) for shape in shapes if shape.force is not None]
    tall = max(shape.bottom.to(unit) for shape in shapes) - min(shape.top.to(unit) for shape in shapes)
    for shape in shapes:
        left, right, top, bottom = (side.to(unit) for side in (shape.left, shape.right, shape.top, shape.bottom))
        colour, middle = _RIG[shape.kind], (left + right) / 2
        if right > left and bottom > top:
            axes.fill([left, right, right, left], [top, top, bottom, bottom], facecolor=colour, edgecolor="#333333", gid=shape.kind)
        else:
            axes.plot([left, right], [top, bottom], color=colour, linewidth=3, gid=shape.kind)
        if shape.force is not None and max(forces) > 0:
            long = 0.15 * tall * shape.force.si / max(forces)
            ends = (top - long, top) if long > 0 else (bottom, bottom + long)
            axes.annotate("", (middle, ends[1]), (middle, ends[0]), arrowprops={"arrowstyle": "->", "color": "#1a5276"})
        if shape.mark:
            marks.append((left if shape.kind in ("test", "reaction", "level") else middle, top, shape.mark))
            lines.append(f"{shape.mark}: {shape.says}")
    if not axes.yaxis_inverted():
        axes.invert_yaxis()
    axes.set_aspect("equal")
    _worded(axes, f"from the left end of the member under test, {unit}", f"below its top, {unit}")
    if not axes.get_title(loc="left"):
        axes.set_title("\n".join("   ".join(lines[i : i + 4]) for i in range(0, len(lines), 4)), fontsize=7, loc="left")
    axes.figure.canvas.figure.draw_without_rendering()
    _labels(axes, marks, fontsize=10, weight="bold")
    return axes
