"""Days, ages and looks in the few words that a reason is made of. English, never the server's locale."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from breeding.models.pods import Brown, PodSeen, Swelling
from breeding.models.pollen import PollenStorage
from breeding.models.pots import PotSeen
from breeding.models.seed import SeedStorage
from breeding.models.spikes import SpikeSeen
from breeding.rounds.rows import Row, SectionRow, SpikeRow
from nursery.days import MONTHS

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")

_SEEN: dict[str, dict[str, str]] = {
    "spike": dict(SpikeSeen.choices),
    "section": {
        **dict(PodSeen.choices),
        **{f"brown_{code}": words for code, words in Brown.choices},
        **dict(Swelling.choices),
        "swelling": "swelling",
        "no_take": "none swelling",
    },
    "seedpot": dict(PotSeen.choices),
}
STORED = {**dict(SeedStorage.choices), **dict(PollenStorage.choices)}
_COLD = frozenset({"refrigerator", "freezer"})


@lru_cache(maxsize=1 << 12)
def short(day: date, today: date) -> str:
    """
    >>> short(date(2026, 12, 1), date(2026, 11, 25)), short(date(2027, 1, 5), date(2026, 11, 25))
    ('Tue 1 Dec', 'Tue 5 Jan 2027')
    """
    words = f"{WEEKDAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}"
    return words if day.year == today.year else f"{words} {day.year}"


def long(day: date) -> str:
    """
    >>> long(date(2026, 11, 25))
    '25 November 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def days(number: int) -> str:
    """
    >>> days(1), days(12)
    ('1 day', '12 days')
    """
    return "1 day" if number == 1 else f"{number} days"


def age(first: date | None, last: date | None, day: date) -> str:
    """How old a step is, as a range where its start is vague.

    >>> [age(date(2026, 3, 1), last, date(2026, 3, 9)) for last in (date(2026, 3, 1), date(2026, 3, 4))]
    ['day 8', 'day 5 to 8']
    """
    if first is None or last is None:
        return "started on a day not known"
    most, fewest = (day - first).days, max((day - last).days, 0)
    return f"day {most}" if fewest == most else f"day {fewest} to {most}"


def ago(then: date, day: date) -> str:
    """
    >>> ago(date(2026, 3, 1), date(2026, 3, 1)), ago(date(2026, 3, 1), date(2026, 3, 3))
    ('today', '2 days ago')
    """
    gone = (day - then).days
    return "today" if gone == 0 else f"{days(gone)} ago"


def last_look(row: Row, day: date) -> str:
    """When it was looked at last, and what was seen; of what was done to it since, that."""
    if row.last_look is None:
        return "not looked at yet"
    seen, done = _SEEN.get(row.kind, {}).get(row.last_seen, ""), _done(row)
    if done == "dabbed" and not seen:
        return "not looked at since"
    if done:
        return f"{done} {ago(row.last_look, day)}" + (f"; last seen: {seen}" if seen else "")
    look = "last look or bagging" if getattr(row, "bagged", False) else "last look"
    return f"{look} {ago(row.last_look, day)}" + (f": {seen}" if seen else "")


def _done(row: Row) -> str:
    """What was done on the day of its last look. The rules take it for a look, as whoever does it has it in hand; in
    words it is no look."""
    match row:
        case SectionRow() if row.last_look == row.day0_last:
            return "dabbed"
        case SpikeRow() if row.last_look == row.dabbed_on:
            return "pollinated"
        case SpikeRow() if row.last_look == row.pollen_taken_on:
            return "pollen taken"
    return ""


def kept(storage: str) -> str:
    """
    >>> kept("bench"), kept("freezer"), kept("unknown")
    ('on the bench', 'in the freezer', 'storage not known')
    """
    if storage == "unknown":
        return "storage not known"
    return f"in the {STORED[storage]}" if storage in _COLD else STORED[storage]


def sentence(*parts: str) -> str:
    """The parts as one sentence with a capital and a full stop.

    >>> sentence("day 3", "", "not looked at yet")
    'Day 3; not looked at yet.'
    """
    text = "; ".join(part for part in parts if part)
    return f"{text[0].upper()}{text[1:]}."


def listed(words: list[str]) -> str:
    """
    >>> listed(["a"]), listed(["a", "b", "c"])
    ('a', 'a, b and c')
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
