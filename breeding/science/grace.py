"""How long after its event a thing can still be saved: days that differ from one to the next."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from statistics import NormalDist
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from breeding.science.predicted import Law
from breeding.science.timings import Timing

_LEAST_SHARE = 2e-4
_MOST_DAYS = 400
_MEDIAN_SPREAD = 0.25
_WIDER = (1.0, 1.5, 2.0)
_SHIFTS = 31
_HALF_A_DAY_ON = (0.5, 0.5)
"""A length counted in days begun, put behind a moment somewhere in a day, ends that day or the next, each as often."""
HOT_DAYS_LEFT = 0.6
"""Hot dry days burst ripe pods (one grower's page); that they leave six days of ten is our choice."""


@dataclass(frozen=True)
class Grace:
    """Days from the event to the loss, in whole days with the share of things that keep just so long.

    Raises:
        ValueError: unless days rise from 0 or more, shares are above 0 and sum to 1.

    >>> Grace((6, 10), (0.5, 0.5)).mean
    8.0
    """

    days: tuple[int, ...]
    shares: tuple[float, ...]

    def __post_init__(self) -> None:
        if not self.days or self.days[0] < 0 or list(self.days) != sorted(set(self.days)):
            raise ValueError(f"Days of grace must rise from 0 or more; got {self.days}.")
        if len(self.days) != len(self.shares) or min(self.shares) <= 0 or not math.isclose(sum(self.shares), 1):
            raise ValueError(f"Shares of grace must be above 0 and sum to 1, one for each day; got {self.shares}.")

    @classmethod
    def of(cls, days: int) -> Grace:
        """The same for every thing."""
        return cls((days,), (1.0,))

    @classmethod
    def between(cls, low: float, high: float) -> Grace:
        """Log-normal, with four in five from ``low`` to ``high`` days; the same for every thing if they are equal.

        >>> Grace.between(6, 10).days
        (3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15)
        """
        if low == high:
            return cls.of(math.floor(low))
        return _from_shares(_whole_days(Timing(low, high)))

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        """Worked out once: thousands of things ask for the same grace."""
        return hash((self.days, self.shares))

    @property
    def mean(self) -> float:
        return float(np.dot(self.days, self.shares))

    def over_by(self, days: int) -> float:
        """The share whose grace is at most this many days."""
        return sum(share for day, share in zip(self.days, self.shares, strict=True) if day <= days)

    def keeps(self, but: float) -> int:
        """The most days after which no more than this share is over.

        >>> Grace.between(6, 10).keeps(but=0.1), Grace.between(6, 10).keeps(but=0.9), Grace.of(7).keeps(but=0.5)
        (6, 10, 7)
        """
        over = np.cumsum(self.as_array()) <= but + _LEAST_SHARE * 5
        return int(np.argmin(over)) if not over.all() else len(over)

    def shortened(self, left: float = HOT_DAYS_LEFT) -> Grace:
        """The same in a hot spell, which leaves this part of every length."""
        return _from_shares(_summed(np.floor(np.multiply(self.days, left)).astype(int), self.shares))

    def mixed(self, other: Grace, share: float) -> Grace:
        """What holds where nobody knows which of the two will: ``share`` of ``other``.

        >>> Grace.of(8).mixed(Grace.of(4), 0.25)
        Grace(days=(4, 8), shares=(0.25, 0.75))
        """
        days = np.concatenate([self.days, other.days])
        return _from_shares(_summed(days, [*np.multiply(self.shares, 1 - share), *np.multiply(other.shares, share)]))

    def behind(self, law: Law) -> Grace:
        """The grace of an event that comes a step earlier: that step's length, and then this grace.

        Pods that turn open some days later, and only then does their grace begin.

        >>> round(Grace.of(7).behind(Timing(7, 21)).mean)
        20
        """
        return _behind(self, law)

    def as_array(self) -> NDArray[np.float64]:
        """The share that keeps just so many days, by days from 0 to the longest."""
        return _summed(self.days, self.shares)


class Found(NamedTuple):
    """Pods not open at one look and open at the next: three facts of each pair of looks.

    ``days`` lay between the two; ``turning`` says whether they were turning at the first (else firm and green);
    ``split`` whether they had split or fallen by the second (else just opening).
    """

    days: Sequence[int]
    turning: Sequence[bool]
    split: Sequence[bool]


def learned(shipped: Grace, found: Found, *, turning: Law) -> Grace:
    """The grace that the nursery's own finds speak for, from the shipped one on.

    Turning pods opened on any day between the two looks alike; green ones turned on any such day, and opened later by
    the length of ``turning``. They were found split if their grace had run out by the second look. The grace is
    log-normal; its median is drawn around the shipped one (a quarter in log days, our choice), its spread is the
    shipped one, half as wide again, or twice as wide, since a grace taken for less varied than it is loses pods. That
    the shipped one is just right is believed as much as all of this together, so that a few finds move little. The
    answer averages over what the finds leave open; nothing found gives the shipped one.

    Args:
        shipped: what to start from; plain and bagged pods are learned apart.
        found: the pairs of looks; those with 0 days between tell nothing.
        turning: days from the first pod turning to the first one opening.

    Source: delay-time model of inspection (Christer & Waller 1984), its delay estimated from what inspections find.

    >>> ten_days_apart = Found(days=[10] * 60, turning=[True] * 60, split=[False] * 58 + [True] * 2)
    >>> learned(Grace.between(6, 10), ten_days_apart, turning=Timing(7, 21)).mean > Grace.between(6, 10).mean + 1
    True
    """
    finds = Counter(found_one for found_one in zip(*found, strict=True) if found_one[0] > 0)
    if not finds:
        return shipped
    choices = _choices(shipped)
    ahead = _whole_days(turning)
    likely = np.log(np.append(1.0, np.full(len(choices) - 1, 1 / (len(choices) - 1))))
    for (days, was_turning, split), times in finds.items():
        opened = _opened(days, None if was_turning else ahead)
        chances = np.clip([np.dot(opened, _over_by_the_last(shares, days)) for shares in choices], 1e-9, 1 - 1e-9)
        likely += times * np.log(chances if split else 1 - chances)
    weights = np.exp(likely - likely.max())
    return _from_shares(weights @ choices / weights.sum())


def _choices(shipped: Grace) -> NDArray[np.float64]:
    """What the grace may be before anything is found, the shipped one first: a row of shares by days."""
    median, spread = _log_normal_like(shipped)
    around = NormalDist(0, _MEDIAN_SPREAD)
    shifts = [around.inv_cdf((step + 0.5) / _SHIFTS) for step in range(_SHIFTS)]
    rows = [shipped.as_array()]
    rows += [
        _whole_days(Timing.around(median * math.exp(shift), spread * wider)) for shift in shifts for wider in _WIDER
    ]
    return np.array([np.pad(row, (0, max(map(len, rows)) - len(row))) for row in rows])


def _opened(days: int, ahead: NDArray[np.float64] | None) -> NDArray[np.float64]:
    """On which of the days between two looks it opened, given that it did."""
    alike = np.full(days, 1 / days)
    opened = alike if ahead is None else np.convolve(alike, np.convolve(ahead, _HALF_A_DAY_ON))[:days]
    return opened / opened.sum() if opened.sum() > 0 else alike


def _over_by_the_last(shares: NDArray[np.float64], days: int) -> NDArray[np.float64]:
    """For each day of opening, the chance that the grace is over by the second look."""
    over = np.cumsum(np.convolve(shares, _HALF_A_DAY_ON))
    return over[np.minimum(np.arange(days)[::-1], len(over) - 1)]


def _log_normal_like(grace: Grace) -> tuple[float, float]:
    """Median and spread of log days of what is nearest to this grace, whose days are days begun."""
    logs = np.log(np.add(grace.days, 0.5))
    middle = float(np.dot(logs, grace.shares))
    return math.exp(middle), max(math.sqrt(np.dot((logs - middle) ** 2, grace.shares)), 0.1)


@lru_cache(maxsize=1024)
def _behind(grace: Grace, law: Law) -> Grace:
    return _from_shares(np.convolve(_whole_days(law), grace.as_array()))


def _whole_days(law: Law) -> NDArray[np.float64]:
    """Shares of a length by days begun, so that 6.7 days count as 6; what takes longer still counts as the longest."""
    last = min(math.ceil(law.quantile(1 - _LEAST_SHARE / 10)), _MOST_DAYS)
    return -np.diff([1.0, *(law.survival(day) for day in range(1, last + 1)), 0.0])


def _summed(days: Sequence[int] | NDArray[np.int64], shares: Sequence[float]) -> NDArray[np.float64]:
    return np.bincount(np.asarray(days, dtype=int), weights=shares)


def _from_shares(shares: NDArray[np.float64]) -> Grace:
    """What keeps rarely so long or so short is left out."""
    kept = np.flatnonzero(shares > _LEAST_SHARE)
    whole = shares[kept] / shares[kept].sum()
    return Grace(tuple(kept.tolist()), tuple(whole.tolist()))
