"""When to look next at something that has not happened yet."""

from __future__ import annotations

import math
from collections.abc import Collection
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from breeding.science.grace import Grace
from breeding.science.predicted import Law, Part, Predicted, survival_of

ONE_DAY = timedelta(days=1)

# A whole day computed as 100.9999999999 is day 101, and a risk met to twelve digits is met.
_ROUNDING = 1e-9
_ONE_PLUS = 1 + 1e-12

_RARELY_LATER = 1e-4
_MOST_DAYS = 4000
_HALVINGS = 14
_TINY = 1e-250


class Spent(NamedTuple):
    """What a rule costs and leaves: looks at each thing until it is seen, and the share that is lost unseen."""

    looks: float
    lost: float


def next_look_age(last_age: int, *, timing: Law, risk: float, grace: float | Grace, longest_gap: int) -> int:
    """Age at which to look again, given "not yet" at the last look.

    Away until age a, we lose the thing if its event came, and its grace ran out, unseen. Given "not yet" at
    ``last_age`` that has the chance ``1 - S(a - grace) / S(last_age)``, where S(x) is the chance that the step takes
    longer than x days; where graces differ, the mean of that over them. The answer is the last whole day on which
    that chance is still at most ``risk``.

    Args:
        last_age: days from the start of the step to the last look, 0 or more.
        timing: how long the step takes.
        risk: accepted chance of losing it unseen until this look, inside (0, 1); see ``risk_a_look``.
        grace: days from the event to the loss, 0 or more, or how they are spread.
        longest_gap: days, 1 or more; nothing is left alone for longer than this.

    Returns:
        Age in whole days, from ``last_age + 1`` to ``last_age + longest_gap``, for any age however absurd.

    Raises:
        ValueError: a value outside the ranges above; the message says which.

    Source: delay-time inspection model (Christer & Waller 1984, J. Oper. Res. Soc. 35:401-406).

    >>> from breeding.science.timings import Timing
    >>> pods = Timing(80, 240)
    >>> [next_look_age(age, timing=pods, risk=0.002, grace=6, longest_gap=28) for age in (0, 28, 56, 110)]
    [28, 46, 63, 116]
    >>> next_look_age(110, timing=pods, risk=0.01, grace=Grace((6, 9), (0.5, 0.5)), longest_gap=28)
    117
    """
    _require("last_age", last_age, 0 <= last_age < math.inf, "0 or more")
    _require("risk", risk, 0 < risk < 1, "between 0 and 1")
    if isinstance(grace, Grace):
        _require("longest_gap", longest_gap, 1 <= longest_gap < math.inf, "1 or more")
        within = shares_lost(last_age, timing, grace, longest_gap)[1:] <= risk * _ONE_PLUS
        return last_age + max(int(np.argmin(within)) if not within.all() else longest_gap, 1)
    _require("grace", grace, 0 <= grace < math.inf, "0 or more")
    _require("longest_gap", longest_gap, 1 <= longest_gap < math.inf, "1 or more")
    latest = grace + timing.quantile_after(last_age, risk)
    whole = math.floor(min(latest, last_age + longest_gap) + _ROUNDING)
    return max(whole, last_age + 1)


def next_looks(last_ages: ArrayLike, law: Law, *, grace: Grace, risk: float, longest_gap: int) -> NDArray[np.int64]:
    """Ages at which to look again at many things of one law, each "not yet" at its last look.

    Args:
        last_ages: whole days from the start of the step to the last look, 0 or more; any shape.
        law: how long the step takes, for all of them.
        grace: days from the event to the loss.
        risk: the share of things that may be lost from start to end, inside (0, 1), spread by ``risk_a_look``.
        longest_gap: days, 1 or more; nothing is left alone for longer than this.

    Returns:
        Ages in whole days, of the same shape. What is worked out once for a law, grace, risk and gap is kept.

    Raises:
        ValueError: a value outside the ranges above; the message says which.

    >>> from breeding.science.timings import Timing
    >>> next_looks([0, 28, 56, 110], Timing(80, 240), grace=Grace.of(6), risk=0.02, longest_gap=28)
    array([ 28,  52,  64, 116])
    """
    ages = np.asarray(last_ages, dtype=np.int64)
    _require("last_age", ages.min(initial=0), ages.min(initial=0) >= 0, "0 or more")
    pace = _pace(law, grace, risk, longest_gap)
    known = len(pace.next_ages) - 1
    answer = pace.next_ages[np.minimum(ages, known)]
    if (far := ages > known).any():
        late = [_later(age, law, grace, pace.risk_a_look, longest_gap) for age in ages[far].tolist()]
        answer = np.where(far, 0, answer)
        answer[far] = late
    return answer


def next_look(last_age: int, law: Law, *, grace: Grace, risk: float, longest_gap: int) -> int:
    """The same for one thing."""
    pace = _pace(law, grace, risk, longest_gap)
    if last_age < len(pace.next_ages):
        return int(pace.next_ages[last_age])
    return _later(last_age, law, grace, pace.risk_a_look, longest_gap)


