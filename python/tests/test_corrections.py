"""Random logs whose truth is known, reduced a second time with NumPy alone.

The reduction below was written from the definitions: zero, sign, calibration, level, line through
two bearings or a root that settles and turns, drift with temperature by least squares with an own
constant in every control period, secant to the nominal force, and the GUM for independent errors.
"""

from __future__ import annotations

import json
import math
import random
from pathlib import Path
from typing import Any

import numpy as np
import proofspan as ps
import pytest

SCENARIOS = Path(__file__).parents[2] / "examples" / "scenarios"

# what one unit is in SI, and for temperatures what its zero is
UNITS = {
    "mm": (1e-3, 0.0),
    "in": (0.0254, 0.0),
    "m": (1.0, 0.0),
    "kN": (1e3, 0.0),
    "lbf": (4.4482216152605, 0.0),
    "rad": (1.0, 0.0),
    "mrad": (1e-3, 0.0),
    "deg": (math.pi / 180, 0.0),
    "°C": (1.0, 273.15),
    "°F": (5 / 9, 273.15 - 32 * 5 / 9),
    "K": (1.0, 0.0),
}

ZERO, PEAK, RESIDUAL = (50.0, 51.0), (76.0, 77.0), (101.0, 102.0)
CONTROLS = [(0.0, 23.0), (26.0, 48.0)]


