from collections.abc import Iterator, Mapping
from os import PathLike
from typing import Any, Literal, Self, SupportsIndex, final, overload

from matplotlib.axes import Axes

__all__ = [
    "Action",
    "Anchor",
    "Bags",
    "Actions",
    "Bars",
    "Beam",
    "BeamSpec",
    "Candidate",
    "Catch",
    "Certified",
    "Column",
    "Conflict",
    "Counterweight",
    "DataError",
    "DeflectionLimit",
    "Design",
    "Deviations",
    "Doubt",
    "EditionChoice",
    "Envelope",
    "Facts",
    "Finding",
    "Gauge",
    "Influence",
    "InputError",
    "JackLine",
    "Jacks",
    "Judgement",
    "Layout",
    "LayoutSpec",
    "Level",
    "Load",
    "Loads",
    "LogSpec",
    "Member",
    "MomentLimit",
    "Objective",
    "OvershootLimit",
    "Pad",
    "PointAction",
    "ProofspanError",
    "ProtocolSpec",
    "Quantity",
    "Reach",
    "ReactionLimit",
    "ReactionMember",
    "Reference",
    "RigSpec",
    "Rigidity",
    "Room",
    "RunRecord",
    "Scope",
    "SearchSpec",
    "Searched",
    "Sharing",
    "ShearLimit",
    "ShearSpan",
    "ShoringSpec",
    "SiteRecords",
    "SolverError",
    "Spreader",
    "StageSpec",
    "StretchSpec",
    "SupportSpec",
    "StopError",
    "Stub",
    "Support",
    "Taper",
    "Target",
    "TestSpec",
    "Water",
    "Wheels",
    "Within",
    "__version__",
    "_column",
    "_quantity",
    "assured",
    "basin",
    "codes",
    "compare",
    "confirm",
    "design",
    "editions",
    "given",
    "grid",
    "jack",
    "judge",
    "layout",
    "optimise",
    "patch",
    "ponding",
    "read_log_faults",
    "refine",
    "schema",
    "search",
    "snow_drift",
    "stack",
    "target",
    "usual_patterns",
    "Verdict",
    "CriterionOutcome",
    "Acceptance",
    "ByEdition",
    "SharedRatio",
    "SideBySide",
    "LoadTerm",
    "TestLoad",
    "BearingCheck",
    "ReactionStage",
    "LeastWeight",
    "Reaction",
    "Hydraulics",
    "LevelShare",
    "CaughtForce",
    "CatchCheck",
    "acceptance",
    "conformity",
    "decision_risks",
    "effective",
    "guard_for_risk",
    "shared_ratio",
    "side_by_side",
    "catch",
    "hydraulics",
    "reaction",
    "test_load",
]

__version__: str

class ProofspanError(ValueError):
    """Any refusal of proofspan; `issues` lists every problem."""

    issues: list[dict[str, Any]]

class InputError(ProofspanError):
    """The description of the test cannot be used; `issues` lists every problem."""

class DataError(ProofspanError):
    """A log of readings cannot be used; `issues` lists every problem."""

class SolverError(ProofspanError):
    """A solver could not finish; `issues` holds the problem."""

class StopError(ProofspanError):
    """A stop holds; `issues` lists every stop."""

@final
class Quantity:
    """A quantity: what it measures and its value in SI. Two temperatures differ by a temperature change
    and have neither sum nor multiple."""

    def __new__(cls, text: str, kind: str | None = None) -> Self: ...
    @property
    def si(self) -> float:
        """The value in SI."""
    @property
    def kind(self) -> str | None:
        """The kind, for example "Force"; None where more than one fits."""
    @property
    def dimension(self) -> str:
        """The SI dimension."""
    def to(self, unit: str) -> float:
        """The value in a unit of its kind."""
    def as_kind(self, kind: str) -> Quantity:
        """The same quantity with its kind named; refused where the dimension does not fit."""
    def _repr_html_(self) -> str: ...
    def __hash__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    def __lt__(self, other: Quantity, /) -> bool: ...
    def __le__(self, other: Quantity, /) -> bool: ...
    def __gt__(self, other: Quantity, /) -> bool: ...
    def __ge__(self, other: Quantity, /) -> bool: ...
    def __add__(self, other: Quantity, /) -> Quantity: ...
    def __radd__(self, other: Quantity, /) -> Quantity: ...
    def __sub__(self, other: Quantity, /) -> Quantity: ...
    def __rsub__(self, other: Quantity, /) -> Quantity: ...
    @overload
    def __mul__(self, other: float | Quantity, /) -> Quantity: ...
    @overload
    def __mul__(self, other: Any, /) -> Any: ...
    @overload
    def __rmul__(self, other: float | Quantity, /) -> Quantity: ...
    @overload
    def __rmul__(self, other: Any, /) -> Any: ...
    def __truediv__(self, other: float | Quantity, /) -> Any: ...
    def __rtruediv__(self, other: float, /) -> Quantity: ...
    def __pow__(self, n: int, modulo: None = None, /) -> Quantity: ...
    def __rpow__(self, other: Any, modulo: None = None, /) -> Any: ...
    def __neg__(self) -> Quantity: ...
    def __abs__(self) -> Quantity: ...
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...
    __array_ufunc__: None
    __pandas_priority__: int

@final
class Column:
    """Many quantities of one measure: `array * ft`, `series * ft`, `Column([20, 25], "°C", "Temperature")`.
    What is not one row of finite numbers is refused."""

    def __new__(cls, values: Any, unit: str, kind: str | None = None) -> Self: ...
    @property
    def kind(self) -> str | None:
        """The kind, for example "Force"; None where more than one fits."""
    def values(self, unit: str) -> list[float]:
        """The values in a unit, as a list."""
    def to(self, unit: str) -> Any:
        """The values in a unit, as a NumPy array."""
    def max(self) -> Quantity:
        """The largest."""
    def min(self) -> Quantity:
        """The smallest."""
    def __len__(self) -> int: ...
    def __iter__(self) -> Iterator[Quantity]: ...
    @overload
    def __getitem__(self, index: SupportsIndex, /) -> Quantity: ...
    @overload
    def __getitem__(self, index: slice, /) -> Column: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __add__(self, other: Quantity | Column, /) -> Column: ...
    def __radd__(self, other: Quantity | Column, /) -> Column: ...
    def __sub__(self, other: Quantity | Column, /) -> Column: ...
    def __rsub__(self, other: Quantity | Column, /) -> Column: ...
    def __mul__(self, other: Any, /) -> Column: ...
    def __rmul__(self, other: Any, /) -> Column: ...
    def __truediv__(self, other: Any, /) -> Column: ...
    def __rtruediv__(self, other: Any, /) -> Any: ...
    def __neg__(self) -> Column: ...
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...
    __array_ufunc__: None
    __pandas_priority__: int