def risk_a_look(law: Law, *, grace: Grace, risk: float, longest_gap: int) -> float:
    """The chance of loss to accept until one look, so that the losses of all looks together come to ``risk``.

    The owner says what share of things may be lost from start to end. Looks at which hardly anything can be lost yet
    take nothing of it; it is spread over the looks that are still expected while there is danger. Accepting the same
    chance at each of these, given that it was "not yet" at the one before, takes within a few in a hundred as many
    looks as the least possible (tests/breeding/science/test_spread_risk.py finds that by dynamic programming).

    >>> from breeding.science.timings import Timing
    >>> vague, known = Timing(80, 240), Timing(110, 130)
    >>> [round(risk_a_look(law, grace=Grace.of(6), risk=0.01, longest_gap=28), 5) for law in (vague, known)]
    [0.00307, 0.00999]
    """
    return _pace(law, grace, risk, longest_gap).risk_a_look


def looks_and_losses(law: Law, grace: Grace, risk: float, longest_gap: int) -> Spent:
    """What accepting ``risk`` costs in looks and leaves in losses, worked out from the law, without drawing lots.

    From the start of the step on, every day a working day and none missed: looks at one thing until it is seen, the
    last one counted, and the share lost unseen. Both are means over things that take as long as ``law`` says; what
    never comes at all (germination) is left out. Real rounds lose a little more for days missed and a little less for
    looks moved back to a working day. The share lost falls short of ``risk`` where looks come in whole days.

    >>> from breeding.science.timings import Timing
    >>> spent = looks_and_losses(Timing(110, 130), Grace.between(6, 10), 0.01, 28)
    >>> round(spent.looks, 1), round(spent.lost, 4)
    (6.7, 0.0095)
    """
    return _pace(law, grace, risk, longest_gap).spent


def shares_lost(last_age: int, law: Law, grace: Grace, longest_gap: int) -> NDArray[np.float64]:
    """The chances to lose it unseen by staying away for 0, 1, ... ``longest_gap`` days after "not yet" at ``last_age``.

    >>> from breeding.science.timings import Timing
    >>> shares_lost(110, Timing(80, 240), Grace.of(2), 4).round(3)
    array([0.   , 0.   , 0.   , 0.01 , 0.021])
    """
    return _came_after(last_age, law, np.arange(longest_gap + 1)) @ _over(grace, longest_gap)


@lru_cache(maxsize=1 << 16)
def chance_lost(last_age: int, age: int, law: Law, grace: Grace) -> float:
    """The chance that it is lost by ``age``, if nobody looks after "not yet" at ``last_age``; 0 for an age before that.

    >>> from breeding.science.timings import Timing
    >>> round(chance_lost(110, 114, Timing(80, 240), Grace.of(2)), 3)
    0.021
    """
    ahead = np.maximum(age - last_age - np.array(grace.days), 0)
    return float(np.dot(_came_after(last_age, law, ahead), grace.shares))


@lru_cache(maxsize=4096)
def earlier(law: Law, ahead: Law) -> Predicted:
    """How long a step takes up to a stage that comes before its end, ``ahead`` being from the stage to the end.

    Each log-normal is moved to an earlier median, by the median of ``ahead``, and keeps its spread in days. That is a
    little wide: what is left when the doubt about ``ahead`` is taken off is narrower.

    >>> from breeding.science.timings import Timing
    >>> turns = earlier(Timing(80, 240), Timing(5, 21))
    >>> round(turns.median), [round(day) for day in turns.window()]
    (128, [71, 232])
    """
    moved = ((weight, max(median - ahead.median, median / 2), spread) for weight, median, spread in _parts(law))
    parts = [(part[0], part[1], part[2] * old[1] / part[1]) for part, old in zip(moved, _parts(law), strict=True)]
    return Predicted(tuple(parts), _never(law))


def turns(law: Law, grace: Grace, ahead: Law) -> tuple[Law, Grace]:
    """What to wait for where a stage shows ``ahead`` before the end: it is lost when the rest and the grace are over.

    Pods that turn before they open may be found at either, so the looks may lie further apart.
    """
    return earlier(law, ahead), grace.behind(ahead)


