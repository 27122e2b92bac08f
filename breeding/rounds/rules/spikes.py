"""Look at a spike: until its first flower opens, then until it is over."""

from __future__ import annotations

from datetime import date
from functools import partial

from breeding.milestones.spikes import OPEN
from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import Watch, cant_tell
from breeding.rounds.rows import SpikeRow, made_on


def look_at_spike(row: SpikeRow, books: Books, day: date) -> Next | None:
    """Always asked: a spike that nobody calls over or aborted is looked at for ever, at its longest gap."""
    watch = _flowering(row, books) if row.stage in OPEN else budding(row, books)
    due = watch.due
    if row.last_seen == "cant_tell":
        due = cant_tell(watch.looked, watch.expected.longest_gap)
    return Next("spikes", due, partial(watch.urgency, due=due), partial(_tell, row, watch))


def opened(row: SpikeRow) -> tuple[date, date]:
    """The first and last day on which its first flower can have opened, for a spike that is known to be open."""
    by = row.open_by or row.last_look or made_on(row)
    return min(row.open_after or by, by), by


def budding(row: SpikeRow, books: Books) -> Watch:
    """The wait for its first flower."""
    start = row.found_first or min(day for day in (row.open_after, row.last_look, made_on(row)) if day)
    return Watch(
        start=start,
        not_yet=row.open_after or start,
        looked=row.last_look or start,
        expected=books.expectations.of("spike_open", row.taxon_id, row.clone_id),
    )


def _flowering(row: SpikeRow, books: Books) -> Watch:
    first, by = opened(row)
    looked = max(row.last_look or by, by)
    expected = books.expectations.of("spike_over", row.taxon_id, row.clone_id)
    return Watch(start=first, not_yet=looked, looked=looked, expected=expected)


def _tell(row: SpikeRow, watch: Watch, day: date) -> Told:
    if row.stage in OPEN:
        age = f"{words.age(*opened(row), day)} since its first flower opened"
        usual = f"{watch.expected.usual} until it is over"
    else:
        age = f"{words.age(row.found_first, row.found_last, day)} since it was found"
        usual = f"{watch.expected.usual} until the first flower opens"
    if row.stage not in OPEN and row.found_first is None:
        age = "found on a day not known"
    return Told(reason=words.sentence(age, usual, words.last_look(row, day)))
