from collections.abc import Iterator, Mapping, Sequence
from os import PathLike
from typing import Any, Generic, Literal, NotRequired, Self, SupportsIndex, TypedDict, TypeVar, final, overload

from matplotlib.axes import Axes
from typing_extensions import disjoint_base

__all__ = [
    "Action",
    "Anchor",
    "Bags",
    "Response",
    "Bars",
    "Beam",
    "BeamSpec",
    "Candidate",
    "CapacitySpec",
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
    "_again",
    "_beam",
    "_column",
    "_load",
    "_quantity",
    "_refusal",
    "_support",
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
    "SectionProperties",
    "CrackingMoment",
    "SteelState",
    "FlexuralStrength",
    "SectionStiffness",
    "SectionStrength",
    "Deflections",
    "section_strength",
    "deflections",
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
    "edition",
    "judge_record",
    "show_in",
    "Working",
    "WorkingStep",
    "Edition",
    "EditionBridgeProof",
    "EditionCriterion",
    "EditionProtocol",
    "EditionRetest",
    "EditionRow",
    "EditionSet",
    "EditionStopRule",
    "ShearParts",
    "ShearStrength",
    "Exercised",
    "AddedStirrups",
    "BondedStrip",
    "WrapShear",
    "ReducedCheck",
    "WithoutStrengthening",
    "LocalCheck",
    "LocalStrength",
    "shear_strength",
    "shear_strengths",
    "added_stirrups",
    "bonded_strip",
    "wrap_shear",
    "without_strengthening",
    "local_strength",
    "Part",
    "Check",
    "Note",
    "Lifted",
    "Stop",
    "Extreme",
    "Extremes",
    "SupportForce",
    "WorstLoad",
    "EnvelopePair",
    "EnvelopePairs",
    "EnvelopeExtreme",
    "EnvelopeExtremes",
    "CertificateRow",
    "Certificate",
    "Confirmed",
    "Confirmation",
    "ReachedAction",
    "LayoutWarnings",
    "Deviation",
    "AsBuilt",
    "Relaxation",
    "Choice",
    "RigPress",
    "RigPull",
    "RigCounterweight",
    "RigAnchor",
    "RigReaction",
    "RigBearing",
    "RigStage",
    "LockedCircuit",
    "RigRam",
    "RigHydraulics",
    "PlacedBlocks",
    "BlockLayout",
    "BlockPlacement",
    "RigBeam",
    "JackTrain",
    "Rig",
    "GapStep",
    "Caught",
    "SharedLevel",
    "LevelLoad",
    "FloorCheck",
    "Shoring",
    "CarrierStep",
    "GaugeReading",
    "HeldForce",
    "ScheduleStep",
    "ScheduleCycle",
    "Schedule",
    "PredictedSection",
    "PredictedMode",
    "PredictedShear",
    "DeflectionStep",
    "FailsByCracking",
    "ExercisedBy",
    "LocalAction",
    "LocalAnswer",
    "LocalPlaced",
    "LostCheck",
    "LostRule",
    "PredictedStiffness",
    "StrengtheningExercised",
    "Predicted",
    "RigShape",
    "WindowUsed",
    "GaugeUsed",
    "Correction",
    "ReadMoment",
    "GaugeDeflection",
    "Comparison",
    "Exceeded",
    "StopRuleSeen",
    "LogFault",
    "SnowDrift",
    "Ponding",
    "ComparedEdition",
]

__version__: str

class _Issue(TypedDict):
    code: str
    path: str
    message: str
    value: NotRequired[str]
    limit: NotRequired[str]
    remedy: str
    source: NotRequired[str]

class ProofspanError(ValueError):
    """Any refusal of proofspan; `issues` lists every problem."""

    issues: list[_Issue]

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
    def __float__(self) -> float: ...
    def __format__(self, spec: str, /) -> str: ...
    def __copy__(self) -> Quantity: ...
    def __deepcopy__(self, _memo: Any) -> Quantity: ...
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
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

_Value = Quantity | str | Mapping[str, Any]
_Length = Quantity | str
_Place = Quantity | str
_Side = Literal["left", "right"]
_Basis = Literal["net", "total"]
_Units = Literal["SI", "US"]
_Effect = Literal["shear", "moment"]
_What = Literal["shear", "moment", "deflection"]

_Name = TypeVar("_Name", bound=str)

@disjoint_base
class Part(Generic[_Name]):
    """A part of an answer: its values as attributes, or by name as of a dict. A value that is not there is None as
    an attribute and missing by name. A name that is a word of Python ends in an underscore."""

    _fields: tuple[str, ...]

    def __new__(cls, values: dict[str, Any]) -> Self: ...
    def __getitem__(self, key: _Name, /) -> Any: ...
    def __len__(self) -> int: ...
    def __contains__(self, key: object, /) -> bool: ...
    def __iter__(self) -> Iterator[str]: ...
    def keys(self) -> list[str]:
        """The names of the values that are there."""
    def items(self) -> list[tuple[str, Any]]:
        """Names and values that are there."""
    def get(self, key: _Name, default: Any = None) -> Any:
        """The value of a name, or something else where it is not there."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every value, by name, as dicts and lists; with `units` as JSON can hold it."""
    def __format__(self, spec: str, /) -> str: ...
    def _repr_html_(self) -> str: ...
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

class Check(Part[Literal["state", "code", "of", "demand", "limit", "limit_side", "utilisation", "expanded_uncertainty", "basis", "clause"]]):
    """A check inside a part of an answer."""

    state: str
    code: str
    of: str | None
    demand: Quantity | None
    limit: Quantity | None
    limit_side: str | None
    utilisation: float | None
    expanded_uncertainty: Quantity | None
    basis: str
    clause: str

class Note(Part[Literal["code", "path", "message"]]):
    """What the reader must know."""

    code: str
    path: str
    message: str

class Lifted(Part[Literal["code", "role", "name", "reason", "measure", "date", "second_signature", "design"]]):
    """Who lifted a stop, and why."""

    code: str
    role: str
    name: str
    reason: str
    measure: str
    date: str
    second_signature: str
    design: str

class Stop(Part[Literal["code", "path", "message", "liftable", "holds", "verdict", "lifted_by"]]):
    """A state that endangers people."""

    code: str
    path: str
    message: str
    liftable: bool
    holds: bool
    verdict: Check | None
    lifted_by: Lifted | None

class Extreme(Part[Literal["value", "at", "side"]]):
    """A largest or smallest value along a beam."""

    value: Quantity
    at: Quantity
    side: _Side

class Extremes(Part[Literal["max", "min"]]):
    """The largest and the smallest value along a beam."""

    max: Extreme
    min: Extreme

class SupportForce(Part[Literal["at", "force", "moment"]]):
    """What a support gives: force up positive, moment on the beam clockwise positive."""

    at: Quantity
    """Its place from the left end of the member under test."""
    force: Quantity
    """Up positive."""
    moment: Quantity
    """Clockwise on the member positive; zero at a bearing."""

class WorstLoad(Part[Literal["max", "max_on", "min", "min_on"]]):
    """The largest and the smallest response, and the parts that are loaded for each."""

    max: Quantity
    max_on: list[tuple[Quantity, Quantity]]
    min: Quantity
    min_on: list[tuple[Quantity, Quantity]]

class EnvelopePair(Part[Literal["shear", "moment", "case"]]):
    """Shear and moment that act together."""

    shear: Quantity
    moment: Quantity
    case: int

class EnvelopePairs(Part[Literal["max", "min"]]):
    """What acts together at the largest and at the smallest value."""

    max: EnvelopePair
    min: EnvelopePair

class EnvelopeExtreme(Part[Literal["value", "at", "case"]]):
    """A largest or smallest value over all cases."""

    value: Quantity
    at: Quantity
    case: int

class EnvelopeExtremes(Part[Literal["max", "min"]]):
    """The largest and the smallest value over all cases."""

    max: EnvelopeExtreme
    min: EnvelopeExtreme

class CertificateRow(Part[Literal["what", "at", "side", "term", "unit", "a", "b", "multiplier"]]):
    """One row a·p >= b of a certificate, with its multiplier, in SI."""

    what: str
    """Whose row it is, in words."""
    at: Quantity | None
    """The place; nothing for a capacity or a reaction."""
    side: str | None
    """The side of the place."""
    term: str | None
    """The term that asks."""
    unit: str
    """The unit of the right side."""
    a: list[float]
    """The coefficients, one an unknown: forces in N, then the helper of an objective."""
    b: float
    """The right side, in the SI unit of the row."""
    multiplier: float
    """The multiplier, above zero."""

class Certificate(Part[Literal["about", "unknowns", "values", "cost", "rows", "objective", "bound", "gap"]]):
    """A certificate that ten lines of exact arithmetic check: unknowns, values, cost, rows, in SI."""

    about: str
    """What it proves, in words."""
    unknowns: list[str]
    """The unknowns: forces in N, then the helper of an objective."""
    values: list[float]
    """Their values; empty where there are none."""
    cost: list[float]
    """Their costs; zeros in a contradiction."""
    rows: list[CertificateRow]
    """The rows with a multiplier that counts."""
    objective: float | None
    """The cost of the values; nothing in a contradiction."""
    bound: float
    """`Σ y b`: no forces cost less; above zero in a contradiction."""
    gap: float | None
    """Objective less bound, relative to the larger."""

class Confirmed(Part[Literal["requirement", "what", "violation", "amount", "at"]]):
    """One requirement as the separate verifier found it."""

    requirement: int
    """The requirement, by its place in the list; capacities come after the last."""
    what: str
    """What it is, in words."""
    violation: float
    """No violation anywhere is larger than this part of the largest reference or of the limit: a bound, not a sample. Zero where it holds everywhere."""
    amount: Quantity
    """The same as an amount, N, N·m or m; zero where it holds everywhere."""
    at: Quantity | None
    """Where the violation was found."""

class Confirmation(Part[Literal["each", "violation"]]):
    """What the separate verifier found."""

    each: list[Confirmed]
    """Each requirement."""
    violation: float
    """The largest violation."""

class ReachedAction(Part[Literal["what", "effect", "reference", "test", "net", "total", "state"]]):
    """One action that a failure mode goes by, and whether the test reaches it."""

    what: str
    """What it is, in words: "shear at A+", "hogging at B", "sagging in A-B"."""
    effect: str
    """Shear or moment."""
    reference: Quantity
    """The largest reference, net, with its sign."""
    test: Quantity
    """The test, net, with its sign."""
    net: float
    """Test over reference, net."""
    total: float
    """The same with what is in place."""
    state: str
    """Pass where the reference is reached; NotApplicable where it is not: the test says nothing about it. NotMeaningful where the reference is about zero."""

class LayoutWarnings(Part[Literal["notes", "distance"]]):
    """What a layout does not test, and how near a load is to a bearing."""

    notes: list[Note]
    distance: Check | None

class Deviation(Part[Literal["what", "fidelity", "effect", "at", "exceeded", "excess"]]):
    """One way in which what is built may be otherwise."""

    what: str
    """The deviation, in words."""
    fidelity: Quantity
    """The least net ratio of test to what is to be reached, over every x; below zero the reference has the other sign there."""
    effect: str | None
    """The effect that is nearest to falling short."""
    at: Quantity | None
    """Where."""
    exceeded: str | None
    """The limit that is exceeded most, in words."""
    excess: float
    """By how much it is exceeded, relative; zero where all hold."""

class AsBuilt(Part[Literal["each", "state", "fidelity", "limits", "raise", "raise_exceeds"]]):
    """A layout as it may be built."""

    each: list[Deviation]
    state: str
    fidelity: Check
    limits: Check
    raise_: float | None
    raise_exceeds: str | None

class Relaxation(Part[Literal["what", "by", "becomes"]]):
    """What one requirement would have to give."""

    what: str
    """The requirement, in words."""
    by: float | None
    """By how much it gives: a part of the reference that is not reached, an addition to the ratio of a cap, a part of a limit, or N for a force; nothing where that alone does not help."""
    becomes: str
    """What that means, in words."""

class Choice(Part[Literal["number", "candidates", "exact", "objectives", "stages"]]):
    """One choice of carriers; `stages` holds one Certified a stage."""

    number: int
    candidates: list[int]
    exact: bool
    objectives: list[float]
    stages: dict[str, Certified]

class RigPress(Part[Literal["at", "force", "circuit", "by"]]):
    """One press and what drives it."""

    at: Quantity
    """Its place from the left end of the member under test."""
    force: Quantity
    """How much, net."""
    circuit: str | None
    """The circuit of its jacks, where it is named."""
    by: str
    """By what it is made."""

class RigPull(Part[Literal["press", "at", "force", "reaction"]]):
    """What pulls on a reaction."""

    press: int
    """The press it holds, by its number from the left."""
    at: Quantity
    """Its place from the left end of the member under test."""
    force: Quantity
    """How much, up."""
    reaction: int
    """The reaction it pulls on, by its number in the document."""

class RigCounterweight(Part[Literal["factor", "at", "force", "for_lift_off", "for_reversal", "at_bearing"]]):
    """The least single counterweight."""

    factor: float
    """The factor of lift-off it is for."""
    at: Quantity
    """Its best place; in a rig from the left end of the member under test, else from the left bearing."""
    force: Quantity
    """Its weight there."""
    for_lift_off: Quantity
    """What lift-off alone asks at that place."""
    for_reversal: Quantity
    """What moment reversal alone asks at that place."""
    at_bearing: Quantity | str
    """The weight at the near bearing that lift-off alone would ask: useless against reversal."""

class RigAnchor(Part[Literal["at", "force", "verdict"]]):
    """One anchor."""

    at: Quantity
    """Its place from the left end of the member under test."""
    force: Quantity
    """What pulls on it."""
    verdict: Check
    """The check against its strength."""

class RigReaction(Part[Literal["id", "kind", "reach", "supports", "least_counterweight", "anchors"]]):
    """One thing that the jacks pull against."""

    id: str
    kind: str
    reach: list[Quantity] | None
    supports: list[Quantity]
    least_counterweight: RigCounterweight | str | None
    anchors: list[RigAnchor]

class RigBearing(Part[Literal["reaction", "at", "stabilising", "uplift", "factor", "factor_on_unbalanced_uplift", "factor_without_counterweight", "verdict"]]):
    """One bearing of a reaction member."""

    reaction: str
    """The reaction member."""
    at: Quantity
    """Its place from the left end of the member under test."""
    stabilising: Quantity
    """What holds it down: own weight and counterweights."""
    uplift: Quantity
    """What lifts it: the pulls of each circuit, and a weight on an overhang beyond another bearing."""
    factor: float | None
    """Stabilising over uplift; nothing where nothing lifts."""
    factor_on_unbalanced_uplift: float | None
    """Counterweights over unbalanced uplift: the other basis, never to be mixed up with the first; nothing where own weight balances the uplift."""
    factor_without_counterweight: float | None
    """Own weight over uplift: the factor without any counterweight."""
    verdict: Check
    """The check against the floor that applies, or of a bearing that cannot lift against the uplift strength of what holds it."""

class RigStage(Part[Literal["reaction", "name", "fraction", "reactions", "shear", "shear_at", "sagging", "sagging_at", "least_moment", "least_moment_at", "verdicts"]]):
    """A reaction member at one stage."""

    reaction: str
    """The reaction member."""
    name: str
    """What acts."""
    fraction: float
    """The test load that acts, in parts of the full one; −1 for the load that is lost at once, as the undamped bound: what is placed and the jack force reversed."""
    reactions: list[SupportForce]
    """What every support gives, from left to right."""
    shear: Quantity
    """Largest shear, as a size."""
    shear_at: Quantity
    """Where."""
    sagging: Quantity
    """Largest sagging moment."""
    sagging_at: Quantity
    """Where."""
    least_moment: Quantity
    """Smallest moment; below zero it hogs."""
    least_moment_at: Quantity
    """Where."""
    verdicts: list[Check]
    """The checks against the strengths that are given."""

class LockedCircuit(Part[Literal["force", "stiffness", "oil_known", "per_stroke", "cooling", "warming", "bars", "leak", "leak_over", "band", "top_up_after", "gauge_class", "gauge_division", "creep"]]):
    """What a circuit does when it is locked off."""

    force: Quantity
    """Force of the circuit, net."""
    stiffness: Quantity | None
    """Stiffness of the load path without the oil, stiff prediction; nothing where nothing moves."""
    oil_known: bool
    """Whether the oil is described; if not, it counts as stiff."""
    per_stroke: Quantity | None
    """Force that the least stroke of the pump brings."""
    cooling: Quantity | None
    """Force that is lost when the oil cools."""
    warming: Quantity | None
    """Force that is gained when it warms."""
    bars: Quantity | None
    """Force that the bars take or give by their temperature, either way."""
    creep: Quantity | None
    """Force that the creep of the member takes, where it is stated."""
    leak: Quantity | None
    """Force that the leak takes in its time."""
    leak_over: Quantity | None
    """That time."""
    band: Quantity | None
    """How far the force may go from the full force."""
    top_up_after: Quantity | None
    """After what time it has to be topped up at the latest, once it is cold; nothing where no leak is known or none of the band is left."""
    gauge_class: Quantity | None
    """Force that the class of the gauge stands for."""
    gauge_division: Quantity | None
    """Force that one division of the gauge stands for."""

class RigRam(Part[Literal["force", "share", "least", "most", "way", "stroke", "at_end", "held"]]):
    """One jack of a press whose jacks differ."""

    force: Quantity
    """What it gives, net, at the friction that is given for each."""
    share: float
    """Its share of the press."""
    least: Quantity
    """The least it gives: it has all its friction, the others none."""
    most: Quantity
    """The most: it has none, the others have all of theirs."""
    way: Quantity
    """The stroke that this force needs, slack included."""
    stroke: Quantity
    """The stroke that it has left."""
    at_end: bool
    """Whether its ram is at the end of its stroke: the others take what it does not."""
    held: Quantity | None
    """What it gives at the end of the hold if nobody tops up; nothing where no hold is described."""

class RigHydraulics(Part[Literal["circuit", "force_per_jack", "pressure", "pressure_without_friction", "bar_stretch", "travel", "stiffness", "oil_travel", "stroke_used", "jack_most", "jack_least", "rams", "off_middle", "uneven", "springs_back", "energy", "falls_by", "locked"]]):
    """Pressure and movement of one circuit."""

    circuit: str | None
    """The circuit, where it is named."""
    force_per_jack: Quantity
    """Force of one jack at full load, net."""
    pressure: Quantity
    """Pump pressure at full load, friction included."""
    pressure_without_friction: Quantity
    """The same without friction: what a load cell would make of it."""
    bar_stretch: Quantity
    """Stretch of the bars."""
    travel: Quantity
    """Stroke that is needed, soft prediction and slack included."""
    stiffness: Quantity | None
    """Force over elastic travel; nothing where nothing moves."""
    oil_travel: Quantity | None
    """What the locked-off oil would still push, where the oil is described."""
    stroke_used: Quantity | None
    """Share of the stroke that is used; nothing where no stroke is left."""
    jack_most: Quantity
    """The most that one of the jacks of the press gives at this pressure: their friction differs."""
    jack_least: Quantity
    """The least that one of them gives."""
    rams: list[RigRam]
    """Its jacks one by one, where they are described so."""
    off_middle: Quantity | None
    """How far the resultant of the press stands across from where equal jacks would have it; nothing where places across are not given."""
    uneven: float | None
    """How far the share of one of them lies from that of equal jacks at most, as a part of it, friction at its worst; nothing where they are not described one by one."""
    springs_back: Quantity | None
    """How far everything but the member under test springs back when it gives way: reaction, bars, oil; nothing where a part of it is not known or keeps the pressure up."""
    energy: Quantity | None
    """The energy that this gives back, of the whole circuit: half of force times way."""
    falls_by: Quantity | None
    """By how much the force of the circuit falls with the way of the member that gives way."""
    locked: LockedCircuit | None
    """What the circuit does when it is locked off, where pump, hold or gauge is described."""

