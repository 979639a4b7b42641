"""A line of beams by the stiffness matrix: SI, x from the left, loads and deflections down, sagging positive."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
NEAR = 1e-9


@dataclass(frozen=True)
class Load:
    """A force at ``at`` (``to`` absent), or a line load from ``size`` at ``at`` to ``end`` at ``to``."""

    at: float
    size: float
    to: float | None = None
    end: float = 0.0

    @property
    def resultant(self) -> float:
        return self.size if self.to is None else (self.size + self.end) / 2 * (self.to - self.at)

    def times(self, factor: float) -> Load:
        return Load(self.at, self.size * factor, self.to, self.end * factor)

    def within(self, a: float, b: float) -> Load | None:
        """What of it stands from a to b; a force at b belongs to what is right of it."""
        if self.to is None:
            return self if a - NEAR <= self.at < b - NEAR else None
        left, right = max(a, self.at), min(b, self.to)
        if right - left <= NEAR:
            return None
        return Load(left, self.intensity(left), right, self.intensity(right))

    def intensity(self, x: float) -> float:
        assert self.to is not None
        return self.size + (self.end - self.size) * (x - self.at) / (self.to - self.at)

    def about(self, x: float) -> float:
        """Its moment about x, clockwise where it stands to the right."""
        if self.to is None:
            return self.size * (self.at - x)
        length = self.to - self.at
        return self.size * length / 2 * (self.at + length / 3 - x) + self.end * length / 2 * (self.at + 2 * length / 3 - x)


def uniform(a: float, b: float, w: float) -> Load:
    return Load(a, w, b, w)


@dataclass(frozen=True)
class Held:
    """A support: rigid or on a spring, free to turn, held, or held by a spring."""

    at: float
    spring: float | None = None
    fixed: bool = False
    turning: float | None = None


@dataclass
class Line:
    """A line of beams; ``stiffness`` lists where each EI begins."""

    length: float
    supports: list[Held]
    stiffness: list[tuple[float, float]]
    hinges: list[float] = field(default_factory=list)

    def spans(self) -> list[tuple[float, float]]:
        cuts = sorted({0.0, self.length, *(s.at for s in self.supports)})
        return [(a, b) for a, b in zip(cuts, cuts[1:], strict=False) if b - a > NEAR]

    def solve(self, cases: list[list[Load]], more: list[float] | None = None) -> list[Solution]:
        """The solution of every load case, with nodes at ``more`` places for their deflections."""
        places = {0.0, self.length, *(s.at for s in self.supports), *self.hinges, *(a for a, _ in self.stiffness), *(more or [])}
        x: list[float] = []
        for place in sorted(places):
            if not x or place - x[-1] > NEAR:
                x.append(place)
        node = {i: 3 * i for i in range(len(x))}  # deflection, rotation left, rotation right
        size = 3 * len(x)
        k = np.zeros((size, size))
        hinge = {self._index(x, h) for h in self.hinges}
        dofs = []
        for e in range(len(x) - 1):
            at = [node[e], node[e] + (2 if e in hinge else 1), node[e + 1], node[e + 1] + 1]
            dofs.append(at)
            k[np.ix_(at, at)] += self._element(self._ei((x[e] + x[e + 1]) / 2), x[e + 1] - x[e])
        held = []
        for support in self.supports:
            at0 = node[self._index(x, support.at)]
            if support.spring is None:
                held.append(at0)
            else:
                k[at0, at0] += support.spring
            if support.fixed and support.turning is None:
                held.append(at0 + 1)
            elif support.turning is not None:
                k[at0 + 1, at0 + 1] += support.turning
        unused = [3 * i + 2 for i in range(len(x)) if i not in hinge]
        free = np.setdiff1d(np.arange(size), np.array(held + unused))
        right = np.zeros((size, len(cases)))
        ends = np.zeros((len(dofs), 4, len(cases)))
        loaded: list[list[list[Load]]] = [[[] for _ in dofs] for _ in cases]
        for c, case in enumerate(cases):
            for load in case:
                for e in range(len(dofs)):
                    last = NEAR * 2 if e == len(dofs) - 1 and load.to is None else 0.0
                    part = load.within(x[e], x[e + 1] + last)
                    if part is not None:
                        loaded[c][e].append(part)
                        ends[e, :, c] += self._consistent(part, x[e], x[e + 1] - x[e])
        for e, at in enumerate(dofs):
            right[at, :] += ends[e]
        u = np.zeros((size, len(cases)))
        scale = 1 / np.sqrt(np.diag(k)[free])
        u[free] = scale[:, None] * np.linalg.solve(k[np.ix_(free, free)] * np.outer(scale, scale), right[free] * scale[:, None])
        reaction = right - k @ u  # what the rigid supports bring, up
        solutions = []
        for c in range(len(cases)):
            forces = []
            for e, at in enumerate(dofs):
                f = self._element(self._ei((x[e] + x[e + 1]) / 2), x[e + 1] - x[e]) @ u[at, c] - ends[e, :, c]
                forces.append((-float(f[0]), float(f[1])))
            ups = []
            for support in self.supports:
                at0 = node[self._index(x, support.at)]
                ups.append(float(reaction[at0, c]) if support.spring is None else support.spring * float(u[at0, c]))
            solutions.append(Solution(x, forces, loaded[c], ups, [float(v) for v in u[::3, c]]))
        return solutions

    @staticmethod
    def _index(x: list[float], place: float) -> int:
        return bisect_left(x, place - NEAR)

    def _ei(self, x: float) -> float:
        return [ei for at, ei in self.stiffness if at <= x][-1]

    @staticmethod
    def _element(ei: float, h: float) -> Array:
        k = np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h], [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
        return np.asarray(k * (ei / h**3), dtype=np.float64)

    @staticmethod
    def _consistent(load: Load, start: float, h: float) -> Array:
        """Work of the load on the four Hermite shapes: three Gauss points are exact for what is linear."""
        if load.to is None:
            points = [(load.at, load.size)]
        else:
            half, middle = (load.to - load.at) / 2, (load.to + load.at) / 2
            gauss = ((-math.sqrt(0.6), 5 / 9), (0.0, 8 / 9), (math.sqrt(0.6), 5 / 9))
            points = [(middle + g * half, w * half * load.intensity(middle + g * half)) for g, w in gauss]
        found = np.zeros(4)
        for at, force in points:
            t = min(max((at - start) / h, 0.0), 1.0)
            shapes = (1 - 3 * t**2 + 2 * t**3, h * t * (1 - t) ** 2, 3 * t**2 - 2 * t**3, h * (t**3 - t**2))
            found += force * np.array(shapes)
        return found


@dataclass
class Solution:
    """Shear and moment of one load case, exact between the nodes."""

    x: list[float]
    forces: list[tuple[float, float]]
    loaded: list[list[Load]]
    reactions: list[float]
    moved: list[float]

    def _left(self, x: float, side: str) -> tuple[float, float, list[Load]]:
        """Shear and moment at the start of the element, its start apart, and what stands before x."""
        e = bisect_left(self.x, x - NEAR) - 1 if side == "left" else bisect_right(self.x, x + NEAR) - 1
        e = min(max(e, 0), len(self.forces) - 1)
        v, m = self.forces[e]
        before: list[Load] = []
        for load in self.loaded[e]:
            if load.to is None:
                if load.at < x - NEAR or (side == "right" and load.at <= x + NEAR):
                    before.append(load)
            elif load.at < x:
                before.append(load if load.to <= x else Load(load.at, load.size, x, load.intensity(x)))
        return v, m + v * (x - self.x[e]), before

    def shear(self, x: float, side: str = "left") -> float:
        v, _, before = self._left(x, side)
        return v - sum(load.resultant for load in before)

    def moment(self, x: float, side: str = "left") -> float:
        _, m, before = self._left(x, side)
        return m + sum(load.about(x) for load in before)

    def effect(self, what: str, x: float, side: str) -> float:
        return self.shear(x, side) if what == "shear" else self.moment(x, side)

    def deflection(self, x: float) -> float:
        """At a node."""
        return self.moved[bisect_left(self.x, x - NEAR)]
