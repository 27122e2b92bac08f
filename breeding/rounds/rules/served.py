"""Which females the pollen of a male spike could serve: those receptive now, and those that may open while it keeps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import NamedTuple

from breeding.milestones.spikes import OPEN
from breeding.rounds import words
from breeding.rounds.books import Books, Partner
from breeding.rounds.expected import SAID
from breeding.rounds.rows import SpikeRow
from breeding.rounds.rules.pollinate import BEST, RECEPTIVE
from breeding.rounds.rules.spikes import budding, opened
from breeding.science.pollen import keeping

KEPT_IN = "refrigerator"
"""How far ahead it is looked for: fresh pollen outlives no bud, and who plans for one keeps it at least there. Our
choice."""


def females_served(male: SpikeRow, books: Books, day: date) -> tuple[Partner, ...]:
    """Female spikes of other clones: the receptive ones first, those that close soonest before the others; then those
    in bud that are as likely as not to open before pollen taken that day is past its best."""
    others = [one for one in books.females if male.clone_id is None or one.clone_id != male.clone_id]
    return tuple(Partner(one.row, _words(one)) for one in sorted(_served(others, books, day), key=_turn))


def served_words(count: int) -> str:
    """
    >>> served_words(1), served_words(0)
    ('1 female could use it', 'no female could use it in the 70 days that it keeps (from memory)')
    """
    if count:
        return "1 female could use it" if count == 1 else f"{count} females could use it"
    kept = keeping(KEPT_IN)
    return f"no female could use it in the {kept.days} days that it keeps ({SAID[kept.strength]})"


class _Served(NamedTuple):
    """A female, whether she is open now, the day that puts her in order, and when she can be pollinated, in words."""

    row: SpikeRow
    is_open: bool
    turn: date
    said: str


def _turn(one: _Served) -> tuple[bool, date, int]:
    return not one.is_open, one.turn, one.row.pk


def _words(one: _Served) -> str:
    return f"{one.said}, in quarantine" if one.row.quarantine else one.said


def _served(females: Iterable[SpikeRow], books: Books, day: date) -> Iterator[_Served]:
    for row in females:
        found = _receptive(row, day) if row.stage in OPEN else _opens(row, books, day)
        if found:
            yield found


def _receptive(row: SpikeRow, day: date) -> _Served | None:
    """Until its last flower can have been open for as long as flowers are receptive."""
    first, by = opened(row)
    best, last = first + BEST, by + RECEPTIVE
    if day > last:
        return None
    said = f"best until {words.short(best, day)}" if day <= best else f"until about {words.short(last, day)}"
    return _Served(row, True, last, f"receptive, {said}")


def _opens(row: SpikeRow, books: Books, day: date) -> _Served | None:
    """By what is known of it; None where it is more likely to open when the pollen is past its best."""
    watch = budding(row, books)
    law, age = watch.expected.timing, max((watch.not_yet - watch.start).days, 0)
    low, high = (watch.start + timedelta(days=round(end)) for end in law.window_after(age))
    middle = watch.start + timedelta(days=round(law.median_after(age)))
    if middle > day + timedelta(days=keeping(KEPT_IN).days):
        return None
    return _Served(row, False, middle, _opening_words(low, high, day))


def _opening_words(low: date, high: date, day: date) -> str:
    """
    >>> day, june = date(2026, 6, 10), [date(2026, 6, number) for number in range(1, 31)]
    >>> _opening_words(june[11], june[20], day), _opening_words(june[1], june[20], day)
    ('opens about Fri 12 Jun to Sun 21 Jun', 'opens by about Sun 21 Jun')
    >>> _opening_words(june[1], june[5], day)
    'should be open by now'
    """
    if high <= day:
        return "should be open by now"
    until = words.short(high, day)
    return f"opens about {words.short(low, day)} to {until}" if low > day else f"opens by about {until}"
