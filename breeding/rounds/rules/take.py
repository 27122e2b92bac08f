"""Read the take of a section: brown stigmas are a hint, swelling at five to seven weeks is the answer."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import cant_tell, waiting
from breeding.rounds.expected import Expected
from breeding.rounds.rows import SectionRow, made_on


def read_take(row: SectionRow, books: Books, day: date) -> Next | None:
    """From the window's first day until it is read; what was read as none swelling is read again.

    None for a section of an unknown day, and once the window and its grace have gone by unread: then the pods are
    looked at all the same.
    """
    if row.stage not in {"pollinated", "no_take"} or row.take not in {"", "none"}:
        return None
    expected = books.expectations.of("take", row.taxon_id)
    if row.take == "none":
        due = _after_none(row, books, expected)
    elif goes_on_unread(row, books, day):
        return None
    else:
        due = _unread(row, expected)
    return Next(
        "take", due, waiting(1 / (1 + row.none_readings), due, expected.longest_gap), partial(_tell, row, expected, due)
    )


def goes_on_unread(row: SectionRow, books: Books, day: date) -> bool:
    """Whether its take can no longer be asked for, so that its pods are: too late, or day 0 not known."""
    if row.take or row.stage != "pollinated":
        return False
    start = goes_on_from(row, books)
    return start is None or day >= start


def goes_on_from(row: SectionRow, books: Books) -> date | None:
    """The day on which an unread take gives way to the pods; None where it was read, or day 0 is not known."""
    if row.take or row.stage != "pollinated" or row.day0_first is None:
        return None
    expected = books.expectations.of("take", row.taxon_id)
    return row.day0_first + timedelta(days=expected.high + expected.grace_plain)


def looked(row: SectionRow) -> date:
    """The last day on which anybody was at it."""
    return row.last_look or row.day0_last or made_on(row)


def _unread(row: SectionRow, expected: Expected) -> date:
    first = row.day0_first + timedelta(days=expected.low)
    if row.last_seen == "cant_tell":
        return max(first, cant_tell(looked(row), expected.longest_gap))
    if looked(row) < first:
        return first
    return looked(row) + timedelta(days=expected.longest_gap)


def _after_none(row: SectionRow, books: Books, expected: Expected) -> date:
    if row.last_seen == "cant_tell":
        return cant_tell(looked(row), expected.longest_gap)
    gap = (
        books.expectations.of("ripe", row.taxon_id, row.seed_parent_id, row.spike_id)
        if row.none_readings > 1
        else expected
    )
    return looked(row) + timedelta(days=gap.longest_gap)


def _tell(row: SectionRow, expected: Expected, due: date, day: date) -> Told:
    none = ""
    if row.take == "none":
        none = "none swelling once, so it is read again"
    if row.none_readings > 1:
        none = f"none swelling at {row.none_readings} readings, so it is asked seldom now"
    closes = row.day0_first + timedelta(days=expected.high) if row.day0_first else None
    return Told(
        reason=words.sentence(
            f"{words.age(row.day0_first, row.day0_last, day)} since it was pollinated",
            f"swelling shows from day {expected.low} to {expected.high} ({expected.said})",
            none,
            words.last_look(row, day),
        ),
        until=closes if closes and not row.take and closes >= due else None,
    )
