"""Logs that lie about how a test was run, and a few that do not: no lie may pass.

The truth of every log is its generator; what must come out follows from the clause and from arithmetic.
"""

from __future__ import annotations

import json
import pathlib
from typing import Any, Callable

import numpy as np
import pytest
from test_cyclic import Run, outcome

import proofspan as ps

SCENARIOS = pathlib.Path(__file__).parents[2] / "examples" / "scenarios"
TARGET = 120.0
Rows = dict[str, "np.ndarray[Any, Any]"]


def honest(residual: float = 0.08) -> Rows:
    """Ten-minute rows: an hour of nothing, four steps, 24.5 h of the full load, two more steps down, 26 h of
    nothing. 8 m beam, 6 mm in the middle, 4.2 mm at the quarter, of which a part stays."""
    parts = [(0.0, 7), (0.25, 3), (0.5, 3), (0.75, 3), (1.0, 148), (0.5, 1), (0.0, 157)]
    part = np.concatenate([np.full(n, p) for p, n in parts])
    t = np.arange(part.size) * 10.0
    rng = np.random.default_rng(17)
    peak = int(np.argmax(part >= 1.0))
    hours = np.maximum(t - t[peak], 0.0) / 60.0
    crept = residual * np.minimum(1.0, np.log1p(hours) / np.log1p(24.5))
    mid = 6.0 * (part * 0.92 + crept)
    return {
        "t": t,
        "P": TARGET * part + rng.normal(0.0, 0.03, t.size),
        "mid": 1.3 + mid + rng.normal(0.0, 0.004, t.size),
        "quarter": 0.7 + 0.7 * mid + rng.normal(0.0, 0.004, t.size),
    }


def csv(rows: Rows) -> str:
    names = list(rows)
    lines = [",".join(names)]
    for values in zip(*rows.values()):
        lines.append(",".join("" if np.isnan(v) else f"{v:.4f}" for v in values))
    return "\n".join(lines) + "\n"


def layout(**moments: Any) -> dict[str, Any]:
    every = {
        "zero": {"from": "10 min", "to": "60 min"},
        "peak": {"from": "1580 min", "to": "1630 min"},
        "unloaded": "1650 min",
        "residual": {"from": "3080 min", "to": "3100 min"},
    }
    gauge = {"unit": "mm", "role": "deflection", "u": 0.02}
    return {
        "time": {"column": "t", "unit": "min"},
        "channels": [
            {"id": "P", "column": "P", "unit": "kN", "role": "force", "u": 0.2},
            {"id": "mid", "column": "mid", "at": "4 m", **gauge},
            {"id": "quarter", "column": "quarter", "at": "2 m", **gauge},
        ],
        "moments": {name: at for name, at in {**every, **moments}.items() if at is not None},
    }


def judged(
    rows: Rows, columns: dict[str, Any] | None = None, edition: str = "ACI 318-19", **record: Any
) -> ps.Judgement:
    seen = {"distress": "none", "by": "engineer", "date": "2026-01-01"}
    run = {"observation": seen, "expiry": "2030-01-01", "held": "24 h", **record}
    force = f"{TARGET} kN"
    return ps.judge_record(edition, csv(rows), columns or layout(), run, span="8 m", depth="500 mm", force=force)


def codes(error: ps.ProofspanError) -> set[str]:
    return {issue["code"] for issue in error.issues}


def faults(judgement: ps.Judgement) -> set[str]:
    return {fault["kind"] for fault in judgement.to_dict("SI")["faults"]}


def test_the_honest_one_passes() -> None:
    judgement = judged(honest())
    assert judgement.state == "pass", judgement.to_dict("SI")["notes"]


def late_zero(rows: Rows) -> dict[str, Any]:
    return layout(zero={"from": "70 min", "to": "90 min"})


def zero_under_load(rows: Rows) -> None:
    rows["P"][:7] += 10.0


def interrupted(rows: Rows) -> None:
    rows["P"][80:83] -= 50.0
    rows["mid"][80:83] -= 2.3
    rows["quarter"][80:83] -= 1.6


def short(rows: Rows) -> dict[str, Any]:
    rows["P"][16:40] -= 15.0
    return layout()


def swapped(rows: Rows) -> None:
    mid = rows["mid"].copy()
    rows["mid"][60:], rows["quarter"][60:] = rows["quarter"][60:].copy(), mid[60:]


