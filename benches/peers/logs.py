"""A log of a million rows and twelve columns: verdict with every detector on, beside the CSV reader of polars.

Two threads each, one run; the largest memory of a process of its own. Invented readings.
"""

from __future__ import annotations

import json
import os
import pathlib
import subprocess
import sys
import tempfile
import time

os.environ["POLARS_MAX_THREADS"] = "2"
if hasattr(os, "sched_setaffinity"):
    os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:2])

import numpy as np
import polars as pl

import proofspan as ps

SCENARIOS = pathlib.Path(__file__).parents[2] / "examples" / "scenarios"
ROWS = int(os.environ.get("ROWS", "1000000"))
GAUGES = {"mid": 4.5, "quarter": 2.25, "third": 3.0, "far": 6.0, "last": 6.75}


def layout() -> dict:  # noqa: D103
    of = json.loads((SCENARIOS / "gallery_beam.log.json").read_text(encoding="utf-8"))
    for name in ("third", "far", "last"):
        of["channels"].append(
            {"id": name, "column": f"{name}_mm", "unit": "mm", "role": "deflection", "at": f"{GAUGES[name]} m", "u": 0.02}
        )
    of["channels"].append({"id": "strain", "column": "strain", "unit": "um/m", "role": "strain"})
    of["channels"].append({"id": "oil", "column": "oil_MPa", "unit": "MPa", "role": "pressure"})
    of["cleaning"] = {"gate": "2 mm", "half_window": "10 s", "bin": "1 s"}
    return of


def readings(rows: int, first: int = 0) -> pl.DataFrame:
    """Four steps up to 113.5 kN at 1 h, off at 26.3 h; half a sine along the member, noise: rows from `first` on."""
    random = np.random.default_rng(1 + first)
    t = np.arange(first, min(first + ROWS, rows)) * 50.5 / rows
    steps = 0.25 * (np.floor((t - 0.4) / 0.2) + 1)
    on = np.where(t < 0.4, 0.0, np.where(t < 1.0, steps, np.where(t < 26.3, 1.0, 0.0)))
    kept = np.where(t < 0.8, 0.0, 0.02)
    warm = 2.0 * np.sin(t / 24.0 * 2.0 * np.pi)

    def noise(size: float) -> np.ndarray:
        return (random.random(len(t)) - 0.5) * size

    columns = {"time_h": t.round(6), "P_kN": (113.5 * on + noise(0.2)).round(2)}
    for name, x in GAUGES.items():
        gauge = 2.3 + 7.4 * (on + kept) * np.sin(np.pi * x / 9.0) - 0.1 * warm + noise(0.02)
        columns[f"{name}_mm"] = gauge.round(3)
    columns["left_mm"] = (0.4 + 0.15 * on + noise(0.01)).round(3)
    columns["right_mm"] = (0.2 + 0.12 * on + noise(0.01)).round(3)
    columns["T_C"] = (19.0 + warm + noise(0.1)).round(2)
    columns["strain"] = (300.0 * on + noise(2.0)).round(1)
    columns["oil_MPa"] = (12.0 * on + noise(0.02)).round(3)
    return pl.DataFrame(columns)


DESIGN = ps.design((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8"))
RECORD = (SCENARIOS / "gallery_beam.record.json").read_text(encoding="utf-8")


def judged(log: object) -> ps.Judgement:
    """With every detector on."""
    return ps.judge(DESIGN, log, layout(), RECORD)


def best(function, repeat: int = 7) -> float:  # noqa: ANN001
    """The shortest of several runs, in seconds."""
    times = []
    for _ in range(repeat):
        start = time.perf_counter()
        function()
        times.append(time.perf_counter() - start)
    return min(times)


if len(sys.argv) > 1:
    judged(pathlib.Path(sys.argv[1]))
    # the largest of this program alone: `getrusage` also counts what started it
    status = pathlib.Path("/proc/self/status").read_text(encoding="utf-8")
    print(1024 * int(status.split("VmHWM:")[1].split()[0]))
    sys.exit()

with tempfile.TemporaryDirectory() as folder:
    path = pathlib.Path(folder) / "log.csv"
    frame = readings(ROWS)
    frame.write_csv(path)
    size = path.stat().st_size
    peer = best(lambda: pl.read_csv(path))
    print(f"polars reads {ROWS} rows of 12 columns, {size / 1e6:.0f} MB, in {peer:.3f} s; {judged(path).state}")
    for name, log in {"CSV": path, "frame of polars": frame, "frame of pandas": frame.to_pandas()}.items():
        own = best(lambda log=log: judged(log))
        print(f"verdict from {name}: {own:.3f} s, {own / peer:.2f} x polars' own read")
    command = [sys.executable, __file__]
    # a short log, and longer and longer ones up to `LONGEST` MB
    least, rows = 0, 1000
    while rows * size / ROWS <= float(os.environ.get("LONGEST", "500")) * 1e6:
        with path.open("wb") as log:
            for first in range(0, rows, ROWS):
                readings(rows, first).write_csv(log, include_header=first == 0)
        start = time.perf_counter()
        used = int(subprocess.run([*command, str(path)], capture_output=True, text=True, check=True).stdout)
        taken, length = time.perf_counter() - start, path.stat().st_size
        least = least or used
        print(f"{rows} rows, {length / 1e6:.0f} MB: {(used - least) / 1e6:.0f} MB more memory than for 1000 rows, {taken:.1f} s")
        rows = max(ROWS, 2 * rows)
