"""Values at the door of Python: right, or refused in words."""

from __future__ import annotations

import array
import copy
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest

import proofspan as ps
from proofspan.units import ft, kN, m, mm, psf

CODES = {row[0] for row in ps.codes()}


def refusal(call: Callable[[], Any]) -> list[Any]:
    """The issues of a refusal; each is whole, and its code is in the table."""
    with pytest.raises(ps.InputError) as caught:
        call()
    issues: list[Any] = list(caught.value.issues)
    assert issues
    for issue in issues:
        assert issue["code"] in CODES and issue["message"] and issue["remedy"], issue
    return issues


def told(call: Callable[[], Any]) -> list[tuple[str, str]]:
    """Code and path of each issue."""
    return [(i["code"], i.get("path", "")) for i in refusal(call)]


# loads by their names


def test_a_typo_in_in_place_is_refused_with_the_nearest_name() -> None:
    issues = refusal(lambda: ps.Loads(width=8 * ft, self_weight=76 * psf, live="40 psf", in_place=["live", "self_wieght"]))
    assert (issues[0]["code"], issues[0]["path"]) == ("loads.in-place-unknown", "in_place[1]")
    assert issues[0]["remedy"] == "did you mean `self_weight`?"


def test_shares_of_what_is_in_place() -> None:
    loads = ps.Loads(
        width=8 * ft,
        self_weight=76 * psf,
        superimposed_dead=12 * psf,
        live="40 psf",
        in_place={"self_weight": 1, "superimposed_dead": 0.5},
    )
    assert [a["in_place"].si for a in loads.actions] == [1.0, 0.5, 0.0]
    one = ps.Loads(width=8 * ft, self_weight=76 * psf, in_place="self_weight")
    assert one.actions[0]["in_place"].si == 1.0
    # the same words in a document
    assert ps.Loads.from_json('{"width": "8 ft", "self_weight": "76 psf", "in_place": ["self_weight"]}') is not None


def test_paths_of_loads_are_those_of_the_caller() -> None:
    assert told(lambda: ps.Loads(width=8 * ft, self_weight=76 * m, in_place=["self_weight"])) == [
        ("units.dimension", "self_weight")
    ]
    assert told(lambda: ps.Loads(width=8 * ft, rain=[20 * psf, 3])) == [("units.missing", "rain[1]")]
    assert told(lambda: ps.Loads(width=8 * ft, self_weight=76 * psf)) == [("loads.in-place-missing", "in_place")]
    beam = ps.Beam.simple(6 * m, "1000 kN·m²")
    doubt = ps.Doubt("shear", 0 * ft, 6 * ft)
    bad = {"width": "8 ft", "live": "40 psf", "in_place": ["snow"]}
    assert told(lambda: ps.target(beam, bad, "ACI 437.2-13", doubt, "strip")) == [
        ("loads.in-place-unknown", "loads.in_place[0]")
    ]


def test_replace_does_not_double_an_action() -> None:
    loads = ps.Loads(width=8 * ft, live="40 psf")
    assert told(lambda: loads.replace(live="50 psf")) == [("source.field-duplicate", "live")]
    assert len(loads.replace(rain="5 psf").actions) == 2


def test_a_load_without_its_parts_is_refused() -> None:
    nothing: Any = None
    assert told(lambda: ps.Load.point(2 * m, nothing)) == [("source.field-missing", "force")]
    assert told(lambda: ps.Load.point(nothing, 2 * kN)) == [("source.field-missing", "at")]
    assert told(lambda: ps.Load.moment(2 * m, nothing)) == [("source.field-missing", "moment")]
    assert told(lambda: ps.Load.line(0 * m, 2 * m, nothing)) == [("source.field-missing", "w")]
    assert told(lambda: ps.Load.line(nothing, nothing, 2 * kN / m)) == [
        ("source.field-missing", "from"),
        ("source.field-missing", "to"),
    ]