def document(name: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((SCENARIOS / f"{name}.test.json").read_text("utf-8"))
    return read


def cantilever() -> dict[str, Any]:
    """A canopy beam held at the left end alone, 3 m long."""
    test = document("station_canopy")
    test["beam"] = {"kind": "cantilever", "span": "3.0 m", "depth": "500 mm", "effective_depth": "450 mm"} | {
        name: test["beam"][name] for name in ("soft", "stiff")
    }
    test["scope"]["doubt"] = {"mode": "hogging", "from": "0 m", "to": "1 m"}
    bay = {"kind": "water", "width": "3.6 m", "rim": "0.6 m", "freeboard": "0.1 m"}
    bays = [bay | {"from": "0.2 m", "to": "1.4 m"}, bay | {"from": "1.5 m", "to": "2.9 m"}]
    test["layout"] = {"carrier": bays, "reproduce": ["moment"]}
    catch = test["shoring"]["catch"][0]
    test["shoring"]["catch"] = [catch | {"at": at} for at in ("0.4 m", "1.2 m", "2.6 m")]
    gauge = {"u": "0.02 mm", "range": "50 mm"}
    test["protocol"]["gauges"] = [gauge | {"id": "tip", "at": "2.9 m"}, gauge | {"id": "halfway", "at": "1.5 m"}]
    return test


MEMBERS: dict[str, dict[str, Any]] = {
    "simple": {
        "test": document("gallery_beam"),
        "record": json.loads((SCENARIOS / "gallery_beam.record.json").read_text("utf-8")),
        "gauges": {"mid": 4.5, "quarter": 2.25},
        "bearings": [0.0, 9.0],
        "cells": True,
    },
    "overhang": {
        "test": document("station_canopy"),
        "record": json.loads((SCENARIOS / "station_canopy.record.json").read_text("utf-8")),
        "gauges": {"tip": 9.9, "halfway": 8.5},
        "bearings": [0.0, 7.0],
        "cells": False,
    },
    "cantilever": {
        "test": cantilever(),
        "record": json.loads((SCENARIOS / "station_canopy.record.json").read_text("utf-8")),
        "gauges": {"tip": 2.9, "halfway": 1.5},
        "bearings": [0.0],
        "cells": False,
    },
}
DESIGNS = {name: ps.design(member["test"]) for name, member in MEMBERS.items()}


def time() -> np.ndarray[Any, Any]:
    return np.arange(0.0, 104.01, 0.25)


def load(t: np.ndarray[Any, Any], rng: np.random.Generator, target: float) -> np.ndarray[Any, Any]:
    """Steps up from 52 h, held from 54 h to 77.5 h with a little loss, off at 79 h."""
    steps = np.select(
        [t < 52, t < 52.5, t < 53, t < 53.5, t < 54, t <= 77.5, t <= 78, t <= 78.5],
        [0, 0.25, 0.5, 0.75, 0.9, 1, 0.6, 0.3],
        0.0,
    )
    lost = 0.008 * rng.random() * np.clip((t - 54) / 24, 0, 1)
    return np.asarray(target * steps * (1 - lost))


def held(t: np.ndarray[Any, Any], values: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """The same, resting in each window, so that the sum of medians is the median of the sum."""
    out = values.copy()
    for a, b in (ZERO, PEAK, RESIDUAL):
        inside = (t >= a) & (t <= b)
        out[inside] = np.median(values[inside])
    return out


class Case:
    """One random log with its map, its truth, and the columns in SI from which it was written."""

    def __init__(self, seed: int) -> None:
        rng = np.random.default_rng(seed)
        self.member = list(MEMBERS)[seed % 3]
        member = MEMBERS[self.member]
        self.noise = 0.0 if seed % 2 else 1.0
        t = self.t = time()
        day = 2 * math.pi * t / 24
        top = 288 + 4 * rng.random() * np.sin(day) + 6 * np.sin(day + rng.random()) + 0.05 * t
        soffit = 287 + 3 * np.sin(day - 1.2) - 0.01 * t
        top, soffit = held(t, top), held(t, soffit)
        self.drift = ["none", "stated", "fit", "both"][int(rng.integers(4))]
        warm = {"none": [], "stated": [top], "fit": [top], "both": [top, soffit]}[self.drift]
        self.force = held(t, load(t, rng, DESIGN_FORCE[self.member]))
        share = self.force / DESIGN_FORCE[self.member]
        moved = np.where(t >= 54, 1.0, 0.0)
        self.channels: list[dict[str, Any]] = []
        self.columns: dict[str, np.ndarray[Any, Any]] = {}
        self.truth: dict[str, np.ndarray[Any, Any]] = {}

        if member["cells"]:
            part = [1.0] if rng.random() < 0.5 else [0.4, 0.6]
            for i, p in enumerate(part):
                self.channel(rng, f"P{i}", "force", p * self.force, ["kN", "lbf"], None, 500.0, 20.0)
        settle = []
        for i, x in enumerate(member["bearings"]):
            s = share * 1e-3 * rng.random() + moved * 2e-4 * rng.random()
            settle.append(s)
            self.channel(rng, f"S{i}", "settlement", s, ["mm", "in"], x, 1e-5, 1e-6)
        turn = None
        if self.member == "cantilever" and rng.random() < 0.8:
            turn = share * 5e-4 * rng.random() + moved * 1e-4 * rng.random()
            self.channel(rng, "R", "rotation", turn, ["rad", "mrad", "deg"], member["bearings"][0], 1e-6, 1e-8)
        level = None
        if rng.random() < 0.5:
            level = -share * 1e-3 * rng.random()
            self.channel(rng, "B", "level", level, ["mm", "in"], None, 1e-5, 1e-6)
        for i, temperature in enumerate(warm):
            self.channel(rng, f"T{i}", "temperature", temperature, ["°C", "°F", "K"], None, 0.05, 0.01)
        self.betas = [1e-4 * (rng.random() - 0.5) for _ in warm]
        for name, x in member["gauges"].items():
            v = share * (4e-3 + 6e-3 * rng.random()) + moved * 5e-4 * rng.random()
            self.truth[name] = v
            read = v + sum((b * w for b, w in zip(self.betas, warm, strict=True)), np.zeros_like(t))
            if len(settle) == 2:
                a, b = member["bearings"]
                read = read + settle[0] + (settle[1] - settle[0]) * (x - a) / (b - a)
            else:
                read = read + settle[0]
            if turn is not None:
                read = read + turn * (x - member["bearings"][0])
            more: dict[str, Any] = {}
            if level is not None and rng.random() < 0.7:
                read = read - level
                more["level"] = "B"
            self.channel(rng, name, "deflection", read, ["mm", "in", "m"], x, 2e-5, 1e-6, more)
        self.moments: dict[str, Any] = {
            name: {"from": f"{a} h", "to": f"{b} h"}
            for name, (a, b) in {"zero": ZERO, "peak": PEAK, "residual": RESIDUAL}.items()
        }
        self.moments["unloaded"] = "78.6 h"
        self.nominal = None
        if member["cells"] and rng.random() < 0.5:
            self.nominal = DESIGN_FORCE[self.member] * 0.998
            self.moments["nominal"] = f"{self.nominal!r} N"
        self.layout: dict[str, Any] = {
            "time": {"column": "t", "unit": "h"},
            "channels": self.channels,
            "moments": self.moments,
        }
        self.stated_u = None
        if self.drift == "stated":
            self.stated_u = 0.1 * abs(self.betas[0]) + 1e-7
            self.layout["drift"] = {
                "channel": "T0",
                "moves": f"{self.betas[0]!r} m",
                "per": "1 ΔK",
                "u": f"{self.stated_u!r} m",
            }
        elif warm:
            self.layout["thermal"] = {
                "channels": [f"T{i}" for i in range(len(warm))],
                "periods": [{"from": f"{a} h", "to": f"{b} h"} for a, b in CONTROLS],
            }

    def channel(
        self,
        rng: np.random.Generator,
        name: str,
        role: str,
        si: np.ndarray[Any, Any],
        units: list[str],
        at: float | None,
        u: float,
        noise: float,
        more: dict[str, Any] | None = None,
    ) -> None:
        """Writes a channel: noise, calibration, sign, an offset, its unit."""
        unit = units[int(rng.integers(len(units)))]
        size, zero = UNITS[unit]
        si = si + self.noise * noise * rng.standard_normal(len(si))
        spec: dict[str, Any] = {"id": name, "column": f"c_{name}", "unit": unit, "role": role, "u": u / size}
        value = (si - zero) / size
        if role in ("deflection", "settlement", "level", "rotation"):
            value = value + (rng.random() - 0.5) * 20 * noise / size * 1e2
        sign = -1.0 if role not in ("temperature", "force") and rng.random() < 0.3 else 1.0
        value = value * sign
        if role in ("deflection", "force") and rng.random() < 0.4:
            factor, offset = 0.97 + 0.06 * rng.random(), 0.01 * rng.random() if role == "deflection" else 0.0
            spec["calibration"] = {"factor": factor, "u": 0.002, "offset": offset, "source": "bench"}
            value = (value - offset) / factor
        if sign < 0:
            spec["sign"] = -1
        if at is not None:
            spec["at"] = f"{at} m"
        self.columns[name] = value
        self.channels.append(spec | (more or {}))

    def text(self, order: list[str] | None = None) -> str:
        names = order or list(self.columns)
        rows = [",".join(["t", *(f"c_{n}" for n in names)])]
        for i, t in enumerate(self.t):
            rows.append(",".join([repr(float(t)), *(repr(float(self.columns[n][i])) for n in names)]))
        return "\n".join(rows) + "\n"

    def judged(self) -> dict[str, Any]:
        judged: dict[str, Any] = json.loads(
            ps.judge(DESIGNS[self.member], self.text(), self.layout, MEMBERS[self.member]["record"]).to_json()
        )
        return judged


def si(node: Any) -> float:
    """The number of a quantity as JSON writes it: SI, with its unit behind."""
    return float(node.split()[0] if isinstance(node, str) else node)


def _force(design: ps.Design) -> float:
    return si(json.loads(design.to_json())["layout"]["force"])


def window(t: np.ndarray[Any, Any], values: np.ndarray[Any, Any], w: tuple[float, float]) -> float:
    return float(np.median(values[(t >= w[0] - 1e-9) & (t <= w[1] + 1e-9)]))


def reduce(case: Case, name: str) -> dict[str, Any]:
    """What the log says of one gauge: NumPy alone."""
    t, spec = case.t, {c["id"]: c for c in case.channels}

    def values(channel: str) -> np.ndarray[Any, Any]:
        own = spec[channel]
        size, zero = UNITS[own["unit"]]
        found = own.get("calibration", {"factor": 1.0, "offset": 0.0})
        true = found["factor"] * case.columns[channel] + found["offset"]
        return np.asarray((true * size + zero) * own.get("sign", 1))

    def u(channel: str) -> float:
        return float(spec[channel]["u"]) * UNITS[spec[channel]["unit"]][0]

    own = spec[name]
    x = float(own["at"].split()[0])
    member = MEMBERS[case.member]
    parts: list[tuple[str, float]] = [(name, 1.0)]
    if "level" in own:
        parts.append((own["level"], 1.0))
    if len(member["bearings"]) == 2:
        a, b = member["bearings"]
        parts += [("S0", -(b - x) / (b - a)), ("S1", -(x - a) / (b - a))]
    else:
        parts.append(("S0", -1.0))
        if "R" in spec:
            parts.append(("R", -(x - member["bearings"][0])))
    still = sum((k * values(c) for c, k in parts), np.zeros_like(t))
    warm = [c for c in spec if spec[c]["role"] == "temperature"]
    shared: list[tuple[float, float]] = []

    def change(series: np.ndarray[Any, Any], w: tuple[float, float]) -> float:
        return window(t, series, w) - window(t, series, ZERO)

    slopes: list[float] = []
    if case.drift == "stated":
        slopes = case.betas
        assert case.stated_u is not None
        shared.append((case.stated_u * change(values("T0"), PEAK), case.stated_u * change(values("T0"), RESIDUAL)))
    elif warm:
        inside = [(t >= a - 1e-9) & (t <= b + 1e-9) for a, b in CONTROLS]
        rows = np.flatnonzero(inside[0] | inside[1])
        which = np.array([int(not inside[0][r]) for r in rows])
        design = np.column_stack([*(values(c)[rows] for c in warm), which == 0, which == 1]).astype(float)
        design[:, : len(warm)] -= design[:, : len(warm)].mean(axis=0)
        y = still[rows] - still[rows].mean()
        found = np.linalg.lstsq(design, y, rcond=None)[0]
        slopes = [float(s) for s in found[: len(warm)]]
        left = y - design @ found
        free = len(y) - design.shape[1]
        pairs = which[1:] == which[:-1]
        rho = float(np.clip((left[1:] * left[:-1])[pairs].sum() / max((left**2).sum(), 1e-300), 0, 0.98))
        cov = np.linalg.inv(design.T @ design)[: len(warm), : len(warm)]
        cov = cov * (left @ left) / free * (1 + rho) / (1 - rho)
        d = np.array([[change(values(c), w) for c in warm] for w in (PEAK, RESIDUAL)])
        joint = d @ cov @ d.T
        # two independent errors with this covariance
        p = math.sqrt(joint[0, 0])
        r = joint[0, 1] / p if p > 0 else 0.0
        shared += [(p, r), (0.0, math.sqrt(max(joint[1, 1] - r * r, 0.0)))]
    for channel, slope in zip(warm, slopes, strict=True):
        parts.append((channel, -slope))
    # the sum of the medians, not the median of the sum
    total = [sum(k * change(values(c), w) for c, k in parts) for w in (PEAK, RESIDUAL)]
    reading = math.sqrt(sum((k * u(c)) ** 2 for c, k in parts))
    if "calibration" in own:
        raw = [change(values(name), w) / own["calibration"]["factor"] for w in (PEAK, RESIDUAL)]
        shared.append((raw[0] * 0.002, raw[1] * 0.002))
    if case.nominal is not None:
        cells = [c for c in spec if spec[c]["role"] == "force"]
        zero, peak = (sum(window(t, values(c), w) for c in cells) for w in (ZERO, PEAK))
        total[0] *= (case.nominal - zero) / (peak - zero)
        shared.append((total[0] * sum(u(c) for c in cells) / (peak - zero), 0.0))
    margin = (0.25**2 + 1 + 0.75**2) * reading**2 + sum((0.25 * a - b) ** 2 for a, b in shared)
    return {"d_max": total[0], "d_r": total[1], "u": reading, "margin": 2 * math.sqrt(margin), "slopes": slopes}


DESIGN_FORCE = {name: _force(design) for name, design in DESIGNS.items()}
SEEDS = range(420)


def near(a: float, b: float, size: float, part: float = 1e-9) -> bool:
    return abs(a - b) <= part * size


@pytest.mark.parametrize("block", range(6))
def test_random_logs_against_numpy_and_the_truth(block: int) -> None:
    kinds: set[str] = set()
    for seed in SEEDS[block * 70 : block * 70 + 70]:
        case = Case(seed)
        judged = case.judged()
        for gauge in judged["deflections"]:
            name = gauge["gauge"]
            own = reduce(case, name)
            size = max(abs(own["d_max"]), 1e-3)
            told = (seed, case.member, case.drift, name)
            for key in ("d_max", "d_r"):
                assert near(si(gauge[key]), own[key], size), (told, key, si(gauge[key]), own[key])
            assert near(si(gauge["u_reading"]), own["u"], own["u"], 1e-6), told
            # raw and the effects of the corrections are the deflection that is judged
            chain = gauge["corrections"]
            kinds |= {c["what"] for c in chain}
            for key, effect in (("d_max", "at_peak"), ("d_r", "at_residual")):
                total = si(gauge[f"as_read_{key}"]) + sum(si(c[effect]) for c in chain)
                largest = max([abs(si(gauge[f"as_read_{key}"])), *(abs(si(c[effect])) for c in chain)])
                assert near(total, si(gauge[key]), largest, 1e-12), told
            if case.noise == 0.0:
                truth = case.truth[name]
                peak = window(case.t, truth, PEAK)
                if case.nominal is not None:
                    peak *= case.nominal / window(case.t, case.force, PEAK)
                assert near(si(gauge["d_max"]), peak, size, 1e-8), (told, si(gauge["d_max"]), peak)
                assert near(si(gauge["d_r"]), window(case.t, truth, RESIDUAL), size, 1e-8), told
            for row in judged["criteria"]:
                for of in row["gauges"]:
                    if row["id"] == "residual" and of["gauge"] == name:
                        expanded = of["code"]["expanded_uncertainty"]
                        if expanded is not None:
                            assert near(si(expanded), own["margin"], own["margin"], 1e-6), told
    assert {"zero", "sign", "calibration", "drift", "level", "settlement", "rotation", "load"} <= kinds


def test_columns_in_another_order_move_no_bit() -> None:
    for seed in (1, 2, 3, 4, 6, 8, 12, 15):
        case = Case(seed)
        plain = case.judged()
        names = list(case.columns)
        random.Random(seed).shuffle(names)
        layout = case.layout | {"channels": sorted(case.channels, key=lambda c: names.index(c["id"]))}
        record = MEMBERS[case.member]["record"]
        other = json.loads(ps.judge(DESIGNS[case.member], case.text(names), layout, record).to_json())

        def of(judged: dict[str, Any]) -> dict[str, Any]:
            return {d["gauge"]: d for d in judged["deflections"]}

        assert of(plain) == of(other), seed
        assert [(c["id"], c["code"], c["guarded"]) for c in plain["criteria"]] == [
            (c["id"], c["code"], c["guarded"]) for c in other["criteria"]
        ]


def test_the_chain_is_shown_in_working_and_report() -> None:
    member = MEMBERS["overhang"]
    log = (SCENARIOS / "station_canopy.log.csv").read_text("utf-8")
    layout = json.loads((SCENARIOS / "station_canopy.log.json").read_text("utf-8"))
    judgement = ps.judge(DESIGNS["overhang"], log, layout, member["record"])
    working = judgement.working("SI")
    assert "Gauge tip, residual deflection" in working and "s - s_0" in working
    assert "in    [zero of the gauge]" in judgement.working("US")
    page = DESIGNS["overhang"].markdown(judgement)
    assert "| tip | as read |" in page and "| tip | settlement |" in page and "| tip | corrected |" in page
