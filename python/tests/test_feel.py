"""How the package feels: signatures, completion, copies, texts in the units of the reader, threads, Ctrl-C."""

from __future__ import annotations

import ast
import contextlib
import copy
import doctest
import functools
import importlib.metadata
import inspect
import json
import os
import pickle
import re
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

import pytest

import proofspan as ps
from proofspan.units import kN, m, mm

ROOT = Path(__file__).resolve().parents[2]
SCENARIOS = ROOT / "examples" / "scenarios"
STUB = ROOT / "python" / "src" / "proofspan" / "_core.pyi"
DOCUMENTS = [name for name in ps.__all__ if hasattr(getattr(ps, name), "fields")]


def document(name: str = "terrace_strip") -> dict[str, Any]:
    return dict(json.loads((SCENARIOS / f"{name}.test.json").read_text(encoding="utf-8")))


def read(name: str, end: str) -> str:
    return (SCENARIOS / f"{name}.{end}").read_text(encoding="utf-8")


def test_every_function_has_an_example_that_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    finder, runner = doctest.DocTestFinder(recurse=False), doctest.DocTestRunner()
    without = []
    for name in ps.__all__:
        made = getattr(ps, name)
        examples = 0
        for test in finder.find(made, name, globs={}):
            examples += len(test.examples)
            runner.run(test)
        # the line that imports the package shows nothing
        if callable(made) and not isinstance(made, type) and examples < 2:
            without.append(name)
    assert runner.failures == 0
    assert not without, f"no example that runs: {', '.join(without)}"


@pytest.mark.parametrize("name", DOCUMENTS)
def test_a_signature_names_the_fields_of_the_record(name: str) -> None:
    made = getattr(ps, name)
    parameters = inspect.signature(made).parameters
    fields = ["from_" if field == "from" else field for field in made.fields()]
    assert list(parameters)[: len(fields)] == fields
    # completion after a dot, and help of a field
    assert set(fields) <= set(dir(made)) and all(getattr(made, field).__doc__ for field in fields)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_stub_names_the_same(name: str) -> None:
    stub = ast.parse(STUB.read_text(encoding="utf-8"))
    node = next(n for n in stub.body if isinstance(n, ast.ClassDef) and n.name == name)
    new = next(n for n in node.body if isinstance(n, ast.FunctionDef) and n.name == "__new__")
    by_place = [a.arg for a in new.args.args[1:]]
    by_name = [a.arg for a in new.args.kwonlyargs]
    parameters = inspect.signature(getattr(ps, name)).parameters.values()
    assert by_place == [p.name for p in parameters if p.kind is p.POSITIONAL_OR_KEYWORD]
    assert by_name == [p.name for p in parameters if p.kind is p.KEYWORD_ONLY]
    required = len(new.args.args) - 1 - len(new.args.defaults)
    assert required == sum(p.kind is p.POSITIONAL_OR_KEYWORD and p.default is p.empty for p in parameters)


def test_a_type_checker_refuses_what_is_misspelt(tmp_path: Path) -> None:
    wrong = {
        'ps.Loads(widht="2 m")': "widht",
        'ps.Doubt("shear", "0 m", too="1 m")': "too",
        'layout.overshoot("bending", "net")': "bending",
        'ps.acceptance("ACI 318-19", "6 mm", spam="6 m")': "spam",
        'ps.edition("ACI 318-19").sets[0].row': "row",
        'ps.Doubt("shear", "0 m", "1 m").form': "form",
        'design.rig["piston"]': "piston",
        'design.rig.stage': "stage",
        'ps.show_in("metric")': "metric",
    }
    right = [
        'ps.Loads(width="2 m", live="3 kPa")',
        'layout.overshoot("moment", "net")',
        'ps.edition("ACI 318-19").sets[0].rows[0].factors["L"]',
    ]
    lines = ["import proofspan as ps", "def f(layout: ps.Layout, design: ps.Design) -> None:"]
    lines += [f"    {line}" for line in (*wrong, *right)]
    snippet = tmp_path / "snippet.py"
    snippet.write_text("\n".join(lines) + "\n", encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--no-error-summary", "--cache-dir", str(tmp_path), str(snippet)]
    # an installed package is found by itself, and mypy refuses to be told where
    source = Path(ps.__file__).parents[1]
    path = {} if source.name == "site-packages" else {"MYPYPATH": str(source)}
    found = subprocess.run(command, capture_output=True, text=True, env={**os.environ, **path}, check=False)
    told = {int(line.split(":")[1]) for line in found.stdout.splitlines() if ": error:" in line}
    assert told == set(range(3, 3 + len(wrong))), found.stdout + found.stderr
    for word in wrong.values():
        assert word in found.stdout, word


SECTION = {
    "shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"},
    "concrete": {"strength": "30 MPa", "modulus": "25 GPa"},
    "bars": {"area": "1500 mm²", "depth": "540 mm", "yields": "420 MPa"},
}