def test_words_that_contradict_each_other_are_refused() -> None:
    beam = ps.Beam.simple(6 * m, "1000 kN·m²")
    spring = "10 kN·m/rad"
    assert told(lambda: ps.Support(0 * m, fixed=True, rotation=spring)) == [("source.contradiction", "rotation")]
    assert told(lambda: beam.influence("reaction", at=2 * m)) == [("source.contradiction", "response")]
    side: Any = "lefft"
    issues = refusal(lambda: beam.response([ps.Load.point(2 * m, kN)]).shear(2 * m, side))
    assert issues[0]["remedy"] == "did you mean `left`?" and issues[0]["path"] == "side"
    assert told(lambda: ps.grid(ps.jack("2 m"), "1 m", "3 m", nonsense())) == [("units.missing", "step")]


def nonsense() -> Any:
    """A number where a length is wanted."""
    return 3


# temperatures


def test_temperatures_differ_by_a_change() -> None:
    warm, cold = ps.Quantity("20 °C", "Temperature"), ps.Quantity("5 °C", "Temperature")
    change = warm - cold
    assert change.kind == "TemperatureChange" and change.to("°C") == pytest.approx(15.0)
    assert change.to("°F") == pytest.approx(27.0)  # 15 K times 9/5, without the offset of the scale
    assert cold + change == warm and (change + cold).to("°F") == pytest.approx(68.0)
    assert (warm - change).to("°C") == pytest.approx(5.0)
    for wrong in (lambda: warm + cold, lambda: change - warm):
        assert told(wrong) == [("units.temperature", "")]
    for multiple in (lambda: warm * 2, lambda: 2 * warm, lambda: warm / 2, lambda: -warm, lambda: abs(warm), lambda: warm**2):
        assert told(multiple) == [("units.temperature", "")]
    assert (change * 2).to("°C") == pytest.approx(30.0)
    assert told(lambda: warm * [20.0, 25.0]) == [("units.temperature", "")]


def test_a_column_of_temperatures_scales_as_the_unit_says() -> None:
    column = ps.Column([20.0, 25.0], "°C", "Temperature")
    assert column.values("°C") == pytest.approx([20.0, 25.0])
    assert column.values("K") == pytest.approx([293.15, 298.15])
    assert column.values("°F") == pytest.approx([68.0, 77.0])
    fahrenheit = ps.Column(np.array([32.0, 212.0]), "°F", "Temperature")
    assert fahrenheit.values("°C") == pytest.approx([0.0, 100.0])
    assert fahrenheit.max().to("K") == pytest.approx(373.15)
    for wrong in (lambda: column * 2, lambda: 2 * column, lambda: column / 2, lambda: -column, lambda: column + column):
        assert told(wrong) == [("units.temperature", "")]
    rise = column - column[0]
    assert rise.kind == "TemperatureChange" and rise.values("°F") == pytest.approx([0.0, 9.0])
    assert (ps.Quantity("30 °C", "Temperature") - column).values("°C") == pytest.approx([10.0, 5.0])
    assert (rise + column).values("°C") == pytest.approx([20.0, 30.0])
    assert ps.Column([10.0], "°C", "TemperatureChange").values("°F") == pytest.approx([18.0])


def test_an_open_temperature_is_not_guessed() -> None:
    either = ps.Quantity("5 K")
    assert either.kind is None and either.to("K") == 5.0
    assert told(lambda: either.to("°C")) == [("units.temperature", "unit")]
    assert either.as_kind("TemperatureChange").to("°C") == 5.0
    assert either.as_kind("Temperature").to("°C") == pytest.approx(-268.15)


# arrays


@pytest.mark.parametrize("dtype", [">f8", "<f8", ">i4", "<i2", ">f4", "u1", "f2", "longdouble", "object"])
def test_every_kind_of_number_in_either_byte_order(dtype: str) -> None:
    values = np.array([1, 2, 3], dtype=dtype)
    for column in (values * m, m * values, ps.Column(values, "m")):
        assert column.values("m") == [1.0, 2.0, 3.0]
    assert (values[0] * m).to("m") == (m * values[0]).to("m") == 1.0


