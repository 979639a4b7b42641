"""Pictures: labels that do not collide, a second picture that leaves the first as it is, axes that are used again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

plt = pytest.importorskip("matplotlib.pyplot")

SCENARIOS = sorted(path.name.split(".")[0] for path in Path("examples/scenarios").glob("*.test.json"))


def design(name: str) -> ps.Design:
    return ps.design(Path(f"examples/scenarios/{name}.test.json").read_text(encoding="utf-8"))


@pytest.fixture(autouse=True)
def closed() -> Iterator[None]:
    plt.switch_backend("Agg")
    yield
    plt.close("all")


def colliding(axes: Any) -> list[tuple[str, str]]:
    axes.figure.canvas.draw()
    texts = [t for t in axes.texts if t.get_text()]
    boxes = [t.get_window_extent() for t in texts]
    pairs = ((i, k) for i in range(len(boxes)) for k in range(i) if boxes[i].overlaps(boxes[k]))
    return [(texts[i].get_text(), texts[k].get_text()) for i, k in pairs]


def labels(axes: Any) -> list[tuple[str, Any]]:
    return [(t.get_text(), t.xy) for t in axes.texts]


@pytest.mark.parametrize("name", SCENARIOS)
def test_the_marks_of_a_rig_do_not_collide(name: str) -> None:
    found = design(name)
    axes = found.plot_rig()
    marks = {shape.mark for shape in found.sketch() if shape.mark}
    assert marks == {t.get_text() for t in axes.texts if t.get_text()}
    assert colliding(axes) == []


def test_a_second_rig_leaves_the_first_as_it_is() -> None:
    axes = design("terrace_strip").plot_rig()
    before = (axes.get_title(loc="left"), axes.get_xlabel(), labels(axes))
    design("gallery_beam").plot_rig(ax=axes)
    assert (axes.get_title(loc="left"), axes.get_xlabel(), labels(axes)[: len(before[2])]) == before


def test_supports_at_one_place_are_named_once() -> None:
    axes = ps.Beam.simple("8 m", "30000 kN·m²").plot()
    ps.Beam.simple("6 m", "30000 kN·m²").plot(ax=axes)
    assert sorted(t.get_text() for t in axes.texts) == ["0", "6", "8"]
    assert colliding(axes) == []


def test_cleared_axes_are_used_again() -> None:
    response = ps.Beam.simple("8 m", "30000 kN·m²").response([ps.Load.point("3 m", "10 kN")])
    axes = response.plot("moment")
    with pytest.raises(ValueError, match="these axes show moment"):
        response.plot("shear", ax=axes)
    axes.clear()
    assert response.plot("shear", ax=axes).get_ylabel() == "shear, kN"


def test_axes_that_are_none_are_refused_by_name() -> None:
    beam = ps.Beam.simple("8 m", "30000 kN·m²")
    response = beam.response([ps.Load.point("3 m", "10 kN")])
    none_of_them: list[Any] = [3, "axes", [], {"has_data": True}]
    for wrong in none_of_them:
        with pytest.raises(ps.InputError) as caught:
            beam.plot(ax=wrong)
        assert [(i["code"], i["path"]) for i in caught.value.issues] == [("source.type", "ax")]
        with pytest.raises(ps.InputError) as caught:
            response.plot("moment", ax=wrong)
        assert [(i["code"], i["path"]) for i in caught.value.issues] == [("source.type", "ax")]
    axes = response.plot("moment")
    with pytest.raises(ps.InputError) as caught:
        response.plot("shear", ax=axes)
    assert [(i["code"], i["path"]) for i in caught.value.issues] == [("source.contradiction", "ax")]