def everything() -> dict[str, Any]:
    design = ps.design(document())
    text, layout, record = (read("terrace_strip", end) for end in ("log.csv", "log.json", "record.json"))
    post = ps.Catch(at="5 m", stiffness="10 kN/mm", gap="10 mm", resistance={"posts": 4, "rated": "100 kN"})
    return {
        "quantity": 3 * kN,
        "column": ps.Column([1, 2], "m"),
        "document": ps.Doubt("shear", "0 m", "1 m"),
        "design": design,
        "judgement": ps.judge(design, text, layout, record),
        "acceptance": ps.acceptance("ACI 437.2-13", 12 * mm, residual="2 mm", span="6 m"),
        "test_load": ps.test_load("ACI 437.2-13", {"self_weight": "5 kPa", "live": "4 kPa"}, in_place="self_weight"),
        "reaction": ps.reaction("8 m", "10 kN/m", [("3 m", "60 kN")]),
        "hydraulics": ps.hydraulics("100 kN", area="5000 mm²", rated_pressure="70 MPa", stroke="150 mm"),
        "shear": ps.shear_strength("ACI 318-19", "30 MPa", "300 mm", "500 mm", "1000 mm²"),
        "without": ps.without_strengthening("moment", "ACI 440.2R (9.2)", "1 kN·m", "2 kN·m", strength="3 kN·m"),
        "local": ps.local_strength("bearing", strength="20 MPa", area="0.02 m²", spread="0.08 m²"),
        "wraps": ps.wrap_shear(
            "complete", "20 MPa", "400 mm", thickness="0.2 mm", modulus="230 GPa", ultimate_strain="0.015 m/m",
            width="250 mm", spacing="300 mm",
        ),
        "section_strength": ps.section_strength(SECTION, code="ACI 318-19", cracking="ACI 318-19, MPa"),
        "deflections": ps.deflections("6 m", SECTION, "0 kN/m", [("3 m", "120 kN")], cracking="ACI 318-19, MPa"),
        "catch": ps.catch("10 m", "10 kN/m", post, mode="shear", region=("0 m", "1 m"), to_ground=True),
        "edition": ps.edition("ACI 437.2-13"),
    }


EVERYTHING = everything()
PICKLED = [name for name in EVERYTHING if name != "judgement"]  # that would carry its whole log


@pytest.mark.parametrize("name", list(EVERYTHING))
def test_a_copy_is_equal(name: str) -> None:
    one = EVERYTHING[name]
    assert copy.copy(one) == one and copy.deepcopy(one) == one
    assert one != object() and one == one


@pytest.mark.parametrize("name", PICKLED)
def test_a_pickle_is_equal(name: str) -> None:
    one = EVERYTHING[name]
    again = pickle.loads(pickle.dumps(one))
    assert again == one and repr(again) == repr(one)


@pytest.mark.parametrize("name", [n for n in EVERYTHING if n not in ("quantity", "column")])
@pytest.mark.parametrize("units", ["SI", "US"])
def test_a_dict_in_units_is_json(name: str, units: str) -> None:
    plain = EVERYTHING[name].to_dict(units=units)
    assert json.loads(json.dumps(plain)) == plain
    if name == "reaction":
        text = json.dumps(plain["bearings"], ensure_ascii=False)
        assert (" kN" in text) == (units == "SI") and (" lbf" in text) == (units == "US")


def test_a_dict_in_units_reads_back() -> None:
    reaction = EVERYTHING["reaction"]
    told = reaction.to_dict(units="US")["bearings"][0]["stabilising"]
    assert ps.Quantity(told, "Force").si == pytest.approx(reaction.bearings[0].stabilising.si, rel=1e-15)