def test_strides_views_and_rows_of_python() -> None:
    table = np.arange(6.0).reshape(3, 2)
    assert (table[:, 1] * m).values("m") == [1.0, 3.0, 5.0]
    assert (table[::-1, 0] * m).values("m") == [4.0, 2.0, 0.0]
    rows: list[Any] = [[1, 2], (1, 2), range(1, 3), array.array("d", [1, 2]), array.array("i", [1, 2])]
    rows.append([Fraction(1), Decimal(2)])
    for row in rows:
        assert (m * row).values("m") == [1.0, 2.0]
    assert len(np.array([]) * m) == 0
    # one number is a quantity, whatever holds it
    for one in (np.array(2.0), np.float32(2.0), np.int64(2), np.uint8(2), Fraction(2), Decimal(2)):
        assert one * m == m * one == 2 * m
    assert (6 * m / np.array([1.0, 2.0])).values("m") == [6.0, 3.0]
    assert (6.0 / ps.Column([1.0, 2.0], "m"))[1] == 3.0 / m


BAD_ROWS: list[tuple[str, Any]] = [
    ("two rows", np.ones((2, 3))),
    ("one by one", np.ones((1, 1))),
    ("nested", [[1.0, 2.0], [3.0, 4.0]]),
    ("booleans", np.array([True, False])),
    ("one boolean", np.array(True)),
    ("boolean scalar", np.bool_(True)),
    ("list of booleans", [1.0, True]),
    ("bytes", b"ab"),
    ("bytearray", bytearray(b"ab")),
    ("memoryview", memoryview(b"ab")),
    ("text entries", np.array(["1", "2"])),
    ("byte entries", np.array([b"1"])),
    ("complex array", np.array([1 + 0j])),
    ("complex scalar", np.complex128(1)),
    ("complex", 1 + 0j),
    ("dates", np.array(["2020-01-01"], dtype="M8[D]")),
    ("times", np.array([1], dtype="m8[s]")),
    ("one time", np.timedelta64(1, "s")),
    ("records", np.array([(1.0, 2)], dtype=[("a", "f8"), ("b", "i4")])),
    ("dictionary", {1: 2.0}),
    ("set", {1.0, 2.0}),
    ("masked", np.ma.masked_array([1.0, 2.0], mask=[False, True])),
    ("masked whole numbers", np.ma.masked_array([1, 2], mask=[True, False])),
    ("masked entry", np.ma.masked),
    ("objects", np.array([1.0, None], dtype=object)),
    ("text in a list", [1.0, "2"]),
    ("quantities", [1 * m, 2 * m]),
    ("columns", [ps.Column([1.0], "m")]),
    ("nan", [1.0, float("nan")]),
    ("infinite", np.array([np.inf])),
    ("nan number", float("nan")),
    ("too large", 10**400),
    ("too large in a list", [10**400]),
    ("true", True),
]


@pytest.mark.parametrize(("name", "bad"), BAD_ROWS, ids=[b[0] for b in BAD_ROWS])
def test_what_is_no_row_of_numbers_is_refused_from_both_sides(name: str, bad: Any) -> None:
    left = told(lambda: m * bad)
    if name not in ("quantities", "columns"):
        assert told(lambda: bad * m) == left
    assert told(lambda: ps.Column([1.0, 2.0], "m") * bad)
    assert told(lambda: ps.Column(bad if hasattr(bad, "__len__") else [bad], "m"))


def test_nothing_masked_and_large_whole_numbers_are_right() -> None:
    whole = np.ma.masked_array([1.0, 2.0], mask=[False, False])
    assert (whole * m).values("m") == [1.0, 2.0] == (m * np.ma.masked_array([1.0, 2.0])).values("m")
    assert (2**70 * mm).to("mm") == pytest.approx(2.0**70)


class Measured:
    """A quantity as other libraries make them."""

    def __init__(self, magnitude: Any) -> None:
        self.magnitude = magnitude
        self.units = "foot"

    def __float__(self) -> float:
        return float(self.magnitude)

    def __len__(self) -> int:
        return len(self.magnitude)

    def __iter__(self) -> Any:
        return iter(self.magnitude)


