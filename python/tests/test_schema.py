"""The published schema is one that a general validator takes: jsonschema, JSON Schema 2020-12."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import proofspan as ps
import pytest

SCENARIOS = Path(__file__).parents[2] / "examples" / "scenarios"
DOCUMENTS = sorted(SCENARIOS.glob("*.test.json"))


def validator() -> Any:
    schema = json.loads(ps.schema())
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda p: p.stem)
def test_scenarios_are_valid(path: Path) -> None:
    document = json.loads(path.read_text())
    check = validator()
    assert check.is_valid(document)
    wrong = copy.deepcopy(document)
    wrong["beam"]["spann"] = "6 m"
    wrong["scope"]["member"]["kind"] = "bridge"
    found = {"/".join(map(str, error.absolute_path)) for error in check.iter_errors(wrong)}
    assert {"beam", "scope/member/kind"} <= found


def test_it_is_small_enough_to_read() -> None:
    """Each shape stands once: 2.3 MB when they stood where they were used."""
    assert len(ps.schema()) < 400_000


def test_a_field_says_what_it_accepts() -> None:
    field = json.loads(vars(ps.Loads)["width"].schema)
    jsonschema.Draft202012Validator.check_schema(field)
    check = jsonschema.Draft202012Validator(field)
    assert check.is_valid("1.5 m") and not check.is_valid(1.5)