def test_quantities_show_themselves_in_the_units_of_the_reader() -> None:
    span = ps.Quantity("10 ft")
    try:
        ps.show_in("US")
        assert repr(span) == "10 ft (Length)"
        assert "lbf" in repr(EVERYTHING["reaction"].bearings[0])
        assert " ft" in repr(ps.Doubt("shear", "0 ft", "10 ft"))
    finally:
        ps.show_in("SI")
    assert repr(span).startswith("3.048") and "kN" in repr(EVERYTHING["reaction"].bearings[0])
    with pytest.raises(ps.InputError) as refused:
        ps.show_in("imperial")  # type: ignore[arg-type]
    assert refused.value.issues[0]["path"] == "units"


def test_format() -> None:
    force = ps.Quantity("17.9381 kN", "Force")
    assert f"{force:.2f kN}" == "17.94 kN" and f"{force:.0f N}" == "17938 N" and f"{force:.1f}" == "17.9 kN"
    assert f"{force:kN}" == "17.9381 kN" and f"{force:US}".endswith(" lbf") and f"{force:>10.2f kN}" == "     17.94 kN"
    assert f"{force}" == f"{force:SI}" and f"{ps.Quantity('0.5', 'Ratio'):.1%}" == "50.0%"
    with pytest.raises(ps.InputError):
        f"{force:.2f m}"


def test_float_of_a_ratio() -> None:
    assert float((3 * kN) / (2 * kN)) == 1.5 and float(ps.Quantity("50 %", "Ratio")) == 0.5
    with pytest.raises(ps.InputError) as refused:
        float(3 * kN)
    assert refused.value.issues[0]["code"] == "units.dimension"


def test_replace_reaches_nested_parts() -> None:
    spec = ps.TestSpec(**document())
    by_path = spec.replace({"beam.clear_span": "43 ft", "loads.actions[2].area": "50 psf"})
    assert by_path == spec.replace(beam__clear_span="43 ft", loads__actions__2__area="50 psf")
    assert by_path.beam["clear_span"] == "43 ft" and by_path.title == spec.title
    assert spec.replace({"beam.clear_span": spec.beam["clear_span"]}) == spec
    doubt = ps.Doubt("shear", "0 m", "1 m").replace(from_="0.5 m")
    assert doubt.from_ in ("0.5 m", 0.5 * m)
    with pytest.raises(ps.InputError) as refused:
        spec.replace({"beam.spam": "1 m", "loads.actions[99].area": "1 kPa"})
    assert "loads.actions[99].area" in [issue["path"] for issue in refused.value.issues]
    with pytest.raises(ps.InputError) as refused:
        spec.replace({"beam.spam": "1 m"})
    assert refused.value.issues[0]["path"] == "beam.spam"


def test_the_version_of_a_document_is_filled_in() -> None:
    whole = document()
    version = whole.pop("schema_version")
    assert ps.TestSpec(**whole).schema_version == version
    assert ps.design(ps.TestSpec(**whole)) == ps.design(document())


def test_a_working_is_data() -> None:
    reaction = ps.reaction("8 m", "10 kN/m", [("3 m", "60 kN")], weights=[("2 m", "20 kN")])
    working = reaction.working()
    assert len(working) == len(working.steps) > 5 and str(working) == working.text()
    for i, step in enumerate(working.steps):
        assert step.what and step.source and step.line and all(n > i for n in step.next)
        for n in step.next:
            assert any(q == step.result for _, _, q in working[n].inputs)
    factor = next(s for s in working.steps if any("bearings[0].factor" in a for a in s.answers))
    assert factor.result.si == pytest.approx(55 / 37.5, rel=1e-12) and working.recheck() == []
    assert working[-1] == working.steps[-1] and json.dumps(working.to_dict(units="US"))
    assert "align*" in working.latex() and "<p>" in working.html() and "- " in working.markdown()
    assert ps.acceptance("ACI 318-19", "6 mm", span="6 m").working("US").units == "US"
    with pytest.raises(IndexError):
        working[len(working)]