class Tagged(np.ndarray[Any, Any]):
    """An array with a unit, as other libraries make them."""

    unit = "ft"

    @property
    def value(self) -> Any:
        return self.view(np.ndarray)


@pytest.mark.parametrize("bad", [Measured(3.0), Measured([1.0, 2.0]), np.array([1.0, 2.0]).view(Tagged), [Measured(3.0)]])
def test_a_quantity_of_another_library_is_refused(bad: Any) -> None:
    assert told(lambda: m * bad)[0][0] == "units.foreign"
    assert told(lambda: ps.Taper(bad, "0 ft", "3 ft"))[0] == ("units.foreign", "peak[0]" if isinstance(bad, list) else "peak")
    if not isinstance(bad, Tagged):
        assert told(lambda: bad * m)[0][0] == "units.foreign"


class Series:
    """A column of a table: it asks the other operand first, by the rule of pandas."""

    __pandas_priority__ = 3000

    def __init__(self, values: Any) -> None:
        self.array = np.asarray(values)
        self.dtype, self.shape = self.array.dtype, self.array.shape
        self.iloc = self.array

    def __len__(self) -> int:
        return len(self.array)

    def __iter__(self) -> Any:
        return iter(self.array)

    def mask(self) -> None:
        """A method here, not a mask."""

    def to_numpy(self) -> Any:
        return self.array

    def __mul__(self, other: Any) -> Any:
        if getattr(other, "__pandas_priority__", 0) > self.__pandas_priority__:
            return NotImplemented
        return Series([v * other for v in self.array])


def test_a_column_of_a_table_becomes_a_column() -> None:
    series = Series([1.0, 2.0])
    for column in (series * m, m * series, series * ps.Column([3.0], "m")[0], ps.Column(series, "m")):
        assert isinstance(column, ps.Column) and len(column) == 2
    assert told(lambda: Series([[1.0], [2.0]]) * m) == [("units.array", "")]
    assert told(lambda: Series([True, False]) * m) == [("units.bool-as-number", "")]


class Frame:
    """A table of several columns."""

    dtypes, shape = ("f8", "f8"), (3, 2)

    def __len__(self) -> int:
        return 3


def test_a_table_is_no_column() -> None:
    assert told(lambda: Frame() * m) == told(lambda: m * Frame()) == [("units.array", "")]


def test_a_mean_of_temperatures_is_never_a_sum_of_them() -> None:
    column = ps.Column([20.0, 30.0], "°C", "Temperature")
    assert told(lambda: np.mean(column)) == [("units.temperature", "")]  # type: ignore[call-overload]
    assert np.mean(ps.Column([1.0, 2.0], "m")) == 1.5 * m  # type: ignore[call-overload]


def test_a_column_is_a_row_of_quantities_and_never_one_cell() -> None:
    column = ps.Column([1.0, 2.0], "m")
    assert list(column) == [1 * m, 2 * m]
    cells = np.array(column, dtype=object)
    assert cells.shape == (2,) and cells[1] == 2 * m


# documents


def test_numbers_of_other_libraries_stand_in_documents() -> None:
    loads = ps.Loads(width=8 * ft, patterns=np.bool_(False), self_weight=76 * psf, in_place={"self_weight": np.float32(0.5)})  # type: ignore[arg-type, dict-item]
    assert loads.patterns is False and loads.actions[0]["in_place"].si == 0.5
    places = ps.Column([3.0, 5.0], "m")
    assert ps.Candidate(contacts=places, plate="200 mm") == ps.Candidate(["3 m", "5 m"], plate="200 mm")


