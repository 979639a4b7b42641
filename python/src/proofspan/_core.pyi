from os import PathLike
from typing import Any, final

__all__ = [
    "DataError",
    "Design",
    "InputError",
    "Judgement",
    "ProofspanError",
    "Quantity",
    "SolverError",
    "StopError",
    "__version__",
    "beam_actions",
    "codes",
    "design",
    "editions",
    "judge",
    "read_log_faults",
    "schema",
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
    """A quantity: its kind and its value in SI. `Quantity("45 ft", "Length").to("m")`."""

    def __new__(cls, text: str, kind: str) -> Quantity: ...
    @property
    def si(self) -> float:
        """The value in SI."""
    @property
    def kind(self) -> str:
        """The kind, for example "Force"."""
    def to(self, unit: str) -> float:
        """The value in a unit of its kind."""
    def __hash__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __lt__(self, other: Quantity, /) -> bool: ...
    def __gt__(self, other: Quantity, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    def __le__(self, other: Quantity, /) -> bool: ...
    def __ge__(self, other: Quantity, /) -> bool: ...
    def __add__(self, other: Quantity, /) -> Quantity: ...
    def __radd__(self, other: Quantity, /) -> Quantity: ...
    def __sub__(self, other: Quantity, /) -> Quantity: ...
    def __rsub__(self, other: Quantity, /) -> Quantity: ...
    def __mul__(self, factor: float, /) -> Quantity: ...
    def __rmul__(self, factor: float, /) -> Quantity: ...
    def __getnewargs__(self) -> tuple[str, str]: ...

@final
class Design:
    """A designed test."""

    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def spec_json(self) -> str:
        """The test as JSON text; it reads back to an equal design."""
    def to_json(self) -> str:
        """Every result as JSON text in SI."""
    def working(self, units: str = "SI") -> str:
        """The working as text, in "SI" or "US" units."""
    def recheck(self) -> list[str]:
        """The steps of the working whose recorded result is not what their formula gives: none."""
    def cleared(self) -> None:
        """Refuses with StopError while a stop holds."""
    def along(self, what: str, x: list[float]) -> list[float]:
        """Values along the member in SI at places in metres."""
    def html(self, judgement: Judgement | None = None) -> str:
        """The report as one HTML file, with the judgement where one is given."""
    def markdown(self, judgement: Judgement | None = None) -> str:
        """The report as Markdown."""
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    __hash__: None  # type: ignore[assignment]
    def __reduce__(self) -> tuple[Any, tuple[str]]: ...

@final
class Judgement:
    """A judged test."""

    @property
    def state(self) -> str:
        """The headline: the guarded outcome."""
    def to_dict(self) -> dict[str, Any]:
        """Every result, by name."""
    def curve(self) -> list[tuple[float, float]]:
        """Force in newtons and deflection in metres of the leading gauge along the test, thinned."""

def design(spec: str | dict[str, Any]) -> Design:
    """Designs a test from a document: JSON text or dicts and lists."""

def judge(
    design: Design, log: str | PathLike[str], layout: str | dict[str, Any], record: str | dict[str, Any]
) -> Judgement:
    """Judges a designed test: CSV text or a path, the layout of the log, the record of the run."""

def read_log_faults(log: str | PathLike[str], layout: str | dict[str, Any]) -> list[dict[str, Any]]:
    """The faults of a log, by name."""

def schema() -> str:
    """The JSON schema of the test document, as text."""

def editions() -> list[tuple[str, str, str]]:
    """Name, title and status of every shipped edition."""

def codes() -> list[tuple[str, str, str, str]]:
    """The table of stable codes: code, class, gist, remedy."""

def beam_actions(
    length: float,
    rigidity: float,
    supports: list[tuple[float, bool]],
    points: list[tuple[float, float]],
    lines: list[tuple[float, float, float, float]],
    x: list[float],
) -> tuple[list[float], list[float], list[float]]:
    """Shear, moment and deflection of a beam at places, all numbers in SI."""
