"""What may not pass passes no door: steps while a stop holds, names of shipped editions, powers, logs."""

import json
import pathlib
import pickle

import pytest

import proofspan as ps
from proofspan.units import m

SCENARIOS = pathlib.Path(__file__).parents[2] / "examples" / "scenarios"


def text(name: str) -> str:
    return (SCENARIOS / f"terrace_strip.{name}").read_text(encoding="utf-8")


def stopped() -> ps.Design:
    document = json.loads(text("test.json"))
    document["rig"]["counterweights"] = []
    document["records"]["zone_clear"]["state"] = "not_done"
    return ps.design(document)


def test_no_step_while_a_stop_holds() -> None:
    design = stopped()
    held = [stop["code"] for stop in design.stops if stop["holds"]]
    assert {"rig.liftoff-below-floor", "protocol.people-in-zone"} <= set(held)
    assert design.to_dict()["schedule"] == {"stopped": held}
    assert json.loads(design.to_json())["schedule"] == {"stopped": held}
    for door in (lambda: design.schedule, design.cleared, lambda: ps.judge(design, text("log.csv"), json.loads(text("log.json")), json.loads(text("record.json")))):
        with pytest.raises(ps.StopError) as caught:
            door()
        assert [issue["code"] for issue in caught.value.issues] == held
    # 25 % and 50 % of 2098760/117 lbf
    for page in (design.html(), design.markdown(), design.working("US"), repr(design), design._repr_html_()):
        assert "4484.5" not in page and "8969.0" not in page
    for page in (design.html(), design.markdown()):
        assert "The steps are withheld while a stop holds: " + ", ".join(held) in page
    assert pickle.loads(pickle.dumps(design)).to_dict()["schedule"] == {"stopped": held}


def test_steps_where_none_holds() -> None:
    design = ps.design(text("test.json"))
    assert design.to_dict()["schedule"] == design.schedule
    assert design.schedule["steps"][0]["force"].to("lbf") == pytest.approx(2098760 / 117 / 4)
    assert "4484.53 lbf" in design.html()


OWN = """
id = "own"
name = "Own rule"
title = "Invented"
year = 2026
status = "current"
clause = "1"
default_set = "a"
[[sets]]
id = "a"
about = "the only set"
confidence = "user"
rows = [ { id = "r", factors = { Dw = 1.0, L = 1.5 } } ]
"""


def target(edition: object) -> ps.Target:
    loads = ps.Loads(width=1 * m, self_weight="4 kPa", live="2 kPa", in_place=["self_weight"])
    return ps.target(ps.Beam.simple(8 * m, "30000 kN·m^2"), loads, edition, ps.Doubt("flexure", "0 m", "8 m"), "strip")  # type: ignore[arg-type]


def refused(edition: object) -> list[str]:
    with pytest.raises(ps.InputError) as caught:
        target(edition)
    return [issue["code"] for issue in caught.value.issues]


def test_an_edition_of_ones_own_is_marked() -> None:
    own = target(ps.EditionChoice("own", file=OWN))
    name, mark = own.edition.split(" (own edition ")
    assert name == "Own rule" and len(mark) == 13 and own.edition in repr(own)
    assert target(ps.EditionChoice("own", file=OWN + "# a remark\n")).edition == own.edition
    assert target(ps.EditionChoice("own", file=OWN.replace("1.5", "1.6"))).edition != own.edition
    assert refused(ps.EditionChoice("own", file=OWN.replace("Own rule", "aci 318-19"))) == ["editions.shipped-name"]
    assert refused(ps.EditionChoice("ACI 318-19", file=OWN)) == ["editions.file"]


def test_hostile_editions_end_in_a_sentence() -> None:
    bridge = "[bridge_proof]\nbase = 1.4\nat_least = 2.2\nat_most = 1.3\nadjust_percent = []\nstopped_by_distress = 0.88\nconfidence = 'user'\n"
    assert refused(ps.EditionChoice("own", file=OWN + bridge)) == ["editions.file"]
    for limit, code in (("1" + "+1" * 1_000_000 + " < 2", "formula.size"), ("d_max^100*d_max^100 > 1 m", "formula.power"), ("(" * 100_000, "formula.size")):
        criterion = f"[[criteria]]\nmethod = 'monotonic'\nid = 'c'\nabout = 'x'\nlimit = '{limit}'\nclause = '1'\nconfidence = 'user'\n"
        assert set(refused(ps.EditionChoice("own", file=OWN + criterion))) == {code}
    for factor in (float("nan"), float("inf"), -1.0, 1e9):
        project = {"id": "project", "project": {"title": "Agreed", "by": "engineer", "reason": "agreed", "rows": [{"id": "p", "factors": {"Dw": 1.0, "L": factor}}]}}
        assert refused(project) == ["editions.factor"]


def test_powers_without_end() -> None:
    far = (1 * m) ** 20
    assert (far / far) == 1
    for power in (lambda: (1 * m) ** 100, lambda: far * far, lambda: 1 / far / far, lambda: far * [1.0, 2.0] * far):
        with pytest.raises(ps.ProofspanError) as caught:
            power()
        assert [issue["code"] for issue in caught.value.issues] == ["formula.power"]


def test_logs_that_cannot_be_read() -> None:
    layout = json.loads(text("log.json"))
    for log in (pathlib.Path("no/such/log.csv"), 3):
        with pytest.raises(ps.DataError) as caught:
            ps.read_log_faults(log, layout)
        assert [issue["code"] for issue in caught.value.issues] == ["readings.file"]


def test_a_long_value_shows_its_head() -> None:
    document = json.loads(text("test.json"))
    document["display"] = "x" * 10_000_000
    with pytest.raises(ps.InputError) as caught:
        ps.design(document)
    assert len(str(caught.value)) < 4000 and caught.value.issues[0]["value"].endswith("…")