class PlacedBlocks(Part[Literal["kind", "number", "columns", "layers", "from", "to", "force", "at"]]):
    """A group of blocks of one kind."""

    kind: str
    """The kind."""
    number: int
    """How many units."""
    columns: int
    """In how many columns, from the left."""
    layers: int
    """How many stand on each other in a full column."""
    from_: Quantity
    """Left edge from the left end of the member under test."""
    to: Quantity
    """Right edge."""
    force: Quantity
    """Their weight."""
    at: Quantity
    """Where it acts."""

class BlockLayout(Part[Literal["groups"]]):
    """One way to place the blocks."""

    groups: list[PlacedBlocks]
    """Its groups from left to right."""

class BlockPlacement(Part[Literal["lifts", "weight", "ties", "layouts"]]):
    """The blocks that were chosen."""

    lifts: int
    """How many lifts."""
    weight: Quantity
    """All of their weight."""
    ties: int
    """How many layouts have as few lifts and as little weight."""
    layouts: list[BlockLayout]
    """The first twenty of them; the first one is built and checked."""

class RigBeam(Part[Literal["id", "force", "moment", "shear", "deflection", "sideways", "tilt"]]):
    """A spreader or reaction beam."""

    id: str
    """What it is called."""
    force: Quantity
    """The force in its middle."""
    moment: Quantity
    """Its bending moment."""
    shear: Quantity
    """Its shear."""
    deflection: Quantity
    """How far it gives."""
    sideways: Quantity | None
    """The moment that it takes before it buckles sideways; nothing where that is not computed."""
    tilt: Quantity | None
    """How far it tilts, rise over length, soft prediction: of one that a jack loads, the member gives way differently under its contacts; of one between bars, they stretch unequally. Nothing where that is not known."""

class JackTrain(Part[Literal["force", "sideways", "eccentricity", "moment"]]):
    """The jack train."""

    force: Quantity
    """That force."""
    sideways: Quantity
    """What it takes sideways."""
    eccentricity: Quantity
    """The eccentricity that is counted."""
    moment: Quantity
    """The moment of both."""

class Rig(Part[Literal["presses", "pulls", "reactions", "bearings", "floor", "lift_off_without_counterweight", "placement", "stages", "hydraulics", "beams", "train", "verdicts", "stops", "notes"]]):
    """What the jacks push against."""

    presses: list[RigPress]
    pulls: list[RigPull]
    reactions: list[RigReaction]
    bearings: list[RigBearing]
    floor: float
    lift_off_without_counterweight: Quantity | None
    placement: BlockPlacement | None
    stages: list[RigStage]
    hydraulics: list[RigHydraulics]
    beams: list[RigBeam]
    train: JackTrain | None
    verdicts: list[Check]
    stops: list[Stop]
    notes: list[Note]

class GapStep(Part[Literal["fraction", "low", "recommended"]]):
    """The gap of a catch at one step."""

    fraction: Quantity
    """Fraction of the full load."""
    low: Quantity
    """Least gap: reading expected there and its uncertainty."""
    recommended: Quantity
    """Least gap with the clearance of the library rule."""

class Caught(Part[Literal["at", "crack", "own", "test", "contact_force", "force", "bound", "dynamic", "dynamic_bound", "crushed", "slack", "resistance", "gap_low", "gap_recommended", "gap_high", "gap_steps", "sideways"]]):
    """One catch."""

    at: Quantity
    """Its place from the left end of the member."""
    crack: Quantity | None
    """The crack that loads it most; nothing where it holds no piece that falls."""
    own: Quantity
    """Static force of what is in place and of the rig that rests on the member."""
    test: Quantity
    """Static force of the test load, were it weights."""
    contact_force: Quantity
    """Force without a drop in height, as a check: twice the static one for weights."""
    force: Quantity
    """Dynamic force with the gap that is given."""
    bound: Quantity
    """The same were all of the test load a weight and the catch without a pad: the bound."""
    dynamic: float | None
    """The dynamic force over the static one; nothing where nothing falls."""
    dynamic_bound: float | None
    """The bound over the static force."""
    crushed: Quantity | None
    """How far the pad is crushed, where there is one."""
    slack: bool
    """Whether the locked-off rig is slack before the catch stops the drop."""
    resistance: Quantity
    """What the posts carry."""
    sideways: Quantity
    """What the bracing of the posts holds sideways."""
    gap_low: Quantity
    """Least gap at full load: reading expected and its uncertainty."""
    gap_recommended: Quantity
    """Least gap with the clearance of the library rule."""
    gap_high: Quantity | None
    """Largest gap whose drop the catch can stop; nothing where it stops none."""
    gap_steps: list[GapStep]
    """The gap at every step."""

class SharedLevel(Part[Literal["share", "posts_below"]]):
    """The share of one level."""

    share: Quantity
    """Share of the catch force that this level carries."""
    posts_below: Quantity
    """Force in the posts below it, over the catch force."""

class LevelLoad(Part[Literal["id", "force", "left", "moves", "posts", "posts_carry", "sideways"]]):
    """What one level does when the catch comes."""

    id: str
    """How the drawings call it."""
    force: Quantity
    """What it carries of the catch."""
    left: Quantity | None
    """What is left of its strength then; nothing of ground whose strength is not given."""
    moves: Quantity
    """How far it comes down."""
    posts: Quantity
    """What goes down through the posts below it."""
    posts_carry: Quantity | None
    """What those posts carry, where they are described with the level."""
    sideways: Quantity
    """What their bracing holds sideways."""

class FloorCheck(Part[Literal["id", "shear", "sagging", "hogging"]]):
    """The floor under the catches."""

    id: str
    """How the drawings call it."""
    shear: Quantity
    """Largest shear, as a size."""
    sagging: Quantity
    """Largest sagging moment."""
    hogging: Quantity
    """Largest hogging moment, as a size."""

class Shoring(Part[Literal["catches", "force", "levels", "stack", "levels_needed", "floors", "verdicts", "stops", "notes"]]):
    """What catches the member."""

    catches: list[Caught]
    """Every catch, in the order of the document."""
    force: Quantity
    """The largest sum of the catch forces of one failure, or a little more: what the levels carry."""
    levels: list[SharedLevel]
    """Shares of the levels, the top first, the ground last."""
    stack: list[LevelLoad]
    """What every level does, the top first, the ground last."""
    levels_needed: int | None
    """Least number of levels from the top that carry the catch forces; nothing where all do not."""
    floors: list[FloorCheck]
    """The floors that catches stand on, where they are reaction members."""
    verdicts: list[Check]
    """The checks."""
    stops: list[Stop]
    """States that endanger people."""
    notes: list[Note]
    """What to know."""

class CarrierStep(Part[Literal["name", "force", "force_per_jack", "pressure", "layers", "depth"]]):
    """What one carrier brings at one step."""

    name: str
    """What it is called."""
    force: Quantity
    """Its force on one member unit, net."""
    force_per_jack: Quantity | None
    """The force of one of its jacks, net."""
    pressure: Quantity | None
    """The pressure of its circuit."""
    layers: float | None
    """How many layers are on, of bags or blocks."""
    depth: Quantity | None
    """How deep the water is."""

class GaugeReading(Part[Literal["gauge", "stiff", "soft", "readers_apart"]]):
    """What one gauge should show at one step."""

    gauge: int
    """The gauge, by its place in the list of gauges."""
    stiff: Quantity
    """With gross section and expected modulus: for stop limits and linearity. A gauge on the reaction member takes that member stiffer in the same proportion."""
    soft: Quantity
    """With cracked section and low modulus: for gap, stroke and range."""
    readers_apart: Quantity | None
    """How far the readings of two people at one moment may be apart: twice the standard uncertainty of their difference; nothing of a gauge whose uncertainty is not given."""

class HeldForce(Part[Literal["circuit", "least", "most", "band", "leaves_band", "top_up_after", "then_every"]]):
    """What the hold of one step does to the force of a locked-off circuit."""

    circuit: str | None
    """The circuit, where it is named."""
    least: Quantity
    """The least force at the end of the hold if nobody tops up: oil cold, bars against it, leak, creep."""
    most: Quantity
    """The largest: oil and bars warm, no leak."""
    band: Quantity
    """How far the force may go from that of the step."""
    leaves_band: bool
    """Whether temperature and creep alone leave the band."""
    top_up_after: Quantity | None
    """After what time it is topped up at the latest; nothing where the hold ends before."""
    then_every: Quantity | None
    """After what time again, from then on."""

class ScheduleStep(Part[Literal["fraction", "force", "carriers", "force_per_jack", "pressure", "hold", "reading_times", "readings", "held"]]):
    """One step of the schedule."""

    fraction: Quantity
    """Fraction of the full net test load."""
    force: Quantity
    """The sum of the forces on one member unit, net."""
    carriers: list[CarrierStep]
    """What each carrier brings; all rise together."""
    force_per_jack: Quantity
    """The largest force of one jack, net."""
    pressure: Quantity | None
    """Pump pressure, where the rig is known."""
    hold: Quantity
    """The shortest hold; the readings must also be stable."""
    reading_times: list[Quantity]
    """When to read, from the moment the step's load is reached."""
    readings: list[GaugeReading]
    """What each gauge should show."""
    held: list[HeldForce]
    """What the hold does to the force of every locked-off circuit whose hold is described."""

class ScheduleCycle(Part[Literal["name", "pair", "steps", "down_to", "least"]]):
    """One load cycle of the schedule."""

    name: str
    """Its name in the edition."""
    pair: int
    """The pair of twins it belongs to."""
    steps: list[ScheduleStep]
    """Its rising steps, the peak last."""
    down_to: Quantity
    """The least load to which it comes back; the last one then goes to nothing."""
    least: Quantity
    """The force at that load on one member unit, net."""

class Schedule(Part[Literal["steps", "cycles", "unloading", "zero_before", "residual_after", "notes"]]):
    """The steps with predicted readings."""

    steps: list[ScheduleStep]
    """The rising steps, the full load last; of a cyclic test those of its last cycle."""
    cycles: list[ScheduleCycle]
    """The load cycles in order; none of a monotonic test. Before the first the least load is held as between them."""
    unloading: list[Quantity]
    """Fractions at which to stop and read while unloading."""
    zero_before: Quantity | None
    """The zero reading is at most so long before the first increment."""
    residual_after: Quantity | None
    """When the residual is read, after the load is off."""
    notes: list[Note]
    """What to know."""

class PredictedSection(Part[Literal["at", "face", "in_place", "total", "cracking", "uncertainty", "cracks_at", "expected", "design", "fails_at", "mode", "ductile", "anchored"]]):
    """A section predicted under the test."""

    at: Quantity
    """Its place from the left end of the member."""
    face: str
    """The face that the test pulls on."""
    in_place: Quantity
    """Moment in place before the test."""
    total: Quantity
    """Moment at full test load, with what is in place."""
    cracking: Quantity
    """Moment at which it cracks, expected set."""
    uncertainty: Quantity | None
    """Standard uncertainty of that, where the scatter is given."""
    cracks_at: float
    """Share of the test load at which it cracks; zero or less where it has before the test."""
    expected: Quantity | None
    """Expected strength in flexure; nothing where no steel is in tension."""
    design: Quantity | None
    """Design strength, where its reductions are given."""
    fails_at: float
    """Share of the test load at which the expected strength is reached; of a section whose steel does not carry its cracking moment, at which it cracks."""
    mode: str | None
    """How it fails; nothing where it breaks as it cracks."""
    ductile: bool
    """Whether that gives warning."""
    anchored: float
    """The part to which the steel that is anchored least is anchored; one where all is."""

class PredictedMode(Part[Literal["mode", "at", "share", "uncertainty", "used", "brittle", "stays_away"]]):
    """What comes first."""

    mode: str
    """Which one."""
    at: Quantity
    """Its place from the left end of the member."""
    share: float
    """Share of the test load at which it is reached."""
    uncertainty: float | None
    """Standard uncertainty of that share, by the scatter of the tension of the concrete (and of the prestress, of a section in bending) there; nothing where it is not given."""
    used: float | None
    """What is total at full test load over the expected strength there; nothing where there is none."""
    brittle: bool
    """Whether it comes without warning."""
    stays_away: str
    """Whether it stays away at full test load: Inconclusive where the margin is smaller than twice the uncertainty, or none is given."""

class PredictedShear(Part[Literal["at", "in_place", "total", "expected", "uncertainty", "design", "fails_at", "governs", "stirrups", "strengthening", "cracks", "strut"]]):
    """Shear predicted at a place."""

    at: Quantity
    """Its place from the left end of the member."""
    in_place: Quantity
    """Shear in place before the test."""
    total: Quantity
    """Shear at full test load, with what is in place."""
    expected: Quantity
    """Expected strength, without a sign."""
    uncertainty: Quantity | None
    """Its standard uncertainty, of the part that the tension of the concrete carries; where the scatter is given."""
    design: Quantity | None
    """Design strength, where its factors are given."""
    fails_at: float
    """Share of the test load at which the expected strength is reached; zero or less where it is before the test."""
    governs: str
    """What decides the expected strength."""
    stirrups: bool
    """Whether stirrups are counted."""
    strengthening: Quantity | None
    """What wraps and added stirrups carry of the expected strength; None where there are none."""
    cracks: Quantity | None
    """Shear at which diagonal cracks are expected, without a sign; None where no part of the strength is the concrete's."""
    strut: bool
    """Whether a force of the test stands between this place and the bearing beside it: part of it goes there by a strut."""

class DeflectionStep(Part[Literal["share", "stiff", "soft"]]):
    """What is added to the deflection in place, down positive."""

    share: float
    """Share of the full test load."""
    stiff: Quantity
    """Stiff prediction: no crack; of a member that is cracked already, the stiffest formula."""
    soft: Quantity
    """Soft prediction: the softest formula everywhere."""

class FailsByCracking(Part[Literal["state", "at", "face", "share", "moment"]]):
    """Where a member fails as it cracks: nothing is predicted beyond that load."""

    state: str
    """"fails by cracking", or "fails by cracking under what is in place"."""
    at: Quantity
    """Its place from the left end of the member."""
    face: str
    """The face that opens: "top" or "bottom"."""
    share: float
    """Share of the test load; zero where what is in place does it."""
    moment: Quantity
    """The total moment there, sagging positive."""

class PredictedStiffness(Part[Literal["at", "used", "beam_stiff", "beam_soft", "steps", "breaks"]]):
    """The deflection that the test adds, by the sections and by the beam of the document."""

    at: Quantity
    """Where it is largest, from the left end of the member."""
    used: str
    """Which of the two the design counts with: "document" or "sections"."""
    beam_stiff: Quantity
    """At full test load by the beam of the document, stiff."""
    beam_soft: Quantity
    """At full test load by the beam of the document, soft."""
    steps: list[DeflectionStep]
    """The course by the sections at the steps of the test, stiff and soft, up to where the member fails by cracking."""
    breaks: FailsByCracking | None
    """Where and when it does, at a place whose steel does not carry what the concrete did; None where it does not."""

class ExercisedBy(Part[Literal["likely", "test", "cracking", "ratio", "scatter"]]):
    """Whether a test exercises wraps and stirrups: before the web cracks they are nearly unstrained."""

    likely: str
    """ "unlikely, not excluded", "open" or "likely"."""
    test: Quantity
    """Shear of the test, total."""
    cracking: Quantity
    """The lower of flexure-shear and web-shear cracking."""
    ratio: float
    """The one over the other."""
    scatter: Quantity
    """Scatter of the cracking strength, as a part of it."""

class StrengtheningExercised(Part[Literal["at", "exercised"]]):
    """Whether the planned test exercises what strengthens in shear, where it is most likely to."""

    at: Quantity
    """The place from the left end of the member."""
    exercised: ExercisedBy
    """How likely, and by which shears."""

class LostRule(Part[Literal["rule", "case", "verdict"]]):
    """One rule checked without the strengthening."""

    rule: str
    """The rule, by its clause."""
    case: str
    """Which state of the member."""
    verdict: Check
    """Its largest combination against the strength without the strengthening."""

class LostCheck(Part[Literal["effect", "at", "predicted", "check"]]):
    """One rule that the member must keep without its strengthening, where it is nearest to breaking it."""

    effect: str
    """Shear or moment."""
    at: Quantity
    """Its place from the left end of the member."""
    predicted: bool
    """Whether the strength is predicted here; the engineer's where not."""
    check: LostRule
    """The check."""

class LocalAction(Part[Literal["action", "verdict"]]):
    """A local strength under one action."""

    action: str
    """ "test" or "catch"."""
    verdict: Check
    """Against the design strength."""

class LocalAnswer(Part[Literal["clause", "mode", "expected", "design", "checks", "notes", "left_out"]]):
    """A local strength with its checks."""

    clause: str
    """Edition and clause."""
    mode: str
    """How it gives way, brittle or ductile."""
    expected: Quantity | None
    """The force it carries with mean strengths, no reduction; None where only a design strength is known."""
    design: Quantity | None
    """The force it carries with specified strengths, reduced; None where the factors are not given."""
    checks: list[LocalAction]
    """The action of the test and of the catch, each on its own."""
    notes: list[Note]
    """What to know."""
    left_out: list[str]
    """What the check leaves out."""

class LocalPlaced(Part[Literal["name", "under", "at", "fails_at", "found"]]):
    """A local check of a document with its answer."""

    name: str
    """What it is called."""
    under: str
    """What presses: "carrier", "catch", "bearing" or "other"."""
    at: Quantity | None
    """Where that stands, from the left end of the member; None of something else."""
    fails_at: float | None
    """Share of the test load at which its expected strength is reached, its design strength where only that is known; None where no action of the test is."""
    found: LocalAnswer
    """The strength, and each action against it."""

