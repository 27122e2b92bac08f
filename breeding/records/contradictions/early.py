"""How a record is held against the day before which it cannot have been."""

from datetime import date

from nursery.days import EARLIEST, Day
from nursery.records.core import Contradiction


def too_early(day: Day, start: date | None, code: str, sentence: str) -> list[Contradiction]:
    """Cause after effect, where even the latest possible day is too early; with that day, whose year is always told."""
    if start is None or day.last is None or day.last >= start:
        return []
    when = Day.on(start).words(EARLIEST)
    return [Contradiction(code, f"{sentence.removesuffix('.')}: not before {when}.")]
