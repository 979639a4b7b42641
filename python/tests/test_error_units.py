"""A refusal speaks the units of the document that is refused, through Python too."""

import json
import re
from pathlib import Path
from typing import Any

import proofspan as ps
import pytest
from proofspan.units import ft, m

SCENARIO = Path(__file__).parents[2] / "examples/scenarios/terrace_strip.test.json"
METRIC = re.compile(r"[0-9] (m|mm|N|kN|kPa|MPa|kN·m)\b")


def document() -> Any:
    return json.loads(SCENARIO.read_text())


def said(doc: Any) -> str:
    with pytest.raises(ps.InputError) as refused:
        ps.design(doc)
    text = str(refused.value)
    for issue in refused.value.issues:
        assert issue["limit"] is None or issue["limit"] in text
    return text


def test_text_as_typed_and_limits_in_feet() -> None:
    doc = document()
    doc["scope"]["doubt"]["to"] = "50 ft"
    text = said(doc)
    assert "0 to 45 ft" in text and not METRIC.search(text)


def test_a_quantity_has_no_text_and_is_read_in_feet() -> None:
    # 15.24 m are 50 ft
    doc = document()
    doc["scope"]["doubt"]["to"] = 15.24 * m
    text = said(doc)
    assert "50 ft" in text and not METRIC.search(text)
    doc["rig"]["jacks"]["stroke"] = -2 * ft
    text = said(doc)
    assert "-2 ft" in text and not METRIC.search(text)
