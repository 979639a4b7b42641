"""Holds a sheet against the library: ten rows of a CSV, each with what its author worked out.

A row has a largest deflection with its residual and what the sheet says of them, and a reaction member with
the lift-off factor that the sheet comes to. The program says where the two differ.

    python sheet_checker.py sheet.csv
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import proofspan as ps

#: A sheet that rounds to two places is not told that it does.
ROUNDED = 0.005


def differences(row: dict[str, str]) -> list[str]:
    """Where one row differs from the library, in words."""
    told: list[str] = []
    try:
        found = ps.acceptance(
            row["edition"], row["deflection"], residual=row["residual"], span=row["span"], u=row["u"] or None, depth=row["depth"] or None
        )
        failed = [c.id for c in found.criteria if c.code.state == "fail"]
        own = "fail" if failed else "pass"
        if own != row["accepted"]:
            told.append(f"acceptance: the sheet says {row['accepted']}, {found.edition} {own}" + (f" on {', '.join(failed)}" if failed else ""))
        # what the code lets pass may still lie inside its uncertainty
        if own == "pass" and row["u"]:
            told += [f"acceptance: {c.id} passes, but not by its uncertainty" for c in found.criteria if c.guarded.state == "inconclusive"]
    except ps.ProofspanError as refused:
        told += [f"acceptance: {issue['path']}: {issue['message']}" for issue in refused.issues]
    try:
        weights = [(row["weight_at"], row["weight"])] if row["weight"] else None
        below = ps.reaction(row["reaction_span"], row["own_weight"], [(row["pull_at"], row["pull"])], weights=weights)
        factors = [b.factor for b in below.bearings if b.factor is not None]
        least, sheet = min(factors, default=float("inf")), float(row["lift_off"])
        if abs(least - sheet) > ROUNDED:
            told.append(f"lift-off: the sheet says {sheet:.2f}, it is {least:.2f}")
        if least < below.floor - 1e-9 <= sheet:
            told.append(f"lift-off: below {below.floor:.2f}, which the sheet does not see")
    except ps.ProofspanError as refused:
        told += [f"lift-off: {issue['path']}: {issue['message']}" for issue in refused.issues]
    return told


def main(path: Path) -> int:
    """Prints where every row differs; the number of rows that do."""
    with path.open(encoding="utf-8", newline="") as sheet:
        rows = list(csv.DictReader(sheet))
    differing = 0
    for row in rows:
        told = differences(row)
        differing += bool(told)
        print(f"{row['name']}: " + ("; ".join(told) if told else "as in the sheet"))
    return differing


if __name__ == "__main__":
    sys.exit(min(main(Path(sys.argv[1])), 1))
