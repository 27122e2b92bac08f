"""The upper tail of the standard normal for whole arrays, with all its digits however far out.

Everything rests on the scaled tail R(z) = exp(z²/2) Q(z), where Q(z) is the chance that a standard normal exceeds z:
R falls slowly (like 1/z), so it never underflows where Q itself long has.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.polynomial.chebyshev import chebinterpolate, chebval
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

LOG_2 = math.log(2)
LOG_ROOT_2_PI = math.log(2 * math.pi) / 2
DENSITY_AT_0 = 1 / math.sqrt(2 * math.pi)

# Where t in [-1, 1) stands for x in [0, ∞): t = (x - _HALFWAY) / (x + _HALFWAY), as in the source below.
_HALFWAY = 3.75
_DEGREE = 27


def _scaled_erfc(x: float) -> float:
    """exp(x²) erfc(x): as it stands near 0, by Laplace's continued fraction from 2 on (Abramowitz & Stegun 7.1.14)."""
    if x < 2:
        return math.exp(x * x) * math.erfc(x)
    fraction = x
    for half in range(120, 0, -1):
        fraction = x + half / 2 / fraction
    return 1 / (fraction * math.sqrt(math.pi))


def _smooth(t: Floats) -> Floats:
    x = _HALFWAY * (1 + t) / (1 - t)
    return np.array([(1 + 2 * one) * _scaled_erfc(one) for one in x])


_COEFFICIENTS = chebinterpolate(_smooth, _DEGREE)


def scaled_tail(z: ArrayLike) -> Floats:
    """R(z) = exp(z²/2) Q(z) for z >= 0, to about 1e-15 of itself.

    Source: the Chebyshev form of Shepherd & Laframboise 1981, Math. Comp. 36:249-253; interpolated here at import.

    >>> scaled_tail([0.0, 1e9]) * np.array([2, 1e9 * math.sqrt(2 * math.pi)])
    array([1., 1.])
    """
    x = np.asarray(z, dtype=float) / math.sqrt(2)
    return chebval(1 - 2 * _HALFWAY / (x + _HALFWAY), _COEFFICIENTS) / (2 + 4 * x)


def log_tail(z: ArrayLike) -> Floats:
    """log Q(z) for any z; 0 at minus infinity, minus infinity at infinity.

    >>> log_tail([0.0, 10.0, 100.0]).round(2).tolist()
    [-0.69, -53.23, -5005.52]
    """
    z = np.asarray(z, dtype=float)
    far = np.abs(z)
    with np.errstate(divide="ignore"):
        beyond = np.log(scaled_tail(far)) - far * far / 2
    return np.where(z >= 0, beyond, np.log1p(-np.exp(beyond)))


def log_density(z: ArrayLike) -> Floats:
    """The log of the standard normal density."""
    z = np.asarray(z, dtype=float)
    return -z * z / 2 - LOG_ROOT_2_PI


class Tail(NamedTuple):
    """What is known of the tail at ``z``: R(|z|), log Q(z), and the hazard: density over tail, about z far out."""

    z: Floats
    scaled: Floats
    log: Floats
    hazard: Floats


def tail(z: ArrayLike) -> Tail:
    """All of the tail's faces from one reckoning of R.

    >>> tail([-1.0, 1.0]).hazard.round(4)
    array([0.2876, 1.5251])
    """
    z = np.asarray(z, dtype=float)
    far = np.abs(z)
    scaled = scaled_tail(far)
    density = log_density(far)
    with np.errstate(divide="ignore"):
        beyond = np.log(scaled) - far * far / 2
    log = np.where(z >= 0, beyond, np.log1p(-np.exp(beyond)))
    return Tail(z, scaled, log, np.where(z >= 0, DENSITY_AT_0 / scaled, np.exp(density - log)))


def tail_fall(here: Tail, there: Tail, step: ArrayLike) -> Floats:
    """log Q(z + step) - log Q(z) for step >= 0, without the cancellation that the two logs suffer far out.

    >>> float(tail_fall(tail(1e8), tail(1e8 + 1e-9), 1e-9).round(6))
    -0.1
    """
    out = np.log(there.scaled / here.scaled) - step * (here.z + step / 2)
    return np.where(here.z >= 0, out, there.log - here.log)
