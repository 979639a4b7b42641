"""A document object is handed to the library as it is: not written to a tree and read again; an object that
does not change is its own copy."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

import pytest

import proofspan as ps

TEXT = Path("examples/scenarios/terrace_strip.test.json").read_text(encoding="utf-8")


def least(*calls: Callable[[], object]) -> list[float]:
    """The shortest of many runs of each, in turn, so that all meet the same machine."""
    best = [float("inf")] * len(calls)
    for _ in range(40):
        for i, call in enumerate(calls):
            start = perf_counter()
            call()
            best[i] = min(best[i], perf_counter() - start)
    return best


def test_the_record_of_an_object_is_not_read_again() -> None:
    spec = ps.TestSpec.from_json(TEXT)
    by_object, by_text, reading = least(
        lambda: ps.design(spec), lambda: ps.design(TEXT), lambda: ps.TestSpec.from_json(TEXT)
    )
    # text costs its reading more than the object does
    assert by_object + reading / 2 < by_text
    assert ps.design(spec) == ps.design(TEXT)


DESIGN = ps.design(TEXT)
BEAM = ps.Beam.simple("8 m", "30000 kN·m²")
LOAD = ps.Load.point("3 m", "10 kN")
CALCULATED: list[object] = [
    BEAM,
    LOAD,
    BEAM.response([LOAD]),
    BEAM.influence("moment", "4 m"),
    DESIGN.target,
    DESIGN.layout,
    DESIGN.working(),
    DESIGN.working().steps[0],
    ps.Column([1, 2], "m"),
]


@pytest.mark.parametrize("one", CALCULATED, ids=lambda one: type(one).__name__)
def test_what_was_calculated_is_copied(one: object) -> None:
    assert copy.copy(one) == one and copy.deepcopy([one]) == [one]


LINE = ps.Beam(
    "12 m",
    [
        ps.Support("0 m", fixed=True),
        ps.Support("5 m", spring="20 kN/mm", settlement="2 mm"),
        ps.Support("12 m", rotation="500 kN·m/rad", lifts=True),
    ],
    "30000 kN·m²",
)
MADE: list[object] = [
    BEAM,
    LINE,
    LINE.with_hinges("3 m").with_shear("1e6 kN"),
    ps.Support("5 m", spring="20 kN/mm", settlement="2 mm"),
    LOAD,
    ps.Load.moment("3 m", "10 kN·m"),
    ps.Load.line("1 m", "3 m", "10 kN/m", "4 kN/m"),
    ps.Load.curvature("1 m", "3 m", "0.001 1/m"),
]


@pytest.mark.parametrize("one", MADE, ids=repr)
def test_beams_and_loads_are_pickled(one: object) -> None:
    again = pickle.loads(pickle.dumps(one))
    assert again == one and repr(again) == repr(one)