class Predicted(Part[Literal["code", "rule", "cracks_first", "fails_first", "stays_uncracked", "shear_code", "exercised", "shear_first", "first", "first_failure", "sections", "shear", "stiffness", "without", "local", "left_out"]]):
    """What is predicted of the member, never an approval."""

    code: str
    """Edition of the strength in flexure."""
    rule: str
    """Formula of the tensile strength."""
    cracks_first: PredictedSection | None
    """The place that cracks first as the load of the test grows."""
    fails_first: PredictedSection | None
    """The place whose expected strength in flexure is reached first."""
    stays_uncracked: str
    """Whether it stays uncracked at full test load: Inconclusive where the margin is smaller than twice the scatter, or the scatter is not given."""
    shear_code: str | None
    """Edition of the strength in shear; nothing where the law of flexure is one's own and none is named."""
    exercised: StrengtheningExercised | None
    """Whether the test exercises wraps and added stirrups; None where there are none, or where no shear is predicted at them."""
    shear_first: PredictedShear | None
    """The place whose expected strength in shear is reached first; nothing where none is predicted."""
    first: PredictedMode | None
    """The first mode as the load of the test grows, as every first here over the ranges of the inputs: cracking of what is not cracked before, flexure or shear."""
    first_failure: PredictedMode | None
    """The first of flexure and shear, and of what breaks as it cracks."""
    sections: list[PredictedSection]
    """Place by place."""
    shear: list[PredictedShear]
    """Shear, place by place, where the edition asks for it."""
    stiffness: PredictedStiffness | None
    """The deflection of the test by the sections beside that by the beam of the document; None where a modulus is not given."""
    without: list[LostCheck]
    """What the member must carry without its strengthening, and in fire: no test makes a check good that fails."""
    local: list[LocalPlaced]
    """What gives way under what presses, and at the bearings."""
    left_out: list[str]
    """Failures that are not predicted here."""

class RigShape(Part[Literal["kind", "mark", "says", "left", "right", "top", "bottom", "force"]]):
    """A shape of the elevation of a rig."""

    kind: str
    """What it is."""
    mark: str
    """Its mark, where it has one."""
    says: str
    """Its numbers, as the mark says them."""
    force: Quantity | None
    """The force that its arrow shows, down positive; all arrows are to one scale."""
    left: Quantity
    """Left edge."""
    right: Quantity
    """Right edge."""
    top: Quantity
    """Upper edge."""
    bottom: Quantity
    """Lower edge."""

class WindowUsed(Part[Literal["window", "from", "to", "used", "left_out"]]):
    """What of one window was used."""

    window: str
    """`zero`, `peak` or `residual`."""
    from_: Quantity
    """Its beginning."""
    to: Quantity
    """Its end."""
    used: int
    """How many samples the median was taken of."""
    left_out: int
    """How many rows have none: missing, or left out."""

class GaugeUsed(Part[Literal["gauge", "samples", "left_out", "windows", "with"]]):
    """What of one gauge was used."""

    gauge: str
    """The gauge."""
    samples: int
    """How many samples of the whole log are usable."""
    left_out: int
    """How many rows have none."""
    windows: list[WindowUsed]
    """Window by window."""
    with_: list[str]
    """The channels whose readings correct it."""

class Correction(Part[Literal["what", "value", "u", "at_peak", "at_residual", "u_at_peak", "u_at_residual", "formula", "source"]]):
    """One correction of a gauge."""

    what: str
    """What it is for."""
    value: Quantity
    """The number it uses: the reading at zero, sign, factor, drift, movement or turn since zero at the peak, force that is lacking at the peak."""
    u: Quantity | None
    """Standard uncertainty of that number, where it is stated; 0 of a sign."""
    at_peak: Quantity
    """What it adds at the peak."""
    at_residual: Quantity | None
    """What it adds at the residual, where that was read."""
    u_at_peak: Quantity | None
    """Standard uncertainty of what it adds at the peak, where it is stated."""
    u_at_residual: Quantity | None
    """Standard uncertainty of what it adds at the residual."""
    formula: str
    """Its formula."""
    source: str
    """Where its numbers come from."""

class ReadMoment(Part[Literal["reading", "samples", "temperatures", "level", "settlement", "turn", "force"]]):
    """What one gauge read at one moment."""

    reading: Quantity
    """Median of the readings, calibrated, sign applied."""
    samples: int
    """How many samples it holds."""
    temperatures: list[Quantity]
    """Temperatures, where a drift is corrected: one a channel."""
    level: Quantity
    """Movement of the level the gauge stands on."""
    settlement: Quantity
    """Settlement at the gauge: of the line through the bearings, or of the root."""
    turn: Quantity | None
    """Turn of the root, where it is taken off; positive where the right end goes down."""
    force: Quantity | None
    """Force of record, where the deflection is brought to a nominal force."""

class GaugeDeflection(Part[Literal["gauge", "at", "d_max", "d_r", "raw_d_max", "raw_d_r", "u_reading", "as_read_d_max", "as_read_d_r", "corrections", "moments"]]):
    """The corrected deflection of one gauge."""

    gauge: str
    at: Quantity
    d_max: Quantity
    d_r: Quantity | None
    raw_d_max: Quantity
    raw_d_r: Quantity | None
    u_reading: Quantity | None
    as_read_d_max: Quantity
    as_read_d_r: Quantity | None
    corrections: list[Correction]
    moments: list[ReadMoment]

class Comparison(Part[Literal["gauge", "measured", "stiff", "soft", "over_stiff"]]):
    """Measured against predicted, one gauge."""

    gauge: str
    """The gauge."""
    measured: Quantity
    """Corrected deflection since zero."""
    stiff: Quantity
    """Stiff prediction."""
    soft: Quantity
    """Soft prediction."""
    over_stiff: Quantity | None
    """Measured over stiff prediction; above 1.25 asks for an explanation (common practice, no source). Nothing where next to nothing is predicted, as at a bearing."""

class Exceeded(Part[Literal["at", "force", "measured", "limit", "carried_on"]]):
    """Where a stop rule was first broken."""

    at: Quantity
    """The first of two samples one after the other that break it."""
    force: Quantity
    """The force then."""
    measured: Quantity
    """What was read then: a deflection, corrected, a strain or a crack width."""
    limit: Quantity
    """What it may have been."""
    carried_on: Quantity | None
    """The largest force after it, where the load went on rising."""

class StopRuleSeen(Part[Literal["rule", "gauge", "largest", "at", "exceeded", "unknown"]]):
    """A rule that stops or pauses a test, along the log."""

    rule: str
    """The rule: its name in the edition, `measured over stiff` (or `over soft`, where the survey found the member cracked), `measured over first steps`, or `first steps between stiff and soft`."""
    gauge: str | None
    """The gauge, or the channel."""
    largest: Quantity | None
    """The largest share of the limit, and when."""
    at: Quantity | None
    """When that was."""
    exceeded: Exceeded | None
    """When it was first broken; nothing where it was kept throughout."""
    unknown: list[str]
    """What neither a channel nor the record gives, so that the rule could not be looked at."""

class LogFault(Part[Literal["kind", "channel", "from", "to", "count", "note", "effect", "with", "factor", "offset"]]):
    """A fault of a log."""

    kind: str
    """Its name."""
    channel: str
    """The channel."""
    from_: Quantity
    """From when, since the start of the log."""
    to: Quantity
    """Until when."""
    count: int
    """How many samples."""
    note: str
    """The evidence: how large it is, and against what."""
    effect: str
    """What it does to the judgement."""
    with_: str | None
    """The channel it was taken for, where two are swapped."""
    factor: float | None
    """What the readings would have to be multiplied by."""
    offset: Quantity | None
    """What would have to be added to the readings."""

class SnowDrift(Part[Literal["gamma", "balanced_depth", "clear_height", "side", "drift_height", "height", "width", "surcharge", "peak", "level"]]):
    """A drift of snow."""

    gamma: Quantity
    """Unit weight of the snow."""
    balanced_depth: Quantity
    """Depth of the balanced snow."""
    clear_height: Quantity
    """Height of the step above the balanced snow."""
    side: str | None
    """Which drift governs; nothing where the step is too low for one."""
    drift_height: Quantity
    """Height of the drift as computed."""
    height: Quantity
    """Height that has room below the top of the step."""
    width: Quantity
    """Width from the step to where the drift ends."""
    surcharge: Quantity
    """Load of the drift at the step, on top of the balanced snow."""
    peak: Quantity
    """Balanced and drifted together at the step."""
    level: str
    """What the ground snow load was: the result is of that level too."""

class Ponding(Part[Literal["loads", "response", "static_weight", "weight", "amplification", "growth", "error"]]):
    """Water on a beam that gives way under it."""

    loads: list[Load]
    response: Response
    static_weight: Quantity
    weight: Quantity
    amplification: float
    growth: float
    error: float

class ComparedEdition(Part[Literal["edition", "name", "status", "set", "shear", "net_shear", "shear_term", "moment", "net_moment", "moment_term", "hogging", "refused"]]):
    """What one edition asks of a member, or why it does not say."""

    edition: str
    name: str
    status: str
    set: str | None
    shear: Quantity | None
    net_shear: Quantity | None
    shear_term: str | None
    moment: Quantity | None
    net_moment: Quantity | None
    moment_term: str | None
    hogging: Quantity | None
    refused: list[_Issue] | None