def test_every_problem_of_the_arguments_at_once_with_its_path() -> None:
    loop: list[Any] = []
    loop.append(loop)
    bad: Any = {"width": "8 ft", "actions": [{"action": "live", "area": b"40 psf", 3: 4}, {"\ud800": 1}]}
    assert told(lambda: ps.Loads(**bad)) == [
        ("units.array", "actions[0].area"),
        ("source.type", "actions[0]"),
        ("source.type", "actions[1]"),
    ]
    assert told(lambda: ps.Loads(width="\ud800", actions=loop)) == [("source.type", "width"), ("source.depth", "actions")]
    assert told(lambda: ps.Loads(width=True, live=float("nan"))) == [  # type: ignore[arg-type]
        ("units.bool-as-number", "width"),
        ("units.nonfinite", "live"),
    ]
    assert told(lambda: ps.Loads(width=10**400, live="1 psf")) == [("units.nonfinite", "width")]  # type: ignore[arg-type]
    assert told(lambda: ps.Taper("40 psf", "0 ft", "10 ft", peak="30 psf")) == [("source.field-duplicate", "peak")]  # type: ignore[misc]
    assert told(lambda: ps.Taper(object(), "0 ft", "10 ft")) == [("source.type", "peak")]  # type: ignore[arg-type]
    assert told(lambda: ps.design({"title": {1.0}}))[0] == ("units.array", "title")


def test_lists_that_share_lists_do_not_hang() -> None:
    shared: list[Any] = ["1 m"]
    for _ in range(100):
        shared = [shared, shared]
    assert told(lambda: ps.Candidate(contacts=shared)) == [("source.size", "contacts")]
    both: list[Any] = []
    both += [both, both]
    assert told(lambda: ps.Candidate(contacts=both)) == [("source.depth", "contacts")]


@pytest.mark.parametrize("bad", [5, None, b"5 m", ["5 m"], "5 \ud800", "5 mm mm" * 1000])
def test_text_that_is_none(bad: Any) -> None:
    assert told(lambda: ps.Quantity(bad))[0][1] == "text"
    assert told(lambda: m.to(bad))[0][1] == "unit"
    assert told(lambda: ps.Column([1.0], bad))[0][1] == "unit"
    assert told(lambda: m.as_kind(bad))[0][1] == "kind"


def test_refusals_of_operators_have_issues() -> None:
    assert told(lambda: ft + kN) == [("units.dimension", "")]
    assert told(lambda: ft < kN) == [("units.dimension", "")]
    assert told(lambda: m / 0) == [("units.nonfinite", "")]
    assert told(lambda: 0 * m / (0 * m)) == [("units.nonfinite", "")]
    half: Any = 1.5
    assert told(lambda: m**half) == [("formula.power", "")]
    assert told(lambda: m**100) == [("formula.power", "")]
    assert (m**2).kind == "Area"
    # operands that are no numbers at all stay with the protocol of Python
    for wrong in ("3", None, object()):
        other: Any = wrong
        with pytest.raises(TypeError):
            m * other


def test_places_are_lengths_each_with_its_path() -> None:
    actions = ps.Beam.simple(6 * m, "1000 kN·m²").response([ps.Load.point(3 * m, 10 * kN)])
    # at 1 m of a span of 6 m under 10 kN at the middle: 5 kN times 1 m
    assert actions.moment(ps.Column([1.0], "m"))[0].to("kN·m") == pytest.approx(5.0)
    force: Any = ps.Column([1.0], "kN")
    assert told(lambda: actions.moment(force)) == [("units.dimension", "x[0]")]
    bare: Any = [1 * m, 2]
    assert told(lambda: actions.moment(bare)) == [("units.missing", "x[1]")]
    array_of: Any = np.array([1.0, 2.0])
    assert told(lambda: actions.moment(array_of)) == [("units.missing", "x[0]"), ("units.missing", "x[1]")]
    outside = refusal(lambda: actions.moment(7 * m))
    assert outside[0]["path"] == "x" and outside[0]["limit"] == "0 to 6 m"
    assert told(lambda: actions.extremes("moment", from_=bare)) == [("source.type", "from_")]


def test_objects_are_copied_and_compared_as_values() -> None:
    loads = ps.Loads(width=8 * ft, live="40 psf")
    assert copy.deepcopy(loads) == loads