def test_u_is_redone_by_hand() -> None:
    # limit d_max/4: slopes 1/4 in the largest, -1 in the residual, 3/4 in the zero reading; U = 2 u
    found = ps.acceptance("ACI 437.2-13", "12 mm", residual="2 mm", span="6 m", depth="400 mm", u="0.1 mm")
    expanded = [s.result.to("mm") for s in found.working().steps if s.symbol == "U"]
    assert expanded[-1] == pytest.approx(0.2 * (1 / 16 + 1 + 9 / 16) ** 0.5, rel=1e-9)


def test_an_edition_of_ones_own(tmp_path: Path) -> None:
    text = (ROOT / "crates/proofspan/editions/is-456-2000.toml").read_text(encoding="utf-8")
    own = tmp_path / "office.toml"
    own.write_text(text.replace("IS 456:2000", "office rule").replace("is-456-2000", "office-rule"), encoding="utf-8")
    edition = ps.edition(own)
    assert edition.id == "office-rule" and "own edition" in edition.name
    assert edition.sets and edition.criteria and edition.sets[0].confidence in ("V", "M", "M-M")
    with pytest.raises(ps.InputError) as refused:
        ps.edition(tmp_path / "none.toml")
    assert refused.value.issues[0]["code"] == "editions.file"
    with pytest.raises(ps.InputError) as refused:
        ps.edition("ACI 318-91")
    assert refused.value.issues[0]["path"] == "edition.id"


def test_a_record_is_judged_without_a_document() -> None:
    design = EVERYTHING["design"]
    text, layout, record = (read("terrace_strip", end) for end in ("log.csv", "log.json", "record.json"))
    beam = design.spec.beam
    found = ps.judge_record(
        design.spec.edition["id"], text, layout, record,
        span=beam["span"], clear_span=beam["clear_span"], depth=beam["depth"], force=design.layout.force, unit="strip",
    )  # fmt: skip
    inside = EVERYTHING["judgement"]
    assert [(i, code) for i, code, _ in found.criteria] == [row[:2] for row in inside.criteria if row[0] in [c[0] for c in found.criteria]]
    assert found.not_judged and inside.not_judged == []
    # but for the words of the corrections, which follow the units of the document
    said = [[{k: v for k, v in d.items() if k != "corrections"} for d in j.to_dict()["deflections"]] for j in (found, inside)]
    assert said[0] == said[1]
    with pytest.raises(ps.InputError) as refused:
        ps.judge_record("ACI 437.2-13", text, layout, record, span="-6 m", force="3 m")
    assert sorted(issue["path"] for issue in refused.value.issues) == ["force", "span"]


def slow_search() -> None:
    beam = ps.Beam.simple("12 m", "30000 kN·m²")
    loads = {"live": ps.Load.line("0 m", "12 m", "10 kN/m")}
    reference = ps.Reference(beam, loads)
    places = [ps.jack(0.2 * i * m) for i in range(1, 60)]
    ps.search(reference, places, "total", 6, requirements=[ps.Reach("moment")])


def slow_refine() -> None:
    beam = ps.Beam.simple("12 m", "30000 kN·m²")
    reference = ps.Reference(beam, {"live": ps.Load.line("0 m", "12 m", "10 kN/m")})
    n = 10
    jacks = [ps.jack((i + 1) * 12 / (n + 1) * m) for i in range(n)]
    rooms: list[Any] = [(12 / (n + 1) * (i + 0.6) * m, 12 / (n + 1) * (i + 1.4) * m) for i in range(n)]
    for _ in range(50):
        ps.refine(reference, jacks, rooms, ps.Objective("overshoot", "moment", "net"), [ps.Reach("moment")])


@functools.cache
def long_log() -> str:
    """A million rows, invented."""
    heading = read("terrace_strip", "log.csv").split("\n", 1)[0]
    rows = "\n".join(f"{i * 1e-5:.5f},0,0,0,0.1,0.1,0.05,0.03" for i in range(1_000_000))
    return f"{heading}\n{rows}\n"


def slow_judge() -> None:
    for _ in range(50):
        # nothing moves in this log: it is refused at its end
        with contextlib.suppress(ps.DataError):
            ps.judge(EVERYTHING["design"], long_log(), read("terrace_strip", "log.json"), read("terrace_strip", "record.json"))


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="no interval timer here")
@pytest.mark.parametrize("slow", [slow_search, slow_refine, slow_judge])
def test_ctrl_c_is_obeyed(slow: Any) -> None:
    rung: list[float] = []

    def ring(*_: Any) -> None:
        rung.append(time.perf_counter())
        raise KeyboardInterrupt

    long_log()
    before = signal.signal(signal.SIGALRM, ring)
    try:
        signal.setitimer(signal.ITIMER_REAL, 0.2)
        with pytest.raises(KeyboardInterrupt):
            slow()
        late = time.perf_counter() - rung[0]
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
    assert late < 0.1, late


