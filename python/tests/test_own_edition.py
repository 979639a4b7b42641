"""An edition of one's own at every door: its path, the object read from it, its text in a choice. The factors
are invented: 1.5 of what acts for good and 1.5 of the live load, 1.5 * 4 + 1.5 * 3 - 4 = 6.5 kPa."""

from __future__ import annotations

import json
import pickle
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

ROOT = Path(__file__).parents[2]
NOMINAL = {"self_weight": "4 kPa", "live": "3 kPa"}


@pytest.fixture
def own(tmp_path: Path) -> Path:
    text = OWN
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    return path


OWN = '''
id = "house"
name = "House rules"
title = "An invented edition"
year = 2026
status = "current"
clause = "house"
default_set = "one"
span_rule = "lt"

[[sets]]
id = "one"
about = "the only set"
confidence = "user"
note = "invented"

[[sets.rows]]
id = "r1"
factors = { Dw = 1.5, Ds = 1.5, L = 1.5 }

[[criteria]]
id = "deflection"
method = "monotonic"
about = "largest deflection"
limit = "d_max <= lt/180"
clause = "house"
confidence = "user"
note = "invented"
'''


def test_path_object_and_choice_are_one_edition(own: Path) -> None:
    edition = ps.edition(own)
    assert "House rules" in edition.name and edition.name != "House rules"  # marked with its fingerprint
    choice = ps.EditionChoice(id="house", file=OWN)
    doors: list[Any] = [own, edition, choice, pickle.loads(pickle.dumps(edition))]
    for door in doors:
        found = ps.test_load(door, NOMINAL, in_place="self_weight")
        assert found.net.to("kPa") == pytest.approx(6.5, rel=1e-12)
        assert found.edition == edition.name
        assert ps.edition(door) == edition


def test_an_edition_stands_in_documents_and_steps(own: Path) -> None:
    edition = ps.edition(own)
    beam = ps.Beam.simple("8 m", "30000 kN·m²")
    loads = ps.Loads(width="2 m", self_weight="4 kPa", live="3 kPa", in_place="self_weight")
    doubt = ps.Doubt("flexure", "2 m", "6 m")
    by_object, by_path = (ps.target(beam, loads, door, doubt, "strip") for door in (edition, own))
    assert by_object == by_path
    # 2 m of 6.5 kPa on 8 m: w l^2 / 8
    assert by_object.governing("moment", "4 m").to("kN·m") == pytest.approx(13.0 * 64 / 8, rel=1e-12)
    judged = ps.acceptance(edition, "12 mm", residual="1 mm", span="6 m", u="0.1 mm")
    assert judged.edition == edition.name
    document = json.loads((ROOT / "examples/scenarios/terrace_strip.test.json").read_text(encoding="utf-8"))
    document["edition"] = ps.edition("ACI 437.2-13")
    shipped = ps.design(document)
    document["edition"] = {"id": "ACI 437.2-13"}
    assert shipped.target == ps.design(document).target


def test_files_that_are_none_are_refused_at_the_argument(tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("id = 3\n", encoding="utf-8")
    for door in (tmp_path / "none.toml", broken, tmp_path, Path("/dev/zero")):
        with pytest.raises(ps.InputError) as caught:
            ps.edition(door)
        assert caught.value.issues
        with pytest.raises(ps.InputError) as caught:
            ps.test_load(door, NOMINAL, in_place="self_weight")
        assert caught.value.issues