def stuck(rows: Rows) -> None:
    rows["quarter"][12:] = rows["quarter"][12]


def stuck_unloading(rows: Rows) -> None:
    rows["mid"][172:] = rows["mid"][172]


def reversed_gauge(rows: Rows) -> None:
    rows["mid"] = -rows["mid"]


def inches(rows: Rows) -> None:
    rows["mid"][90:] /= 25.4


def early(rows: Rows) -> dict[str, Any]:
    return layout(residual={"from": "1900 min", "to": "1960 min"})


def cells_lost(rows: Rows) -> None:
    rows["P"][150:] = np.nan


def force_in_pounds(rows: Rows) -> None:
    rows["P"][100:] *= 224.809 / 1000.0


LIES: list[Callable[[Rows], dict[str, Any] | None]] = [
    late_zero,
    zero_under_load,
    interrupted,
    short,
    swapped,
    stuck,
    stuck_unloading,
    reversed_gauge,
    inches,
    early,
    cells_lost,
    force_in_pounds,
]


@pytest.mark.parametrize("lie", LIES, ids=lambda lie: lie.__name__)
def test_no_lie_passes(lie: Callable[[Rows], dict[str, Any] | None]) -> None:
    rows = honest()
    columns = lie(rows)
    try:
        judgement = judged(rows, columns)
    except ps.ProofspanError as refused:
        assert refused.issues
        return
    assert judgement.state != "pass", judgement.criteria
    assert judgement.to_dict("SI")["notes"]


def test_a_clock_that_goes_back_is_refused() -> None:
    rows = honest()
    rows["t"][120:] -= 60.0
    with pytest.raises(ps.ProofspanError) as told:
        judged(rows)
    assert "readings.time-backwards" in codes(told.value)


def coarse(u_quarter: float, kept: float, u_mid: float = 0.02) -> ps.Judgement:
    """The middle keeps 8 % of 6 mm; of the 4.2 mm of the quarter a part stays that fails or does not."""
    rows = honest()
    rows["quarter"][165:] += 4.2 * (kept - 0.08)
    columns = layout()
    columns["channels"][1]["u"] = u_mid
    columns["channels"][2]["u"] = u_quarter
    return judged(rows, columns)


def test_a_coarse_gauge_that_fails_is_not_hidden_by_a_fine_one() -> None:
    """1.5 of 4.2 mm is more than a quarter. From u = 4.2/10.198 = 0.41 mm on the gauge cannot discriminate:
    then nothing is shown, and still nothing passes."""
    fine = coarse(0.01, 1.5 / 4.2)
    assert outcome(fine, "residual") == ("fail", "fail")
    for u in (0.3, 0.45, 0.6, 2.0):
        blunt = coarse(u, 1.5 / 4.2)
        code, guarded = outcome(blunt, "residual")
        assert code == "fail" and guarded not in {"pass", "waived"}, (u, code, guarded)
        assert blunt.state != "pass"


def test_the_gauge_that_moves_most_is_not_set_aside() -> None:
    """The middle has the largest deflection; with u = 1 mm it shows nothing, and the quarter is not the member."""
    assert outcome(coarse(0.02, 0.08, u_mid=1.0), "residual")[1] not in {"pass", "waived"}


def two_stages(change: Callable[[dict[str, Any]], None]) -> ps.Judgement:
    """The gallery beam tested twice, the second time 60 h later."""
    document = json.loads((SCENARIOS / "gallery_beam.test.json").read_text(encoding="utf-8"))
    document["stages"] = [{"name": "again", "doubt": document["scope"]["doubt"]}]
    text = (SCENARIOS / "gallery_beam.log.csv").read_text(encoding="utf-8")
    lines = text.splitlines()
    cells = [line.split(",", 1) for line in lines[1:]]
    again = [f"{float(time) + 60.0:.4f},{rest}" for time, rest in cells]
    columns = json.loads((SCENARIOS / "gallery_beam.log.json").read_text(encoding="utf-8"))
    moments = {
        "zero": {"from": "60 h", "to": "60.3 h"},
        "peak": {"from": "85.8 h", "to": "86 h"},
        "residual": {"from": "110.2 h", "to": "110.5 h"},
        "unloaded": "86.4 h",
    }
    columns["stages"] = [{"name": "again", "from": "60 h", "moments": moments}]
    change(moments)
    record = json.loads((SCENARIOS / "gallery_beam.record.json").read_text(encoding="utf-8"))
    return ps.judge(ps.design(json.dumps(document)), "\n".join([*lines, *again]) + "\n", columns, record)


