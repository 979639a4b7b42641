"""Design, run and judge an in-situ proof load test of a concrete member.

``design(spec)`` makes a :class:`Design` of a test document (JSON text, or dicts and lists with
quantities as text such as ``"45 ft"``); ``judge(design, log, layout, record)`` makes a
:class:`Judgement` of its readings. Every refusal is a :class:`ProofspanError` whose ``issues`` lists
all problems with path, value, limit and remedy.

A failed test can hurt people. Clear the zone, catch the member, load in steps, mind brittle modes.
The code adopted at the place and licensed practice come first.
"""

from ._core import (
    DataError,
    Design,
    InputError,
    Judgement,
    ProofspanError,
    Quantity,
    SolverError,
    StopError,
    __version__,
    beam_actions,
    codes,
    design,
    editions,
    judge,
    read_log_faults,
    schema,
)

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
