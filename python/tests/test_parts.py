"""Parts of answers: typed as the stub says, complete, alike by name and as attributes; pickles, copies, formats."""

from __future__ import annotations

import ast
import copy
import json
import pickle
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps

ROOT = Path(__file__).resolve().parents[2]
SCENARIOS = ROOT / "examples" / "scenarios"
STUB = ROOT / "python" / "src" / "proofspan" / "_core.pyi"
PARTS = [made for made in vars(ps).values() if isinstance(made, type) and issubclass(made, ps.Part) and made is not ps.Part]
NAMES = ("terrace_strip", "gallery_beam", "classroom_strip", "archive_floor", "station_canopy")


def read(name: str, end: str) -> str:
    return (SCENARIOS / f"{name}.{end}").read_text(encoding="utf-8")


def strengthened() -> ps.Design:
    """The terrace strip with an invented wrapped section, checked without its wraps and under its jacks."""
    document = json.loads(read("terrace_strip", "test.json"))
    wraps = {"scheme": "u_wrap", "depth": "16 in", "thickness": "0.0065 in", "modulus": "33000 ksi", "ultimate_strain": "0.015865 m/m"}
    shape = {"kind": "rectangle", "width": "12 in", "height": "22 in"}
    concrete = {"strength": "3000 psi", "modulus": "3100 ksi"}
    bars = {"area": "6 in^2", "depth": "20 in", "yields": "60 ksi"}
    stirrups = {"area": "0.22 in^2", "spacing": "10 in", "yields": "60 ksi", "minimum": True}
    lost = {"kind": "shear", "rules": "ACI 440.2R (9.2)", "strength": "40 kip", "from": "3 ft", "to": "42 ft"}
    plate = {"kind": "bearing", "strength": "3000 psi", "area": "100 in^2", "spread": "200 in^2", "phi": 0.65}
    document["capacity"] = {
        "unit": "strip", "code": "ACI 318-19", "cracking": "ACI 318-19, psi", "scatter": {"tension": 0.15},
        "sections": {"section": {"shape": shape, "concrete": concrete, "bars": bars}, "stirrups": stirrups, "wraps": {**wraps, "width": "10 in", "spacing": "12 in"}},
        "without_strengthening": [lost], "local": [{"name": "under the jacks", "under": "carrier", "strength": plate}],
    }  # fmt: skip
    design = ps.design(document)
    found = design.predicted
    assert found is not None and found.exercised and found.without and found.local and found.stiffness
    return design


def answers() -> Iterator[Any]:
    yield from (strengthened().predicted, strengthened().stops, strengthened().notes)
    for name in NAMES:
        design = ps.design(read(name, "test.json"))
        yield from (design.rig, design.shoring, design.schedule, design.predicted, design.stops, design.notes, design.sketch())
        judged = ps.judge(design, read(name, "log.csv"), read(name, "log.json"), read(name, "record.json"))
        yield from (judged.used, judged.deflections, judged.comparisons, judged.faults, judged.stops, judged.notes)
    beam = ps.Beam.overhanging("2 m", "6 m", "1 m", "20000 kN·m^2")
    load = ps.Load.line("0 m", "9 m", "10 kN/m")
    case = beam.response([load])
    yield from (case.extremes("moment"), case.reactions, beam.influence("moment", at="5 m").worst("3 kN/m"))
    envelope = ps.Envelope([case, beam.response([ps.Load.point("5 m", "40 kN")])])
    yield from (envelope.extremes("shear"), envelope.pairs("moment", "5 m"))
    simple = ps.Beam.simple("8 m", "20000 kN·m^2")
    reference = ps.Reference(simple, {"D": ps.Load.line("0 m", "8 m", "10 kN/m")}, region=("3 m", "5 m"))
    reach = [ps.Reach("moment", "3 m", "5 m")]
    found = ps.optimise(reference, [ps.jack("2.5 m"), ps.jack("4 m"), ps.jack("5.5 m")], "total", reach)
    assert isinstance(found, ps.Certified)
    yield from (found.certificates, found.confirmation, found.reached(), found.warnings())
    yield found.as_built(ps.Deviations(place="50 mm", force=0.02))
    conflict = ps.optimise(reference, [ps.jack("4 m")], "total", [*reach, ps.DeflectionLimit(down="0.01 mm")])
    assert isinstance(conflict, ps.Conflict)
    yield from (conflict.certificate, conflict.relaxations)
    yield ps.ponding(simple, ["0 m", "8 m"], ["50 mm", "50 mm"], "2 m")
    yield ps.snow_drift("ASCE 7-16", ground="1.5 kPa", balanced="1 kPa", upper="20 m", lower="10 m", step="3 m", importance=1.0)
    loads = ps.Loads(width="2 m", self_weight="5 kPa", live="4 kPa", in_place="self_weight")
    yield ps.compare(simple, loads, ps.Doubt("flexure", "2 m", "6 m"), "strip")


def walked(value: Any, path: str = "") -> Iterator[tuple[str, ps.Part[Any]]]:
    if isinstance(value, ps.Part):
        yield path or type(value).__name__, value
        for key, inner in value.items():
            yield from walked(inner, f"{path or type(value).__name__}.{key}")
    elif isinstance(value, list):
        for inner in value:
            yield from walked(inner, f"{path}[]")


ALL = [pair for answer in answers() for pair in walked(answer)]


