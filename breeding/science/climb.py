"""The top of a smooth hill in a few dimensions, its curvature there, and a few points that stand for the whole hill."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from breeding.science.normal import Floats

Value = Callable[[Floats], float]

_ROUNDS = 60
_HALVINGS = 12
# No step goes further than this along one axis; all axes are logarithms or logits.
_LEAP = 1.5


class Top(NamedTuple):
    """Where the value is greatest, how great, and whether the climb came to rest there."""

    at: Floats
    value: float
    settled: bool


def climb(value: Value, start: Floats, *, width: float = 1e-2, gain: float = 1e-4) -> Top:
    """The nearest maximum, by BFGS on central differences.

    Args:
        value: the function; minus infinity where it is not defined.
        start: shape (d,), with a finite value.
        width: of the differences.
        gain: the climb rests once the next step promises less than this.

    Source: Nocedal & Wright 2006, Numerical Optimization, algorithm 6.1 and formula 6.17.

    >>> climb(lambda x: -float((x[0] - 1) ** 2 + (x[1] + x[0]) ** 2), np.array([0.0, 2.0])).at.round(2)
    array([ 1., -1.])
    """
    at, height = np.asarray(start, dtype=float), value(np.asarray(start, dtype=float))
    slope, bends = _slope(value, at, height, width)
    inverse = np.diag(1 / np.maximum(bends, 1.0))
    for _ in range(_ROUNDS):
        if not np.all(np.isfinite(slope)):  # at the edge of where the function is defined
            return Top(at, height, False)
        step = inverse @ slope
        promised = float(slope @ step)
        if not promised > gain:
            return Top(at, height, math.isfinite(promised))
        step /= max(1.0, np.max(np.abs(step)) / _LEAP)
        taken = _backtracked(value, at, height, step, float(slope @ step))
        if taken is None:
            return Top(at, height, promised < 100 * gain)
        (following, height), old = taken, slope
        slope, _ = _slope(value, following, height, width)
        inverse = _updated(inverse, following - at, old - slope)
        at = following
    return Top(at, height, False)


def _slope(value: Value, at: Floats, height: float, width: float) -> tuple[Floats, Floats]:
    """The gradient, and the negative second derivatives along the axes."""
    steps = width * np.eye(len(at))
    above, below = np.array([(value(at + step), value(at - step)) for step in steps]).T
    return (above - below) / (2 * width), (2 * height - above - below) / width**2


def _backtracked(value: Value, at: Floats, height: float, step: Floats, promised: float):
    """The first of ever shorter steps that climbs by a ten-thousandth of its promise; None if none does."""
    for halving in range(_HALVINGS):
        share = 0.5**halving
        reached = value(at + share * step)
        if reached >= height + 1e-4 * share * promised:
            return at + share * step, reached
    return None


def _updated(inverse: Floats, moved: Floats, change: Floats) -> Floats:
    along = float(moved @ change)
    if not 1e-12 < along < math.inf:
        return inverse
    turn = np.eye(len(moved)) - np.outer(moved, change) / along
    return turn @ inverse @ turn.T + np.outer(moved, moved) / along


def curvature(value: Value, at: Floats, *, width: float = 1e-2) -> Floats:
    """The negative Hessian by central differences, shape (d, d)."""
    steps = width * np.eye(len(at))
    height = value(at)
    above, below = np.array([(value(at + step), value(at - step)) for step in steps]).T
    bend = np.diag(2 * height - above - below)
    for i in range(len(at)):
        for j in range(i):
            both = value(at + steps[i] + steps[j]) + value(at - steps[i] - steps[j])
            bend[i, j] = bend[j, i] = (above[i] + below[i] + above[j] + below[j] - 2 * height - both) / 2
    return bend / width**2


def star(top: Floats, bend: Floats, *, flattest: float = 0.25) -> tuple[Floats, Floats, Floats]:
    """Points around the top of a log density that stand for all of it, as a normal would have them.

    The top, and two points on each main axis of ``bend``, ``sqrt(d + 1)`` standard deviations out: with the weights
    below, exact for every cubic under the normal. An axis flatter than ``flattest`` is taken as just that flat.

    Returns:
        points (2 d + 1, d), their squared distance in standard deviations, and their weights under the normal.

    Source: McNamee & Stenger 1967, Numer. Math. 10:327-344, degree 3; a small sibling of the central composite design
    of Rue, Martino & Chopin 2009, J. R. Stat. Soc. B 71:319-392, section 6.5.
    """
    count = len(top)
    values, vectors = np.linalg.eigh(bend)
    axes = (vectors / np.sqrt(np.maximum(values, flattest))).T * math.sqrt(count + 1)
    points = top + np.vstack([np.zeros(count), axes, -axes])
    weights = np.full(2 * count + 1, 1 / (2 * (count + 1)))
    weights[0] = 1 / (count + 1)
    return points, np.array([0.0] + [count + 1.0] * (2 * count)), weights
