"""What may be left out of a document, and which version it has."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"


def shipped(name: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((SCENARIOS / f"{name}.json").read_text(encoding="utf-8"))
    return read


@pytest.mark.parametrize(("of", "name"), [(ps.LogSpec, "gallery_beam.log"), (ps.RunRecord, "gallery_beam.record")])
def test_the_version_of_a_log_and_a_record(of: Any, name: str) -> None:
    """Left out it is 1; another is refused, as that of the document is."""
    document = shipped(name)
    document.pop("schema_version", None)
    assert json.loads(of.from_json(json.dumps(document)).to_json())["schema_version"] == 1
    with pytest.raises(ps.InputError, match=r"source\.version"):
        of.from_json(json.dumps(document | {"schema_version": 2}))


def test_a_rig_is_asked_for_where_a_jack_presses() -> None:
    bags, jack = shipped("classroom_strip.test"), shipped("gallery_beam.test")
    bags.pop("rig", None)
    jack.pop("rig")
    assert ps.design(bags).layout.force.si > 0
    with pytest.raises(ps.InputError, match=r"\[rig\.jacks-missing\] rig:"):
        ps.design(jack)


def test_the_moment_of_a_cantilever_in_shear_is_the_largest() -> None:
    """q l²/2 of the heaviest term, at the root of 3 m."""
    beam = ps.Beam.cantilever("3 m", "1e8 N·m^2")
    loads = ps.Loads(width="2 m", self_weight="5 kPa", live="4 kPa", snow="1 kPa", in_place=["self_weight"])
    target = ps.target(beam, loads, "ACI 437.2-13", ps.Doubt("shear", "0 m", "0.5 m"), unit="beam")
    q = target.governing("intensity", "1 m").si
    assert target.governing("moment", "0 m", "right").si == pytest.approx(-q * 9 / 2)