def on_working_day(day: date, working_weekdays: Collection[int], after: date) -> date:
    """``day``, or the working day to use instead: the last one before it that is later than ``after``, else the next.

    Args:
        day: when to look, at best.
        working_weekdays: 0 for Monday to 6 for Sunday; at least one.
        after: the day of the last look. A day on or before it is moved to the first working day behind it.

    Raises:
        ValueError: no working weekday, or one that is none.

    >>> on_working_day(date(2026, 3, 8), {0, 1, 2, 3, 4}, after=date(2026, 3, 2))  # a Sunday
    datetime.date(2026, 3, 6)
    >>> on_working_day(date(2026, 3, 8), {0, 1, 2, 3, 4}, after=date(2026, 3, 6))
    datetime.date(2026, 3, 9)
    """
    if not working_weekdays or not set(working_weekdays) <= set(range(7)):
        raise ValueError(f"Working days are weekdays from 0 to 6, at least one; got {sorted(working_weekdays)}.")
    day = max(day, after + ONE_DAY)
    back = [earlier for earlier in (day - ONE_DAY * n for n in range(7)) if earlier > after]
    onward = [day + ONE_DAY * n for n in range(1, 7)]
    return next(choice for choice in (*back, *onward) if choice.weekday() in working_weekdays)


class _Pace(NamedTuple):
    """The rule for one law: the next look by the age of the last one, and what it comes to."""

    next_ages: NDArray[np.int64]
    risk_a_look: float
    spent: Spent


@lru_cache(maxsize=4096)
def _pace(law: Law, grace: Grace, risk: float, longest_gap: int) -> _Pace:
    _require("risk", risk, 0 < risk < 1, "between 0 and 1")
    _require("longest_gap", longest_gap, 1 <= longest_gap < math.inf, "1 or more")
    last = min(math.ceil(law.quantile(1 - _RARELY_LATER)), _MOST_DAYS)
    longer = _survival(law, last + longest_gap)
    after = np.lib.stride_tricks.sliding_window_view(longer, longest_gap + 1)
    lost = (after[:, :1] - after) @ _over(grace, longest_gap)
    waiting = after[:, 0] + _never(law) / (1 - _never(law))
    low, high = math.log(risk) - 12, math.log(risk)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        spent = _walk(_next_ages(lost, waiting, math.exp(middle)), lost, after[:, 0])
        low, high = (middle, high) if spent.lost <= risk else (low, middle)
    next_ages = _next_ages(lost, waiting, math.exp(low))
    return _Pace(next_ages, math.exp(low), _walk(next_ages, lost, after[:, 0]))


def _next_ages(lost: NDArray[np.float64], waiting: NDArray[np.float64], risk: float) -> NDArray[np.int64]:
    """For each age the last day within the risk; chances only rise with the days away, so they can be counted."""
    within = (lost[:, 1:] <= risk * _ONE_PLUS * waiting[:, None]).sum(axis=1)
    return np.arange(len(lost)) + np.maximum(within, 1)


def _walk(next_ages: NDArray[np.int64], lost: NDArray[np.float64], longer: NDArray[np.float64]) -> Spent:
    """Looks and losses of things that are looked at by this table from age 0 on, until they are seen."""
    looks = gone = 0.0
    age = 0
    while age < len(next_ages):
        then = int(next_ages[age])
        looks, gone, age = looks + longer[age], gone + lost[age, then - age], then
    return Spent(float(looks), float(gone))


@lru_cache(maxsize=4096)
def _later(last_age: int, law: Law, grace: Grace, risk: float, longest_gap: int) -> int:
    """Beyond the table, where hardly anything is still waiting."""
    return next_look_age(last_age, timing=law, risk=risk, grace=grace, longest_gap=longest_gap)


def _over(grace: Grace, longest_gap: int) -> NDArray[np.float64]:
    """Turns shares that came by day x into shares lost by day d: entry (x, d) is the share with a grace of d - x.

    What came by x and keeps d - x days is lost by d. Grace days of 0 count from the very day.
    """
    ahead = np.zeros((longest_gap + 1, longest_gap + 1))
    for days, share in zip(grace.days, grace.shares, strict=True):
        ahead += share * np.eye(longest_gap + 1, k=days)
    return ahead


def _came_after(last_age: int, law: Law, days: NDArray[np.int64]) -> NDArray[np.float64]:
    """Of those still waiting at an age, the shares that have come so many days later."""
    here = law.survival(last_age)
    if here > _TINY:
        later = survival_of(last_age + days, _parts(law))
        return np.maximum(here - later, 0) / (here + _never(law) / (1 - _never(law)))
    if _never(law):
        return np.zeros(len(days))
    # So far out that the share still waiting is no float any more: as if it came at one pace from here on.
    return 1 - 0.5 ** (days / max(law.median_after(last_age) - last_age, 1e-9))


def _survival(law: Law, last: int) -> NDArray[np.float64]:
    """The shares that take longer than 0, 1, ... ``last`` days."""
    return survival_of(np.arange(last + 1), _parts(law))


def _parts(law: Law) -> tuple[Part, ...]:
    return law.parts if isinstance(law, Predicted) else ((1.0, law.median, law.spread),)


def _never(law: Law) -> float:
    """The share that never comes; a law that says nothing of it has none."""
    return getattr(law, "never", 0.0)


def _require(name: str, value: float, fits: bool, range_in_words: str) -> None:
    if not fits:
        raise ValueError(f"{name} must be {range_in_words}; got {value}.")
