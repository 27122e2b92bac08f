"""Look for seedlings in a sown pot; once they are up, see whether they want potting on."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import Watch, cant_tell, waiting
from breeding.rounds.expected import Expected
from breeding.rounds.rows import PotRow, made_on
from breeding.science.seed_age import germination_step

ASKED_AT = {91: "three months", 182: "six months", 365: "a year"}
"""A silent pot is asked about at 3, 6 and 12 months and never closes by itself (common practice, no source)."""


def look_for_seedlings(row: PotRow, books: Books, day: date) -> Next | None:
    """From when it is sown until it is silent no more; then at the longest gap, until it is potted on."""
    if row.stage == "prepared":
        return None  # its sowing session asks for it
    if row.stage == "up":
        return _when_up(row, books)
    watch = _silent(row, books)
    due = min(watch.due, _asked_at_an_age(row, watch.looked) or date.max)
    if row.last_seen == "cant_tell":
        due = cant_tell(watch.looked, watch.expected.longest_gap)
    return Next("pots", due, partial(watch.urgency, due=due), partial(_tell_silent, row, watch))


def asks_whether_to_keep(row: PotRow, books: Books, day: date) -> bool:
    """Whether it was silent for so long that a person should say so: at each of the ages once."""
    return row.stage != "up" and bool(_silence(row, _silent(row, books), day))


def step(row: PotRow) -> str:
    """Which timing holds: that of old seed where it was old at sowing, or where nobody knows."""
    return germination_step(row.ripe_first, row.sown_last)


def _silent(row: PotRow, books: Books) -> Watch:
    start = row.sown_first or made_on(row)
    looked = row.last_look or row.sown_last or made_on(row)
    return Watch(
        start=start,
        not_yet=max(row.first_after or start, start),
        looked=looked,
        expected=books.expectations.of(step(row), row.taxon_id, row.seed_parent_id, row.spike_id),
    )


def _asked_at_an_age(row: PotRow, looked: date) -> date | None:
    """The first day after the last look on which it reaches one of the ages; None where there is none to come."""
    if row.sown_first is None:
        return None
    seen_at = (looked - row.sown_first).days
    return next((row.sown_first + timedelta(age) for age in ASKED_AT if age > seen_at), None)


def _when_up(row: PotRow, books: Books) -> Next:
    expected = books.expectations.of("crowded", row.taxon_id)
    looked = row.last_look or row.split_last or row.first_by or row.sown_last or made_on(row)
    due = looked + timedelta(days=expected.longest_gap)
    if row.last_seen == "cant_tell":
        due = cant_tell(looked, expected.longest_gap)
    return Next("pots", due, waiting(0.5, due, expected.longest_gap), partial(_tell_up, row, expected))


def _tell_silent(row: PotRow, watch: Watch, day: date) -> Told:
    sown = f"{words.age(row.sown_first, row.sown_last, day)} since it was sown"
    seed = "old seed or of unknown age" if watch.expected.step == "germination_old" else "fresh seed"
    usual = f"{watch.expected.usual} for {seed}"
    return Told(reason=words.sentence(sown, usual, _silence(row, watch, day), words.last_look(row, day)))


def _silence(row: PotRow, watch: Watch, day: date) -> str:
    """Said once at each of the ages: whether to keep it is for a person to say."""
    reached = [age for age in ASKED_AT if row.sown_first and (day - row.sown_first).days >= age]
    if not reached or (watch.looked - row.sown_first).days >= reached[-1]:
        return ""
    return f"nothing up after {ASKED_AT[reached[-1]]}, so say whether to keep it"


def _tell_up(row: PotRow, expected: Expected, day: date) -> Told:
    if row.split_last is not None:
        return _tell_split(row, day)
    first = row.first_after or row.first_by
    age = f"{words.age(first, row.first_by, day)} since the first seedling"
    crowded = bool(first) and (day - first).days >= expected.low
    usual = f"a pot is crowded from day {expected.low} to {expected.high} ({expected.said})"
    return Told(
        reason=words.sentence(age, usual, "see whether to pot on" if crowded else "", words.last_look(row, day)),
        title="Pot on?" if crowded else "Look at seedlings",
    )


def _tell_split(row: PotRow, day: date) -> Told:
    """How long seedlings have room after a split, nobody has told: no usual time is claimed."""
    what = "it was split off" if row.split_from_id else "it was split"
    since = f"{words.age(row.split_first, row.split_last, day)} since {what}"
    if row.split_first is None:
        since = f"{what} on a day not known"
    looked = row.last_look is not None and row.last_look != row.split_last
    seen = words.last_look(row, day) if looked else "not looked at since"
    return Told(reason=words.sentence(since, seen), title="Look at seedlings")
