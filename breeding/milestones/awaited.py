"""An event nobody sees: it lies between the last look that said "not yet" and the first that said "yes"."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Answer:
    """What one look said of an awaited event, with the days the look may have been on (None: not known)."""

    came: bool
    first: date | None
    last: date | None


def interval(answers: Iterable[Answer]) -> tuple[date | None, date | None]:
    """The days (after, by) between which the event came; None where no look tells.

    A vague "yes" counts from its last possible day, a vague "not yet" from its first, so that vagueness widens the
    interval and never narrows it. A "not yet" later than the first "yes" contradicts it and does not count.

    >>> d = lambda day: date(2026, 3, day)
    >>> interval([Answer(False, d(1), d(1)), Answer(False, d(4), d(6)), Answer(True, d(9), d(9))])
    (datetime.date(2026, 3, 4), datetime.date(2026, 3, 9))
    >>> interval([Answer(False, d(1), d(1))])
    (datetime.date(2026, 3, 1), None)
    """
    answers = list(answers)
    by = min((one.last for one in answers if one.came and one.last), default=None)
    not_yet = [one.first for one in answers if not one.came and one.first]
    after = max((day for day in not_yet if by is None or day < by), default=None)
    return after, by