_Length = Quantity | str
_Place = Quantity | str
_Side = Literal["left", "right"]
_Basis = Literal["net", "total"]
_Units = Literal["SI", "US"]

@final
class Support:
    """A support of a beam; settlement is positive down."""

    def __new__(
        cls,
        at: _Length,
        *,
        spring: Quantity | str | None = None,
        rotation: Quantity | str | None = None,
        fixed: bool = False,
        settlement: _Length | None = None,
        lifts: bool = False,
    ) -> Self: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Load:
    """A load on a beam, down positive, per member unit."""

    @staticmethod
    def point(at: _Length, force: Quantity | str) -> Load:
        """A force at a place."""
    @staticmethod
    def moment(at: _Length, moment: Quantity | str) -> Load:
        """A moment at a place, clockwise positive."""
    @staticmethod
    def line(from_: _Length, to: _Length, w: Quantity | str, w_to: Quantity | str | None = None) -> Load:
        """A load along a part of the beam: uniform, or from `w` to `w_to`."""
    @staticmethod
    def curvature(from_: _Length, to: _Length, kappa: Quantity | str) -> Load:
        """A free curvature along a part, positive where it bends as a sagging moment does."""
    @staticmethod
    def temperature(
        from_: _Length, to: _Length, bottom_less_top: Quantity | str, expansion: Quantity | str, depth: _Length
    ) -> Load:
        """A linear temperature gradient."""
    @property
    def parts(self) -> tuple[str, list[Quantity]]:
        """Its kind and its parts."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Beam:
    """A line of spans with its supports and EI; x runs from the left end."""

    def __new__(cls, length: _Length, supports: list[Support], rigidity: Quantity | str) -> Self: ...
    @staticmethod
    def simple(span: _Length, rigidity: Quantity | str) -> Beam:
        """A simple span between two bearings."""
    @staticmethod
    def cantilever(length: _Length, rigidity: Quantity | str) -> Beam:
        """A cantilever held at its left end."""
    @staticmethod
    def overhanging(left: _Length, span: _Length, right: _Length, rigidity: Quantity | str) -> Beam:
        """A span between two bearings with overhangs, either of which may be zero."""
    @property
    def length(self) -> Quantity:
        """The whole length."""
    def actions(self, loads: list[Load]) -> Actions:
        """The exact actions under loads."""
    def with_hinges(self, hinges: _Place | Column | list[_Place]) -> Beam:
        """The same beam with hinges at these places."""
    def with_shear(self, shear_rigidity: Quantity | str) -> Beam:
        """The same beam with shear deformation: its shear rigidity G A_s throughout."""
    def influence(self, response: str, at: _Place | None = None, support: int | None = None) -> Influence:
        """The influence line of "shear", "moment", "deflection" at a place, or "reaction" of a support."""
    def patterns(self) -> tuple[list[tuple[list[bool], str]], bool]:
        """The patterns of this beam, and whether these hold the worst of all patterns of whole spans."""
    def patterned(self, pattern: list[bool], loads: list[Load]) -> list[Load]:
        """Loads cut to the spans that a pattern marks."""
    @property
    def spans(self) -> list[tuple[Quantity, Quantity]]:
        """The stretches between neighbouring supports, overhangs included."""
    @property
    def supports(self) -> list[tuple[Quantity, str]]:
        """Place, "fixed", "bearing", "seat" or "spring", of every support."""
    @property
    def hinges(self) -> Column:
        """Places of the hinges."""
    def plot(self, loads: list[Load] = ..., units: str = "SI", ax: Axes | None = None) -> Axes:
        """Draws the beam with its supports, hinges and loads; returns the Axes."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Actions:
    """The exact actions of one load case; V = dM/dx, sagging, downward deflection, upward reactions positive."""

    @overload
    def shear(self, x: _Place, side: _Side = "left") -> Quantity:
        """Shear at a place."""
    @overload
    def shear(self, x: Column | list[_Place], side: _Side = "left") -> Column: ...
    @overload
    def moment(self, x: _Place, side: _Side = "left") -> Quantity:
        """Moment at a place."""
    @overload
    def moment(self, x: Column | list[_Place], side: _Side = "left") -> Column: ...
    @overload
    def line_load(self, x: _Place, side: _Side = "left") -> Quantity:
        """Line load at a place."""
    @overload
    def line_load(self, x: Column | list[_Place], side: _Side = "left") -> Column: ...
    @overload
    def rotation(self, x: _Place) -> Quantity:
        """Rotation at a place."""
    @overload
    def rotation(self, x: Column | list[_Place]) -> Column: ...
    @overload
    def deflection(self, x: _Place) -> Quantity:
        """Deflection at a place."""
    @overload
    def deflection(self, x: Column | list[_Place]) -> Column: ...
    def extremes(self, what: str, from_: _Place | None = None, to: _Place | None = None) -> dict[str, dict[str, Any]]:
        """The exact largest and smallest "shear", "moment" or "deflection", with place and side."""
    @property
    def reactions(self) -> list[dict[str, Quantity]]:
        """The reactions: place, force up positive, moment on the beam clockwise positive."""
    @property
    def breakpoints(self) -> Column:
        """Places where a load or a stiffness begins or ends, both ends included."""
    def plot(self, what: str = "moment", units: str = "SI", ax: Axes | None = None) -> Axes:
        """Draws "shear", "moment" or "deflection" along the beam; returns the Axes."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Influence:
    """An influence line: its ordinate at a place is the response under a unit force there, down."""

    def ordinate(self, x: _Place | Column | list[_Place], side: _Side = "left") -> list[float]:
        """The ordinate at one place or many, as response per force in SI."""
    def response(self, loads: list[Load]) -> Quantity:
        """The response to loads."""
    def worst(self, q: Quantity | str) -> dict[str, Any]:
        """The largest and the smallest response to a uniform load on any parts."""
    @property
    def length(self) -> Quantity:
        """The length of the beam."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Envelope:
    """The largest and the smallest effect over several cases of one beam."""

    def __new__(cls, cases: list[Actions]) -> Self: ...
    @overload
    def max(self, what: str, x: _Place, side: _Side = "left") -> Quantity:
        """The largest value at a place."""
    @overload
    def max(self, what: str, x: Column | list[_Place], side: _Side = "left") -> Column: ...
    @overload
    def min(self, what: str, x: _Place, side: _Side = "left") -> Quantity:
        """The smallest value at a place."""
    @overload
    def min(self, what: str, x: Column | list[_Place], side: _Side = "left") -> Column: ...
    def pairs(self, what: str, x: _Place, side: _Side = "left") -> dict[str, dict[str, Any]]:
        """Shear and moment that act together where `what` is largest and where it is smallest."""
    def extremes(self, what: str) -> dict[str, dict[str, Any]]:
        """The exact largest and smallest value on the beam, each with place and case."""
    @property
    def cases(self) -> list[Actions]:
        """The cases."""
    @property
    def length(self) -> Quantity:
        """The length of the beam."""
    def plot(self, what: str = "moment", units: str = "SI", ax: Axes | None = None) -> Axes:
        """Draws the envelope; returns the Axes."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Target:
    """What the test must reproduce, per member unit."""

    @property
    def edition(self) -> str:
        """The edition."""
    @property
    def set(self) -> str:
        """The name of the load set."""
    @property
    def why(self) -> str:
        """Why this set applies."""
    @property
    def unit(self) -> str:
        """What every value is counted for."""
    @property
    def length(self) -> Quantity:
        """The length of the member."""
    @property
    def region(self) -> tuple[Quantity, Quantity]:
        """The region in doubt."""
    @property
    def terms(self) -> dict[str, dict[str, float]]:
        """Each combination with its factors."""
    @property
    def in_place(self) -> Actions:
        """What acts before the test."""
    def term(self, name: str, basis: _Basis = "net") -> Actions:
        """The actions of one term, "net" or "total"."""
    @overload
    def governing(self, what: str, x: _Place, side: _Side = "left", basis: _Basis = "net") -> Quantity:
        """The value that governs at a place; "moment" is hogging where hogging is in doubt."""
    @overload
    def governing(
        self, what: str, x: Column | list[_Place], side: _Side = "left", basis: _Basis = "net"
    ) -> Column: ...
    def governing_term(self, what: str, x: _Place, side: _Side = "left", basis: _Basis = "net") -> str:
        """The term that governs a quantity at one place."""
    def crossings(self, what: str, basis: _Basis = "net") -> list[tuple[Quantity, str, str]]:
        """Where the governing term changes, net or total: place, term left of it, term right of it."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Layout:
    """The jacks that reproduce a target, with what they reach; forces are per member unit and net."""

    @property
    def force(self) -> Quantity:
        """The sum of the forces on one member unit, net."""
    @property
    def forces(self) -> list[tuple[Quantity, Quantity]]:
        """Place and force of each line of contact, from left to right."""
    @property
    def target(self) -> Target:
        """What the layout stands for."""
    @property
    def actions(self) -> Actions:
        """Shear, moment and deflection of the jacks alone, soft prediction."""
    def overshoot(self, effect: str, basis: _Basis) -> float | None:
        """The largest test over reference of "shear" or "moment" inside the region, "net" or "total"."""
    def ratio(self, effect: str, x: _Place, side: _Side = "left", basis: _Basis = "net") -> float | None:
        """Test over reference of "shear" or "moment" at a place, against the envelope."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def plot(self, effect: str = "moment", units: str = "SI", ax: Axes | None = None) -> Axes:
        """Draws reference and test "shear" or "moment", net, region shaded; returns the Axes."""
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Reference:
    """What the test must reproduce on a beam: net loads of every term, the loads in place, the region in doubt."""

    def __new__(
        cls,
        beam: Beam,
        terms: Mapping[str, Load | list[Load]],
        in_place: list[Load] = ...,
        region: tuple[_Length, _Length] | None = None,
        unit: str = "beam",
        units: str = "SI",
    ) -> Self: ...
    @staticmethod
    def of(target: Target, units: str = "SI") -> Reference:
        """The reference of a target; the failure mode in doubt says what is to be reached."""
    @property
    def terms(self) -> dict[str, Actions]:
        """The net actions of every term."""
    @property
    def in_place(self) -> Actions:
        """What acts before the test."""
    @property
    def region(self) -> tuple[Quantity, Quantity]:
        """The region in doubt."""
    @property
    def beam(self) -> Beam:
        """The beam."""
    @property
    def unit(self) -> str:
        """What every value is counted for."""
    @property
    def units(self) -> str:
        """The units of words and pictures: "SI" or "US"."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Certified:
    """Forces of a layout with what they reach and the proof that none are better; net, per member unit."""

    @property
    def forces(self) -> list[tuple[str, Quantity]]:
        """The name of each candidate and its force on one member unit."""
    @property
    def candidates(self) -> list[Candidate]:
        """The candidates."""
    @property
    def objectives(self) -> list[tuple[str, Any]]:
        """Each objective in words with what it reached: a force as Quantity, an overshoot as float."""
    @property
    def growth(self) -> float | None:
        """For a rounded layout the sum of its forces over the sum before; else None."""
    @property
    def unique(self) -> bool | None:
        """Whether no other forces are as good; None for a rounded layout."""
    @property
    def freedom(self) -> list[tuple[Quantity, Quantity | None] | None]:
        """The least and the largest force of each candidate at equal objectives."""
    @property
    def certificates(self) -> list[dict[str, Any]]:
        """One certificate an objective: unknowns, values, cost, rows with multipliers, in SI."""
    @property
    def confirmation(self) -> dict[str, Any]:
        """What the separate verifier found for each requirement."""
    @property
    def actions(self) -> Actions:
        """The actions of the forces alone."""
    @property
    def reference(self) -> Reference:
        """What was to be reproduced."""
    def overshoot(self, effect: str = "moment", basis: _Basis = "net") -> float | None:
        """The largest test over reference in the region in doubt."""
    def reached(self) -> list[dict[str, Any]]:
        """The actions that the usual failure modes go by, and whether the test reaches them."""
    def warnings(self, effective_depth: _Length | None = None, bearing_length: _Length | None = None) -> dict[str, Any]:
        """Notes on the layout, and the verdict on its distance to the bearing."""
    def buildable(self, place: _Length, force: Quantity | str) -> Certified | None:
        """The layout with places and forces on steps, verified again."""
    def as_built(self, deviations: Deviations | None = None, **fields: Any) -> dict[str, Any]:
        """The layout where supports, stiffness, places and forces are not quite as drawn."""
    def further(self, places: Column | list[_Place]) -> list[tuple[Quantity, Certified | Conflict]]:
        """What one further jack would buy at each of these places, the best first."""
    def elsewhere(self, places: Column | list[_Place]) -> list[tuple[int, Quantity, Certified | Conflict]]:
        """What any one carrier would buy at each of these places in the place of its own, the best first."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def plot(self, effect: str = "moment", units: str | None = None, ax: Axes | None = None) -> Axes:
        """Draws reference and test, net, the region shaded, the overshoot on both bases."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Conflict:
    """Requirements that no forces of these candidates meet together."""

    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    @property
    def words(self) -> str:
        """The conflict in prose, with numbers."""
    @property
    def requirements(self) -> list[str]:
        """The smallest set found: leave out any one, and the rest can be met."""
    @property
    def bounds(self) -> list[tuple[str, Quantity]]:
        """The library's own bounds on forces that take part; empty where no forces of any size will do."""
    @property
    def certificate(self) -> dict[str, Any]:
        """The contradiction: rows with multipliers, in SI."""
    @property
    def relaxations(self) -> list[dict[str, Any]]:
        """What each requirement would have to give."""
    def further(self, places: Column | list[_Place]) -> list[tuple[Quantity, Certified | Conflict]]:
        """What one further jack would buy at each of these places, the best first."""
    def elsewhere(self, places: Column | list[_Place]) -> list[tuple[int, Quantity, Certified | Conflict]]:
        """What any one carrier would buy at each of these places in the place of its own, the best first."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Searched:
    """What a search over numbers and places found."""

    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def buildable(self, place: _Length, force: Quantity | str) -> dict[str, Certified] | None:
        """The best choice with places and forces on steps, the places the same for every stage."""
    @property
    def best(self) -> dict[str, Any] | None:
        """The best choice: "number", "candidates", "objectives", "exact", "stages"."""
    @property
    def by_number(self) -> list[dict[str, Any]]:
        """The best choice of each number of carriers."""
    @property
    def bound(self) -> float | None:
        """No choice of any number has a smaller first objective."""
    @property
    def conflict(self) -> str | None:
        """Why all candidates together, or the choice that comes nearest, will not do, in prose."""
    @property
    def about(self) -> str:
        """What was tried."""

@final
class Design:
    """A designed test."""

    @property
    def spec(self) -> TestSpec:
        """The document it was designed from."""
    @property
    def target(self) -> Target:
        """What the test must reproduce."""
    @property
    def layout(self) -> Layout:
        """The jacks that reproduce it."""
    @property
    def rig(self) -> dict[str, Any]:
        """What the jacks push against: pulls, reactions, lift-off, stages, hydraulics."""
    @property
    def shoring(self) -> dict[str, Any]:
        """What catches the member: every catch with its forces and gap window, levels, floor."""
    @property
    def schedule(self) -> dict[str, Any]:
        """The steps with predicted readings; refuses with StopError while a stop holds."""
    @property
    def stages(self) -> list[tuple[str, Design]]:
        """The stages after the first, each with its name; every one has the stops of all."""
    def side_by_side(
        self, log: str | PathLike[str], layout: _Text | LogSpec, record: _Text | RunRecord
    ) -> SideBySide:
        """A log and the record of its run by the criteria of every shipped edition that has some for the
        method of this test."""
    @property
    def stops(self) -> list[dict[str, Any]]:
        """States that endanger people, those that are lifted included."""
    @property
    def notes(self) -> list[dict[str, Any]]:
        """What the reader must know."""
    @property
    def checks(self) -> list[tuple[str, str, str, float | None]]:
        """Every check: what it belongs to, code, state, utilisation."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def recheck(self) -> list[str]:
        """The steps of the working whose recorded result is not what their formula gives: none."""
    def cleared(self) -> None:
        """Refuses with StopError while a stop holds."""
    def html(self, judgement: Judgement | None = None) -> str:
        """The report as one HTML file, with the judgement where one is given."""
    def markdown(self, judgement: Judgement | None = None) -> str:
        """The report as Markdown."""
    def _repr_html_(self) -> str: ...
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Judgement:
    """A judged test."""

    @property
    def stages(self) -> list[tuple[str, Judgement | None]]:
        """The stages after the first, each with its name; None for one that the log does not hold."""
    @property
    def state(self) -> str:
        """The headline: the guarded outcome."""
    @property
    def criteria(self) -> list[tuple[str, str, str]]:
        """Each criterion with its "code" and its "guarded" outcome."""
    @property
    def curve(self) -> tuple[Column, Column]:
        """Force and deflection of the leading gauge along the test, thinned."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def plot(self, units: str = "SI", ax: Axes | None = None) -> Axes:
        """Draws force against deflection of the leading gauge; returns the Axes."""
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

class _Document:
    """A part of a test document; fields by name or in order."""

    def __new__(cls, *values: Any, **fields: Any) -> Self: ...
    @staticmethod
    def fields() -> dict[str, str]:
        """The name of every field with what it means."""
    @classmethod
    def from_json(cls, text: str) -> Self:
        """Reads JSON text."""
    def to_json(self) -> str:
        """JSON text that reads back to an equal object."""
    def to_dict(self) -> dict[str, Any]:
        """The fields as dicts, lists, numbers and text as written."""
    def replace(self, **changes: Any) -> Self:
        """The same with other values of some fields."""
    def __getattr__(self, name: str) -> Any:
        """A field as it is written; None where it is left out."""
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class TestSpec(_Document):
    """The whole test in one document."""

@final
class Scope(_Document):
    """The question: which member, region and failure mode."""

@final
class Member(_Document):
    """The member under test."""

@final
class Doubt(_Document):
    """The region in doubt and the failure mode: `Doubt("shear", "0 ft", "6 ft")`."""

@final
class Sharing(_Document):
    """How the joists of one unit and the neighbours share."""

@final
class Finding(_Document):
    """What the survey found."""

@final
class BeamSpec(_Document):
    """The member as a line of spans."""

@final
class SupportSpec(_Document):
    """One support of a line of spans: `SupportSpec("6 m", kind="fixed")`."""

@final
class StretchSpec(_Document):
    """A stretch of the member with a section of its own."""

@final
class StageSpec(_Document):
    """A stage after the first: another region in doubt with its own layout."""

@final
class SearchSpec(_Document):
    """A search for places on a grid: `SearchSpec(2, "0.5 m")`."""

@final
class Rigidity(_Document):
    """Modulus of elasticity and second moment of area."""

@final
class Loads(_Document):
    """The nominal actions. Besides the list `actions`, actions may be given by their names, with `in_place` naming those already there: `Loads(width=8 * ft, self_weight=76 * psf, live="40 psf", in_place=["self_weight"])`."""

@final
class Action(_Document):
    """One action."""

@final
class Taper(_Document):
    """A load that falls linearly from a peak to zero: `Taper("40 psf", "0 ft", "10 ft")`."""

@final
class PointAction(_Document):
    """A concentrated action."""

@final
class EditionChoice(_Document):
    """Which edition, and which of its sets."""

@final
class Facts(_Document):
    """Facts that decide which load set applies."""

@final
class LayoutSpec(_Document):
    """The layout asked for."""

@final
class JackLine(_Document):
    """One line of jacks across the member unit; its place is searched where it is left out."""

@final
class Spreader(_Document):
    """One jack on a spreader with two or more contact points."""

@final
class Pad(_Document):
    """A pad or patch under one jack: `Pad("2 m", "3 m")`."""

@final
class Bags(_Document):
    """Bags or blocks in piles with gaps."""

@final
class Water(_Document):
    """A basin of water; what stands in it follows the deflection."""

@final
class Wheels(_Document):
    """Wheels: axles that roll on together."""

@final
class OvershootLimit(_Document):
    """A limit on how far the test may exceed the reference inside the region in doubt."""

@final
class Candidate(_Document):
    """Something that may bring load on: `Candidate(["3 m", "5 m"], plate="200 mm")`."""

@final
class Reach(_Document):
    """The reference is reached for every x of a stretch: `Reach("moment", "2 m", "6 m")`.

    Where both signs are asked and a term changes its sign, its part below 2 % of the largest asks for nothing.
    """

@final
class Within(_Document):
    """The reference is not exceeded by more than a ratio; below 2 % of its largest it counts as 2 % (`floor`)."""

@final
class MomentLimit(_Document):
    """The total moment stays below a share of cracking or strength."""

@final
class ShearLimit(_Document):
    """The total shear stays below a share of the shear strength."""

@final
class DeflectionLimit(_Document):
    """The deflection under the test, without what is in place, stays within limits; down positive."""

@final
class ReactionLimit(_Document):
    """The total reaction of a support, in place included, up positive, stays within limits; `support` counts from 0 (A)."""

@final
class ShearSpan(_Document):
    """Moment over shear stays in a window."""

@final
class Objective(_Document):
    """What is made small: `Objective("overshoot", "moment", "net")`."""

@final
class Room(_Document):
    """Where a candidate may stand, and how far apart its contacts."""

@final
class Deviations(_Document):
    """How far what is built may be from what is drawn."""

@final
class RigSpec(_Document):
    """What the jacks push against, and how."""

@final
class ReactionMember(_Document):
    """What the jacks pull up: a member, a platform, anchors or a frame."""

@final
class Anchor(_Document):
    """An anchor in the ground or in a mass below."""

@final
class Counterweight(_Document):
    """A weight on the reaction member."""

@final
class Jacks(_Document):
    """The jacks of one circuit, on one member unit."""

@final
class Bars(_Document):
    """The bars between jack and reaction member."""

@final
class ShoringSpec(_Document):
    """The catches, their posts and the levels below."""

@final
class Catch(_Document):
    """A catch under a piece that falls."""

@final
class Stub(_Document):
    """What holds the stubs at the bearings where no catch does."""

@final
class Level(_Document):
    """A level that carries the catch."""

@final
class ProtocolSpec(_Document):
    """The steps, holds and gauges."""

@final
class Gauge(_Document):
    """A gauge."""

@final
class SiteRecords(_Document):
    """What is on record before the test."""

@final
class LogSpec(_Document):
    """How a log of readings is laid out."""

@final
class RunRecord(_Document):
    """What was seen and noted during the test."""

_Text = str | dict[str, Any]

def design(spec: _Text | TestSpec) -> Design:
    """Designs a test from a document: JSON text, dicts and lists, or a TestSpec."""

def judge(
    design: Design, log: str | PathLike[str], layout: _Text | LogSpec, record: _Text | RunRecord
) -> Judgement:
    """Judges a designed test: CSV text or a path, the layout of the log, the record of the run."""

def target(
    beam: Beam,
    loads: Loads | _Text,
    edition: str | EditionChoice | dict[str, Any],
    doubt: Doubt | _Text,
    unit: str,
    determinate: bool | None = None,
) -> Target:
    """What the test must reproduce: beam, actions, edition, region in doubt, member unit."""

def layout(
    target: Target, spec: LayoutSpec | _Text | None = None, *, effective_depth: _Length | None = None, **fields: Any
) -> Layout:
    """The least force that reproduces a target, and the place where none is given."""

_Stages = Reference | Target | list[tuple[str, Reference | Target, list[Any] | None]]

def optimise(
    reference: Reference | Target,
    candidates: list[Candidate],
    objectives: str | Objective | list[str | Objective],
    requirements: list[Any] | None = None,
) -> Certified | Conflict:
    """Finds forces of given candidates that meet every requirement and make the objectives small."""

def search(
    reference: _Stages,
    candidates: list[Candidate],
    objectives: str | Objective | list[str | Objective],
    most: int = 3,
    spacing: _Length | None = None,
    requirements: list[Any] | None = None,
) -> Searched:
    """Chooses at most so many of the candidates."""

def refine(
    reference: _Stages,
    candidates: list[Candidate],
    rooms: list[tuple[_Length, _Length] | Room],
    objectives: str | Objective | list[str | Objective],
    requirements: list[Any] | None = None,
) -> tuple[list[Candidate], list[Certified | Conflict]]:
    """Moves candidates within their rooms until no step helps: a heuristic."""

def assured(
    reference: Reference | Target,
    candidates: list[Candidate],
    u: list[float],
    objective: str = "total",
    k: float = 2.0,
    requirements: list[Any] | None = None,
) -> list[tuple[str, Quantity]] | None:
    """Forces that meet every requirement by so many standard uncertainties."""

def confirm(
    reference: Reference | Target,
    candidates: list[Candidate],
    forces: list[Quantity | str],
    requirements: list[Any] | None = None,
) -> dict[str, Any]:
    """Does a layout of given forces, from wherever it comes, meet the requirements at every x?"""

def jack(at: _Length, **fields: Any) -> Candidate:
    """One jack at a place; other fields of Candidate by name: plate, capacity, least, cost, source, piston, name."""

def patch(
    from_: _Length,
    to: _Length,
    least: Quantity | str | None = None,
    capacity: Quantity | str | None = None,
    name: str | None = None,
) -> Candidate:
    """A patch of bags or blocks between two places, uniform, by its force."""

def stack(
    from_: _Length,
    to: _Length,
    width: _Length,
    most: Quantity | str,
    least: Quantity | str | None = None,
    name: str | None = None,
) -> Candidate:
    """A stack of bags or blocks on a width of the member unit, by its area load."""

def basin(
    from_: _Length,
    to: _Length,
    width: _Length,
    most: _Length,
    least: _Length | None = None,
    weight: Quantity | str | None = None,
    name: str | None = None,
) -> Candidate:
    """A basin on a width of the member unit, by the depth of its fluid, water unless `weight` is given."""

def given(from_: _Length, to: _Length, q: Quantity | str, name: str | None = None) -> Candidate:
    """A uniform line load that is there in any case: its force is not searched."""

def grid(of: Candidate, from_: _Length, to: _Length, step: _Length) -> list[Candidate]:
    """Candidates of one kind at places a step apart, the last at the end of the range."""

def compare(
    beam: Beam,
    loads: Loads | _Text,
    doubt: Doubt | _Text,
    unit: str,
    choice: EditionChoice | _Text | None = None,
    determinate: bool | None = None,
) -> list[dict[str, Any]]:
    """What every shipped edition asks of one member, or why it does not say."""

@final
class Verdict:
    """An answered check."""

    @property
    def code(self) -> str:
        """The code of the check."""
    @property
    def state(self) -> str:
        """"pass", "fail", "inconclusive" and others."""
    @property
    def demand(self) -> Quantity | None:
        """What was found; None where nothing could be compared."""
    @property
    def limit(self) -> Quantity | None:
        """What it is held against."""
    @property
    def side(self) -> str | None:
        """"at_most" or "at_least"; None where there is no limit."""
    @property
    def utilisation(self) -> float | None:
        """Demand over limit, or limit over demand: up to 1 is inside."""
    @property
    def expanded_uncertainty(self) -> Quantity | None:
        """Expanded uncertainty U = 2 u of the margin, of the kind of the demand."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class CriterionOutcome:
    """One criterion of an edition with its two outcomes."""

    @property
    def id(self) -> str:
        """Its name in the edition."""
    @property
    def about(self) -> str:
        """What it compares, in words."""
    @property
    def formula(self) -> str:
        """The comparison as the edition writes it, with its waiver."""
    @property
    def clause(self) -> str:
        """The clause."""
    @property
    def code(self) -> Verdict:
        """The edition's own comparison, without a guard."""
    @property
    def guarded(self) -> Verdict:
        """The same guarded by U = 2 u."""
    @property
    def conformity(self) -> float | None:
        """The probability that the limit is kept; None where no uncertainty is stated."""
    @property
    def waived(self) -> bool:
        """Whether the edition's own clause waives it for this deflection."""
    @property
    def reason(self) -> str:
        """Why, in one sentence."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class SharedRatio:
    """A ratio of two deflections from one zero."""

    @property
    def value(self) -> float:
        """The ratio."""
    @property
    def u(self) -> float:
        """Its standard uncertainty."""
    @property
    def expanded_uncertainty(self) -> float:
        """Its expanded uncertainty U = 2 u."""
    @property
    def interval(self) -> tuple[float, float] | None:
        """Every ratio that the two values allow (Fieller); None where the lower one cannot be told from
        zero."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class ByEdition:
    """What one edition says of a record."""

    @property
    def edition(self) -> str:
        """The edition."""
    @property
    def code(self) -> str:
        """The edition's own outcome, all criteria together."""
    @property
    def guarded(self) -> str:
        """The guarded outcome."""
    @property
    def because(self) -> str:
        """What decides the guarded one."""
    @property
    def criteria(self) -> list[CriterionOutcome]:
        """Every criterion, with what the log says of the run."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class SideBySide:
    """One record under the criteria of every edition."""

    @property
    def method(self) -> str:
        """The test method."""
    @property
    def editions(self) -> list[ByEdition]:
        """Every edition that has criteria for the method."""
    @property
    def refused(self) -> list[tuple[str, list[str]]]:
        """Editions that could not be asked, each with the codes of what it refused."""
    @property
    def table(self) -> str:
        """The table in Markdown."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Acceptance:
    """Every criterion of an edition on one deflection and its residual. There is no headline: load,
    hold and what people saw are no part of it."""

    @property
    def edition(self) -> str:
        """The edition."""
    @property
    def lt(self) -> Quantity:
        """The span the limits speak of."""
    @property
    def criteria(self) -> list[CriterionOutcome]:
        """Every criterion."""
    @property
    def retest(self) -> str | None:
        """Whether a retest is allowed after what failed, and on which conditions."""
    @property
    def verdicts(self) -> list[Verdict]:
        """The guarded verdict of every criterion."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class LoadTerm:
    """One combination of a test load."""

    @property
    def id(self) -> str:
        """Its name in the edition."""
    @property
    def formula(self) -> str:
        """Factors and symbols of the edition: "1.2*Dw + 1.6*L"."""
    @property
    def total(self) -> Quantity:
        """All its load."""
    @property
    def net(self) -> Quantity:
        """What the rig must add."""
    @property
    def governs(self) -> bool:
        """Whether no other is larger."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class TestLoad:
    """The combinations of an edition on uniform actions."""

    @property
    def edition(self) -> str:
        """The edition."""
    @property
    def set(self) -> str:
        """The name of the load set."""
    @property
    def why(self) -> str:
        """Why this set applies."""
    @property
    def terms(self) -> list[LoadTerm]:
        """Every combination."""
    @property
    def governing(self) -> list[str]:
        """The names of the largest: several where they tie."""
    @property
    def in_place(self) -> Quantity:
        """What is in place before the test."""
    @property
    def total(self) -> Quantity:
        """All the load of the governing combination."""
    @property
    def net(self) -> Quantity:
        """What the rig must add in it."""
    @property
    def verdicts(self) -> list[Verdict]:
        """Empty: a test load is no check."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class BearingCheck:
    """One bearing of a reaction member."""

    @property
    def at(self) -> Quantity:
        """Its place from the first bearing."""
    @property
    def stabilising(self) -> Quantity:
        """What holds it down: own weight and weights."""
    @property
    def uplift(self) -> Quantity:
        """What lifts it."""
    @property
    def factor(self) -> float | None:
        """Stabilising over uplift; None where nothing lifts."""
    @property
    def factor_on_unbalanced_uplift(self) -> float | None:
        """Weights over the uplift that own weight does not balance: the other basis."""
    @property
    def factor_without_counterweight(self) -> float | None:
        """Own weight over uplift."""
    @property
    def verdict(self) -> Verdict:
        """The check against the floor."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class ReactionStage:
    """A reaction member at one stage."""

    @property
    def name(self) -> str:
        """What acts."""
    @property
    def fraction(self) -> float:
        """The test load that acts, in parts of the full one; -1 for the load lost at once."""
    @property
    def reactions(self) -> list[tuple[Quantity, Quantity]]:
        """Place and force of every support, up positive."""
    @property
    def shear(self) -> Quantity:
        """Largest shear, as a size."""
    @property
    def shear_at(self) -> Quantity:
        """Where."""
    @property
    def sagging(self) -> Quantity:
        """Largest sagging moment."""
    @property
    def sagging_at(self) -> Quantity:
        """Where."""
    @property
    def least_moment(self) -> Quantity:
        """Smallest moment; below zero it hogs."""
    @property
    def least_moment_at(self) -> Quantity:
        """Where."""
    @property
    def verdicts(self) -> list[Verdict]:
        """The checks against the strengths that are given."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class LeastWeight:
    """The least single counterweight for the floor, and its best place."""

    @property
    def factor(self) -> float:
        """The factor it is for."""
    @property
    def at(self) -> Quantity:
        """Its best place from the first bearing."""
    @property
    def force(self) -> Quantity:
        """Its weight there."""
    @property
    def for_lift_off(self) -> Quantity:
        """What lift-off alone asks there."""
    @property
    def for_reversal(self) -> Quantity:
        """What the reversal of the moment alone asks there."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Reaction:
    """A reaction member under what pulls on it."""

    @property
    def floor(self) -> float:
        """The floor of lift-off that applies."""
    @property
    def bearings(self) -> list[BearingCheck]:
        """Every bearing, from left to right."""
    @property
    def stages(self) -> list[ReactionStage]:
        """Weights placed, every quarter of the load, unloaded, the load lost at once."""
    @property
    def least_weight(self) -> LeastWeight | None:
        """The least counterweight; None where none is asked, found or sought: see `advice`."""
    @property
    def advice(self) -> str:
        """"a weight", "nothing lifts", "no such weight", "not sought", or "cannot lift"."""
    @property
    def verdicts(self) -> list[Verdict]:
        """Every check: bearings, a factor asked for, strengths at every stage."""
    @property
    def stops(self) -> list[tuple[str, str]]:
        """States that endanger people: code and sentence."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Hydraulics:
    """Pressure and movement of one press of jacks."""

    @property
    def force_per_jack(self) -> Quantity:
        """Force of one jack."""
    @property
    def pressure(self) -> Quantity:
        """Pump pressure, friction included."""
    @property
    def pressure_without_friction(self) -> Quantity:
        """The same without friction."""
    @property
    def bar_stretch(self) -> Quantity:
        """Stretch of the bars."""
    @property
    def travel(self) -> Quantity:
        """Stroke that is needed."""
    @property
    def stroke_used(self) -> float | None:
        """What of the stroke is used; None where no stroke is left."""
    @property
    def oil_travel(self) -> Quantity | None:
        """What the locked-off oil would still push, where the oil is described."""
    @property
    def verdicts(self) -> list[Verdict]:
        """Pressure against its rating, travel against the stroke."""
    @property
    def stops(self) -> list[tuple[str, str]]:
        """States that endanger people: code and sentence."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class LevelShare:
    """One level that carries a catch."""

    @property
    def share(self) -> float:
        """Its share of the force of the catch."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class CaughtForce:
    """One catch with what falls on it."""

    @property
    def at(self) -> Quantity:
        """Its place."""
    @property
    def crack(self) -> Quantity | None:
        """Place of the crack that loads it most; None where nothing that falls rests on it."""
    @property
    def own(self) -> Quantity:
        """Static force of what is in place."""
    @property
    def test(self) -> Quantity:
        """Static force of the test load, were it weights."""
    @property
    def contact_force(self) -> Quantity:
        """Force without a drop in height, as a check."""
    @property
    def force(self) -> Quantity:
        """Dynamic force with the gap that is given."""
    @property
    def resistance(self) -> Quantity:
        """What the posts carry."""
    @property
    def slack(self) -> bool:
        """Whether the locked-off rig is slack before the catch stops the drop."""
    @property
    def gap_low(self) -> Quantity:
        """Least gap: reading expected and its uncertainty."""
    @property
    def gap_recommended(self) -> Quantity:
        """The same with the clearance of the library rule."""
    @property
    def gap_high(self) -> Quantity | None:
        """Largest gap whose drop the catch can stop; None where it stops none."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class CatchCheck:
    """The catches under a member, and the levels below."""

    @property
    def catches(self) -> list[CaughtForce]:
        """Every catch."""
    @property
    def force(self) -> Quantity:
        """The largest sum of the catch forces of one failure: what the levels carry."""
    @property
    def levels(self) -> list[LevelShare]:
        """The levels below, the top first."""
    @property
    def levels_needed(self) -> int | None:
        """Least number of levels from the top that carry it; None where all do not."""
    @property
    def verdicts(self) -> list[Verdict]:
        """Every check."""
    @property
    def stops(self) -> list[tuple[str, str]]:
        """States that endanger people: code and sentence."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

_Value = Quantity | str | Mapping[str, Any]
_AtForce = tuple[_Value, _Value] | dict[str, Any]

def acceptance(
    edition: str | EditionChoice | dict[str, Any],
    deflection: _Value,
    *,
    span: _Value,
    residual: _Value | None = None,
    u: _Value | None = None,
    depth: _Value | None = None,
    clear_span: _Value | None = None,
    cantilever: bool | None = None,
    method: str | None = None,
    stated: list[dict[str, Any]] | None = None,
    unit: str | None = None,
) -> Acceptance:
    """The criteria of an edition on a largest deflection and its residual."""

def conformity(value: float, u: float, lower: float | None = None, upper: float | None = None) -> float:
    """The probability that a normal value of standard uncertainty u keeps its limits, all in one unit."""

def decision_risks(
    mean: float, spread: float, u: float, lower: float | None = None, upper: float | None = None, guard: float = 0.0
) -> tuple[float, float]:
    """What is risked over all items: (false acceptance, false rejection), all numbers in one unit."""

def guard_for_risk(u: float, risk: float) -> float:
    """The guard band of one limit for a risk."""

def shared_ratio(above: float, below: float, u: float) -> SharedRatio:
    """The ratio of two deflections from one zero, of three readings with standard uncertainty u each."""

def effective(u: list[float], freedom: list[float | None] | None = None) -> tuple[float, float | None]:
    """Combined standard uncertainty and effective degrees of freedom; None for what is known."""

def side_by_side(
    log: str | PathLike[str],
    layout: _Text | LogSpec,
    record: _Text | RunRecord,
    *,
    span: _Value,
    depth: _Value,
    clear_span: _Value | None = None,
    cantilever: bool | None = None,
    unit: str | None = None,
    method: str | None = None,
    target: _Value | None = None,
) -> SideBySide:
    """A log and the record of its run by the criteria of every shipped edition that has some for the
    method. For a designed test see `Design.side_by_side`."""

def test_load(
    edition: str | EditionChoice | dict[str, Any],
    nominal: Mapping[str, _Value | list[Any]],
    *,
    in_place: str | list[str] | dict[str, float],
    facts: Facts | dict[str, Any] | None = None,
    width: _Value | None = None,
    determinate: bool | None = None,
) -> TestLoad:
    """The combinations of an edition on uniform nominal actions by their names."""

def reaction(
    span: _Value | list[_Value],
    self_weight: _Value,
    pulls: list[_AtForce],
    *,
    weights: list[_AtForce] | None = None,
    seat: str | None = None,
    rigidity: Rigidity | dict[str, Any] | None = None,
    left_overhang: _Value | None = None,
    right_overhang: _Value | None = None,
    shear_capacity: _Value | None = None,
    sagging_capacity: _Value | None = None,
    hogging_capacity: _Value | None = None,
    uplift_capacity: _Value | list[_Value] | None = None,
    conditions: dict[str, bool] | None = None,
    factor: dict[str, Any] | None = None,
    unit: str | None = None,
) -> Reaction:
    """A reaction member on bearings under what pulls it up and what stands on it."""

def hydraulics(
    force: _Value,
    *,
    rated_pressure: _Value,
    stroke: _Value,
    number: int | None = None,
    area: _Value | None = None,
    bore: _Value | None = None,
    rod: _Value | None = None,
    friction: _Value | float | None = None,
    deflection: _Value | None = None,
    rise: _Value | None = None,
    bars: Bars | dict[str, Any] | None = None,
    slack: _Value | None = None,
    oil_volume: _Value | None = None,
    oil_bulk_modulus: _Value | None = None,
) -> Hydraulics:
    """One press of equal jacks: pressure with friction, stroke that is needed, against their ratings."""

def catch(
    span: _Value,
    in_place: _Value | list[_Value],
    catches: Catch | dict[str, Any] | list[Catch | dict[str, Any]],
    *,
    mode: str,
    region: tuple[_Value, _Value] | list[_Value],
    forces: list[_AtForce] | None = None,
    drive: str | None = None,
    spring_back: _Value | None = None,
    depth: _Value | None = None,
    reading: _Value | list[_Value] | None = None,
    reading_uncertainty: _Value | None = None,
    clearance: _Value | None = None,
    levels: list[Level | dict[str, Any]] | None = None,
    post_stiffness: _Value | None = None,
    to_ground: bool | None = None,
    stub: Stub | dict[str, Any] | None = None,
    dragged_along: float | None = None,
    unit: str | None = None,
) -> CatchCheck:
    """One catch or several under a simple span."""

def usual_patterns(spans: int) -> list[tuple[list[bool], str]]:
    """The usual patterns of so many spans, each as marks and in words."""

def snow_drift(standard: str, **fields: Any) -> dict[str, Any]:
    """Snow that drifts against a step, by "ASCE 7-16" or "ASCE 7-22"."""

def ponding(
    beam: Beam,
    at: Column | list[_Place],
    depth: Column | list[_Place],
    width: _Length,
    gamma: Quantity | str | None = None,
    pieces: int = 32,
) -> dict[str, Any]:
    """Water on a beam that gives way under it."""

def read_log_faults(log: str | PathLike[str], layout: _Text | LogSpec) -> list[dict[str, Any]]:
    """The faults of a log, by name."""

def schema() -> str:
    """The JSON schema of the test document, as text."""

def editions() -> list[tuple[str, str, str]]:
    """Name, title and status of every shipped edition."""

def codes() -> list[tuple[str, str, str, str]]:
    """The table of stable codes: code, class, gist, remedy."""

def _quantity(si: float, dimension: Any, kind: str | None) -> Quantity: ...
def _column(si: Any, unit: Quantity) -> Column: ...
