"""How long a step takes: a log-normal around a median, told as the window that holds four in five."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

NORMAL = NormalDist()
TENTH = NORMAL.inv_cdf(0.9)
"""1.2816: a tenth of a standard normal lies above it, a tenth below its negative."""

# Beyond this many spreads the share still waiting is under 1e-299, and soon no float at all.
_FAR = 37.0


@dataclass(frozen=True)
class Timing:
    """The length of a step in days: log length is normal, 80% of all lengths lie from ``low`` to ``high``.

    Raises:
        ValueError: unless 0 < low < high, both finite.

    Source: log-normal distribution, Aitchison & Brown 1957, The Lognormal Distribution.

    >>> pods = Timing(80, 240)
    >>> round(pods.median), round(pods.survival(170), 3), pods.window()
    (139, 0.317, (80, 240))
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        if not 0 < self.low < self.high < math.inf:
            raise ValueError(f"A window needs 0 < low < high, in days; got low {self.low} and high {self.high}.")

    @classmethod
    def around(cls, median: float, spread: float) -> Timing:
        """The timing with this median in days and this standard deviation of log days.

        >>> Timing.around(56, 0.4).low.__round__(1)
        33.5
        """
        if not 0 < median < math.inf:
            raise ValueError(f"A median must be above 0 days and finite; got {median}.")
        if not 0 < spread < math.inf:
            raise ValueError(f"A spread must be above 0 log days and finite; got {spread}.")
        return cls(median * math.exp(-TENTH * spread), median * math.exp(TENTH * spread))

    @property
    def median(self) -> float:
        """Days that half of all steps take at most: the geometric mean of the window's ends."""
        return math.sqrt(self.low) * math.sqrt(self.high)

    @property
    def spread(self) -> float:
        """Standard deviation of log days."""
        return math.log(self.high / self.low) / (2 * TENTH)

    def window(self) -> tuple[float, float]:
        """The days that a tenth and nine tenths of all steps take at most."""
        return self.low, self.high

    def survival(self, age: float) -> float:
        """The chance that the step takes longer than ``age`` days; 1 at age 0 and before.

        Taken from erfc, which keeps its digits far out in the tail, where 1 minus the other tail would be 0.
        """
        return 1.0 if age <= 0 else math.erfc(self._z(age) / math.sqrt(2)) / 2

    def quantile(self, share: float) -> float:
        """Days within which this share of steps has come; ``share`` inside (0, 1), else ValueError."""
        _require_share(share)
        return self.median * math.exp(self.spread * NORMAL.inv_cdf(share))

    def quantile_after(self, age: float, share: float) -> float:
        """Age within which this share will have come, of the steps that have not come at ``age`` days.

        Solves S(t) = (1 - share) S(age). Never below ``age``. At an age so far out that S is no float any more
        (a slip in a date), the tail's leading terms stand in: log S(z) = -z²/2 - log z + constant.

        Source: Abramowitz & Stegun 26.2.12 for the tail.
        """
        _require_share(share)
        if age <= 0:
            return self.quantile(share)
        z = self._z(age)
        if z > _FAR:
            return age * math.exp(self.spread * _step_in_far_tail(z, share))
        later = -NORMAL.inv_cdf((1 - share) * self.survival(age))
        return max(age, self.median * math.exp(self.spread * later))

    def window_after(self, age: float) -> tuple[float, float]:
        """The 80% window of the whole length, for a step that has not come at ``age`` days.

        >>> [round(end) for end in Timing(80, 240).window_after(200)]
        [206, 335]
        """
        return self.quantile_after(age, 0.1), self.quantile_after(age, 0.9)

    def median_after(self, age: float) -> float:
        """The age by which half of those have come that have not come at ``age`` days."""
        return self.quantile_after(age, 0.5)

    def _z(self, age: float) -> float:
        return (math.log(age) - math.log(self.median)) / self.spread


def _step_in_far_tail(z: float, share: float) -> float:
    """How far above ``z`` the standard normal tail has fallen to ``1 - share`` of what it is there."""
    fall = -2 * math.log1p(-share)
    step = fall / (2 * z)
    for _ in range(4):
        step = (fall - 2 * math.log1p(step / z)) / (2 * z + step)
    return step


def _require_share(share: float) -> None:
    if not 0 < share < 1:
        raise ValueError(f"A share must lie between 0 and 1; got {share}.")
