"""When to look next at something that has not happened yet."""

from __future__ import annotations

import math
from collections.abc import Collection
from datetime import date, timedelta

from breeding.science.timings import Timing

ONE_DAY = timedelta(days=1)

# A whole day computed as 100.9999999999 is day 101.
_ROUNDING = 1e-9


def next_look_age(last_age: int, *, timing: Timing, risk: float, grace: float, longest_gap: int) -> int:
    """Age at which to look again, given "not yet" at the last look.

    Away until age a, we lose the thing if its event came, and its grace ran out, unseen. Given "not yet" at
    ``last_age`` that has the chance ``1 - S(a - grace) / S(last_age)``, where S(x) is the chance that the step takes
    longer than x days. The answer is the last whole day on which that chance is still at most ``risk``.

    Args:
        last_age: days from the start of the step to the last look, 0 or more.
        timing: how long the step takes.
        risk: accepted chance of losing it unseen, inside (0, 1).
        grace: days from the event to the loss, 0 or more.
        longest_gap: days, 1 or more; nothing is left alone for longer than this.

    Returns:
        Age in whole days, from ``last_age + 1`` to ``last_age + longest_gap``, for any age however absurd.

    Raises:
        ValueError: a value outside the ranges above; the message says which.

    Source: delay-time inspection model (Christer & Waller 1984, J. Oper. Res. Soc. 35:401-406), with a fixed delay.

    >>> pods = Timing(80, 240)
    >>> [next_look_age(age, timing=pods, risk=0.002, grace=6, longest_gap=28) for age in (0, 28, 56, 110)]
    [28, 46, 63, 116]
    """
    _require("last_age", last_age, 0 <= last_age < math.inf, "0 or more")
    _require("risk", risk, 0 < risk < 1, "between 0 and 1")
    _require("grace", grace, 0 <= grace < math.inf, "0 or more")
    _require("longest_gap", longest_gap, 1 <= longest_gap < math.inf, "1 or more")
    latest = grace + timing.quantile_after(last_age, risk)
    whole = math.floor(min(latest, last_age + longest_gap) + _ROUNDING)
    return max(whole, last_age + 1)


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


def _require(name: str, value: float, fits: bool, range_in_words: str) -> None:
    if not fits:
        raise ValueError(f"{name} must be {range_in_words}; got {value}.")
