"""Pollinate a female spike while it is receptive, with what pollen is good that day."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from breeding.milestones.spikes import OPEN
from breeding.rounds import words
from breeding.rounds.books import Books, Next, Partner, Told
from breeding.rounds.rows import PollenRow, SpikeRow
from breeding.rounds.rules.spikes import opened

TAKES_POLLEN = frozenset({"female", "unclear"})
BEST = timedelta(days=14)
RECEPTIVE = timedelta(days=30)
"""Receptive for about 30 days, best in the first 14 (J. Trop. Forest Sci. 12(4):635-642, 2000; one wild species)."""
DAB_AGAIN = timedelta(days=4)
"""The same section is dabbed two to five times over ten to twenty days (from memory)."""
NOT_READY_AGAIN = timedelta(days=2)
"""Our choice: as long as for a male whose flowers shed nothing yet."""

MINUTES_TO_SEE = 1
"""Where there is no pollen to pollinate with."""

SEEN_LATELY = timedelta(days=14)
"""A male spike that nobody looked at for longer may be over; our choice."""


def pollinate(row: SpikeRow, books: Books, day: date) -> Next | None:
    """From the day it is seen open, again four days after a dab and two after a look that found it not ready, until no
    flower can be receptive any more."""
    if row.sex not in TAKES_POLLEN or row.stage not in OPEN:
        return None
    _, by = opened(row)
    due = max(by, row.dabbed_on + DAB_AGAIN) if row.dabbed_on else by
    if row.stage == "open" and row.unready_on:
        due = max(due, row.unready_on + NOT_READY_AGAIN)
    if max(due, day) > by + RECEPTIVE:
        return None
    minutes = None if _any_good(row, books, day) else MINUTES_TO_SEE
    return Next("pollinate", due, partial(_weigh, row, books), partial(_tell, row, books), minutes)


def good_pollen(row: SpikeRow, books: Books, day: date) -> tuple[Partner, ...]:
    """Pollen of other clones that should be good that day: fresh ones first, then what keeps shortest."""
    return tuple(partner for partner in _all_good(books, day) if _of_another(row, partner))


def _any_good(row: SpikeRow, books: Books, day: date) -> bool:
    return any(_of_another(row, partner) for partner in _all_good(books, day))


def _of_another(row: SpikeRow, partner: Partner) -> bool:
    return row.clone_id is None or partner.source.clone_id != row.clone_id


def _all_good(books: Books, day: date) -> tuple[Partner, ...]:
    """Whatever spike asks: worked out once a day."""
    if day not in books.good:
        books.good[day] = _work_out_good(books, day)
    return books.good[day]


def _work_out_good(books: Books, day: date) -> tuple[Partner, ...]:
    fresh = [Partner(male, "fresh") for male in books.males if _still_sheds(male, day)]
    stored = sorted(
        (lot for lot in books.pollen if _is_good(lot, day)), key=lambda lot: (lot.best_before or date.max, lot.pk)
    )
    return (*fresh, *(Partner(lot, _kept(lot, day)) for lot in stored))


def _still_sheds(male: SpikeRow, day: date) -> bool:
    return male.last_look is not None and day - male.last_look <= SEEN_LATELY


def _is_good(lot: PollenRow, day: date) -> bool:
    taken = lot.collected_first is None or lot.collected_first <= day
    return taken and (lot.best_before is None or day <= lot.best_before)


def _kept(lot: PollenRow, day: date) -> str:
    where = "storage not known" if lot.storage == "unknown" else words.STORED[lot.storage]
    if lot.collected_last is None:
        return f"{where}, age not known"
    return f"{where}, {words.days(max((day - lot.collected_last).days, 0))}"


def _tell(row: SpikeRow, books: Books, day: date) -> Told:
    first, by = opened(row)
    best, last = first + BEST, by + RECEPTIVE
    partners = good_pollen(row, books, day)
    dabbed = f"pollinated {words.ago(row.dabbed_on, day)}" if row.dabbed_on else "not pollinated yet"
    until = best if day <= best else last
    return Told(
        reason=words.sentence(
            f"open {_days_open(first, by, day)}, best in the first 14 of about 30 days (a paper, one species)",
            dabbed,
            "" if partners else "no pollen in store is good that day",
        ),
        until=until,
        window=f"{'best until' if day <= best else 'until'} {words.short(until, day)}",
        title="Pollinate again" if row.dabbed_on else "",
        partners=partners,
    )


def _days_open(first: date, by: date, day: date) -> str:
    fewest, most = max((day - by).days, 0), (day - first).days
    return words.days(most) if fewest == most else f"{fewest} to {words.days(most)}"


def _weigh(row: SpikeRow, books: Books, day: date) -> float:
    """Rises as the best days run out; a second dab matters less, and without pollen there is little to do."""
    if not _any_good(row, books, day):
        return 0.5
    best = opened(row)[0] + BEST
    pressing = 3 + 5 / ((best - day).days + 1) if day <= best else 2.0
    return pressing / (2 if row.dabbed_on else 1)
