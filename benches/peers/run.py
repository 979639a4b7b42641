"""Python peers of the benches, in one run: ratios, and the time of the import."""

from __future__ import annotations

import subprocess
import sys
import time

import numpy as np
import sympy
from scipy import sparse
from scipy.optimize import linprog
from scipy.sparse import linalg as splinalg
from skfem import Basis, BilinearForm, ElementLineHermite, LinearForm, MeshLine, condense, solve
from skfem.helpers import dd, ddot
from sympy.core.cache import clear_cache
from sympy.physics.continuum_mechanics.beam import Beam as Symbolic

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
    found = SPAN.response(LOADS)
    found.shear(PLACES)
    found.moment(PLACES)
    found.deflection(PLACES)


fem_time, own_time = best(fem), best(ours, 2000)
print(f"simple span: scikit-fem {fem_time * 1e3:.3f} ms, proofspan through Python {own_time * 1e6:.1f} us, ratio {fem_time / own_time:.0f}")

# three spans: shear, moment, deflection and their extremes
ENDS = (0.0, 5.0, 9.0, 15.0)
LINE_OF_SPANS = ps.Beam("15 m", [ps.Support(f"{x} m") for x in ENDS], "20000 kN·m^2")
UNIFORM = [ps.Load.line("0 m", "15 m", "16 kN/m")]


def ours_three() -> None:
    """Shear, moment and deflection as exact polynomials."""
    LINE_OF_SPANS.response(UNIFORM)


def ours_with_extremes() -> None:
    """The same with the exact extremes of all three."""
    found = LINE_OF_SPANS.response(UNIFORM)
    for what in ("shear", "moment", "deflection"):
        found.extremes(what)


def fem_three() -> None:
    """Sixty Hermite elements; no extremes."""
    basis = Basis(MeshLine(np.linspace(0.0, 15.0, 61)), ElementLineHermite())
    held = [basis.get_dofs(lambda x, e=e: np.isclose(x[0], e)).nodal["u"][0] for e in ENDS]
    solve(*condense(stiffness.assemble(basis), load.assemble(basis), D=np.array(held).ravel()))


def sparse_three() -> None:
    """Sixty beam elements assembled and solved with SciPy sparse matrices; no extremes."""
    h, n = 0.25, 60
    k = 2e7 / h**3 * np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h], [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
    dofs = 2 * np.arange(n)[:, None] + np.arange(4)[None, :]
    rows, cols = np.repeat(dofs, 4, axis=1).ravel(), np.tile(dofs, (1, 4)).ravel()
    matrix = sparse.csr_matrix((np.tile(k.ravel(), n), (rows, cols)), shape=(2 * n + 2, 2 * n + 2))
    force = np.zeros(2 * n + 2)
    np.add.at(force, dofs.ravel(), np.tile(1.6e4 * h * np.array([0.5, h / 12, 0.5, -h / 12]), n))
    free = np.setdiff1d(np.arange(2 * n + 2), [2 * round(e / h) for e in ENDS])
    splinalg.spsolve(matrix[free][:, free].tocsc(), force[free])


def symbolic_three() -> None:
    """Symbolic beam of SymPy: actions without extremes (these ran over nine minutes), nothing kept from the run before."""
    clear_cache()
    beam = Symbolic(15, sympy.Integer(20000), 1)
    unknown = sympy.symbols("R0:4")
    for r, e in zip(unknown, (0, 5, 9, 15), strict=True):
        beam.apply_load(r, e, -1)
    beam.apply_load(16, 0, 0, end=15)
    beam.bc_deflection = [(e, 0) for e in (0, 5, 9, 15)]
    beam.solve_for_reaction_loads(*unknown)
    beam.shear_force()
    beam.bending_moment()
    beam.deflection()


# a layout: four jacks on two spans, least total force, sagging in doubt from 2.5 m to 4.5 m (invented)
TWO = ps.Beam("14 m", [ps.Support("0 m"), ps.Support("8 m"), ps.Support("14 m")], "162000 kN·m^2")
ASKED = [ps.Reach("moment", sense="positive")]
AT = [1.6, 3.2, 4.8, 6.4]
JACKS = [ps.jack(f"{x} m") for x in AT]
REFERENCE = ps.Reference(
    TWO, {"live": [ps.Load.line("0 m", "8 m", "34.6 kN/m"), ps.Load.line("8 m", "14 m", "2.6 kN/m")]}, [], ("2.5 m", "4.5 m")
)


def ours_layout() -> None:
    """Every x, certified and confirmed."""
    ps.optimise(REFERENCE, JACKS, "total", ASKED)


def highs_rows(points: int) -> tuple[np.ndarray, np.ndarray]:
    """Rows at a grid of places, kN and m."""
    xs = ps.Column(list(np.linspace(2.5, 4.5, points)), "m")
    units = [TWO.response([ps.Load.point(f"{x} m", "1 kN")]).moment(xs).values("kN·m") for x in AT]
    return -np.array(units).T, -np.array(REFERENCE.terms["live"].moment(xs).values("kN·m"))


layout_time = best(ours_layout, 2000)
for points, repeat in ((100, 50), (1000, 20), (10_000, 5)):
    matrix, right = highs_rows(points)
    peer = best(lambda: linprog(np.ones(4), A_ub=matrix, b_ub=right, method="highs"), repeat)  # noqa: B023
    print(
        f"layout of 4 candidates: SciPy HiGHS over {points} places {peer * 1e3:.2f} ms, "
        f"proofspan through Python, every place, certified {layout_time * 1e6:.1f} us, ratio {peer / layout_time:.0f}"
    )

own = best(ours_three, 5000)
print(f"three spans: proofspan through Python with exact extremes {best(ours_with_extremes, 2000) * 1e6:.1f} us; below without, as the peers give none")
for name, function, repeat in (("scikit-fem", fem_three, 20), ("SciPy sparse", sparse_three, 50), ("SymPy", symbolic_three, 3)):
    other = best(function, repeat)
    print(f"three spans: {name} {other * 1e3:.3f} ms, proofspan through Python {own * 1e6:.1f} us, ratio {other / own:.0f}")
code = "import time; t = time.perf_counter(); import proofspan; print(time.perf_counter() - t)"
imports = [float(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout) for _ in range(9)]
print(f"import proofspan: {min(imports) * 1e3:.2f} ms (best of 9), {sorted(imports)[4] * 1e3:.2f} ms (median)")
