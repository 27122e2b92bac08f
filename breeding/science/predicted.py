"""What a learned step is expected to take: a small weighted mixture of log-normals, told in the same words as a timing.

A single log-normal knows its own spread and median exactly; a law learned from a few looks does not. Its doubt is
carried by several log-normals with a weight each, whose tails together are heavier than any one of them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike

from breeding.science.normal import LOG_2, Floats, Tail, log_tail, tail, tail_fall

Part = tuple[float, float, float]
"""Weight, median in days, standard deviation of log days."""

# An age this many spreads below every median stands for none: S there is 1 to the last digit.
_BEFORE = 40.0
_FAR = 1e4
_ROUNDS = 80
# Newton's steps double the digits: after a step this small against x, none is left to gain.
_CLOSE = 1e-8
_SAME = 1e-15  # halving gains a digit in three rounds


class Law(Protocol):
    """What a timing and a prediction both answer; all in days since the step began. Frozen and hashable."""

    @property
    def median(self) -> float: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...
    def window(self) -> tuple[float, float]: ...
    def survival(self, age: float) -> float: ...
    def quantile(self, share: float) -> float: ...
    def quantile_after(self, age: float, share: float) -> float: ...
    def window_after(self, age: float) -> tuple[float, float]: ...
    def median_after(self, age: float) -> float: ...


@dataclass(frozen=True)
class Predicted:
    """The length of a step in days as a mixture of log-normals.

    ``parts`` are (weight, median in days, standard deviation of log days), weights together 1. ``never`` is the share
    of all steps that never come (pots that stay empty, crosses that do not take); everything but ``waiting`` and
    ``never_after`` speaks of those that do come.

    Raises:
        ValueError: no part, a weight, median or spread not above 0 and finite, weights not together 1, or ``never``
            outside [0, 1).

    >>> pods = Predicted(((0.5, 110.0, 0.1), (0.5, 110.0, 0.2)))
    >>> round(pods.median), [round(day) for day in pods.window()], round(pods.quantile_after(120, 0.002), 1)
    (110, [91, 133], 120.0)
    """

    parts: tuple[Part, ...]
    never: float = 0.0

    def __post_init__(self) -> None:
        if not self.parts or not all(0 < number < math.inf for part in self.parts for number in part):
            raise ValueError(f"A prediction needs parts of weight, median and spread above 0; got {self.parts}.")
        if abs(sum(weight for weight, _, _ in self.parts) - 1) > 1e-6:
            raise ValueError(f"The weights of the parts must be 1 together; got {self.parts}.")
        if not 0 <= self.never < 1:
            raise ValueError(f"The share that never comes must be from 0 to under 1; got {self.never}.")

    @cached_property
    def median(self) -> float:
        """Days that half of all steps that come take at most."""
        return self.quantile(0.5)

    @cached_property
    def low(self) -> float:
        """Days that a tenth of them take at most."""
        return self.quantile(0.1)

    @cached_property
    def high(self) -> float:
        """Days that nine tenths of them take at most."""
        return self.quantile(0.9)

    def window(self) -> tuple[float, float]:
        """The 80% window: ``low`` and ``high``."""
        return self.low, self.high

    def survival(self, age: float) -> float:
        """The chance that a step that comes takes longer than ``age`` days; 1 at age 0 and before."""
        if age <= 0:
            return 1.0
        at = math.log(age)
        return sum(
            weight * math.erfc((at - math.log(median)) / spread / math.sqrt(2)) / 2
            for weight, median, spread in self.parts
        )

    def waiting(self, age: float) -> float:
        """The share of all steps, those that never come included, that have not come at ``age`` days."""
        return self.never + (1 - self.never) * self.survival(age)

    def never_after(self, age: float) -> float:
        """The chance that what has not come at ``age`` days never will: Bayes' rule on ``waiting``.

        >>> [round(Predicted(((1.0, 56.0, 0.4),), never=0.2).never_after(age), 2) for age in (0, 56, 180)]
        [0.2, 0.33, 0.99]
        """
        return self.never / waiting if (waiting := self.waiting(age)) else 0.0

    def quantile(self, share: float) -> float:
        """Days within which this share of the steps that come has come; ``share`` inside (0, 1), else ValueError."""
        return self.quantile_after(0, share)

    def quantile_after(self, age: float, share: float) -> float:
        """Age within which this share will have come, of those that come and have not come at ``age`` days.

        Solves S(t) = (1 - share) S(age). Never below ``age``, and finite at any finite age, however absurd.
        """
        if not 0 < share < 1:
            raise ValueError(f"A share must lie between 0 and 1; got {share}.")
        return _remembered_quantile(max(age, 0), share, self.parts)

    def window_after(self, age: float) -> tuple[float, float]:
        """The 80% window of the whole length, for a step that comes and has not come at ``age`` days."""
        return self.quantile_after(age, 0.1), self.quantile_after(age, 0.9)

    def median_after(self, age: float) -> float:
        """The age by which half of those have come that have not come at ``age`` days."""
        return self.quantile_after(age, 0.5)


@lru_cache(maxsize=1 << 16)
def _remembered_quantile(age: float, share: float, parts: tuple[Part, ...]) -> float:
    return float(quantiles_after(age, share, parts))


def survival_of(ages: ArrayLike, parts: Sequence[Part] | Floats) -> Floats:
    """S at many ages at once: the chance that the step takes longer; 1 at age 0 and before.

    Args:
        ages: days, any shape.
        parts: (k, 3) weights, medians and spreads for all ages alike, or one such table an age: ages' shape + (k, 3).
            A law of fewer parts than another is filled up with parts of weight 0 (any median and spread above 0).

    Returns:
        Chances, in the shape of ``ages``.

    >>> survival_of([0.0, 110.0, 1e9], [(1.0, 110.0, 0.1)])
    array([1. , 0.5, 0. ])
    """
    weight, centre, spread = _columns(parts)
    return np.sum(weight * np.exp(log_tail((_logs(ages, centre, spread) - centre) / spread)), axis=-1)


def quantiles_after(ages: ArrayLike, share: ArrayLike, parts: Sequence[Part] | Floats) -> Floats:
    """``Predicted.quantile_after`` for many ages at once; a whole bench in a few milliseconds.

    Seeks x = log(t / age) at which the chance of having waited on has fallen to 1 - share. Given "not yet" at ``age``,
    each part's weight is what it says of getting that far; the answer lies below the largest of the parts' own.
    Newton's step where it stays between the ends known so far and is at most half of the one before, else halving: on a
    mixture's flat stretches it may go to and fro without end (Numerical Recipes 9.4, from memory).

    Args:
        ages: days, any shape; below 0 counts as 0.
        share: inside (0, 1); one for all, or one an age.
        parts: as for ``survival_of``.

    Returns:
        Ages in days, none below its own; in the shape of ``ages``.

    >>> quantiles_after([0.0, 110.0, 5000.0], 0.5, [(1.0, 110.0, 0.1)]).round(1)
    array([ 110. ,  117.7, 5009.1])
    """
    weight, centre, spread = _columns(parts)
    start = _logs(ages, centre, spread)
    here = tail((start - centre) / spread)
    step = _step_up(here, spread, _reached(weight, here), -np.log1p(-np.asarray(share, dtype=float)))
    return np.maximum(np.asarray(ages, dtype=float), np.exp(start[..., 0] + step))


def _columns(parts: Sequence[Part] | Floats) -> tuple[Floats, Floats, Floats]:
    """Weights, log medians and spreads."""
    table = np.asarray(parts, dtype=float)
    return table[..., 0], np.log(table[..., 1]), table[..., 2]


def _logs(ages: ArrayLike, centre: Floats, spread: Floats) -> Floats:
    """Log ages with a last axis for the parts; an age before all that can happen is put just there."""
    before = np.min(centre - _BEFORE * spread, axis=-1)
    with np.errstate(divide="ignore"):
        return np.maximum(np.log(np.maximum(ages, 0.0)), before)[..., np.newaxis]


def _reached(weight: Floats, here: Tail) -> Floats:
    """The parts' weights among what has got as far as here: Bayes' rule, in logs."""
    with np.errstate(divide="ignore"):
        log = np.log(weight) + here.log
    share = np.exp(log - log.max(axis=-1, keepdims=True))
    return share / share.sum(axis=-1, keepdims=True)


def _step_up(here: Tail, spread: Floats, reached: Floats, fall: Floats) -> Floats:
    """x at which log of the parts' mean fall, each from z to z + x / spread, is ``-fall``."""
    low, high = _bounds(here, fall[..., np.newaxis])
    low, high = np.min(low * spread, axis=-1), np.max(high * spread, axis=-1)
    x, moved = np.where(low > 0, low, high), high - low
    for _ in range(_ROUNDS):
        over, slope = _overshoot(here, x, spread, reached)
        over += fall
        low, high = np.where(over >= 0, x, low), np.where(over <= 0, x, high)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            newton = x + over / slope
            trusted = (newton >= low) & (newton <= high) & (np.abs(newton - x) <= np.maximum(moved / 2, _CLOSE * x))
        following = np.where(trusted, newton, (low + high) / 2)
        moved, x = np.abs(following - x), following
        if np.all(moved <= np.where(trusted, _CLOSE, _SAME) * x):
            break
    return x


