"""Python peers of the benches, in one run: ratios, and the time of the import."""

from __future__ import annotations

import subprocess
import sys
import time

import numpy as np
from skfem import Basis, BilinearForm, ElementLineHermite, LinearForm, MeshLine, condense, solve
from skfem.helpers import dd, ddot

import proofspan as ps


def best(function, repeat: int = 20) -> float:  # noqa: ANN001
    """The shortest of several runs, in seconds."""
    times = []
    for _ in range(repeat):
        start = time.perf_counter()
        function()
        times.append(time.perf_counter() - start)
    return min(times)


@BilinearForm
def stiffness(u, v, _):  # noqa: ANN001, ANN201
    """EI w'' v''."""
    return 2e7 * ddot(dd(u), dd(v))


@LinearForm
def load(v, _):  # noqa: ANN001, ANN201
    """A uniform load."""
    return 1.6e4 * v


def fem() -> None:
    """A simple span with 24 Hermite elements."""
    basis = Basis(MeshLine(np.linspace(0.0, 6.0, 25)), ElementLineHermite())
    ends = [basis.get_dofs(lambda x, e=e: x[0] == e).nodal["u"][0] for e in (0.0, 6.0)]
    solve(*condense(stiffness.assemble(basis), load.assemble(basis), D=np.array(ends)))


SPAN = ps.Beam.simple("6 m", "20000 kN·m^2")
LOADS = [ps.Load.line("0 m", "6 m", "16 kN/m")]
PLACES = ps.Column([0.25 * i for i in range(25)], "m")


def ours() -> None:
    """The same span, exact: shear, moment and deflection at 25 places."""
    found = SPAN.actions(LOADS)
    found.shear(PLACES)
    found.moment(PLACES)
    found.deflection(PLACES)


fem_time, own_time = best(fem), best(ours, 2000)
print(f"beam: scikit-fem {fem_time * 1e3:.3f} ms, proofspan through Python {own_time * 1e6:.1f} us, ratio {fem_time / own_time:.0f}")
code = "import time; t = time.perf_counter(); import proofspan; print(time.perf_counter() - t)"
imports = [float(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout) for _ in range(9)]
print(f"import proofspan: {min(imports) * 1e3:.2f} ms (best of 9), {sorted(imports)[4] * 1e3:.2f} ms (median)")
