"""The plain interval-censored log-normal: no prior, no groups, one maximum. What the shrunk fit is checked against."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from breeding.science.climb import climb, curvature
from breeding.science.intervals import interval_terms
from breeding.science.normal import Floats, log_density

# A spread of this many log days or more (a factor of e^20) means that the likelihood rises without end.
_ENDLESS = 20.0


class Alone(NamedTuple):
    """Mean and standard deviation of log days with their standard errors, and the log likelihood in days."""

    mean: float
    spread: float
    log_likelihood: float
    mean_error: float
    spread_error: float


def fit_alone(low: ArrayLike, high: ArrayLike) -> Alone | None:
    """The log-normal under which the intervals are likeliest; None where no single one is.

    There is none if nothing bounds the ages from one side, or if all could have come on the same day.

    Args:
        low: ages in days, 0 for "some time before ``high``"; shape (n,).
        high: ages in days, infinite for "after ``low``", equal to ``low`` for an age seen exactly; shape (n,).

    Raises:
        ValueError: an interval that ends before it begins; the message says which.

    Source: Turnbull 1976, J. R. Stat. Soc. B 38:290-295; errors from the observed information.

    >>> found = fit_alone([40, 47, 54, 61], [47, 54, 61, math.inf])
    >>> round(math.exp(found.mean)), round(found.spread, 2)
    (54, 0.16)
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    for place in np.flatnonzero(~((low >= 0) & (high >= low))):
        raise ValueError(f"An interval must begin at 0 or later and end no earlier; got {low[place]} to {high[place]}.")
    if _unbounded(low, high):
        return None
    value, start = _likelihood(low, high), _start(low, high)
    top = climb(value, start, width=1e-4, gain=1e-12)
    spread = math.exp(top.at[1])
    if not top.settled or spread > _ENDLESS:
        return None
    errors = np.sqrt(np.diag(np.linalg.inv(curvature(value, top.at, width=1e-3))))
    return Alone(float(top.at[0]), spread, top.value, float(errors[0]), float(spread * errors[1]))


def _unbounded(low: Floats, high: Floats) -> bool:
    """Nothing at all, nothing that ended or nothing that began, or one day on which all may have come."""
    return not (np.isfinite(high).any() and (low > 0).any()) or np.max(low) <= np.min(high)


def _likelihood(low: Floats, high: Floats):
    """The log likelihood as a function of the mean and the log of the spread."""
    exact = low == high
    with np.errstate(divide="ignore"):
        ends = np.log(low[~exact]), np.log(high[~exact])
    seen = np.log(low[exact])

    def value(at: Floats) -> float:
        mean, spread = at[0], math.exp(at[1])
        density = log_density((seen - mean) / spread) - at[1] - seen
        log = float(np.sum(interval_terms(*ends, mean, spread).log) + np.sum(density))
        return log if math.isfinite(log) else -math.inf

    return value


def _start(low: Floats, high: Floats) -> Floats:
    """Mean and log spread of the intervals' middles, open ends closed by a half or a double."""
    middles = np.log((np.where(low > 0, low, high / 2) + np.where(np.isfinite(high), high, low * 2)) / 2)
    return np.array([np.mean(middles), math.log(max(np.std(middles), 0.05))])