def _overshoot(here: Tail, x: Floats, spread: Floats, reached: Floats) -> tuple[Floats, Floats]:
    """The log of the parts' mean fall at ``x``, and how fast it falls there."""
    step = x[..., np.newaxis] / spread
    there = tail(here.z + step)
    left = reached * np.exp(tail_fall(here, there, step))
    mean = left.sum(axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.log(mean), np.sum(left * there.hazard / spread, axis=-1) / mean


def _bounds(here: Tail, fall: Floats) -> tuple[Floats, Floats]:
    """Steps between which each part's log Q falls by ``fall``.

    log Q is concave, so its slope at z bounds the step from above. Both tails are at most exp(-z²/2) / 2 (Abramowitz &
    Stegun 7.1.13 is sharper), which bounds the end from above where it lies over 0, and from below where it lies under.
    """
    end = here.log - fall
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        above = np.sqrt(np.maximum(-2 * (end + LOG_2), 0)) - here.z
        below = -np.sqrt(np.maximum(-2 * np.log(-2 * np.expm1(end)), 0)) - here.z
        by_slope = fall / here.hazard
    high = np.where(here.z > _FAR, by_slope, np.minimum(by_slope, np.maximum(above, 0)))
    return np.where(end > -LOG_2, np.maximum(below, 0), 0), high
