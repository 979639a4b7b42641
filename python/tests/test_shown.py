"""Texts that people see: no noise, no digits nobody asked for, nothing that runs in a notebook."""

import json
import pathlib
import re
from typing import Any

import numpy as np

import proofspan as ps
from proofspan.units import ft, kN, m

SCENARIOS = pathlib.Path(__file__).parents[2] / "examples" / "scenarios"
HOSTILE = "<img src=x onerror=\"alert(1)\"> | `a` *b* [c](d) & 'e'"


def document() -> dict[str, Any]:
    return dict(json.loads((SCENARIOS / "terrace_strip.test.json").read_text()))


def test_a_notebook_shows_a_title_and_does_not_run_it() -> None:
    spec = document()
    spec["title"] = HOSTILE
    spec["protocol"]["gauges"][0]["id"] = HOSTILE
    design = ps.design(spec)
    pages = [design._repr_html_(), design.layout._repr_html_(), design.html()]
    assert all("<img" not in page for page in pages)
    assert "&lt;img src=x onerror=" in pages[0] and "&lt;img src=x onerror=" in pages[2]
    assert "\\`a\\` \\*b\\* \\[c\\](d)" in design.markdown()


def test_a_repr_has_the_digits_of_a_person() -> None:
    six = 6 * ft  # 1.8288000000000002 m in doubles
    assert repr(ps.Load.point(six, 10 * kN)) == "Load(point 10 kN at 1.8288 m)"
    assert repr(ps.Beam.simple(six, "100 kN·m^2")) == "Beam(1.8288 m, 2 supports)"
    assert repr(ps.Support(six)) == "Support(at 1.8288 m, vertical rigid, rotation free, settlement 0 mm)"
    assert repr(np.array([6.0, 0.0, 1e-15]) * ft) == "[1.8288, 0, 0] m (Length), 3 values"
    actions = ps.Beam.simple(3 * m, "100 kN·m^2").response([ps.Load.point(1 * m, 3 * kN)])
    # V = 3 (3 - 1)/3 = 2 and 2 - 3 = -1 kN, M = 2 kN 1 m (statics)
    assert repr(actions) == "Response(shear -1 kN to 2 kN, moment 0 kN·m to 2 kN·m)"


def test_a_dict_has_no_noise_and_its_counts_are_whole() -> None:
    design = ps.design(document())
    text = str(design.to_dict())
    assert not re.search(r"\b(nan|inf)\b|e-1\d", text)
    assert design.layout.to_dict()["governing_term"] in (0, 1, 2, 3)
    assert re.search(r"'governing_term': \d\b(?!\.)", text)
    assert not re.search(r"NaN|Infinity|\binf\b", design.to_json())


def test_notes_and_stops_speak_the_units_of_the_document() -> None:
    spec = document()
    spec["shoring"]["catch"][1]["gap"] = "0.1 in"
    spec["rig"]["counterweights"] = []
    for display, own, other in (("US", " in;", " mm"), ("SI", " mm;", " in;")):
        spec["display"] = display
        stops = {s["code"]: s["message"] for s in ps.design(spec).stops}
        gap = stops["shoring.gap-not-above-reading"]
        assert own in gap and other not in gap, gap
        lift = stops["rig.lift-off-below-floor"] if "rig.lift-off-below-floor" in stops else " ".join(stops.values())
        assert ("lbf" in lift) == (display == "US"), lift


def test_recheck_compares_with_the_answer() -> None:
    assert ps.design(document()).recheck() == []