class _Series(TypedDict):
    time: Any
    force: Any
    raw: Any
    corrected: Any

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
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
    def response(self, loads: list[Load]) -> Response:
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
    def plot(self, loads: list[Load] = ..., units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws the beam with its supports, hinges and loads; returns the Axes."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]: ...
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class Response:
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
    def extremes(self, what: _What, from_: _Place | None = None, to: _Place | None = None) -> Extremes:
        """The exact largest and smallest "shear", "moment" or "deflection", with place and side."""
    @property
    def reactions(self) -> list[SupportForce]:
        """The reactions: place, force up positive, moment on the beam clockwise positive."""
    @property
    def breakpoints(self) -> Column:
        """Places where a load or a stiffness begins or ends, both ends included."""
    def plot(self, what: _What = "moment", units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws "shear", "moment" or "deflection" along the beam; returns the Axes."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class Influence:
    """An influence line: its ordinate at a place is the response under a unit force there, down."""

    def ordinate(self, x: _Place | Column | list[_Place], side: _Side = "left") -> list[float]:
        """The ordinate at one place or many, as response per force in SI."""
    def response(self, loads: list[Load]) -> Quantity:
        """The response to loads."""
    def worst(self, q: Quantity | str) -> WorstLoad:
        """The largest and the smallest response to a uniform load on any parts."""
    @property
    def length(self) -> Quantity:
        """The length of the beam."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class Envelope:
    """The largest and the smallest effect over several cases of one beam."""

    def __new__(cls, cases: list[Response]) -> Self: ...
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
    def pairs(self, what: str, x: _Place, side: _Side = "left") -> EnvelopePairs:
        """Shear and moment that act together where `what` is largest and where it is smallest."""
    def extremes(self, what: _What) -> EnvelopeExtremes:
        """The exact largest and smallest value on the beam, each with place and case."""
    @property
    def cases(self) -> list[Response]:
        """The cases."""
    @property
    def length(self) -> Quantity:
        """The length of the beam."""
    def plot(self, what: _What = "moment", units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws the envelope; returns the Axes."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
    def in_place(self) -> Response:
        """What acts before the test."""
    def term(self, name: str, basis: _Basis = "net") -> Response:
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
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
    def response(self) -> Response:
        """Shear, moment and deflection of the jacks alone, soft prediction."""
    def overshoot(self, effect: _Effect, basis: _Basis) -> float | None:
        """The largest test over reference of "shear" or "moment" inside the region, "net" or "total"."""
    def ratio(self, effect: _Effect, x: _Place, side: _Side = "left", basis: _Basis = "net") -> float | None:
        """Test over reference of "shear" or "moment" at a place, against the envelope."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def plot(self, effect: _Effect = "moment", units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws reference and test "shear" or "moment", net, region shaded; returns the Axes."""
    def _repr_html_(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
        units: _Units = "SI",
    ) -> Self: ...
    @staticmethod
    def of(target: Target, units: _Units = "SI") -> Reference:
        """The reference of a target; the failure mode in doubt says what is to be reached."""
    @property
    def terms(self) -> dict[str, Response]:
        """The net actions of every term."""
    @property
    def in_place(self) -> Response:
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
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
    def certificates(self) -> list[Certificate]:
        """One certificate an objective: unknowns, values, cost, rows with multipliers, in SI."""
    @property
    def confirmation(self) -> Confirmation:
        """What the separate verifier found for each requirement."""
    @property
    def response(self) -> Response:
        """The actions of the forces alone."""
    @property
    def reference(self) -> Reference:
        """What was to be reproduced."""
    def overshoot(self, effect: _Effect = "moment", basis: _Basis = "net") -> float | None:
        """The largest test over reference in the region in doubt."""
    def reached(self) -> list[ReachedAction]:
        """The actions that the usual failure modes go by, and whether the test reaches them."""
    def warnings(self, effective_depth: _Length | None = None, bearing_length: _Length | None = None) -> LayoutWarnings:
        """Notes on the layout, and the verdict on its distance to the bearing."""
    def buildable(self, place: _Length, force: Quantity | str) -> Certified | None:
        """The layout with places and forces on steps, verified again."""
    def as_built(self, deviations: Deviations | None = None, **fields: Any) -> AsBuilt:
        """The layout where supports, stiffness, places and forces are not quite as drawn."""
    def further(self, places: Column | list[_Place]) -> list[tuple[Quantity, Certified | Conflict]]:
        """What one further jack would buy at each of these places, the best first."""
    def elsewhere(self, places: Column | list[_Place]) -> list[tuple[int, Quantity, Certified | Conflict]]:
        """What any one carrier would buy at each of these places in the place of its own, the best first."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def plot(self, effect: _Effect = "moment", units: _Units | None = None, ax: Axes | None = None) -> Axes:
        """Draws reference and test, net, the region shaded, the overshoot on both bases."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class Conflict:
    """Requirements that no forces of these candidates meet together."""

    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
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
    def certificate(self) -> Certificate:
        """The contradiction: rows with multipliers, in SI."""
    @property
    def relaxations(self) -> list[Relaxation]:
        """What each requirement would have to give."""
    def further(self, places: Column | list[_Place]) -> list[tuple[Quantity, Certified | Conflict]]:
        """What one further jack would buy at each of these places, the best first."""
    def elsewhere(self, places: Column | list[_Place]) -> list[tuple[int, Quantity, Certified | Conflict]]:
        """What any one carrier would buy at each of these places in the place of its own, the best first."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class Searched:
    """What a search over numbers and places found."""

    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def buildable(self, place: _Length, force: Quantity | str) -> dict[str, Certified] | None:
        """The best choice with places and forces on steps, the places the same for every stage."""
    @property
    def best(self) -> Choice | None:
        """The best choice: "number", "candidates", "objectives", "exact", "stages"."""
    @property
    def by_number(self) -> list[Choice]:
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
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

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
    def predicted(self) -> Predicted | None:
        """What is predicted of the member: cracking and flexure along it, never an approval."""
    @property
    def rig(self) -> Rig:
        """What the jacks push against: pulls, reactions, lift-off, stages, hydraulics."""
    @property
    def shoring(self) -> Shoring:
        """What catches the member: every catch with its forces and gap window, levels, floor."""
    @property
    def schedule(self) -> Schedule:
        """The steps with predicted readings; refuses with StopError while a stop holds."""
    @property
    def stages(self) -> list[tuple[str, Design]]:
        """The stages after the first, each with its name; every one has the stops of all."""
    def side_by_side(
        self, log: str | PathLike[str], columns: _Text | LogSpec, record: _Text | RunRecord
    ) -> SideBySide:
        """A log and the record of its run by the criteria of every shipped edition that has some for the
        method of this test."""
    @property
    def stops(self) -> list[Stop]:
        """States that endanger people, those that are lifted included."""
    @property
    def notes(self) -> list[Note]:
        """What the reader must know."""
    @property
    def checks(self) -> list[tuple[str, str, str, float | None]]:
        """Every check: what it belongs to, code, state, utilisation."""
    def sketch(self, units: _Units = "SI") -> list[RigShape]:
        """The elevation of the rig as shapes: kind, mark, what it says, left, right, top, bottom."""
    def plot_rig(self, units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws the elevation of the rig to scale; returns the Axes."""
    def plot_predicted(self, what: _What = "moment", units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws demand against predicted strength along the member, or the deflection of the test over its
        load, stiff and soft; returns the Axes."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
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
    def not_judged(self) -> list[str]:
        """What nobody can tell of a test that was designed elsewhere; empty for a designed test."""
    @property
    def curve(self) -> tuple[Column, Column]:
        """Force and deflection of the leading gauge along the test, thinned."""
    @property
    def deflections(self) -> list[GaugeDeflection]:
        """The corrected deflection of every gauge, with its corrections and u."""
    @property
    def comparisons(self) -> list[Comparison]:
        """Measured against predicted, every gauge; empty for a test designed elsewhere."""
    @property
    def faults(self) -> list[LogFault]:
        """Faults of the log, by name."""
    @property
    def stops(self) -> list[StopRuleSeen]:
        """Rules that stop or pause a test, along the log."""
    @property
    def notes(self) -> list[Note]:
        """What the reader must know."""
    @property
    def used(self) -> list[GaugeUsed]:
        """What of every gauge was used: samples in all and in each window, what was left out, the channels
        that correct it."""
    def series(
        self, gauge: str, *, time: str | None = None, force: str | None = None, length: str | None = None
    ) -> _Series:
        """The series of one gauge as NumPy arrays by name: "time", "force" of record, "raw" reading with its
        sign, "corrected" deflection since zero; h, kN and mm unless other units are asked for;
        not-a-number where a row has none. Kept by ``judge(…, series=True)``."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: _Units = "SI") -> Working:
        """The corrections of every gauge, in "SI" or "US" units: `print` it, or take it line by line."""
    def plot(self, units: _Units = "SI", ax: Axes | None = None) -> Axes:
        """Draws force against deflection of the leading gauge; returns the Axes."""
    def _repr_html_(self) -> str: ...
    def __copy__(self) -> Judgement: ...
    def __deepcopy__(self, _memo: Any) -> Judgement: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

class _Document:
    """A part of a test document; fields by name or in order."""

    __signature__: Any

    @staticmethod
    def fields() -> dict[str, str]:
        """The name of every field with what it means."""
    @classmethod
    def from_json(cls, text: str) -> Self:
        """Reads JSON text."""
    def to_json(self) -> str:
        """JSON text that reads back to an equal object."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """The fields as dicts, lists, numbers and text as written."""
    def replace(self, paths: dict[str, Any] | None = None, /, **changes: Any) -> Self:
        """The same with other values of some fields; those of nested parts by their paths."""
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class TestSpec(_Document):
    """The whole test in one document."""

    def __new__(
        cls,
        schema_version: int | None = None,
        *,
        title: str,
        about: str | None = None,
        display: Literal["SI", "US"] | None = None,
        scope: Scope | dict[str, Any],
        beam: BeamSpec | dict[str, Any],
        loads: Loads | dict[str, Any],
        edition: Edition | EditionChoice | dict[str, Any],
        capacity: CapacitySpec | dict[str, Any] | None = None,
        layout: LayoutSpec | dict[str, Any],
        rig: RigSpec | dict[str, Any] | None = None,
        shoring: ShoringSpec | dict[str, Any],
        protocol: ProtocolSpec | dict[str, Any],
        stages: Sequence[StageSpec | dict[str, Any]] | None = None,
        records: SiteRecords | dict[str, Any] | None = None,
        overrides: Sequence[dict[str, Any]] | None = None,
    ) -> Self: ...
    @property
    def schema_version(self) -> Any:
        """The version of the document."""
    @property
    def title(self) -> Any:
        """What the test is called."""
    @property
    def about(self) -> Any:
        """What the reader should know, for example that the scenario is invented."""
    @property
    def display(self) -> Any:
        """The unit system of the report."""
    @property
    def scope(self) -> Any:
        """Which member, region and failure mode."""
    @property
    def beam(self) -> Any:
        """The member as a line of spans."""
    @property
    def loads(self) -> Any:
        """The nominal actions."""
    @property
    def edition(self) -> Any:
        """The code edition."""
    @property
    def capacity(self) -> Any:
        """Sections along the member, where its strength is to be predicted."""
    @property
    def layout(self) -> Any:
        """The layout asked for."""
    @property
    def rig(self) -> Any:
        """The rig."""
    @property
    def shoring(self) -> Any:
        """The shoring."""
    @property
    def protocol(self) -> Any:
        """The steps."""
    @property
    def stages(self) -> Any:
        """The stages after the first, in the order in which they are tested."""
    @property
    def records(self) -> Any:
        """What is on record before the test."""
    @property
    def overrides(self) -> Any:
        """Stops that named people lift."""

@final
class Scope(_Document):
    """The question: which member, region and failure mode."""

    def __new__(
        cls,
        question: str | None = None,
        *,
        member: Member | dict[str, Any],
        doubt: Doubt | dict[str, Any] | Sequence[Doubt | dict[str, Any]],
        sharing: Sharing | dict[str, Any] | None = None,
        findings: Sequence[Finding | dict[str, Any]] | None = None,
    ) -> Self: ...
    @property
    def question(self) -> Any:
        """The question in one sentence."""
    @property
    def member(self) -> Any:
        """The member under test."""
    @property
    def doubt(self) -> Any:
        """The region and mode in doubt; several where one stage is to answer for several."""
    @property
    def sharing(self) -> Any:
        """How the joists of one unit and the neighbours share."""
    @property
    def findings(self) -> Any:
        """What the survey found."""

@final
class Member(_Document):
    """The member under test."""

    def __new__(
        cls,
        id: str,
        kind: Literal["beam", "joist", "joist_strip", "one_way_strip", "tee_stem", "cantilever"],
        unit: Literal["strip", "joist", "stem", "beam", "metre"],
        joists: int | None = None,
        joist_spacing: _Value | None = None,
    ) -> Self: ...
    @property
    def id(self) -> Any:
        """How the drawings call it."""
    @property
    def kind(self) -> Any:
        """What it is."""
    @property
    def unit(self) -> Any:
        """What one value is counted for."""
    @property
    def joists(self) -> Any:
        """Joists in one unit, where the unit is a strip."""
    @property
    def joist_spacing(self) -> Any:
        """Centre to centre of the joists."""

@final
class Doubt(_Document):
    """The region in doubt and the failure mode: `Doubt("shear", "0 ft", "6 ft")`."""

    def __new__(cls, mode: Literal["shear", "flexure", "hogging"], from_: _Value, to: _Value) -> Self: ...
    @property
    def mode(self) -> Any:
        """The failure mode."""
    @property
    def from_(self) -> Any:
        """Left end of the region."""
    @property
    def to(self) -> Any:
        """Right end of the region."""

@final
class Sharing(_Document):
    """How the joists of one unit and the neighbours share."""

    def __new__(
        cls,
        rule: Literal["isolated", "stiff_across", "limp", "given", "plate"],
        stiffness: Sequence[float] | None = None,
        shares: Sequence[float] | None = None,
        loaded_width: _Value | None = None,
    ) -> Self: ...
    @property
    def rule(self) -> Any:
        """The rule."""
    @property
    def stiffness(self) -> Any:
        """Relative stiffness of each joist, for `stiff_across`."""
    @property
    def shares(self) -> Any:
        """Share of each joist, for `given`; they add up to 1."""
    @property
    def loaded_width(self) -> Any:
        """Width of the loaded strip, for `plate`."""

@final
class Finding(_Document):
    """What the survey found."""

    def __new__(cls, kind: Literal["failed_bearing", "loose_strengthening", "saw_cut", "other"], note: str) -> Self: ...
    @property
    def kind(self) -> Any:
        """What it is."""
    @property
    def note(self) -> Any:
        """Where and how much."""

@final
class BeamSpec(_Document):
    """The member as a line of spans."""

    def __new__(
        cls,
        kind: Literal["simple", "cantilever", "overhanging", "continuous"],
        span: _Value | Sequence[_Value] | None = None,
        supports: Sequence[SupportSpec | dict[str, Any]] | None = None,
        hinges: Sequence[_Value] | None = None,
        stretches: Sequence[StretchSpec | dict[str, Any]] | None = None,
        left_overhang: _Value | None = None,
        right_overhang: _Value | None = None,
        clear_span: _Value | None = None,
        *,
        depth: _Value,
        effective_depth: _Value | None = None,
        soft: Rigidity | dict[str, Any],
        stiff: Rigidity | dict[str, Any],
    ) -> Self: ...
    @property
    def kind(self) -> Any:
        """How it is held."""
    @property
    def span(self) -> Any:
        """Centre to centre of bearings; of a cantilever, from the face of its support to its end. Several, from left to right, of a continuous member; left out where its supports are listed."""
    @property
    def supports(self) -> Any:
        """The supports of a continuous member, where they are more than bearings."""
    @property
    def hinges(self) -> Any:
        """Hinges, from the left end of the member."""
    @property
    def stretches(self) -> Any:
        """Stretches with another section than that at the left end."""
    @property
    def left_overhang(self) -> Any:
        """Overhang left of the first bearing."""
    @property
    def right_overhang(self) -> Any:
        """Overhang right of the last bearing."""
    @property
    def clear_span(self) -> Any:
        """Clear distance between the faces of the supports."""
    @property
    def depth(self) -> Any:
        """Overall depth of the section."""
    @property
    def effective_depth(self) -> Any:
        """Distance of the tension steel from the compressed face."""
    @property
    def soft(self) -> Any:
        """Soft prediction: cracked or effective section, low modulus. For gap, stroke and range."""
    @property
    def stiff(self) -> Any:
        """Stiff prediction: gross or transformed section, expected modulus. For stop limits."""

@final
class SupportSpec(_Document):
    """One support of a line of spans: `SupportSpec("6 m", kind="fixed")`."""

    def __new__(
        cls,
        at: _Value,
        kind: Literal["bearing", "seat", "fixed"] | None = None,
        stiffness: _Value | None = None,
        rotational: _Value | None = None,
        settlement: _Value | None = None,
    ) -> Self: ...
    @property
    def at(self) -> Any:
        """Its place from the left end of the member."""
    @property
    def kind(self) -> Any:
        """What it holds."""
    @property
    def stiffness(self) -> Any:
        """Stiffness that it rests on, per member unit; rigid where it is left out."""
    @property
    def rotational(self) -> Any:
        """Stiffness against rotation, per member unit, of a support that holds it: rigid where it is left out."""
    @property
    def settlement(self) -> Any:
        """How far it has gone down before the test, down positive: part of the state in place."""

@final
class StretchSpec(_Document):
    """A stretch of the member with a section of its own."""

    def __new__(
        cls,
        from_: _Value,
        soft: Rigidity | dict[str, Any],
        stiff: Rigidity | dict[str, Any],
        depth: _Value | None = None,
        effective_depth: _Value | None = None,
    ) -> Self: ...
    @property
    def from_(self) -> Any:
        """Where it begins, from the left end of the member."""
    @property
    def soft(self) -> Any:
        """Soft prediction."""
    @property
    def stiff(self) -> Any:
        """Stiff prediction."""
    @property
    def depth(self) -> Any:
        """Overall depth, where it differs."""
    @property
    def effective_depth(self) -> Any:
        """Distance of the tension steel from the compressed face, where it differs."""

@final
class StageSpec(_Document):
    """A stage after the first: another region in doubt with its own layout."""

    def __new__(
        cls,
        name: str,
        doubt: Doubt | dict[str, Any] | Sequence[Doubt | dict[str, Any]],
        layout: LayoutSpec | dict[str, Any] | None = None,
        rig: RigSpec | dict[str, Any] | None = None,
        shoring: ShoringSpec | dict[str, Any] | None = None,
        protocol: ProtocolSpec | dict[str, Any] | None = None,
    ) -> Self: ...
    @property
    def name(self) -> Any:
        """What the stage is called."""
    @property
    def doubt(self) -> Any:
        """The region and mode in doubt in this stage."""
    @property
    def layout(self) -> Any:
        """The layout of this stage."""
    @property
    def rig(self) -> Any:
        """The rig of this stage."""
    @property
    def shoring(self) -> Any:
        """The shoring of this stage."""
    @property
    def protocol(self) -> Any:
        """The steps of this stage."""

@final
class SearchSpec(_Document):
    """A search for places on a grid: `SearchSpec(2, "0.5 m")`."""

    def __new__(cls, at_most: int, step: _Value, clear: _Value | None = None, once: bool | None = None) -> Self: ...
    @property
    def once(self) -> Any:
        """Whether each carrier is used once at most."""
    @property
    def at_most(self) -> Any:
        """How many may be used on one member unit."""
    @property
    def step(self) -> Any:
        """Distance of the places that are tried."""
    @property
    def clear(self) -> Any:
        """Clear distance between two of them."""

@final
class Rigidity(_Document):
    """Modulus of elasticity and second moment of area."""

    def __new__(cls, modulus: _Value, second_moment: _Value) -> Self: ...
    @property
    def modulus(self) -> Any:
        """Modulus of elasticity."""
    @property
    def second_moment(self) -> Any:
        """Second moment of area."""

@final
class Loads(_Document):
    """The nominal actions. Besides the list `actions`, actions may be given by their names, with `in_place` naming those already there: `Loads(width=8 * ft, self_weight=76 * psf, live="40 psf", in_place=["self_weight"])`."""

    def __new__(
        cls,
        width: _Value,
        patterns: bool | None = None,
        actions: Sequence[Action | dict[str, Any]] | None = None,
        *,
        fluid: _Value | dict[str, Any] | Sequence[Any] | None = None,
        imposed: _Value | dict[str, Any] | Sequence[Any] | None = None,
        in_place: str | Sequence[str] | dict[str, float] | None = None,
        live: _Value | dict[str, Any] | Sequence[Any] | None = None,
        rain: _Value | dict[str, Any] | Sequence[Any] | None = None,
        roof_live: _Value | dict[str, Any] | Sequence[Any] | None = None,
        self_weight: _Value | dict[str, Any] | Sequence[Any] | None = None,
        snow: _Value | dict[str, Any] | Sequence[Any] | None = None,
        soil: _Value | dict[str, Any] | Sequence[Any] | None = None,
        superimposed_dead: _Value | dict[str, Any] | Sequence[Any] | None = None,
    ) -> Self: ...
    @property
    def width(self) -> Any:
        """Tributary width of one member unit."""
    @property
    def patterns(self) -> Any:
        """Whether live load may stand on some spans only: the worst pattern is looked for."""
    @property
    def actions(self) -> Any:
        """The actions."""

@final
class Action(_Document):
    """One action."""

    def __new__(
        cls,
        action: Literal["self_weight", "superimposed_dead", "live", "roof_live", "snow", "rain", "imposed", "fluid", "soil", "wind"],
        area: _Value | None = None,
        line: _Value | None = None,
        taper: Taper | dict[str, Any] | None = None,
        point: PointAction | dict[str, Any] | None = None,
        from_: _Value | None = None,
        to: _Value | None = None,
        width: _Value | None = None,
        in_place: Any | dict[str, Any] | None = None,
        occupancy: Literal["parking", "public_assembly", "other"] | None = None,
        snow_level: Literal["nominal", "strength"] | None = None,
        taken_off: bool | None = None,
    ) -> Self: ...
    @property
    def action(self) -> Any:
        """Which action."""
    @property
    def area(self) -> Any:
        """Over the tributary width."""
    @property
    def line(self) -> Any:
        """Along the member, per member unit."""
    @property
    def taper(self) -> Any:
        """Falling linearly, over the tributary width."""
    @property
    def point(self) -> Any:
        """Concentrated, per member unit."""
    @property
    def from_(self) -> Any:
        """Left edge, where it does not begin at the left end."""
    @property
    def to(self) -> Any:
        """Right edge, where it does not reach the right end."""
    @property
    def width(self) -> Any:
        """Tributary width of this action, where it differs."""
    @property
    def in_place(self) -> Any:
        """The part that is already in place: 1 all, 0 nothing. Dead load must say it."""
    @property
    def occupancy(self) -> Any:
        """What the floor is used for, for live load."""
    @property
    def snow_level(self) -> Any:
        """Whether a snow load is nominal or at strength level."""
    @property
    def taken_off(self) -> Any:
        """Whether it is taken off before the test: finishes, soil, planters, ballast. It then is not in place, and the member goes through a stage without it."""

@final
class Taper(_Document):
    """A load that falls linearly from a peak to zero: `Taper("40 psf", "0 ft", "10 ft")`."""

    def __new__(cls, peak: _Value, at: _Value, zero_at: _Value) -> Self: ...
    @property
    def peak(self) -> Any:
        """Intensity at the peak."""
    @property
    def at(self) -> Any:
        """Place of the peak."""
    @property
    def zero_at(self) -> Any:
        """Place where it is zero."""

@final
class PointAction(_Document):
    """A concentrated action."""

    def __new__(cls, force: _Value, at: _Value) -> Self: ...
    @property
    def force(self) -> Any:
        """Down positive, per member unit."""
    @property
    def at(self) -> Any:
        """Its place."""

@final
class EditionChoice(_Document):
    """Which edition, and which of its sets."""

    def __new__(
        cls,
        id: str,
        file: str | None = None,
        set: str | None = None,
        facts: Facts | dict[str, Any] | None = None,
        reduce_live: bool | None = None,
        companion: Literal["sum"] | None = None,
        project: dict[str, Any] | None = None,
        adjustments: Sequence[str] | None = None,
        impact: float | None = None,
        confirmations: Sequence[dict[str, Any]] | None = None,
    ) -> Self: ...
    @property
    def id(self) -> Any:
        """The edition, by its stable name or the name people use."""
    @property
    def file(self) -> Any:
        """The text of an edition file of one's own, in place of a shipped one."""
    @property
    def set(self) -> Any:
        """A lighter set, asked for by name."""
    @property
    def facts(self) -> Any:
        """Facts that decide which set applies."""
    @property
    def reduce_live(self) -> Any:
        """Whether a reduced live load is asked for where the edition lets it be."""
    @property
    def companion(self) -> Any:
        """How several variable actions make up the imposed load."""
    @property
    def project(self) -> Any:
        """The project's own factors, where the edition is `project`."""
    @property
    def adjustments(self) -> Any:
        """Adjustments of the factor of a bridge proof test, by their names."""
    @property
    def impact(self) -> Any:
        """Impact that is not in the live load given, where the edition adds it itself."""
    @property
    def confirmations(self) -> Any:
        """Wordings that were checked against a bought copy."""

@final
class Facts(_Document):
    """Facts that decide which load set applies."""

    def __new__(
        cls,
        partial_of_suspect_tested: bool | None = None,
        all_suspect_tested: bool | None = None,
        indeterminate: bool | None = None,
        flexural_tension_governs: bool | None = None,
        brittle_suspected: bool | None = None,
        parking: bool | None = None,
        public_assembly: bool | None = None,
        live: _Value | None = None,
    ) -> Self: ...
    @property
    def partial_of_suspect_tested(self) -> Any:
        """Only part of the suspect portion is tested."""
    @property
    def all_suspect_tested(self) -> Any:
        """All suspect portions are tested."""
    @property
    def indeterminate(self) -> Any:
        """The structure is statically indeterminate."""
    @property
    def flexural_tension_governs(self) -> Any:
        """Flexural tension governs the member."""
    @property
    def brittle_suspected(self) -> Any:
        """A brittle mode is suspected."""
    @property
    def parking(self) -> Any:
        """The floor is a garage."""
    @property
    def public_assembly(self) -> Any:
        """The floor is a place of public assembly."""
    @property
    def live(self) -> Any:
        """The live load that conditions speak of."""

@final
class LayoutSpec(_Document):
    """The layout asked for."""

    def __new__(
        cls,
        carrier: JackLine | dict[str, Any] | Spreader | dict[str, Any] | Pad | dict[str, Any] | Bags | dict[str, Any] | Water | dict[str, Any] | Wheels | dict[str, Any] | Sequence[JackLine | dict[str, Any] | Spreader | dict[str, Any] | Pad | dict[str, Any] | Bags | dict[str, Any] | Water | dict[str, Any] | Wheels | dict[str, Any]],
        search: SearchSpec | dict[str, Any] | None = None,
        requirements: Sequence[Reach | dict[str, Any] | Within | dict[str, Any] | MomentLimit | dict[str, Any] | ShearLimit | dict[str, Any] | DeflectionLimit | dict[str, Any] | ReactionLimit | dict[str, Any] | ShearSpan | dict[str, Any]] | None = None,
        objectives: Sequence[Objective | dict[str, Any]] | None = None,
        deviations: Deviations | dict[str, Any] | None = None,
        reproduce: Sequence[Literal["shear", "moment"]] | None = None,
        limits: Sequence[OvershootLimit | dict[str, Any]] | None = None,
        plate_length: _Value | None = None,
        bearing_length: _Value | None = None,
        ends: Literal["seated", "cast_in_place"] | None = None,
        stay_uncracked: bool | None = None,
    ) -> Self: ...
    @property
    def carrier(self) -> Any:
        """What brings the load on: one carrier or several."""
    @property
    def search(self) -> Any:
        """Where places are searched for several carriers, or their number is open."""
    @property
    def requirements(self) -> Any:
        """What else must hold, besides what is to be reproduced."""
    @property
    def objectives(self) -> Any:
        """What is made small, the first before the second; the total force where it is left out."""
    @property
    def deviations(self) -> Any:
        """What may be built otherwise than drawn; nothing is tried where it is left out."""
    @property
    def reproduce(self) -> Any:
        """Effects to be reproduced for every x of the region; by default moment, and shear where shear is in doubt."""
    @property
    def limits(self) -> Any:
        """Limits of overshoot inside the region in doubt."""
    @property
    def plate_length(self) -> Any:
        """Length of the plate under a contact, along the member: shear falls at its edge."""
    @property
    def bearing_length(self) -> Any:
        """Length of the bearing along the member."""
    @property
    def ends(self) -> Any:
        """How the ends are held."""
    @property
    def stay_uncracked(self) -> Any:
        """Whether the member is to stay uncracked, by the sections of the part `capacity`."""

@final
class JackLine(_Document):
    """One line of jacks across the member unit; its place is searched where it is left out."""

    def __new__(
        cls,
        at: _Value | None = None,
        search_from: _Value | None = None,
        search_to: _Value | None = None,
        force: _Value | None = None,
        capacity: _Value | None = None,
        step: _Value | None = None,
        circuit: str | None = None,
    ) -> Self: ...
    @property
    def at(self) -> Any:
        """Its place from the left end; searched where it is left out."""
    @property
    def search_from(self) -> Any:
        """Left end of the places that are allowed."""
    @property
    def search_to(self) -> Any:
        """Right end of the places that are allowed."""
    @property
    def force(self) -> Any:
        """The force on one member unit, net, where it is settled; found where it is left out."""
    @property
    def capacity(self) -> Any:
        """The largest force that the line may bring on one member unit."""
    @property
    def step(self) -> Any:
        """The force is rounded up to a multiple of this."""
    @property
    def circuit(self) -> Any:
        """The circuit of hydraulics that drives it."""

@final
class Spreader(_Document):
    """One jack on a spreader with two or more contact points."""

    def __new__(
        cls,
        contacts: Sequence[_Value] | None = None,
        shares: Sequence[float] | None = None,
        spacing: _Value | None = None,
        search_from: _Value | None = None,
        search_to: _Value | None = None,
        force: _Value | None = None,
        capacity: _Value | None = None,
        step: _Value | None = None,
        circuit: str | None = None,
    ) -> Self: ...
    @property
    def contacts(self) -> Any:
        """The contact points from the left end; searched where they are left out."""
    @property
    def shares(self) -> Any:
        """Share of the force of each contact, by the levers of the spreader."""
    @property
    def spacing(self) -> Any:
        """Distance of the contact points, where they are searched."""
    @property
    def search_from(self) -> Any:
        """Left end of the places that are allowed to a contact."""
    @property
    def search_to(self) -> Any:
        """Right end of the places that are allowed to a contact."""
    @property
    def force(self) -> Any:
        """The force on one member unit, net, where it is settled; found where it is left out."""
    @property
    def capacity(self) -> Any:
        """The largest force of the jack on one member unit."""
    @property
    def step(self) -> Any:
        """The force is rounded up to a multiple of this."""
    @property
    def circuit(self) -> Any:
        """The circuit of hydraulics that drives it."""

@final
class Pad(_Document):
    """A pad or patch under one jack: `Pad("2 m", "3 m")`."""

    def __new__(
        cls,
        from_: _Value,
        to: _Value,
        force: _Value | None = None,
        capacity: _Value | None = None,
        circuit: str | None = None,
    ) -> Self: ...
    @property
    def from_(self) -> Any:
        """Left edge from the left end of the member."""
    @property
    def to(self) -> Any:
        """Right edge."""
    @property
    def force(self) -> Any:
        """The force on one member unit, net, where it is settled; found where it is left out."""
    @property
    def capacity(self) -> Any:
        """The largest force that it may bring."""
    @property
    def circuit(self) -> Any:
        """The circuit of hydraulics that drives it."""

@final
class Bags(_Document):
    """Bags or blocks in piles with gaps."""

    def __new__(
        cls,
        from_: _Value,
        to: _Value,
        pile: _Value,
        gap: _Value,
        width: _Value,
        unit_weight: _Value,
        layer: _Value,
        most_layers: int,
        layers: int | None = None,
    ) -> Self: ...
    @property
    def from_(self) -> Any:
        """Left edge of the first pile from the left end of the member."""
    @property
    def to(self) -> Any:
        """Right edge of the last pile at the most."""
    @property
    def pile(self) -> Any:
        """Length of a pile along the member: its footprint."""
    @property
    def gap(self) -> Any:
        """Clear gap between two piles."""
    @property
    def width(self) -> Any:
        """Width of the piles on one member unit."""
    @property
    def unit_weight(self) -> Any:
        """Unit weight of what is stacked, voids included: weighed."""
    @property
    def layer(self) -> Any:
        """Height of one layer."""
    @property
    def most_layers(self) -> Any:
        """How many layers may be stacked."""
    @property
    def layers(self) -> Any:
        """The layers, where they are settled; found where they are left out."""

@final
class Water(_Document):
    """A basin of water; what stands in it follows the deflection."""

    def __new__(
        cls,
        from_: _Value,
        to: _Value,
        width: _Value,
        rim: _Value,
        freeboard: _Value,
        unit_weight: _Value | None = None,
        depth: _Value | None = None,
    ) -> Self: ...
    @property
    def from_(self) -> Any:
        """Left edge from the left end of the member."""
    @property
    def to(self) -> Any:
        """Right edge."""
    @property
    def width(self) -> Any:
        """Width of the basin on one member unit."""
    @property
    def rim(self) -> Any:
        """Height of the rim above the member."""
    @property
    def freeboard(self) -> Any:
        """Clear height that is kept below the rim."""
    @property
    def unit_weight(self) -> Any:
        """Unit weight of the fluid."""
    @property
    def depth(self) -> Any:
        """The depth, where it is settled; found where it is left out."""

@final
class Wheels(_Document):
    """Wheels: axles that roll on together."""

    def __new__(
        cls,
        at: _Value,
        behind: Sequence[_Value] | None = None,
        shares: Sequence[float] | None = None,
        force: _Value | None = None,
        capacity: _Value | None = None,
    ) -> Self: ...
    @property
    def at(self) -> Any:
        """Place of the first axle from the left end of the member."""
    @property
    def behind(self) -> Any:
        """Places of the other axles behind the first."""
    @property
    def shares(self) -> Any:
        """Share of the force of each axle, the first included; equal where it is left out."""
    @property
    def force(self) -> Any:
        """The force of all axles on one member unit, where it is settled; found where it is left out."""
    @property
    def capacity(self) -> Any:
        """The largest force."""

@final
class OvershootLimit(_Document):
    """A limit on how far the test may exceed the reference inside the region in doubt."""

    def __new__(cls, effect: Literal["shear", "moment"], basis: Literal["net", "total"], at_most: float) -> Self: ...
    @property
    def effect(self) -> Any:
        """Shear or moment."""
    @property
    def basis(self) -> Any:
        """Net or total; a limit without it means nothing."""
    @property
    def at_most(self) -> Any:
        """Test over reference, at least 1."""

@final
class Candidate(_Document):
    """Something that may bring load on: `Candidate(["3 m", "5 m"], plate="200 mm")`."""

    def __new__(
        cls,
        name: str | Sequence[_Value] | None = None,
        contacts: _Value | Column | Sequence[_Value] | None = None,
        shares: Sequence[float] | None = None,
        plate: _Value | None = None,
        edges: bool | None = None,
        capacity: _Value | None = None,
        at_least: _Value | None = None,
        always: bool | None = None,
        cost: float | None = None,
        source: str | None = None,
        piston: _Value | None = None,
        unequal_pistons: bool | None = None,
        clear: _Value | None = None,
        frame: Any | None = None,
        one_of: Any | None = None,
    ) -> Self: ...
    @property
    def frame(self) -> Any:
        """Places where a self-reacting frame holds on the member."""
    @property
    def one_of(self) -> Any:
        """The carrier of which one copy at most is used."""
    @property
    def name(self) -> Any:
        """What it is called; its places where it is left out."""
    @property
    def contacts(self) -> Any:
        """The middle of each contact from the left end, up to two hundred."""
    @property
    def shares(self) -> Any:
        """Share of the force of each contact; equal where it is left out."""
    @property
    def plate(self) -> Any:
        """Length of the plate under each contact, along the member; for a patch its whole length."""
    @property
    def edges(self) -> Any:
        """Whether it is set out by its left edge"""
    @property
    def capacity(self) -> Any:
        """The largest force of the carrier as a whole, net, down, per member unit."""
    @property
    def at_least(self) -> Any:
        """The least force of the carrier as a whole where it is used at all: a layer of bags, a least depth of water."""
    @property
    def always(self) -> Any:
        """Whether it is there in any case."""
    @property
    def cost(self) -> Any:
        """What one newton of it counts in the sum of forces."""
    @property
    def source(self) -> Any:
        """The pressure source it hangs on; candidates on one source push together."""
    @property
    def piston(self) -> Any:
        """Piston area; on one source the forces stand as the areas."""
    @property
    def unequal_pistons(self) -> Any:
        """Said where pistons of unequal area on one source are meant."""
    @property
    def clear(self) -> Any:
        """The least clear distance along the member to every other carrier in use."""

@final
class Reach(_Document):
    """The reference is reached for every x of a stretch: `Reach("moment", "2 m", "6 m")`.

    Where both signs are asked and a term changes its sign, its part below 2 % of the largest asks for nothing.
    """

    def __new__(
        cls,
        effect: Literal["shear", "moment"],
        from_: _Value | None = None,
        to: _Value | None = None,
        at: Sequence[_Value] | None = None,
        case: str | None = None,
        sense: Literal["positive", "negative", "sagging", "hogging"] | None = None,
    ) -> Self: ...
    @property
    def effect(self) -> Any:
        """Shear or moment."""
    @property
    def from_(self) -> Any:
        """Left end; that of the region in doubt where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the region in doubt where it is left out."""
    @property
    def at(self) -> Any:
        """Single places in place of a stretch, each from both sides."""
    @property
    def case(self) -> Any:
        """One case, so that shear and moment of that case act together; every term where it is left out."""
    @property
    def sense(self) -> Any:
        """One sign only, for example sagging where patterns also give hogging; both where it is left out."""

@final
class Within(_Document):
    """The reference is not exceeded by more than a ratio; below 2 % of its largest it counts as 2 % (`floor`)."""

    def __new__(
        cls,
        effect: Literal["shear", "moment"],
        basis: Literal["net", "total"],
        at_most: float,
        from_: _Value | None = None,
        to: _Value | None = None,
        at: Sequence[_Value] | None = None,
        case: str | None = None,
        floor: float | None = None,
    ) -> Self: ...
    @property
    def effect(self) -> Any:
        """Shear or moment."""
    @property
    def basis(self) -> Any:
        """Net, or total with what is in place; a limit without it means nothing."""
    @property
    def at_most(self) -> Any:
        """Test over reference, at least 1."""
    @property
    def from_(self) -> Any:
        """Left end; that of the member where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the member where it is left out."""
    @property
    def at(self) -> Any:
        """Single places in place of a stretch, each from both sides."""
    @property
    def case(self) -> Any:
        """One case; every term where it is left out."""
    @property
    def floor(self) -> Any:
        """The floor as a part of the largest reference of the stretch."""

@final
class MomentLimit(_Document):
    """The total moment stays below a share of cracking or strength."""

    def __new__(
        cls,
        of: str | None = None,
        sagging: _Value | None = None,
        hogging: _Value | None = None,
        share: float | None = None,
        from_: _Value | None = None,
        to: _Value | None = None,
    ) -> Self: ...
    @property
    def of(self) -> Any:
        """What is not to be passed, for example "cracking"."""
    @property
    def sagging(self) -> Any:
        """Its sagging value, above zero."""
    @property
    def hogging(self) -> Any:
        """Its hogging value, above zero."""
    @property
    def share(self) -> Any:
        """The share that is allowed."""
    @property
    def from_(self) -> Any:
        """Left end; that of the member where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the member where it is left out."""

@final
class ShearLimit(_Document):
    """The total shear stays below a share of the shear strength."""

    def __new__(
        cls,
        strength: _Value,
        share: float | None = None,
        from_: _Value | None = None,
        to: _Value | None = None,
    ) -> Self: ...
    @property
    def strength(self) -> Any:
        """The strength, for either sign, above zero."""
    @property
    def share(self) -> Any:
        """The share that is allowed."""
    @property
    def from_(self) -> Any:
        """Left end; that of the member where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the member where it is left out."""

@final
class DeflectionLimit(_Document):
    """The deflection under the test, without what is in place, stays within limits; down positive."""

    def __new__(
        cls,
        down: _Value | None = None,
        up: _Value | None = None,
        from_: _Value | None = None,
        to: _Value | None = None,
    ) -> Self: ...
    @property
    def down(self) -> Any:
        """The largest down, above zero."""
    @property
    def up(self) -> Any:
        """The largest up, above zero."""
    @property
    def from_(self) -> Any:
        """Left end; that of the member where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the member where it is left out."""

@final
class ReactionLimit(_Document):
    """The total reaction of a support, in place included, up positive, stays within limits; `support` counts from 0 (A)."""

    def __new__(cls, support: int, at_least: _Value | None = None, at_most: _Value | None = None) -> Self: ...
    @property
    def support(self) -> Any:
        """The support, by its place in the list, the first is 0."""
    @property
    def at_least(self) -> Any:
        """The least; zero means no uplift."""
    @property
    def at_most(self) -> Any:
        """The largest."""

@final
class ShearSpan(_Document):
    """Moment over shear stays in a window."""

    def __new__(
        cls,
        at_least: _Value | None = None,
        at_most: _Value | None = None,
        *,
        basis: Literal["net", "total"],
        from_: _Value | None = None,
        to: _Value | None = None,
    ) -> Self: ...
    @property
    def at_least(self) -> Any:
        """The least M/V."""
    @property
    def at_most(self) -> Any:
        """The largest M/V."""
    @property
    def basis(self) -> Any:
        """Net, or total with what is in place."""
    @property
    def from_(self) -> Any:
        """Left end; that of the region in doubt where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the region in doubt where it is left out."""

@final
class Objective(_Document):
    """What is made small: `Objective("overshoot", "moment", "net")`."""

    def __new__(
        cls,
        of: Literal["carriers", "overshoot", "peak", "total", "uplift"],
        effect: Literal["shear", "moment"] | None = None,
        basis: Literal["net", "total"] | None = None,
        from_: _Value | None = None,
        to: _Value | None = None,
        at: Sequence[_Value] | None = None,
    ) -> Self: ...
    @property
    def of(self) -> Any:
        """What is made small."""
    @property
    def effect(self) -> Any:
        """For an overshoot, shear or moment; the larger of both where it is left out."""
    @property
    def basis(self) -> Any:
        """For an overshoot, net or total."""
    @property
    def from_(self) -> Any:
        """Left end; that of the region in doubt where it is left out."""
    @property
    def to(self) -> Any:
        """Right end; that of the region in doubt where it is left out."""
    @property
    def at(self) -> Any:
        """Single places in place of a stretch."""

@final
class Room(_Document):
    """Where a candidate may stand, and how far apart its contacts."""

    def __new__(
        cls,
        from_: _Value,
        to: _Value,
        spacing_from: _Value | None = None,
        spacing_to: _Value | None = None,
    ) -> Self: ...
    @property
    def from_(self) -> Any:
        """Left end of the places allowed to its first contact, or to the left edge of a patch."""
    @property
    def to(self) -> Any:
        """Right end of the places allowed to its first contact, or to the left edge of a patch."""
    @property
    def spacing_from(self) -> Any:
        """Least spacing of its contacts, where that is free."""
    @property
    def spacing_to(self) -> Any:
        """Largest spacing of its contacts, where that is free."""

@final
class Deviations(_Document):
    """How far what is built may be from what is drawn."""

    def __new__(
        cls,
        place: _Value | None = None,
        force: float | None = None,
        support: _Value | None = None,
        ends: Literal["seated", "cast_in_place"] | None = None,
        stiffness: float | None = None,
        settlement: _Value | None = None,
    ) -> Self: ...
    @property
    def place(self) -> Any:
        """Each carrier off its place by up to this, either way."""
    @property
    def force(self) -> Any:
        """Each force off by up to this part, either way."""
    @property
    def support(self) -> Any:
        """Each support off its place by up to this, either way; an end of the member goes with its support, and so does a region that begins or ends there."""
    @property
    def ends(self) -> Any:
        """How the ends are held; cast in place counts as unknown between pinned and fixed."""
    @property
    def stiffness(self) -> Any:
        """The EI of a span against the others, up to this times larger or smaller; at least 1."""
    @property
    def settlement(self) -> Any:
        """Each support gone down by up to this before the test."""

@final
class RigSpec(_Document):
    """What the jacks push against, and how."""

    def __new__(
        cls,
        reaction: ReactionMember | dict[str, Any] | Sequence[ReactionMember | dict[str, Any]] | None = None,
        counterweights: Sequence[Counterweight | dict[str, Any]] | None = None,
        conditions: dict[str, Any] | None = None,
        factor: dict[str, Any] | None = None,
        jacks: Jacks | dict[str, Any] | Sequence[Jacks | dict[str, Any]] | None = None,
        bars: Bars | dict[str, Any] | Sequence[Bars | dict[str, Any]] | None = None,
        slack: _Value | None = None,
        beams: dict[str, Any] | Sequence[dict[str, Any]] | None = None,
        train: dict[str, Any] | None = None,
        holes: Sequence[dict[str, Any]] | None = None,
        blocks: dict[str, Any] | None = None,
        transport: dict[str, Any] | None = None,
    ) -> Self: ...
    @property
    def reaction(self) -> Any:
        """What the jacks pull against. Left out is a stop where a jack presses."""
    @property
    def counterweights(self) -> Any:
        """The counterweights on it."""
    @property
    def conditions(self) -> Any:
        """The conditions of the lower floor of lift-off."""
    @property
    def factor(self) -> Any:
        """A factor asked for beyond the floor."""
    @property
    def jacks(self) -> Any:
        """The jacks, one record for each circuit; weights and water need none."""
    @property
    def bars(self) -> Any:
        """The bars: one record for every press, or one for each press from left to right."""
    @property
    def slack(self) -> Any:
        """Slack of seats and nuts that the stroke must take up."""
    @property
    def beams(self) -> Any:
        """Spreaders and reaction beams."""
    @property
    def train(self) -> Any:
        """The jack with what stands on and under it."""
    @property
    def holes(self) -> Any:
        """Holes and cuts that the rig needs."""
    @property
    def blocks(self) -> Any:
        """Whole blocks to choose further counterweights from: with the fewest lifts."""
    @property
    def transport(self) -> Any:
        """What carries the counterweights to their places."""

@final
class ReactionMember(_Document):
    """What the jacks pull up: a member, a platform, anchors, a vehicle or a frame."""

    def __new__(
        cls,
        id: str,
        kind: Literal["member", "cantilever", "platform", "anchors", "vehicle", "frame"] | None = None,
        at: _Value | None = None,
        span: _Value | Sequence[_Value] | None = None,
        supports: Sequence[SupportSpec | dict[str, Any]] | None = None,
        left_overhang: _Value | None = None,
        right_overhang: _Value | None = None,
        self_weight: _Value | None = None,
        rigidity: Rigidity | dict[str, Any] | None = None,
        seat: Literal["seated", "monolithic"] | None = None,
        shear_capacity: _Value | None = None,
        sagging_capacity: _Value | None = None,
        hogging_capacity: _Value | None = None,
        uplift_capacity: _Value | Sequence[_Value] | None = None,
        holds: dict[str, Any] | Sequence[dict[str, Any]] | None = None,
        anchors: Sequence[Anchor | dict[str, Any]] | None = None,
        axles: Sequence[dict[str, Any]] | None = None,
        hold: _Value | None = None,
        stiffness: _Value | None = None,
        cracks_at: _Value | None = None,
        sister: bool | None = None,
        survey: str | None = None,
    ) -> Self: ...
    @property
    def id(self) -> Any:
        """How the drawings call it; never the member under test."""
    @property
    def kind(self) -> Any:
        """What it is."""
    @property
    def at(self) -> Any:
        """Place of its first bearing from the left end of the member under test; where it is left out, under the first bearing of that member."""
    @property
    def span(self) -> Any:
        """Centre to centre of its bearings, from left to right; of a cantilever, its length."""
    @property
    def supports(self) -> Any:
        """Its supports from its own left end, where they are more than bearings."""
    @property
    def left_overhang(self) -> Any:
        """Overhang left of its first bearing."""
    @property
    def right_overhang(self) -> Any:
        """Overhang right of its last bearing."""
    @property
    def self_weight(self) -> Any:
        """Its own weight, per member unit; a platform may leave it out."""
    @property
    def rigidity(self) -> Any:
        """Its soft stiffness, per member unit."""
    @property
    def seat(self) -> Any:
        """How it sits; a platform lies on its bearings where nothing is said."""
    @property
    def shear_capacity(self) -> Any:
        """Design shear strength, per member unit."""
    @property
    def sagging_capacity(self) -> Any:
        """Design strength in sagging, per member unit."""
    @property
    def hogging_capacity(self) -> Any:
        """Design strength in hogging, per member unit, as a size; zero where it has no top steel."""
    @property
    def uplift_capacity(self) -> Any:
        """Design strength against uplift of what holds a bearing that cannot lift, above and below it: one for all bearings, or one for each from left to right."""
    @property
    def holds(self) -> Any:
        """In place of one strength, beam, top steel and column that hold such a bearing, each checked: one for all bearings, or one for each from left to right."""
    @property
    def anchors(self) -> Any:
        """The anchors, from left to right."""
    @property
    def axles(self) -> Any:
        """The axles of a vehicle, from left to right."""
    @property
    def hold(self) -> Any:
        """Of a vehicle: what its chassis takes at one place where it is held."""
    @property
    def stiffness(self) -> Any:
        """Of anchors, a vehicle or a frame: what pulls at one place over how far it gives there. Not known, what it springs back has no bound."""
    @property
    def cracks_at(self) -> Any:
        """Hogging at which its top face cracks, per member unit, as a size: prestress pulls it already."""
    @property
    def sister(self) -> Any:
        """Whether it is a sister of the member in doubt: then it is as doubtful."""
    @property
    def survey(self) -> Any:
        """The record of its own survey."""

@final
class Anchor(_Document):
    """An anchor in the ground or in a mass below."""

    def __new__(cls, at: _Value, capacity: _Value) -> Self: ...
    @property
    def at(self) -> Any:
        """Its place from the left end of the member under test."""
    @property
    def capacity(self) -> Any:
        """Its design strength in tension, from a test of the anchor."""

@final
class Counterweight(_Document):
    """A weight on the reaction member."""

    def __new__(
        cls, force: _Value | None = None, water: dict[str, Any] | None = None, *, at: _Value, reaction: str | None = None
    ) -> Self: ...
    @property
    def force(self) -> Any:
        """Its weight."""
    @property
    def water(self) -> Any:
        """In place of the weight, water in a tank."""
    @property
    def at(self) -> Any:
        """Its place from the left end of the member under test."""
    @property
    def reaction(self) -> Any:
        """The reaction member it stands on, where several reach its place."""

@final
class Jacks(_Document):
    """The jacks of one circuit, on one member unit."""

    def __new__(
        cls,
        circuit: str | None = None,
        *,
        number: int,
        piston: dict[str, Any],
        friction: Any | dict[str, Any] | None = None,
        rated_pressure: _Value,
        stroke: _Value,
        oil_volume: _Value | None = None,
        oil_bulk_modulus: _Value | None = None,
        accumulator: bool | None = None,
        pump: dict[str, Any] | None = None,
        hold: dict[str, Any] | None = None,
        gauge: dict[str, Any] | None = None,
        fittings: dict[str, Any] | None = None,
        rams: Sequence[dict[str, Any]] | None = None,
        uneven: _Value | float | None = None,
    ) -> Self: ...
    @property
    def circuit(self) -> Any:
        """The circuit they are on; several records are told apart by it. Those that share one serve its presses from left to right."""
    @property
    def number(self) -> Any:
        """How many make one press on one member unit."""
    @property
    def piston(self) -> Any:
        """The acting area of one."""
    @property
    def friction(self) -> Any:
        """Part of the pump force lost in the jack, 0 to 0.2."""
    @property
    def rated_pressure(self) -> Any:
        """The pressure the jacks and hoses are rated for."""
    @property
    def stroke(self) -> Any:
        """The stroke that is left when the jacks touch."""
    @property
    def oil_volume(self) -> Any:
        """Oil locked off with all jacks of the circuit."""
    @property
    def oil_bulk_modulus(self) -> Any:
        """Bulk modulus of the oil."""
    @property
    def accumulator(self) -> Any:
        """Whether an accumulator, a pump that runs on, or air keeps the pressure up when the member gives way: the load then follows like a weight."""
    @property
    def pump(self) -> Any:
        """The pump."""
    @property
    def hold(self) -> Any:
        """How the circuit is locked off for the hold at full load."""
    @property
    def gauge(self) -> Any:
        """Its pressure gauge."""
    @property
    def fittings(self) -> Any:
        """Hoses and valves."""
    @property
    def rams(self) -> Any:
        """The jacks of one press one by one, where they differ."""
    @property
    def uneven(self) -> Any:
        """How far the share of one of them may lie from that of equal jacks, as a part of it."""

@final
class Bars(_Document):
    """The bars between jack and reaction member."""

    def __new__(
        cls,
        number: int,
        places: _Value | Sequence[_Value] | None = None,
        reaction: str | None = None,
        *,
        area: _Value,
        length: _Value,
        modulus: _Value,
        working_load: _Value | None = None,
        strength: _Value | None = None,
        reused: bool | None = None,
        fixings: _Value | None = None,
        beside: _Value | None = None,
        tilts: _Value | float | None = None,
    ) -> Self: ...
    @property
    def number(self) -> Any:
        """How many hold one press, at all its places together."""
    @property
    def places(self) -> Any:
        """Where they hold the reaction member, from the left end of the member under test; at the jack where nothing is said. Each place has the same number of bars."""
    @property
    def reaction(self) -> Any:
        """The reaction member they hold, where several reach their place."""
    @property
    def area(self) -> Any:
        """The area of one."""
    @property
    def length(self) -> Any:
        """The free length."""
    @property
    def modulus(self) -> Any:
        """Their modulus of elasticity."""
    @property
    def working_load(self) -> Any:
        """The working load of one, from its supplier."""
    @property
    def strength(self) -> Any:
        """Their tensile strength: the stress is held to a part of it."""
    @property
    def reused(self) -> Any:
        """Whether they were used before."""
    @property
    def fixings(self) -> Any:
        """What the weakest of coupler, nut and plate of one takes."""
    @property
    def beside(self) -> Any:
        """How far they stand beside the axis of the rib they hold."""
    @property
    def tilts(self) -> Any:
        """How far nuts and seats let the crosshead tilt, rise over length, where its places give unequally."""

@final
class CapacitySpec(_Document):
    """Sections along the member, where its strength is to be predicted."""

    def __new__(
        cls,
        sections: dict[str, Any] | Sequence[dict[str, Any]],
        code: _FlexureCode,
        block: dict[str, Any] | None = None,
        *,
        cracking: _CrackingRule,
        reductions: dict[str, Any] | None = None,
        scatter: dict[str, Any] | None = None,
        before_topping: _Value | float | None = None,
        shear: str | None = None,
        unit: Literal["strip", "joist", "stem", "beam", "metre"] | None = None,
        shear_reduction: _Value | float | None = None,
        stiffness: Literal["document", "sections"] | None = None,
        stiffness_differs: _Value | float | None = None,
        without_strengthening: Sequence[dict[str, Any]] | None = None,
        local: Sequence[dict[str, Any]] | None = None,
        curing: Sequence[dict[str, Any]] | None = None,
    ) -> Self: ...
    @property
    def sections(self) -> Any:
        """The sections, from left to right."""
    @property
    def code(self) -> Any:
        """Edition of the law of compressed concrete in flexure."""
    @property
    def block(self) -> Any:
        """The law, where the code is one's own."""
    @property
    def cracking(self) -> Any:
        """Formula of the flexural tensile strength."""
    @property
    def reductions(self) -> Any:
        """The reductions of the design set."""
    @property
    def scatter(self) -> Any:
        """How sure tensile strength and prestress are."""
    @property
    def before_topping(self) -> Any:
        """Part of the moment in place that acted before a topping did."""
    @property
    def shear(self) -> Any:
        """Edition of the strength in shear; that of flexure where it is left out."""
    @property
    def unit(self) -> Any:
        """What the sections, their steel and what strengthens them are counted for."""
    @property
    def shear_reduction(self) -> Any:
        """Strength reduction factor of shear, ACI 318."""
    @property
    def stiffness(self) -> Any:
        """Whose stiffness the design counts with."""
    @property
    def stiffness_differs(self) -> Any:
        """By how much of it the deflections by beam and by sections may differ without a word."""
    @property
    def without_strengthening(self) -> Any:
        """What the member must carry without its strengthening, and in fire: checks of their own."""
    @property
    def local(self) -> Any:
        """What gives way under what presses, and at the bearings."""
    @property
    def curing(self) -> Any:
        """Repairs, adhesive, grout and wraps that must be at strength before the test."""

@final
class ShoringSpec(_Document):
    """The catches, their posts and the levels below."""

    def __new__(
        cls,
        catch: Catch | dict[str, Any] | Sequence[Catch | dict[str, Any]] | None = None,
        stub: Stub | dict[str, Any] | None = None,
        drive: Literal["locked_off_jacks", "weights"] | None = None,
        reading_uncertainty: _Value | None = None,
        levels: Sequence[Level | dict[str, Any]] | None = None,
        post_stiffness: _Value | None = None,
        to_ground: bool | None = None,
        clearance: _Value | None = None,
        dragged_along: Any | None = None,
        ground: dict[str, Any] | None = None,
    ) -> Self: ...
    @property
    def catch(self) -> Any:
        """The catches, one under every piece that can fall. Left out is a stop."""
    @property
    def stub(self) -> Any:
        """How a stub at a bearing is held without a catch; not shown is not held."""
    @property
    def drive(self) -> Any:
        """What applies the test load."""
    @property
    def reading_uncertainty(self) -> Any:
        """Standard uncertainty times two of the reading that the gap must clear, settlement and temperature included."""
    @property
    def levels(self) -> Any:
        """The levels that carry it, the top first."""
    @property
    def post_stiffness(self) -> Any:
        """Stiffness of the posts between levels, per member unit."""
    @property
    def to_ground(self) -> Any:
        """Whether the posts go on to the ground below the last level."""
    @property
    def clearance(self) -> Any:
        """Clearance to keep above the reading expected, 5 to 10 mm"""
    @property
    def dragged_along(self) -> Any:
        """Part of the dead load in place that hangs on beyond what is listed, as a factor of at least 1."""
    @property
    def ground(self) -> Any:
        """The ground that the posts stand on below the last level."""

@final
class Catch(_Document):
    """A catch under a piece that falls."""

    def __new__(
        cls,
        at: _Value,
        stiffness: _Value,
        gap: _Value,
        resistance: dict[str, Any],
        posts_on_joist_lines: bool | None = None,
        on: str | None = None,
        width: _Value | None = None,
        pad: dict[str, Any] | None = None,
    ) -> Self: ...
    @property
    def at(self) -> Any:
        """Its place from the left end of the member."""
    @property
    def stiffness(self) -> Any:
        """Stiffness of posts, packs and what they stand on."""
    @property
    def gap(self) -> Any:
        """Clear gap at the last step, before the load is raised; a blank is not zero."""
    @property
    def resistance(self) -> Any:
        """What the posts carry."""
    @property
    def posts_on_joist_lines(self) -> Any:
        """Whether every post stands on a joist line, where the floor below is thin between joists."""
    @property
    def on(self) -> Any:
        """The reaction member it stands on, by its id; the check of that floor then counts it."""
    @property
    def width(self) -> Any:
        """Width that its foot takes along the member: no counterweight stands there."""
    @property
    def pad(self) -> Any:
        """A pad on its head that is crushed; what it gives elastically belongs to the stiffness."""

@final
class Stub(_Document):
    """What holds the stubs at the bearings where no catch does."""

    def __new__(
        cls,
        held: Literal["cast_in", "resultant_on_bearing"],
        moment: _Value | None = None,
        bearing: _Value | None = None,
    ) -> Self: ...
    @property
    def held(self) -> Any:
        """How."""
    @property
    def moment(self) -> Any:
        """Design strength at the face of the support, where it is cast in, per member unit."""
    @property
    def bearing(self) -> Any:
        """Length of the bearing along the member, about its centre, where the stub lies on it."""

@final
class Level(_Document):
    """A level that carries the catch."""

    def __new__(
        cls,
        id: str,
        stiffness: _Value,
        spare: _Value | None = None,
        spare_after: str | None = None,
        strength: _Value | None = None,
        own_load: _Value | None = None,
        posts: dict[str, Any] | None = None,
    ) -> Self: ...
    @property
    def id(self) -> Any:
        """How the drawings call it."""
    @property
    def stiffness(self) -> Any:
        """Its stiffness under the posts, per member unit."""
    @property
    def spare(self) -> Any:
        """Its spare strength for a force under the posts, per member unit."""
    @property
    def spare_after(self) -> Any:
        """After which loads that strength is spare: own weight, counterweights, rig."""
    @property
    def strength(self) -> Any:
        """In place of the spare strength: all of its strength for a force under the posts,"""
    @property
    def own_load(self) -> Any:
        """and what it carries there before the catch comes, as a force under the posts."""
    @property
    def posts(self) -> Any:
        """The posts below it, where they are not those of `post_stiffness`."""

@final
class ProtocolSpec(_Document):
    """The steps, holds and gauges."""

    def __new__(
        cls,
        method: Literal["monotonic"] | None = None,
        steps: Sequence[Any] | None = None,
        step_hold: _Value | None = None,
        full_hold: _Value | None = None,
        gauges: Sequence[Gauge | dict[str, Any]] | None = None,
        cracked: str | None = None,
    ) -> Self: ...
    @property
    def method(self) -> Any:
        """How the load is brought on."""
    @property
    def steps(self) -> Any:
        """Fractions of the full test load, rising, the last one 1."""
    @property
    def step_hold(self) -> Any:
        """The shortest hold of a step below the top; readings must also be stable."""
    @property
    def full_hold(self) -> Any:
        """The hold at full load; the edition's own where nothing is given."""
    @property
    def gauges(self) -> Any:
        """The gauges."""
    @property
    def cracked(self) -> Any:
        """That the survey found the member cracked, and where that is written: the limit at which the test pauses then counts from the soft prediction, not from the stiff one."""

@final
class Gauge(_Document):
    """A gauge."""

    def __new__(
        cls,
        id: str,
        at: _Value,
        reference: Literal["absolute", "reaction_member"] | None = None,
        u: _Value | None = None,
        range: _Value | None = None,
    ) -> Self: ...
    @property
    def id(self) -> Any:
        """How the log calls it."""
    @property
    def at(self) -> Any:
        """Place from the left end of the member, overhang included."""
    @property
    def reference(self) -> Any:
        """Against what it measures."""
    @property
    def u(self) -> Any:
        """Standard uncertainty of a single reading."""
    @property
    def range(self) -> Any:
        """The largest reading it can take."""

@final
class SiteRecords(_Document):
    """What is on record before the test."""

    def __new__(
        cls,
        survey: dict[str, Any] | None = None,
        consent: dict[str, Any] | None = None,
        watch: dict[str, Any] | None = None,
        zone_clear: dict[str, Any] | None = None,
        tendons_located: dict[str, Any] | None = None,
        strength_ready: dict[str, Any] | None = None,
        test_day: str | None = None,
    ) -> Self: ...
    @property
    def survey(self) -> Any:
        """Condition survey of the member, the reaction member and the floors that carry weights."""
    @property
    def consent(self) -> Any:
        """Consent of owner, authority, engineer of record and insurer; method statement; rescue plan."""
    @property
    def watch(self) -> Any:
        """Two persons for every hour of the hold, relieved at most every eight hours."""
    @property
    def zone_clear(self) -> Any:
        """Nobody under, on or in line with the rig; head count before each step."""
    @property
    def tendons_located(self) -> Any:
        """Tendons, bars and services located by scan before any hole, anchor or cut."""
    @property
    def strength_ready(self) -> Any:
        """Repairs, adhesive, grout and wraps at strength before the test date."""
    @property
    def test_day(self) -> Any:
        """The day of the test, as planned; asked for where something must cure."""

@final
class LogSpec(_Document):
    """How a log of readings is laid out."""

    def __new__(
        cls,
        time: dict[str, Any],
        channels: Sequence[dict[str, Any]],
        delimiter: str | None = None,
        decimal: Literal["point", "comma"] | None = None,
        missing: Sequence[str] | None = None,
        sentinels: Sequence[float] | None = None,
        cleaning: dict[str, Any] | None = None,
        *,
        moments: dict[str, Any],
        stages: Sequence[dict[str, Any]] | None = None,
        drift: dict[str, Any] | None = None,
        thermal: dict[str, Any] | None = None,
        zero_band: Any | None = None,
        load_band: Any | None = None,
        schema_version: int | None = None,
    ) -> Self: ...
    @property
    def schema_version(self) -> Any:
        """The version of the layout of this document."""
    @property
    def thermal(self) -> Any:
        """The drift fitted to control periods."""
    @property
    def time(self) -> Any:
        """The column of time."""
    @property
    def channels(self) -> Any:
        """The channels."""
    @property
    def delimiter(self) -> Any:
        """What separates the columns: one character."""
    @property
    def decimal(self) -> Any:
        """What separates the decimals."""
    @property
    def missing(self) -> Any:
        """Cells with one of these texts are missing values."""
    @property
    def sentinels(self) -> Any:
        """Numbers with which an instrument says that it has none."""
    @property
    def cleaning(self) -> Any:
        """The cleaning rule, where there is one."""
    @property
    def moments(self) -> Any:
        """The moments at which readings are taken."""
    @property
    def stages(self) -> Any:
        """The stages of the test after the first."""
    @property
    def drift(self) -> Any:
        """The drift with temperature, where it is known."""
    @property
    def zero_band(self) -> Any:
        """How far from what should be on at zero the force may be, as a part of the target"""
    @property
    def load_band(self) -> Any:
        """How far from the target the load and its hold may be, as a part of it"""

@final
class RunRecord(_Document):
    """What was seen and noted during the test."""

    def __new__(
        cls,
        observation: dict[str, Any],
        reached: Any | dict[str, Any] | None = None,
        stated: Sequence[dict[str, Any]] | None = None,
        answers: Sequence[dict[str, Any]] | None = None,
        decisions: Sequence[dict[str, Any]] | None = None,
        read_twice: Sequence[dict[str, Any]] | None = None,
        held: _Value | None = None,
        stated_by: str | None = None,
        permanency: str | None = None,
        *,
        expiry: str,
        reinspection: _Value | None = None,
        schema_version: int | None = None,
    ) -> Self: ...
    @property
    def schema_version(self) -> Any:
        """The version of the layout of this document."""
    @property
    def observation(self) -> Any:
        """Visible distress."""
    @property
    def reached(self) -> Any:
        """Part of the target load that was reached, where no force of record is in the log."""
    @property
    def stated(self) -> Any:
        """What a criterion needs and no log gives."""
    @property
    def answers(self) -> Any:
        """Answers to criteria that ask a person."""
    @property
    def decisions(self) -> Any:
        """What is done about the faults of the log."""
    @property
    def read_twice(self) -> Any:
        """Gauges that two people read at one moment."""
    @property
    def held(self) -> Any:
        """How long the full load was held."""
    @property
    def stated_by(self) -> Any:
        """Who states what nothing in the log tells, by the role: that the load was reached, how long it was
        held, when it was off. Asked for where a verdict uses it."""
    @property
    def permanency(self) -> Any:
        """From where the permanency of load cycles counts: `rezeroed` or `absolute`."""
    @property
    def expiry(self) -> Any:
        """The date until which the verdict may be relied on."""
    @property
    def reinspection(self) -> Any:
        """After how long the member is to be looked at again."""

_Text = str | dict[str, Any]

def design(spec: _Text | TestSpec) -> Design:
    """Designs a test from a document: JSON text, dicts and lists, or a TestSpec."""

# text, bytes, a path, arrays by name, or a table of pandas, polars, pyarrow or what speaks Arrow
_Log = str | bytes | PathLike[str] | Mapping[str, Any] | Any

def judge(
    design: Design,
    log: _Log,
    columns: _Text | LogSpec,
    record: _Text | RunRecord,
    series: bool = False,
    side_by_side: bool = False,
) -> Judgement:
    """Judges a designed test: the log, its layout, the record of the run. A log is text (CSV or JSON
    lines), a path, a dict of arrays by name, or a table of pandas, polars or pyarrow. ``series=True``
    keeps the corrected series of every gauge, ``side_by_side=True`` what every edition says of the same
    record, for the report."""

def target(
    beam: Beam,
    loads: Loads | _Text,
    edition: str | PathLike[str] | Edition | EditionChoice | dict[str, Any],
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
    at_most: int = 3,
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
) -> Confirmation:
    """Does a layout of given forces, from wherever it comes, meet the requirements at every x?"""

def jack(at: _Length, **fields: Any) -> Candidate:
    """One jack at a place; other fields of Candidate by name: plate, capacity, at_least, cost, source, piston, name."""

def patch(
    from_: _Length,
    to: _Length,
    at_least: Quantity | str | None = None,
    capacity: Quantity | str | None = None,
    name: str | None = None,
) -> Candidate:
    """A patch of bags or blocks between two places, uniform, by its force."""

def stack(
    from_: _Length,
    to: _Length,
    width: _Length,
    at_most: Quantity | str,
    at_least: Quantity | str | None = None,
    name: str | None = None,
) -> Candidate:
    """A stack of bags or blocks on a width of the member unit, by its area load."""

def basin(
    from_: _Length,
    to: _Length,
    width: _Length,
    at_most: _Length,
    at_least: _Length | None = None,
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
) -> list[ComparedEdition]:
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> Verdict: ...
    def __deepcopy__(self, _memo: Any) -> Verdict: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> CriterionOutcome: ...
    def __deepcopy__(self, _memo: Any) -> CriterionOutcome: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> SharedRatio: ...
    def __deepcopy__(self, _memo: Any) -> SharedRatio: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> ByEdition: ...
    def __deepcopy__(self, _memo: Any) -> ByEdition: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> SideBySide: ...
    def __deepcopy__(self, _memo: Any) -> SideBySide: ...
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
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> Acceptance: ...
    def __deepcopy__(self, _memo: Any) -> Acceptance: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> LoadTerm: ...
    def __deepcopy__(self, _memo: Any) -> LoadTerm: ...
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
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> TestLoad: ...
    def __deepcopy__(self, _memo: Any) -> TestLoad: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> BearingCheck: ...
    def __deepcopy__(self, _memo: Any) -> BearingCheck: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> ReactionStage: ...
    def __deepcopy__(self, _memo: Any) -> ReactionStage: ...
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> LeastWeight: ...
    def __deepcopy__(self, _memo: Any) -> LeastWeight: ...
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
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> Reaction: ...
    def __deepcopy__(self, _memo: Any) -> Reaction: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class SectionProperties:
    """Area, centroid and second moment of a section."""

    @property
    def height(self) -> Quantity:
        """Overall depth."""
    @property
    def area(self) -> Quantity:
        """Area."""
    @property
    def centroid(self) -> Quantity:
        """Depth of the centroid below the top face."""
    @property
    def second_moment(self) -> Quantity:
        """Second moment of area about the centroid."""
    @property
    def top(self) -> Quantity:
        """Section modulus of the top face."""
    @property
    def bottom(self) -> Quantity:
        """Section modulus of the bottom face."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> SectionProperties: ...
    def __deepcopy__(self, _memo: Any) -> SectionProperties: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class CrackingMoment:
    """When one face cracks: total moments, sagging positive."""

    @property
    def face(self) -> str:
        """The face in tension, "bottom" or "top"."""
    @property
    def set(self) -> str:
        """The set of strengths, "expected" or "design"."""
    @property
    def strength(self) -> Quantity:
        """Flexural tensile strength; zero of a section that is cracked."""
    @property
    def by(self) -> str:
        """Formula, measurement, or why it is zero."""
    @property
    def decompression(self) -> Quantity:
        """Moment at which the face comes to zero stress."""
    @property
    def moment(self) -> Quantity:
        """Moment at which it cracks."""
    @property
    def uncertainty(self) -> Quantity | None:
        """Standard uncertainty of that moment, where the scatter is given."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> CrackingMoment: ...
    def __deepcopy__(self, _memo: Any) -> CrackingMoment: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class SteelState:
    """A layer of bars or a tendon at failure."""

    @property
    def steel(self) -> str:
        """Which one."""
    @property
    def strain(self) -> Quantity:
        """Its strain, tension positive."""
    @property
    def stress(self) -> Quantity:
        """Its stress, tension positive."""
    @property
    def force(self) -> Quantity:
        """Its force, tension positive."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> SteelState: ...
    def __deepcopy__(self, _memo: Any) -> SteelState: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class FlexuralStrength:
    """A strength in flexure that is predicted, never an approval."""

    @property
    def face(self) -> str:
        """The face in tension, "bottom" or "top"."""
    @property
    def set(self) -> str:
        """The set of strengths; of the design set with its reductions."""
    @property
    def by(self) -> str:
        """Edition of the law of concrete."""
    @property
    def moment(self) -> Quantity:
        """The strength about the centroid of the gross section, sagging positive."""
    @property
    def neutral_axis(self) -> Quantity:
        """Depth of the neutral axis from the compressed face."""
    @property
    def compressed_strain(self) -> Quantity:
        """Strain of the compressed face, as a size."""
    @property
    def compression(self) -> Quantity:
        """Resultant of the compressed concrete."""
    @property
    def mode(self) -> str:
        """How it fails, in words."""
    @property
    def ductile(self) -> bool:
        """Whether it gives warning."""
    @property
    def steel(self) -> list[SteelState]:
        """The steel."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> FlexuralStrength: ...
    def __deepcopy__(self, _memo: Any) -> FlexuralStrength: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class SectionStiffness:
    """Second moments of a section in units of its concrete, one face in tension."""

    @property
    def face(self) -> str:
        """The face in tension, "bottom" or "top"."""
    @property
    def gross(self) -> Quantity:
        """Without steel."""
    @property
    def transformed(self) -> Quantity:
        """With steel."""
    @property
    def cracked(self) -> Quantity:
        """Cracked."""
    @property
    def neutral_axis(self) -> Quantity:
        """Depth of the neutral axis of the cracked section from the compressed face."""
    @property
    def effective(self) -> dict[str, Quantity]:
        """Under the moment asked about, by the name of each formula."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> SectionStiffness: ...
    def __deepcopy__(self, _memo: Any) -> SectionStiffness: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class SectionStrength:
    """What a section does: predictions to plan a test by, never an approval."""

    @property
    def outline(self) -> list[tuple[Quantity, Quantity]]:
        """The outline from the top face down: depth and width of each corner, half of it on either side."""
    @property
    def steel(self) -> list[tuple[str, Quantity, Quantity]]:
        """Where its steel lies: which one, depth below the top face, area."""
    @property
    def gross(self) -> SectionProperties:
        """Gross properties, without steel."""
    @property
    def stresses(self) -> dict[str, Quantity]:
        """Stresses of the uncracked concrete under the moment asked about, stage by stage, tension positive: "top" and "bottom", of a topping "topping_top" and "topping_bottom"; empty without that moment."""
    @property
    def transformed(self) -> SectionProperties | None:
        """With steel; None where the modulus of the concrete is not given."""
    @property
    def cracking(self) -> list[CrackingMoment]:
        """When it cracks: lower and upper face in the expected set, then in the design set."""
    @property
    def flexure(self) -> list[FlexuralStrength]:
        """Strengths in flexure, of each face with steel in both sets."""
    @property
    def stiffness(self) -> list[SectionStiffness]:
        """Second moments, of each face with steel."""
    @property
    def stays_uncracked(self) -> str | None:
        """"pass", "fail" or "inconclusive": whether it stays uncracked under the moment asked about."""
    @property
    def left_out(self) -> list[str]:
        """What the predictions leave out."""
    @property
    def verdicts(self) -> list[Verdict]:
        """Empty: a prediction is no check."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> SectionStrength: ...
    def __deepcopy__(self, _memo: Any) -> SectionStrength: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Deflections:
    """Deflection over load, what is added to that in place."""

    @property
    def at(self) -> Quantity:
        """Where."""
    @property
    def steps(self) -> list[tuple[float, Quantity, Quantity]]:
        """Share of the full load, stiff and soft deflection, step by step."""
    @property
    def breaks(self) -> FailsByCracking | None:
        """Where and when it fails by cracking: there the steps end; None where it does not."""
    @property
    def gross(self) -> Quantity:
        """Stiffness of the uncracked section in the middle."""
    @property
    def cracked(self) -> Quantity | None:
        """Stiffness of the cracked section in the middle; None without bonded steel in tension."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> Deflections: ...
    def __deepcopy__(self, _memo: Any) -> Deflections: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class ShearParts:
    """The parts of a shear strength in one set."""

    @property
    def concrete(self) -> Quantity:
        """What the concrete carries."""
    @property
    def stirrups(self) -> Quantity:
        """What the stirrups carry, as far as it counts."""
    @property
    def struts(self) -> Quantity | None:
        """The struts, EN 1992-1-1 with stirrups."""
    @property
    def strut_slope(self) -> float | None:
        """cot θ of the struts."""
    @property
    def strength(self) -> Quantity:
        """The strength, reduced in the design set."""
    @property
    def governs(self) -> str:
        """What decides."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> ShearParts: ...
    def __deepcopy__(self, _memo: Any) -> ShearParts: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class ShearStrength:
    """One-way shear of a section: a prediction to plan a test by, never an approval."""

    @property
    def edition(self) -> str:
        """The edition."""
    @property
    def clause(self) -> str:
        """The clause."""
    @property
    def expected(self) -> ShearParts:
        """Mean strengths, no reduction."""
    @property
    def design(self) -> ShearParts | None:
        """Specified strengths, reduced; None where the factors are not given."""
    @property
    def flexure_shear(self) -> Quantity | None:
        """Shear at which flexure-shear cracks are expected."""
    @property
    def web_shear(self) -> Quantity | None:
        """Shear at which web-shear cracks are expected."""
    @property
    def test_ratio(self) -> float | None:
        """Shear of the test over the expected strength."""
    @property
    def near_support(self) -> Verdict | None:
        """The clear distance to the bearing over the effective depth."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    @property
    def left_out(self) -> list[str]:
        """What the prediction leaves out."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> ShearStrength: ...
    def __deepcopy__(self, _memo: Any) -> ShearStrength: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Exercised:
    """Whether a test exercises wraps and stirrups: before the web cracks they are nearly unstrained."""

    @property
    def likely(self) -> str:
        """"unlikely, not excluded", "open" or "likely"; never a bare yes."""
    @property
    def test(self) -> Quantity:
        """Shear of the test, total."""
    @property
    def cracking(self) -> Quantity:
        """The lower of flexure-shear and web-shear cracking."""
    @property
    def ratio(self) -> float:
        """The one over the other."""
    @property
    def scatter(self) -> float:
        """Scatter of the cracking strength, as a part of it."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> Exercised: ...
    def __deepcopy__(self, _memo: Any) -> Exercised: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class AddedStirrups:
    """What added stirrups carry in shear: a prediction to plan a test by, never an approval."""

    @property
    def shear(self) -> Quantity:
        """The shear, without reduction."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> AddedStirrups: ...
    def __deepcopy__(self, _memo: Any) -> AddedStirrups: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class BondedStrip:
    """What a bonded strip adds in flexure: a prediction to plan a test by, never an approval."""

    @property
    def strain(self) -> Quantity:
        """The strain that counts."""
    @property
    def debonds(self) -> bool:
        """Whether it comes off before the concrete crushes."""
    @property
    def force(self) -> Quantity:
        """Its force."""
    @property
    def moment(self) -> Quantity:
        """Its moment about the compressed concrete, without reduction."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> BondedStrip: ...
    def __deepcopy__(self, _memo: Any) -> BondedStrip: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class WrapShear:
    """What wraps carry in shear: a prediction to plan a test by, never an approval."""

    @property
    def expected(self) -> Quantity:
        """V_f of all webs with the mean strength of the concrete, no reduction."""
    @property
    def specified(self) -> Quantity:
        """V_f of all webs with the specified strength, before ψ_f and φ."""
    @property
    def strain(self) -> Quantity:
        """Strain that the wraps reach."""
    @property
    def bond_reduction(self) -> float | None:
        """Bond-reduction factor; None of a complete or anchored wrap."""
    @property
    def bond_length(self) -> Quantity | None:
        """Length that bonds."""
    @property
    def factor(self) -> float:
        """ψ_f."""
    @property
    def strength(self) -> Quantity | None:
        """V_c + V_s + V_f without reduction, where the concrete is given."""
    @property
    def design(self) -> Quantity | None:
        """φ(V_c + V_s + ψ_f V_f), where the concrete and φ are given."""
    @property
    def exercised(self) -> Exercised | None:
        """Whether the planned test exercises the wraps."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    @property
    def left_out(self) -> list[str]:
        """What the prediction leaves out."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> WrapShear: ...
    def __deepcopy__(self, _memo: Any) -> WrapShear: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class ReducedCheck:
    """One rule that a member must keep without its strengthening."""

    @property
    def rule(self) -> str:
        """The rule."""
    @property
    def case(self) -> str:
        """"strengthening lost" or "fire"."""
    @property
    def verdict(self) -> Verdict:
        """Its largest combination against the strength."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> ReducedCheck: ...
    def __deepcopy__(self, _memo: Any) -> ReducedCheck: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class WithoutStrengthening:
    """A member without its strengthening, at normal temperature and in fire."""

    @property
    def checks(self) -> list[ReducedCheck]:
        """The checks, in the order of the rules."""
    @property
    def state(self) -> str:
        """All of them together: no test makes a failed one good."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    @property
    def left_out(self) -> list[str]:
        """What the prediction leaves out."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> WithoutStrengthening: ...
    def __deepcopy__(self, _memo: Any) -> WithoutStrengthening: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class LocalCheck:
    """A local strength under one action."""

    @property
    def action(self) -> str:
        """"test" or "catch"."""
    @property
    def verdict(self) -> Verdict:
        """Against the design strength."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> LocalCheck: ...
    def __deepcopy__(self, _memo: Any) -> LocalCheck: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class LocalStrength:
    """Bearing, punching, a plate, or a detail at a bearing."""

    @property
    def clause(self) -> str:
        """Edition and clause."""
    @property
    def mode(self) -> str:
        """How it gives way, brittle or ductile."""
    @property
    def expected(self) -> Quantity | None:
        """The force it carries with mean strengths, no reduction."""
    @property
    def design(self) -> Quantity | None:
        """The force it carries with specified strengths, reduced."""
    @property
    def checks(self) -> list[LocalCheck]:
        """The action of the test and of the catch, each on its own."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    @property
    def left_out(self) -> list[str]:
        """What the prediction leaves out."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> LocalStrength: ...
    def __deepcopy__(self, _memo: Any) -> LocalStrength: ...
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
    def jack_most(self) -> Quantity:
        """The most that one jack gives: their friction differs."""
    @property
    def jack_least(self) -> Quantity:
        """The least that one jack gives."""
    @property
    def rams(self) -> list[RigRam]:
        """The jacks one by one, where they are described so."""
    @property
    def off_middle(self) -> Quantity | None:
        """How far the resultant stands from where equal jacks would have it; None without places across."""
    @property
    def uneven(self) -> float | None:
        """How far the share of one jack lies from that of equal ones at most; None where they are alike."""
    @property
    def springs_back(self) -> Quantity | None:
        """How far reaction, bars and oil follow a member that gives way; None where that is not known."""
    @property
    def energy(self) -> Quantity | None:
        """The energy that this gives back."""
    @property
    def falls_by(self) -> Quantity | None:
        """By how much the force falls with the way of the member that gives way."""
    @property
    def locked(self) -> LockedCircuit | None:
        """What the locked-off circuit does, where pump, hold or gauge is described."""
    @property
    def verdicts(self) -> list[Verdict]:
        """Pressure against its rating, travel against the stroke."""
    @property
    def stops(self) -> list[tuple[str, str]]:
        """States that endanger people: code and sentence."""
    @property
    def notes(self) -> list[tuple[str, str]]:
        """What to know: code and sentence."""
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> Hydraulics: ...
    def __deepcopy__(self, _memo: Any) -> Hydraulics: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class LevelShare:
    """One level that carries a catch."""

    @property
    def share(self) -> float:
        """Its share of the force of the catch."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> LevelShare: ...
    def __deepcopy__(self, _memo: Any) -> LevelShare: ...
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
    def bound(self) -> Quantity:
        """The same were all of the test load a weight and the catch without a pad."""
    @property
    def dynamic(self) -> float | None:
        """The dynamic force over the static one; None where nothing falls."""
    @property
    def dynamic_bound(self) -> float | None:
        """The bound over the static force."""
    @property
    def crushed(self) -> Quantity | None:
        """How far the pad is crushed, where there is one."""
    @property
    def resistance(self) -> Quantity:
        """What the posts carry."""
    @property
    def sideways(self) -> Quantity:
        """What the bracing of the posts holds sideways."""
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
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> CaughtForce: ...
    def __deepcopy__(self, _memo: Any) -> CaughtForce: ...
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
    def stack(self) -> list[LevelLoad]:
        """What every level does, the top first, the ground last."""
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
    def working(self, units: _Units = "SI") -> Working:
        """The working, in "SI" or "US" units: `print` it, or take it line by line."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> CatchCheck: ...
    def __deepcopy__(self, _memo: Any) -> CatchCheck: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class Working:
    """The working of a result in "SI" or "US" units: `print` it, or take it line by line."""

    @property
    def units(self) -> str:
        """"SI" or "US"."""
    @property
    def steps(self) -> list[WorkingStep]:
        """Every line: what is computed, formula, numbers, result, source, where it went next."""
    def text(self) -> str:
        """Plain text; `str` gives the same."""
    def markdown(self) -> str:
        """Markdown."""
    def html(self) -> str:
        """HTML."""
    def latex(self) -> str:
        """LaTeX, for the body of a document with the package amsmath."""
    def recheck(self) -> list[str]:
        """The lines whose recorded result is not what their formula gives: none."""
    def to_dict(self, units: _Units | None = None) -> list[dict[str, Any]]:
        """Every line as a dict; with `units` as JSON can hold it."""
    def _repr_html_(self) -> str: ...
    def __len__(self) -> int: ...
    def __getitem__(self, index: int, /) -> WorkingStep: ...
    def __contains__(self, text: str, /) -> bool: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class WorkingStep:
    """One line of a working."""

    @property
    def about(self) -> str | None:
        """The heading it stands under."""
    @property
    def what(self) -> str:
        """What is computed."""
    @property
    def line(self) -> str:
        """Symbols, numbers and result on one line, in the units of the working."""
    @property
    def formula(self) -> str | None:
        """The formula in its names; None for a value found by search."""
    @property
    def inputs(self) -> list[tuple[str, str, Quantity]]:
        """The numbers: name in the formula, printed symbol, value."""
    @property
    def symbol(self) -> str:
        """The symbol of the result; empty for a value found by search."""
    @property
    def result(self) -> Quantity:
        """The result."""
    @property
    def residual(self) -> float | None:
        """What a value found by search leaves unmet, relative."""
    @property
    def source(self) -> str:
        """Clause, book or rule."""
    @property
    def next(self) -> list[int]:
        """The later lines that have its result among their numbers, from 0."""
    @property
    def answers(self) -> list[str]:
        """The numbers of the answer that it is."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __copy__(self) -> Self: ...
    def __deepcopy__(self, _memo: Any) -> Self: ...

@final
class Edition:
    """An edition of a code as data. Its figures are known as far as `confidence` says: "V" seen in a public text, "M" from memory, "M-M" from memory with moderate confidence, "user" given."""

    @property
    def id(self) -> str:
        """The stable name."""
    @property
    def name(self) -> str:
        """The name people use; that of an edition of one's own carries its fingerprint."""
    @property
    def title(self) -> str:
        """The title."""
    @property
    def year(self) -> int:
        """The year."""
    @property
    def status(self) -> str:
        """"current", "superseded" or "withdrawn"."""
    @property
    def superseded_by(self) -> str | None:
        """The edition that replaced it."""
    @property
    def clause(self) -> str:
        """The clause of the test load."""
    @property
    def to_enter(self) -> str | None:
        """What must be entered from a bought copy, where its figures are not known."""
    @property
    def default_set(self) -> str | None:
        """The load set that applies unless another is asked for and earned."""
    @property
    def span_rule(self) -> str:
        """"lt" or "l": the span its limits speak of."""
    @property
    def imposed_only(self) -> bool:
        """Whether deflections count under the imposed test load only."""
    @property
    def sets(self) -> list[EditionSet]:
        """The load sets."""
    @property
    def criteria(self) -> list[EditionCriterion]:
        """The criteria of every method, each with its waiver."""
    @property
    def protocols(self) -> list[EditionProtocol]:
        """The steps of every method."""
    @property
    def retests(self) -> list[EditionRetest]:
        """What is allowed after a failed test."""
    @property
    def stop_rules(self) -> list[EditionStopRule]:
        """The rules that stop a test while it runs."""
    @property
    def bridge_proof(self) -> EditionBridgeProof | None:
        """The adjusted factor of a bridge proof test, where it has one."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __reduce__(self) -> tuple[Any, tuple[str, str]]: ...
    def __copy__(self) -> Edition: ...
    def __deepcopy__(self, _memo: Any) -> Edition: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionSet:
    """A load set of an edition."""

    @property
    def id(self) -> str:
        """Its name inside the edition."""
    @property
    def about(self) -> str:
        """When it applies, in words."""
    @property
    def when(self) -> str | None:
        """When it applies, as a formula of facts; None for an only set."""
    @property
    def confidence(self) -> str:
        """How well its figures are known."""
    @property
    def note(self) -> str | None:
        """What to know about it."""
    @property
    def rows(self) -> list[EditionRow]:
        """The combinations."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionSet: ...
    def __deepcopy__(self, _memo: Any) -> EditionSet: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionRow:
    """A combination of an edition."""

    @property
    def id(self) -> str:
        """Its name inside the set."""
    @property
    def factors(self) -> dict[str, float]:
        """The factor of every symbol: {"Dw": 1.0, "L": 1.6, "Lr|S|R": 0.5}."""
    @property
    def scale(self) -> float:
        """A factor that multiplies the whole row."""
    @property
    def live_reduced_to(self) -> float | None:
        """The factor that the live load may fall to, where a clause lets it be reduced."""
    @property
    def live_reduced_unless(self) -> str | None:
        """The condition that forbids it."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionRow: ...
    def __deepcopy__(self, _memo: Any) -> EditionRow: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionCriterion:
    """A criterion of an edition."""

    @property
    def method(self) -> str:
        """The test method it belongs to."""
    @property
    def id(self) -> str:
        """Its name inside the edition."""
    @property
    def about(self) -> str:
        """What it compares, in words."""
    @property
    def limit(self) -> str | None:
        """The comparison; None where a person is asked."""
    @property
    def ask(self) -> str | None:
        """What a person is asked and signs."""
    @property
    def waive_if(self) -> str | None:
        """The edition's own waiver."""
    @property
    def applies_if(self) -> str | None:
        """When it applies at all."""
    @property
    def note(self) -> str | None:
        """What to know about it."""
    @property
    def any_of(self) -> int | None:
        """Criteria of one method with the same number suffice one for all."""
    @property
    def clause(self) -> str:
        """The clause."""
    @property
    def confidence(self) -> str:
        """How well its figures are known."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionCriterion: ...
    def __deepcopy__(self, _memo: Any) -> EditionCriterion: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionProtocol:
    """The steps that an edition asks of a method."""

    @property
    def method(self) -> str:
        """The test method."""
    @property
    def min_age(self) -> Quantity | None:
        """Least age of the concrete."""
    @property
    def zero_before(self) -> Quantity | None:
        """The zero reading is at most so long before the first increment."""
    @property
    def min_increments(self) -> int | None:
        """The smallest number of about equal increments."""
    @property
    def full_hold(self) -> Quantity | None:
        """The hold at full load."""
    @property
    def residual_after(self) -> Quantity | None:
        """When the residual is read, after unloading."""
    @property
    def residual_time_rule(self) -> str | None:
        """"at", "within" or "at_least" that time."""
    @property
    def retest_gap(self) -> Quantity | None:
        """The shortest time before a retest."""
    @property
    def cycles(self) -> list[tuple[str, float, int]]:
        """Name, peak as a part of the full load, and pair of every cycle."""
    @property
    def p_min(self) -> float | None:
        """The least load between cycles, as a part of the full load."""
    @property
    def step_hold(self) -> Quantity | None:
        """The shortest hold of a step."""
    @property
    def applications(self) -> int | None:
        """How often the load is brought on, at least."""
    @property
    def gap_between(self) -> Quantity | None:
        """The shortest time between two applications."""
    @property
    def confidence(self) -> str:
        """How well its figures are known."""
    @property
    def note(self) -> str | None:
        """What to know about it."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionProtocol: ...
    def __deepcopy__(self, _memo: Any) -> EditionProtocol: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionRetest:
    """What an edition allows after a failed test."""

    @property
    def method(self) -> str:
        """The test method it belongs to."""
    @property
    def after_failed(self) -> list[str]:
        """Only these criteria may have failed."""
    @property
    def allowed_if(self) -> str | None:
        """The condition under which it is allowed."""
    @property
    def limit(self) -> str:
        """The comparison of the retest."""
    @property
    def replaces(self) -> list[str]:
        """The criteria it replaces."""
    @property
    def gap(self) -> Quantity | None:
        """The shortest time between the tests."""
    @property
    def confidence(self) -> str:
        """How well its figures are known."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionRetest: ...
    def __deepcopy__(self, _memo: Any) -> EditionRetest: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionStopRule:
    """A rule of an edition that stops a test while it runs."""

    @property
    def id(self) -> str:
        """Its name."""
    @property
    def limit(self) -> str | None:
        """What must hold while the load is on."""
    @property
    def residual(self) -> str | None:
        """What must hold after unloading."""
    @property
    def ask(self) -> str | None:
        """What a person is asked."""
    @property
    def confidence(self) -> str:
        """How well its figures are known."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionStopRule: ...
    def __deepcopy__(self, _memo: Any) -> EditionStopRule: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

@final
class EditionBridgeProof:
    """The adjusted factor of a bridge proof test."""

    @property
    def base(self) -> float:
        """The factor before adjustment."""
    @property
    def at_least(self) -> float:
        """The least factor after adjustment."""
    @property
    def at_most(self) -> float:
        """The largest factor after adjustment."""
    @property
    def adjust_percent(self) -> dict[str, float]:
        """Each adjustment in percent of the base factor."""
    @property
    def exclusive(self) -> list[list[str]]:
        """Pairs of adjustments that exclude each other."""
    @property
    def stopped_by_distress(self) -> float:
        """What of the capacity counts if distress stops the test."""
    @property
    def confidence(self) -> str:
        """How well its figures are known."""
    def to_dict(self, units: _Units | None = None) -> dict[str, Any]:
        """Every result, by name; with `units` as JSON can hold it."""
    def __copy__(self) -> EditionBridgeProof: ...
    def __deepcopy__(self, _memo: Any) -> EditionBridgeProof: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]

_FlexureCode = Literal["ACI 318-19", "EN 1992-1-1:2004", "own"]
_CrackingRule = Literal["ACI 318-19, psi", "ACI 318-19, MPa", "EN 1992-1-1:2004"]
_Forces = Sequence[tuple[_Value, _Value] | dict[str, Any]]

def acceptance(
    edition: str | PathLike[str] | Edition | EditionChoice | dict[str, Any],
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
    columns: _Text | LogSpec,
    record: _Text | RunRecord,
    *,
    span: _Value,
    depth: _Value | None = None,
    clear_span: _Value | None = None,
    cantilever: bool | None = None,
    unit: str | None = None,
    method: str | None = None,
    target: _Value | None = None,
) -> SideBySide:
    """A log and the record of its run by the criteria of every shipped edition that has some for the
    method. For a designed test see `Design.side_by_side`."""

def test_load(
    edition: str | PathLike[str] | Edition | EditionChoice | dict[str, Any],
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
    pulls: _Forces,
    *,
    weights: _Forces | None = None,
    seat: str | None = None,
    rigidity: Rigidity | dict[str, Any] | None = None,
    left_overhang: _Value | None = None,
    right_overhang: _Value | None = None,
    shear_capacity: _Value | None = None,
    sagging_capacity: _Value | None = None,
    hogging_capacity: _Value | None = None,
    uplift_capacity: _Value | list[_Value] | None = None,
    holds: dict[str, Any] | list[dict[str, Any]] | None = None,
    cracks_at: _Value | None = None,
    conditions: dict[str, bool] | None = None,
    factor: dict[str, Any] | None = None,
    unit: str | None = None,
) -> Reaction:
    """A reaction member on bearings under what pulls it up and what stands on it."""

def section_strength(
    section: dict[str, Any],
    *,
    code: _FlexureCode,
    cracking: _CrackingRule,
    block: dict[str, Any] | None = None,
    at: _Value | None = None,
    length: _Value | None = None,
    axial: _Value | None = None,
    reductions: dict[str, Any] | None = None,
    cracked: str | None = None,
    scatter: dict[str, Any] | None = None,
    before: _Value | None = None,
    moment: _Value | None = None,
    load_factor: _Value | float | None = None,
) -> SectionStrength:
    """What a section does, predicted: when each face cracks, its strength in flexure, its stiffness."""

def deflections(
    span: _Value,
    section: dict[str, Any],
    in_place: _Value,
    forces: _Forces,
    *,
    cracking: _CrackingRule,
    steps: list[float] | None = None,
    at: _Value | None = None,
    cracked: str | None = None,
    load_factor: _Value | float | None = None,
) -> Deflections:
    """Deflection of a simple span over load, stiff and soft."""

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
    accumulator: bool | None = None,
    pump: dict[str, Any] | None = None,
    hold: dict[str, Any] | None = None,
    gauge: dict[str, Any] | None = None,
    fittings: dict[str, Any] | None = None,
    rams: list[dict[str, Any]] | None = None,
    uneven: _Value | float | None = None,
) -> Hydraulics:
    """One press of equal jacks: pressure with friction, stroke that is needed, against their ratings."""

def catch(
    span: _Value,
    in_place: _Value | list[_Value],
    catches: Catch | dict[str, Any] | list[Catch | dict[str, Any]],
    *,
    mode: str,
    region: tuple[_Value, _Value] | list[_Value],
    forces: _Forces | None = None,
    drive: str | None = None,
    spring_back: _Value | None = None,
    depth: _Value | None = None,
    reading: _Value | list[_Value] | None = None,
    reading_uncertainty: _Value | None = None,
    clearance: _Value | None = None,
    levels: list[Level | dict[str, Any]] | None = None,
    post_stiffness: _Value | None = None,
    to_ground: bool | None = None,
    ground: dict[str, Any] | None = None,
    stub: Stub | dict[str, Any] | None = None,
    dragged_along: float | None = None,
    unit: str | None = None,
) -> CatchCheck:
    """One catch or several under a simple span."""

def shear_strength(
    code: str,
    strength: _Value,
    width: _Value,
    depth: _Value,
    tension_steel: _Value,
    *,
    mean_strength: _Value | None = None,
    lightweight: _Value | float | None = None,
    axial: _Value | None = None,
    gross_area: _Value | None = None,
    stirrups: dict[str, Any] | None = None,
    prestress: dict[str, Any] | None = None,
    phi: _Value | float | None = None,
    gamma_c: _Value | float | None = None,
    gamma_s: _Value | float | None = None,
    design_strength: _Value | None = None,
    lever_arm: _Value | None = None,
    strut_slope: _Value | float | None = None,
    chord_factor: _Value | float | None = None,
    aggregate: _Value | None = None,
    steel_yield: _Value | None = None,
    test: _Value | None = None,
    clear: _Value | None = None,
    height: _Value | None = None,
    unit: str | None = None,
) -> ShearStrength:
    """One-way shear of a section: expected, and with its factors the design strength."""

def shear_strengths(
    code: str,
    strength: Column | _Value | list[_Value],
    width: Column | _Value | list[_Value],
    depth: Column | _Value | list[_Value],
    tension_steel: Column | _Value | list[_Value],
    *,
    stirrup_area: Column | _Value | list[_Value] | None = None,
    stirrup_spacing: Column | _Value | list[_Value] | None = None,
    stirrup_yield: Column | _Value | list[_Value] | None = None,
    minimum: bool | None = None,
) -> Column:
    """The expected shear strengths of many reinforced sections at once."""

def added_stirrups(area: _Value, spacing: _Value, *, reached: _Value, depth: _Value) -> AddedStirrups:
    """Stirrups outside or bars that were drilled in, over a crack at 45°."""

def bonded_strip(
    area: _Value,
    modulus: _Value,
    depth: _Value,
    *,
    debonding_strain: _Value,
    installed_strain: _Value,
    crushing_strain: _Value,
    neutral_axis: _Value,
    compression: _Value,
) -> BondedStrip:
    """A bonded strip in flexure at a neutral axis that is known."""

def wrap_shear(
    scheme: str,
    strength: _Value,
    depth: _Value,
    *,
    thickness: _Value,
    modulus: _Value,
    ultimate_strain: _Value,
    width: _Value,
    spacing: _Value,
    form: str | None = None,
    mean_strength: _Value | None = None,
    plies: int | None = None,
    angle: _Value | None = None,
    webs: int | None = None,
    anchored_strain: _Value | None = None,
    concrete: _Value | None = None,
    stirrups: _Value | None = None,
    web_width: _Value | None = None,
    member_depth: _Value | None = None,
    phi: _Value | float | None = None,
    test: _Value | None = None,
    flexure_shear: _Value | None = None,
    web_shear: _Value | None = None,
    scatter: _Value | float | None = None,
) -> WrapShear:
    """Wraps on a web in shear, and whether the planned test exercises them."""

def without_strengthening(
    kind: str,
    rules: str | list[str],
    dead: _Value,
    live: _Value,
    *,
    snow: _Value | None = None,
    accidental: _Value | None = None,
    sustained: bool | None = None,
    psi: _Value | float | None = None,
    strength: _Value | None = None,
    hot_strength: _Value | None = None,
    unit: str | None = None,
) -> WithoutStrengthening:
    """What the member must carry without its strengthening, at normal temperature and in fire."""

def local_strength(
    kind: str,
    *,
    code: str | None = None,
    strength: _Value | None = None,
    mean_strength: _Value | None = None,
    lightweight: _Value | float | None = None,
    area: _Value | None = None,
    spread: _Value | None = None,
    depth: _Value | None = None,
    along: _Value | None = None,
    across: _Value | None = None,
    place: str | None = None,
    perimeter: _Value | None = None,
    moment: _Value | None = None,
    steel_ratio: _Value | float | None = None,
    eccentricity: _Value | float | None = None,
    thickness: _Value | None = None,
    yields: _Value | None = None,
    mean_yield: _Value | None = None,
    side: _Value | None = None,
    width: _Value | None = None,
    pressed: _Value | None = None,
    detail: str | None = None,
    source: str | None = None,
    phi: _Value | float | None = None,
    gamma_c: _Value | float | None = None,
    test: _Value | None = None,
    catch: _Value | None = None,
) -> LocalStrength:
    """Bearing, punching, a plate, or a detail at a bearing, under the test and the catch."""

def edition(edition: str | PathLike[str] | Edition | EditionChoice | dict[str, Any]) -> Edition:
    """An edition as data: load sets, criteria with waivers, protocols, clauses, confidence."""

def judge_record(
    edition: str | PathLike[str] | Edition | EditionChoice | dict[str, Any],
    log: str | PathLike[str],
    columns: _Text | LogSpec,
    record: _Text | RunRecord,
    *,
    span: _Value,
    depth: _Value | None = None,
    clear_span: _Value | None = None,
    cantilever: bool | None = None,
    method: str | None = None,
    force: _Value | None = None,
    unit: str | None = None,
) -> Judgement:
    """Judges a test that was designed elsewhere: its log and its record against an edition."""

def show_in(units: _Units) -> None:
    """Sets the units in which quantities, documents and results show themselves, "SI" or "US"."""

def usual_patterns(spans: int) -> list[tuple[list[bool], str]]:
    """The usual patterns of so many spans, each as marks and in words."""

def snow_drift(standard: str, **fields: Any) -> SnowDrift:
    """Snow that drifts against a step, by "ASCE 7-16" or "ASCE 7-22"."""

def ponding(
    beam: Beam,
    at: Column | list[_Place],
    depth: Column | list[_Place],
    width: _Length,
    gamma: Quantity | str | None = None,
    pieces: int = 32,
) -> Ponding:
    """Water on a beam that gives way under it."""

def read_log_faults(log: _Log, columns: _Text | LogSpec) -> list[LogFault]:
    """The faults of a log, by name."""

def schema() -> str:
    """The JSON schema of the test document, as text."""

def editions() -> list[tuple[str, str, str]]:
    """Name, title and status of every shipped edition."""

def codes() -> list[tuple[str, str, str, str]]:
    """The table of stable codes: code, class, gist, remedy."""

def _refusal(code: str, path: str, message: str) -> InputError: ...
def _quantity(si: float, dimension: Any, kind: str | None) -> Quantity: ...
def _beam(length: float, supports: Any, rigidity: Any, hinges: Any, shear: Any) -> Beam: ...
def _load(kind: str, numbers: Any) -> Load: ...
def _support(at: float, vertical: float | None, rotation: float | None, settlement: float, lifts: bool) -> Support: ...
def _again(step: str, asked: str) -> Any: ...
def _column(si: Any, unit: Quantity) -> Column: ...
