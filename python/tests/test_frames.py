"""Logs as arrays and tables: the same readings are the same judgement, whatever holds them."""

from __future__ import annotations

import datetime as dt
import decimal
import json
import pathlib
from typing import Any

import numpy as np
import pandas as pd  # type: ignore[import-untyped]
import polars as pl
import pyarrow as pa  # type: ignore[import-untyped]
import pytest

import proofspan as ps

SCENARIOS = pathlib.Path(__file__).parents[2] / "examples" / "scenarios"
CSV = SCENARIOS / "gallery_beam.log.csv"
DESIGN = ps.design((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8"))
LAYOUT: dict[str, Any] = json.loads((SCENARIOS / "gallery_beam.log.json").read_text(encoding="utf-8"))
RECORD = (SCENARIOS / "gallery_beam.record.json").read_text(encoding="utf-8")
FRAME = pd.read_csv(CSV, na_values=["-"])
ARRAYS: dict[str, Any] = {name: FRAME[name].to_numpy() for name in FRAME}
STAMPED = {**LAYOUT, "time": {"column": "time_h"}}
VIENNA = {**LAYOUT, "time": {"column": "time_h", "zone": "Europe/Vienna"}}


def judged(log: Any, layout: dict[str, Any] | None = None) -> ps.Judgement:
    return ps.judge(DESIGN, log, layout or LAYOUT, RECORD)


def told(log: Any, layout: dict[str, Any] | None = None) -> list[tuple[str, str]]:
    with pytest.raises(ps.DataError) as refused:
        judged(log, layout)
    return [(issue["code"], issue["path"]) for issue in refused.value.issues]


WANTED = judged(CSV)
HOLDERS: dict[str, Any] = {
    "text": CSV.read_text(encoding="utf-8"),
    "bytes": CSV.read_bytes(),
    "json lines": FRAME.to_json(orient="records", lines=True),
    "arrays": ARRAYS,
    "lists": {name: FRAME[name].tolist() for name in FRAME},
    "masked": {name: np.ma.masked_invalid(values) for name, values in ARRAYS.items()},
    "structured": FRAME.to_records(index=False),
    "series": {name: FRAME[name] for name in FRAME},
    "pandas": FRAME,
    "pandas, the time as index": FRAME.set_index("time_h"),
    "pandas, nullable": FRAME.convert_dtypes(),
    "pandas, Arrow": FRAME.convert_dtypes(dtype_backend="pyarrow"),
    "pandas, texts": FRAME.astype(str).replace("nan", None),
    "polars": pl.read_csv(CSV, null_values=["-"]),
    "Arrow": pa.Table.from_pandas(FRAME),
    "a batch of Arrow": pa.RecordBatch.from_pandas(FRAME),
    "a stream of Arrow": pa.Table.from_pandas(FRAME).to_reader(),
    "Arrow arrays": {name: pa.array(FRAME[name]) for name in FRAME},
}


@pytest.mark.parametrize("holder", HOLDERS)
def test_the_same_readings_are_the_same_judgement(holder: str) -> None:
    assert judged(HOLDERS[holder]) == WANTED


def test_whole_and_short_numbers() -> None:
    whole = np.round(ARRAYS["P_kN"]).astype("int16")
    assert judged({**ARRAYS, "P_kN": whole}) == judged({**ARRAYS, "P_kN": whole.astype(float)})
    short = ARRAYS["P_kN"].astype("float32")
    assert judged({**ARRAYS, "P_kN": short}) == judged({**ARRAYS, "P_kN": short.astype(float)})
    swapped = ARRAYS["P_kN"].astype(">f8")
    assert judged({**ARRAYS, "P_kN": swapped}) == WANTED


def test_what_hides_a_sample_is_a_missing_sample() -> None:
    gaps = {
        "not-a-number": np.where(np.arange(427) < 3, np.nan, ARRAYS["P_kN"]),
        "mask": np.ma.masked_array(ARRAYS["P_kN"], mask=np.arange(427) < 3),
        "null of polars": pl.Series([None] * 3 + list(ARRAYS["P_kN"][3:])),
        "null of Arrow": pa.array([None] * 3 + list(ARRAYS["P_kN"][3:])),
        "NA of pandas": pd.Series([pd.NA] * 3 + list(ARRAYS["P_kN"][3:]), dtype="Float64"),
        "nothing in a list": [None] * 3 + list(ARRAYS["P_kN"][3:]),
    }
    for name, column in gaps.items():
        found = ps.read_log_faults({**ARRAYS, "P_kN": column}, LAYOUT)
        missing = [(f["channel"], f["count"]) for f in found if f["kind"] == "missing"]
        assert missing == [("P", 3)], name


START = pd.Timestamp("2026-06-09 10:00")
WALL = (START + pd.to_timedelta(FRAME["time_h"], unit="h")).dt.round("us")
THERE = WALL.dt.tz_localize("Europe/Vienna")


@pytest.mark.parametrize(
    ("naive", "zoned"),
    [
        (WALL, THERE),
        (WALL.to_numpy(), WALL.dt.tz_localize("+02:00")),
        (WALL.dt.to_pydatetime().tolist() if hasattr(WALL.dt, "to_pydatetime") else list(WALL), list(THERE)),
        (WALL.astype(str), [t.isoformat() for t in THERE]),
        (pl.Series(WALL), pl.Series(WALL).dt.replace_time_zone("Europe/Vienna")),
        (pa.array(WALL), pa.array(THERE)),
        (WALL.convert_dtypes(dtype_backend="pyarrow"), THERE.convert_dtypes(dtype_backend="pyarrow")),
    ],
    ids=["pandas", "NumPy", "datetimes", "texts", "polars", "Arrow", "pandas on Arrow"],
)
def test_date_and_time(naive: Any, zoned: Any) -> None:
    # the zone is asked for once, and named in the layout
    assert [code for code, _ in told({**ARRAYS, "time_h": naive}, STAMPED)] == ["readings.zone"]
    here, there = judged({**ARRAYS, "time_h": naive}, VIENNA), judged({**ARRAYS, "time_h": zoned}, STAMPED)
    assert here.state == there.state == "pass"
    assert here.to_dict()["deflections"] == there.to_dict()["deflections"]
    # the zone of both, told twice alike; and contradicted, told once
    assert judged({**ARRAYS, "time_h": zoned}, VIENNA).state == "pass"
    utc = {**LAYOUT, "time": {"column": "time_h", "zone": "UTC"}}
    assert [code for code, _ in told({**ARRAYS, "time_h": zoned}, utc)] == ["readings.zone"]


def test_time_since_the_start() -> None:
    elapsed = WALL - START
    for layout in (LAYOUT, STAMPED):
        assert judged({**ARRAYS, "time_h": elapsed}, layout).state == "pass"
    assert told({**ARRAYS, "time_h": WALL}) == [("readings.time-unit", "log[0], time_h")]
    assert told(ARRAYS, STAMPED) == [("readings.time-unit", "log[0], time_h")]
    gone = elapsed.copy()
    gone[5] = pd.NaT
    assert told({**ARRAYS, "time_h": gone})[0] == ("units.text-number", "log[5], time_h")


def test_what_holds_no_numbers_is_named_with_its_row() -> None:
    forces = list(ARRAYS["P_kN"])
    with_decimal = [*forces[:7], decimal.Decimal("1.5"), *forces[8:]]
    with_text = [*forces[:7], "1,5", *forces[8:]]
    for column, code, row in [
        (ARRAYS["P_kN"] > 1, "readings.column-type", 0),
        (pd.Series(ARRAYS["P_kN"] > 1, dtype="boolean"), "readings.column-type", 0),
        (pl.Series(ARRAYS["P_kN"] > 1), "readings.column-type", 0),
        (pa.array(ARRAYS["P_kN"] > 1), "readings.column-type", 0),
        ([*forces[:7], True, *forces[8:]], "readings.column-type", 7),
        (with_decimal, "readings.column-type", 7),
        (pd.Series(with_decimal), "readings.column-type", 7),
        (np.array(with_decimal, dtype=object), "readings.column-type", 7),
        (pl.Series([decimal.Decimal(1)] * 427), "readings.column-type", 0),
        (pa.array([decimal.Decimal(1)] * 427), "readings.column-type", 0),
        (ARRAYS["P_kN"] * 1j, "readings.column-type", 0),
        (np.zeros((427, 2)), "readings.column-type", 0),
        (WALL, "readings.column-type", 0),
        (with_text, "units.text-number", 7),
        (np.where(np.arange(427) == 7, np.inf, ARRAYS["P_kN"]), "units.nonfinite", 7),
    ]:
        assert told({**ARRAYS, "P_kN": column})[0] == (code, f"log[{row}], P_kN"), column
    # a column that no channel maps is nobody's business
    assert judged({**ARRAYS, "remark": with_decimal}) == WANTED


def test_a_table_that_does_not_fit() -> None:
    assert told(FRAME.rename(columns={"P_kN": "P_KN"})) == [("readings.column-missing", "channels[0].column")]
    with pytest.raises(ps.DataError, match="did you mean `P_KN`"):
        judged(FRAME.rename(columns={"P_kN": "P_KN"}))
    assert told({**ARRAYS, "P_kN": ARRAYS["P_kN"][:-1]}) == [("readings.length", "log, P_kN")]
    twice = pd.concat([FRAME, FRAME[["P_kN"]]], axis=1)
    assert told(twice) == [("readings.heading-twice", "channels[0].column")]
    with pytest.raises(ps.DataError, match=r"frame\.collect\(\)"):
        judged(pl.read_csv(CSV, null_values=["-"]).lazy())
    assert told(7) == [("readings.file", "log")]
    assert told({}) [0][0] == "readings.column-missing"
    assert told({name: values[:1] for name, values in ARRAYS.items()})[0][0] == "readings.empty"

    class Broken:
        columns = ("a",)
        iloc = 5

    assert told(Broken()) == [("readings.file", "log")]


def test_the_series_come_back_as_arrays() -> None:
    judgement = ps.judge(DESIGN, FRAME, LAYOUT, RECORD, series=True)
    back = judgement.series("mid")
    assert list(back) == ["time", "force", "raw", "corrected"]
    assert np.allclose(back["time"], ARRAYS["time_h"], rtol=0, atol=1e-9)
    assert np.allclose(back["raw"], ARRAYS["mid_mm"], rtol=0, atol=1e-9, equal_nan=True)
    zero = ARRAYS["time_h"] <= 0.3 + 1e-9
    at = {name: values - np.median(values[zero]) for name, values in ARRAYS.items()}
    # level beam between bearings at 0 and 9 m, the gauge in the middle; 0.10 mm less per degree
    wanted = at["mid_mm"] + 0.10 * at["T_C"] - (at["left_mm"] + at["right_mm"]) / 2
    assert np.allclose(back["corrected"], wanted, rtol=0, atol=1e-9, equal_nan=True)
    inches = judgement.series("mid", length="in", force="lbf", time="min")
    assert np.allclose(inches["corrected"] * 25.4, back["corrected"], equal_nan=True)
    used = {entry["gauge"]: entry for entry in judgement.used}
    assert used["mid"]["with"] == ["T", "left", "right"]
    peak = next(w for w in used["mid"]["windows"] if w["window"] == "peak")
    inside = (ARRAYS["time_h"] >= 25.8 - 1e-9) & (ARRAYS["time_h"] <= 26 + 1e-9)
    assert peak["used"] + peak["left_out"] == inside.sum()
    with pytest.raises(ps.ProofspanError, match="series=True") as refused:
        WANTED.series("mid")
    assert [i["code"] for i in refused.value.issues] == ["readings.series"]
    with pytest.raises(ps.ProofspanError, match="md"):
        judgement.series("md")
    assert dt.timedelta(hours=float(back["time"][-1])) > dt.timedelta(hours=50)