def test_two_stages_of_which_the_second_lies() -> None:
    assert two_stages(lambda m: None).state == "pass"
    for change in (
        {"zero": {"from": "61.2 h", "to": "61.4 h"}},
        {"residual": {"from": "90 h", "to": "90.3 h"}, "unloaded": "86.4 h"},
        {"peak": {"from": "70 h", "to": "70.2 h"}, "residual": {"from": "86 h", "to": "86.2 h"}, "unloaded": "80 h"},
    ):
        try:
            assert two_stages(lambda m: m.update(change)).state != "pass", change
        except ps.ProofspanError as refused:
            assert refused.issues


def cyclic(**changed: Any) -> Run:
    """10 kN stay on; 12 kN/mm; a pair keeps 0.02 and 0.006 mm a millimetre of elastic deflection."""
    run = Run(least=10.0, first=10.0 / 12.0, **changed)
    kept = 0.0
    for i, peak in enumerate(run.peaks):
        kept += peak / 12.0 * (0.02 if i % 2 == 0 else 0.006)
        run.tops.append(peak / 12.0 + kept)
        run.lefts.append(run.first + kept)
    run.residual = 0.5 * kept
    return run


def test_the_honest_cycles_pass() -> None:
    judgement = cyclic().judge()
    assert judgement.state == "pass", judgement.to_dict("SI")["notes"]
    assert outcome(cyclic(permanency=None).judge(), "permanency") == ("inconclusive", "inconclusive")


def test_cycles_with_other_peaks() -> None:
    apart = cyclic()
    apart.peaks[3] += 2.5
    with pytest.raises(ps.ProofspanError) as told:
        apart.judge()
    assert "readings.not-twins" in codes(told.value)
    low = cyclic()
    low.peaks[2] = low.peaks[3] = 70.0
    assert low.judge().state != "pass"


def test_cycles_of_a_test_without_a_target() -> None:
    """One pair at the full load instead of three; that all was reached is only stated."""
    run = cyclic()
    assert outcome(run.judge(target=False), "cycles") == ("pass", "pass")
    run.peaks, run.tops, run.lefts = run.peaks[4:], run.tops[4:], run.lefts[4:]
    run.tops, run.lefts = [t - 0.35 for t in run.tops], [v - 0.35 for v in run.lefts]
    judgement = run.judge(target=False)
    assert outcome(judgement, "cycles")[1] == "inconclusive"
    assert judgement.state != "pass"


def test_a_last_cycle_read_without_the_least_load() -> None:
    """After F nothing stays on: what 10 kN bend, 0.83 mm, is no recovery of the cycle. I_P of F would be
    negative, and any ratio to it pass; F was not unloaded to where it began."""
    run = cyclic()
    run.last_least = 0.0
    run.lefts[-1] -= run.first
    judgement = run.judge()
    code, guarded = outcome(judgement, "permanency")
    assert (code, guarded) == ("inconclusive", "inconclusive"), judgement.to_dict("SI")["cycles"]
    assert judgement.state != "pass"
    row = next(c for c in judgement.to_dict("SI")["criteria"] if c["id"] == "permanency")
    assert "began" in row["reason"], row["reason"]
    assert outcome(run.judge("ACI 437R-03"), "permanency")[1] == "inconclusive"
    assert outcome(run.judge("ACI 437R-03"), "repeatability")[1] == "inconclusive"


def test_a_peak_that_was_let_off_between() -> None:
    """E: two minutes at 100 kN, two at 50, two at 100. At each time the peak was on for one minute between
    its samples; two are asked."""
    judgement = cyclic(dip=True).judge()
    seen = judgement.to_dict("SI")["cycles"]["seen"][4]
    hours, unit = seen["held"].split()
    assert unit == "h" and float(hours) <= 1.0 / 60.0 + 1e-9
    assert outcome(judgement, "cycles")[1] == "inconclusive"