def test_the_stub_names_the_values_of_every_part() -> None:
    stub = {n.name: n for n in ast.parse(STUB.read_text(encoding="utf-8")).body if isinstance(n, ast.ClassDef)}
    assert len(PARTS) > 50
    for made in PARTS:
        node = stub[made.__name__]
        told = [n.target.id for n in node.body if isinstance(n, ast.AnnAssign) and isinstance(n.target, ast.Name)]
        assert [name.rstrip("_") for name in told] == list(made._fields), made
        literal = ast.unparse(node.bases[0])
        assert all(f"'{name}'" in literal for name in made._fields), made


def fits(value: Any, annotation: str) -> bool:
    """Whether a value is what the stub says."""
    alternatives = [a.strip() for a in annotation.split(" | ")]
    for one in alternatives:
        if one == "Any" or (one == "None" and value is None) or (one == "_Side" and value in ("left", "right")):
            return True
        if one.startswith("list[") and isinstance(value, list):
            if all(fits(v, one[5:-1]) for v in value):
                return True
        elif one.startswith("tuple[") and isinstance(value, tuple):
            return True
        elif one.startswith("dict[") and isinstance(value, dict):
            return True
        elif one == "_Issue" and isinstance(value, dict):
            return True
        kinds = {"str": str, "bool": bool, "float": float}
        if one in kinds and type(value) is kinds[one]:
            return True
        if one == "int" and type(value) is int:
            return True
        if hasattr(ps, one) and isinstance(getattr(ps, one), type) and isinstance(value, getattr(ps, one)):
            return True
    return False


def test_every_value_is_what_the_stub_says() -> None:
    stub = {n.name: n for n in ast.parse(STUB.read_text(encoding="utf-8")).body if isinstance(n, ast.ClassDef)}
    wrong = set()
    seen = set()
    for path, part in ALL:
        name = type(part).__name__
        seen.add(name)
        types = {n.target.id: ast.unparse(n.annotation) for n in stub[name].body if isinstance(n, ast.AnnAssign) and isinstance(n.target, ast.Name)}
        unknown = set(part) - set(part._fields)
        if unknown:
            wrong.add(f"{path}: {sorted(unknown)} is not told")
        for attribute, annotation in types.items():
            if not fits(getattr(part, attribute), annotation):
                wrong.add(f"{path}.{attribute}: {getattr(part, attribute)!r:.60} is not {annotation}")
    assert not wrong, "\n".join(sorted(wrong))
    # nothing known to be a part is left a dict
    assert {"Rig", "Shoring", "Schedule", "Extremes", "Certificate", "AsBuilt", "Ponding", "ComparedEdition"} <= seen


def test_no_dict_is_left_inside_a_part() -> None:
    left = {f"{path}.{key}" for path, part in ALL for key, value in part.items() if isinstance(value, dict)}
    assert not {place for place in left if not place.endswith((".stages", ".refused"))}


def test_a_part_pickles_copies_and_compares() -> None:
    for path, part in ALL:
        if isinstance(part, ps.Ponding):
            continue  # actions of a beam are no plain values
        again = pickle.loads(pickle.dumps(part))
        assert type(again) is type(part) and again == part, path
        assert copy.copy(part) == part and copy.deepcopy(part) == part and part == part.to_dict()
        assert isinstance(part, Mapping) and dict(part) == {k: part[k] for k in part}
        json.dumps(part.to_dict("US"))


def test_a_part_shows_itself_in_the_units_of_the_reader() -> None:
    design = ps.design(read("gallery_beam", "test.json"))
    press = design.rig.presses[0]
    assert "at=4.5 m" in repr(press) and "force=113.16857 kN" in repr(press)
    assert f"{press:US}".startswith("RigPress(at=14.76") and "lbf" in f"{press:US}"
    with pytest.raises(ValueError, match="`metric` is not a format of a part: SI, US, or none"):
        format(press, "metric")
    ps.show_in("US")
    try:
        assert "at=14.76" in repr(press) and "lbf" in repr(design.rig)
    finally:
        ps.show_in("SI")
    with pytest.raises(AttributeError, match="RigPress has no `place`: at, force, circuit, by"):
        _ = press.place  # type: ignore[attr-defined]
    with pytest.raises(KeyError):
        _ = press["place"]  # type: ignore[index]
    assert press.circuit is None and "circuit" not in press and press.get("circuit", "none") == "none"
    assert {"at", "force", "to_dict"} <= set(dir(press))


def test_a_part_may_be_given_where_a_dict_may() -> None:
    asked = ps.LayoutSpec(carrier={"kind": "jack_line", "at": "6 ft"})
    part: Any = ps.Part(asked.to_dict()["carrier"])
    assert ps.LayoutSpec(carrier=part) == asked


def test_a_part_by_hand_holds_what_a_document_can() -> None:
    """A dict that holds itself, and one nested deeper than a document: refused, no error of Python's own."""
    circle: dict[str, Any] = {"code": "x"}
    circle["path"] = [circle]
    deep: Any = "end"
    for _ in range(100_000):
        deep = [deep]
    for values in (circle, {"code": deep}):
        with pytest.raises(ps.InputError) as refused:
            ps.Note(values)
        assert [issue["code"] for issue in refused.value.issues] == ["source.depth"]
        assert refused.value.issues[0]["path"] == "values"
    class Broken:
        def __repr__(self) -> str:
            raise RuntimeError("no")

    with pytest.raises(ps.InputError, match="no answer holds a value of the class `Broken`"):
        ps.Note({"code": [Broken()]})
    assert ps.Note({"code": "x", "path": "", "message": "said"}).message == "said"
