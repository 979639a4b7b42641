"""Logs that are none, or that do not show what they are taken for: refused, or left open with the reason."""

from __future__ import annotations

import json
import pathlib
from typing import Any

import numpy as np
import pandas as pd  # type: ignore[import-untyped]
import pytest

import proofspan as ps

SCENARIOS = pathlib.Path(__file__).parents[2] / "examples" / "scenarios"
CSV = SCENARIOS / "gallery_beam.log.csv"
TEXT = CSV.read_text(encoding="utf-8")
DESIGN = ps.design((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8"))
LAYOUT: dict[str, Any] = json.loads((SCENARIOS / "gallery_beam.log.json").read_text(encoding="utf-8"))
RECORD: dict[str, Any] = json.loads((SCENARIOS / "gallery_beam.record.json").read_text(encoding="utf-8"))
FRAME = pd.read_csv(CSV, na_values=["-"])
STAMPED = {**LAYOUT, "time": {"column": "time_h"}}


def layout(**changed: Any) -> dict[str, Any]:
    """The layout with other parts."""
    return {**LAYOUT, **changed}


def moments(**changed: Any) -> dict[str, Any]:
    """The layout with other moments; nothing takes one away."""
    all_of = {**LAYOUT["moments"], **changed}
    return layout(moments={name: at for name, at in all_of.items() if at is not None})


def channel(name: str, **changed: Any) -> dict[str, Any]:
    """The layout with another channel."""
    return layout(channels=[{**c, **changed} if c["id"] == name else c for c in LAYOUT["channels"]])


def refused(log: Any, of: dict[str, Any] | None = None, record: dict[str, Any] | None = None) -> ps.ProofspanError:
    with pytest.raises(ps.ProofspanError) as told:
        ps.judge(DESIGN, log, of or LAYOUT, record or RECORD)
    return told.value


def codes(error: ps.ProofspanError) -> list[str]:
    return [issue["code"] for issue in error.issues]


def states(judgement: ps.Judgement, criterion: str) -> list[str]:
    return [guarded for name, _, guarded in judgement.criteria if name == criterion]


def notes(judgement: ps.Judgement) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = judgement.to_dict()["notes"]
    return found


def changed(column: str, when: Any, value: float | None) -> pd.DataFrame:
    """The log with one value of a column at some times (hours)."""
    frame = FRAME.copy()
    frame.loc[when(frame["time_h"]), column] = np.nan if value is None else value
    return frame


def test_no_zero() -> None:
    assert codes(refused(TEXT, moments(zero=None))) == ["readings.zero-missing"]


def test_zero_under_load() -> None:
    judged = ps.judge(DESIGN, changed("P_kN", lambda t: t <= 0.3, 40.0), LAYOUT, RECORD)
    assert states(judged, "zero") == ["inconclusive"]
    assert judged.state != "pass"


def test_one_row_or_none() -> None:
    head = TEXT.splitlines()
    for log in ["\n".join(head[:1]) + "\n", "\n".join(head[:2]) + "\n", FRAME[:1], FRAME[:0], ""]:
        assert codes(refused(log)) == ["readings.empty"], log


def test_a_map_that_names_no_column_suggests_the_nearest() -> None:
    for log in [TEXT, FRAME, FRAME.to_json(orient="records", lines=True)]:
        error = refused(log, channel("mid", column="mid_m"))
        assert codes(error) == ["readings.column-missing"], error
        assert "did you mean `mid_mm`" in str(error)


def test_a_path_as_text() -> None:
    for log in [str(CSV), "no/such/file.csv", "C:\\logs\\test.csv", f"{CSV}\n"]:
        error = refused(log)
        assert codes(error) == ["readings.file"], error
        assert "pathlib.Path" in str(error)
    assert ps.judge(DESIGN, CSV, LAYOUT, RECORD).state == "pass"


def test_zones() -> None:
    start = pd.Timestamp("2026-06-09 10:00")
    wall = (start + pd.to_timedelta(FRAME["time_h"], unit="h")).dt.round("us")
    bare = wall.dt.strftime("%Y-%m-%dT%H:%M:%S")
    mixed = [t + ("+02:00" if i < 9 else "") for i, t in enumerate(bare)]
    error = refused(FRAME.assign(time_h=mixed), STAMPED)
    assert codes(error) == ["readings.zone"], error
    for times in [wall, bare]:
        error = refused(FRAME.assign(time_h=times), STAMPED)
        assert codes(error) == ["readings.zone"], error
        assert "zone" in str(error)
        assert "decimal" not in str(error)
    written = FRAME.assign(time_h=wall.dt.strftime("%d.%m.%Y %H:%M")).to_csv(index=False)
    assert "decimal" not in str(refused(written, STAMPED))


def test_channels_of_different_length() -> None:
    arrays = {name: FRAME[name].to_numpy() for name in FRAME}
    assert codes(refused({**arrays, "P_kN": arrays["P_kN"][1:]})) == ["readings.length"]


def test_channels_without_a_sample() -> None:
    always = lambda t: t >= 0  # noqa: E731
    judged = ps.judge(DESIGN, changed("P_kN", always, None), LAYOUT, RECORD)
    assert states(judged, "hold") == states(judged, "load") == states(judged, "zero") == ["inconclusive"]
    assert judged.state == "inconclusive"
    judged = ps.judge(DESIGN, changed("quarter_mm", always, None), LAYOUT, RECORD)
    assert judged.state != "pass"
    assert any("quarter" in note["path"] for note in notes(judged))


def test_readings_after_the_test_was_broken_off() -> None:
    off = changed("P_kN", lambda t: t > 10, 0.0)
    off.loc[off["time_h"] > 10, ["mid_mm", "quarter_mm"]] = [2.6, 1.3]
    # the member still moves, above what it was at the "peak"
    error = refused(off)
    assert "criteria.residual-above-max" in codes(error)
    assert "was on in the peak window" in str(error)
    peak = moments(peak={"from": "9 h", "to": "10 h"}, unloaded="10.1 h")
    judged = ps.judge(DESIGN, off, peak, RECORD)
    assert states(judged, "hold") == ["aborted"]
    assert judged.state != "pass"


def test_a_residual_read_too_early() -> None:
    judged = ps.judge(DESIGN, TEXT, moments(residual={"from": "27 h", "to": "28 h"}), RECORD)
    assert states(judged, "residual time") == ["inconclusive"]
    assert judged.state != "pass"


def test_an_uncertainty_of_nought() -> None:
    assert codes(refused(TEXT, channel("mid", u=0))) == ["uncertainty.zero"]


def test_a_decision_about_a_fault_that_is_not_there() -> None:
    decision = {"channel": "mid", "fault": "spike", "treatment": "leave_out", "by": "engineer", "reason": "a bird"}
    error = refused(TEXT, record={**RECORD, "decisions": [decision]})
    assert codes(error) == ["criteria.decision"]
    assert "spike of mid" in str(error)


@pytest.mark.parametrize(
    ("log", "said"),
    [
        (TEXT.encode("utf-16"), "UTF-16"),
        (TEXT.encode("utf-16-le"), "UTF-16"),
        (np.random.default_rng(1).integers(0, 256, 9000, dtype="u1").tobytes(), "no text"),
        (b"PK\x03\x04\x14\x00\x06\x00", "workbook"),
        (bytearray(5000), "no text"),
    ],
    ids=["UTF-16", "UTF-16 without a mark", "rubbish", "workbook", "nothing"],
)
def test_what_is_no_text(log: bytes, said: str, tmp_path: pathlib.Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(log)
    for given in [log, path]:
        error = refused(given)
        assert codes(error) == ["readings.encoding"]
        assert said in str(error)


def test_a_residual_below_zero_is_said() -> None:
    below = changed("mid_mm", lambda t: t > 26.4, 1.0)
    for own in [LAYOUT, channel("mid", u=None)]:
        own = {**own, "channels": [{k: v for k, v in c.items() if v is not None} for c in own["channels"]]}
        judged = ps.judge(DESIGN, below, own, RECORD)
        assert any(note["code"] == "criteria.residual-negative" for note in notes(judged))