def test_other_threads_go_on_while_one_calculates() -> None:
    ticks = 0
    stop = threading.Event()

    def tick() -> None:
        nonlocal ticks
        while not stop.is_set():
            ticks += 1
            time.sleep(0.001)

    thread = threading.Thread(target=tick)
    thread.start()
    begun = time.perf_counter()
    for _ in range(20):
        ps.design(document())
    seconds = time.perf_counter() - begun
    stop.set()
    thread.join()
    assert ticks > 10 * seconds, (ticks, seconds)


def test_what_is_missing_is_named_with_the_command() -> None:
    code = "import sys; sys.modules['{0}'] = None; import proofspan as ps\ntry: {1}\nexcept ImportError as e: print(e)"
    beam = "ps.Beam.simple('6 m', '1000 kN·m²').plot()"
    for module, call, extra in (
        ("matplotlib", beam, "pictures"),
        ("numpy", "ps.Column([1, 2], 'm').to('m')", "frames"),
    ):
        found = subprocess.run([sys.executable, "-c", code.format(module, call)], capture_output=True, text=True, check=True)
        assert f"pip install 'proofspan[{extra}]'" in found.stdout, found.stdout + found.stderr
    project = (ROOT / "python" / "pyproject.toml").read_text(encoding="utf-8")
    assert re.search(r"^pictures = \[.*matplotlib", project, re.M) and re.search(r"^frames = \[.*pandas", project, re.M)


def test_the_wheel_carries_licence_and_notices() -> None:
    assert (ROOT / "python/LICENSE").read_bytes() == (ROOT / "LICENSE").read_bytes()
    notices = (ROOT / "python/NOTICE.md").read_text(encoding="utf-8")
    lock = (ROOT / "Cargo.lock").read_text(encoding="utf-8")
    named = re.findall(r"^\| ([\w-]+) \| ([^ ]+) \| (.+) \|$", notices, re.M)
    assert {"pyo3", "nalgebra", "serde_json", "num-bigint", "csv", "toml"} <= {row[0] for row in named}
    for name, version, licence in named[1:]:
        assert f'name = "{name}"\nversion = "{version}"' in lock, f"{name} {version}: write the notices again"
        assert licence
    project = (ROOT / "python/pyproject.toml").read_text(encoding="utf-8")
    assert 'license-files = ["LICENSE", "NOTICE.md"]' in project
    try:
        files = importlib.metadata.files("proofspan") or []
    except importlib.metadata.PackageNotFoundError:
        return
    if any(str(f).endswith(".dist-info/RECORD") for f in files) and not any(str(f).endswith(".pth") for f in files):
        assert any("licenses" in str(f) for f in files)


def test_import_is_quick() -> None:
    code = "import time; t = time.perf_counter(); import proofspan; print(time.perf_counter() - t)"
    seconds = min(float(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout) for _ in range(5))
    # 5 ms with a release build on a quiet machine; tenfold here
    assert seconds < 0.05, seconds


def test_a_nearest_word_is_named_only_when_near() -> None:
    with pytest.raises(ps.InputError) as refused:
        ps.Loads(widht="2 m", live="3 kPa", colour="red")  # type: ignore[call-arg]
    remedies = {issue["path"]: issue["remedy"] for issue in refused.value.issues}
    assert remedies["widht"] == "did you mean `width`?" and "did you mean" not in remedies["colour"]


@pytest.mark.parametrize("name", sorted(p.name.removesuffix(".record.json") for p in SCENARIOS.glob("*.record.json")))
def test_every_judgement_is_drawn(name: str) -> None:
    """Weights and water have no force of record, and so no target force."""
    design = ps.design(document(name))
    judged = ps.judge(design, read(name, "log.csv"), read(name, "log.json"), read(name, "record.json"))
    for judgement in (judged, *(stage for _, stage in judged.stages)):
        if judgement is not None:
            assert judgement.plot("US").get_xlabel() == "deflection, in"
