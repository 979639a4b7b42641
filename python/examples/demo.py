"""The main job in Python on the invented scenarios: numbers and pictures into the given folder."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Literal

import matplotlib
from matplotlib.axes import Axes

import proofspan as ps

matplotlib.use("Agg")
SCENARIOS = Path(__file__).resolve().parents[2] / "examples" / "scenarios"
MEMBERS: dict[str, Literal["US", "SI"]] = {"terrace_strip": "US", "gallery_beam": "SI", "archive_floor": "SI", "classroom_strip": "SI", "station_canopy": "SI"}


def save(axes: Axes, path: Path) -> None:
    """Write the picture of these axes."""
    figure = axes.get_figure(root=True)
    assert figure is not None
    figure.savefig(path, dpi=120)


def main(out: Path) -> int:
    """Run every scenario; the exit code is zero where all of it worked."""
    out.mkdir(parents=True, exist_ok=True)
    for name, units in MEMBERS.items():
        def text(part: str) -> str:
            return (SCENARIOS / f"{name}.{part}").read_text(encoding="utf-8")

        design = ps.design(text("test.json"))
        judgement = ps.judge(design, text("log.csv"), text("log.json"), text("record.json"))
        unit = "lbf" if units == "US" else "kN"
        print(f"{name}: {design.layout.force.to(unit):.3f} {unit} net; {judgement.state}")
        for effect in ("shear", "moment"):
            save(design.layout.plot(effect, units), out / f"{name}_{effect}.png")
        save(judgement.plot(units), out / f"{name}_curve.png")
        (out / f"{name}_python.html").write_text(design.html(judgement), encoding="utf-8")
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "target/demo")))
    except ps.ProofspanError as error:
        sys.exit(f"the demo failed: {error}")