def test_a_first_cycle_that_leaves_less_than_nothing() -> None:
    """A gauge that slipped by 0.2 mm in A: I_P of A is -0.04, of B 0.01; their ratio is below any limit and
    says nothing."""
    for permanency in ("rezeroed", "absolute"):
        run = cyclic(permanency=permanency)
        slip = 0.2
        run.lefts = [left - slip for left in run.lefts]
        run.tops = [top - (slip if i else 0.0) for i, top in enumerate(run.tops)]
        assert outcome(run.judge(), "permanency")[1] not in {"pass", "waived"}, permanency


def test_a_second_cycle_that_leaves_less_than_nothing() -> None:
    """In D the gauge slipped by 0.3 mm: -0.26 mm left, far beyond its uncertainty of 0.0005 mm, is drift or
    a lost reference and no recovery."""
    run = cyclic()
    run.lefts = [left - (0.3 if i >= 3 else 0.0) for i, left in enumerate(run.lefts)]
    run.tops = [top - (0.3 if i >= 4 else 0.0) for i, top in enumerate(run.tops)]
    for edition in ("ACI 437.2-13", "ACI 437R-03"):
        judgement = run.judge(edition)
        assert outcome(judgement, "permanency")[1] not in {"pass", "waived"}, edition
        assert judgement.state != "pass"


def test_one_reading_at_the_least_load_is_a_reading() -> None:
    """A log by hand: between the cycles 10 kN are read once."""
    by_hand = cyclic(one_sample=True)
    judgement = by_hand.judge()
    cycles = judgement.to_dict("SI")["cycles"]
    assert len(cycles["seen"]) == 6 and len(cycles["gauges"][0]["cycles"]) == 6
    assert outcome(judgement, "permanency") == ("pass", "pass")


def test_a_residual_of_cycles_read_too_early() -> None:
    assert cyclic(rest=300).judge().state != "pass"


def test_a_coarse_gauge_of_cycles_is_not_hidden() -> None:
    """The quarter moves 0.7 of what the middle does, and keeps 0.05 mm more of every second cycle: in A it
    keeps 0.058 of 2.9 mm, in B 0.0675, a ratio of 1.16. With a coarse gauge that is not told, nor passed."""
    run = cyclic(quarter=0.7)
    log, columns, _, at = run.log()
    assert run.judge().state == "pass"
    lines = log.splitlines()
    ends = [at["peaks"][i][1] for i in (1, 3, 5)]
    worse = []
    for k, line in enumerate(lines[1:]):
        head, value = line.rsplit(",", 1)
        worse.append(f"{head},{float(value) + 0.05 * sum(k >= end for end in ends):.12g}")
    text = "\n".join([lines[0], *worse]) + "\n"
    for u in (0.0005, 0.05, 0.5, 2.0):
        columns["channels"][2]["u"] = u
        judgement = ps.judge_record(
            "ACI 437.2-13", text, columns, run.record(), span="8 m", depth="600 mm", method="cyclic", force="100 kN"
        )
        code, guarded = outcome(judgement, "permanency")
        assert code == "fail" and guarded != "pass" and judgement.state != "pass", u


def test_a_peak_read_before_the_member_had_crept() -> None:
    """8 m over 180 is 44.4 mm. The member comes to 42 mm at once and creeps to 48 mm under the full load, which
    the log shows; the peak is stated at the beginning of the hold."""
    rows = honest()
    t = rows["t"]
    on = (t >= 160.0) & (t <= 1630.0)
    part = rows["P"] / TARGET
    crept = np.where(on, (t - 160.0) / 1470.0, np.where(t > 1630.0, 0.5, 0.0)) * 6.0
    noise = np.random.default_rng(3).normal(0.0, 0.004, t.size)
    rows["mid"] = 42.0 * part + crept + noise
    rows["quarter"] = 0.7 * (42.0 * part + crept) - noise
    at_end = judged(rows, edition="ACI 437.2-13")
    assert outcome(at_end, "deflection") == ("fail", "fail")
    early_peak = judged(rows, layout(peak={"from": "160 min", "to": "200 min"}), "ACI 437.2-13")
    assert early_peak.state not in {"pass", "waived"}, early_peak.criteria
    said = [n["message"] for n in early_peak.to_dict("SI")["notes"] if n["code"] == "criteria.load"]
    assert any("mid" in m and "after the peak window" in m for m in said), said
