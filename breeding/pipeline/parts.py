"""How far the parts of a line are: its section, its seed, its pots; each with its window and what is late. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from breeding.milestones.spikes import OPEN
from breeding.pipeline.gather import Lot, Pots
from breeding.rounds.books import Books
from breeding.rounds.expected import Expected
from breeding.rounds.rows import SectionRow, SpikeRow
from breeding.rounds.rules.pots import step
from breeding.rounds.rules.spikes import opened
from breeding.science.predicted import Law
from breeding.words.ages import joined, plural

STAGES = {
    "wished": "wished for",
    "forming": "spikes forming",
    "flower": "spikes in flower",
    "take": "take to read",
    "none": "nothing swelling",
    "pods": "pods ripening",
    "open": "pods open",
    "seed": "seed waiting",
    "sown": "pots sown",
    "silent": "silent pots",
    "up": "seedlings up",
    "over": "finished",
}
"""In the order in which a line goes through them."""

_SECTION = {
    "pollinated": ("take", "take to read"),
    "no_take": ("none", "nothing swelling"),
    "swelling": ("pods", "pods ripening"),
    "turning": ("pods", "pods turning"),
    "opening": ("open", "first pods opening"),
    "split": ("open", "pods split or fallen"),
}
_A_MONTH = 30.44
_FARTHEST = timedelta(days=3650)


class Window(NamedTuple):
    """The days between which four in five of such steps come, and the middle one."""

    what: str
    low: date
    middle: date
    high: date


class Part(NamedTuple):
    """One part of a line; ``late`` are words on what is past its usual window, empty where nothing is."""

    stage: str
    words: str
    window: Window | None = None
    late: str = ""


_FORMING = {"growing": "spike growing", "buds": "spike in bud"}


def spike_part(row: SpikeRow, books: Books, day: date) -> Part:
    """An open spike that was not pollinated yet: when its first flower opens, or when it is over."""
    sex = f", {row.sex}" if row.sex in {"male", "female"} else ""
    if row.stage in OPEN:
        expected = books.expectations.of("spike_over", row.taxon_id, row.clone_id)
        first, last = opened(row)
        window = window_of("over", expected.timing, (first, last), row.last_look)
        return Part("flower", f"in flower{sex}", window, _past(expected, last, day))
    words = f"{_FORMING.get(row.stage, 'spike forming')}{sex}"
    if row.found_first is None or row.found_last is None:
        return Part("forming", words)
    expected = books.expectations.of("spike_open", row.taxon_id, row.clone_id)
    window = window_of("first flower", expected.timing, (row.found_first, row.found_last), row.open_after)
    return Part("forming", words, window, _past(expected, row.found_last, day))


def _past(expected: Expected, started: date, day: date) -> str:
    """Words where even the last day on which it can have started lies farther back than is usual."""
    return past_words(expected.low, expected.high) if (day - started).days > expected.high else ""


def section_part(row: SectionRow, books: Books, day: date) -> Part | None:
    """An open section; None of one that was harvested or lost, of which its seed tells."""
    if row.closed_on or row.stage not in _SECTION:
        return None
    stage, words = _SECTION[row.stage]
    if stage not in {"take", "pods"} or row.day0_first is None or row.day0_last is None:
        return Part(stage, words)
    ripe = books.expectations.of("ripe", row.taxon_id, row.seed_parent_id, row.spike_id)
    take = books.expectations.of("take", row.taxon_id)
    window = window_of("ripe", ripe.timing, (row.day0_first, row.day0_last), row.open_after)
    late = _past(ripe, row.day0_last, day)
    if not late and stage == "take" and (day - row.day0_last).days > take.high:
        late = f"take not read by day {take.high}"
    return Part(stage, words, window, late)


def seed_part(lots: Sequence[Lot]) -> Part | None:
    """The lots that still hold seed."""
    waiting = sum(lot.row.closed_on is None for lot in lots)
    if not waiting:
        return None
    return Part("seed", "seed waiting" if waiting == 1 else f"seed waiting, {waiting} lots")


def pots_part(pots: Sequence[Pots], books: Books, day: date) -> Part | None:
    """All pots together, "1 of 6 pots up"; None where nothing was sown.

    A pot that was split off is none of those that were sown: how many of them stand is told beside.
    """
    split_off = [one for one in pots if one.row.split_from_id is not None and one.row.closed_on is None]
    pots = [one for one in pots if one.row.split_from_id is None]
    every = sum(one.count for one in pots)
    if not every:
        return None
    up = [one for one in pots if one.row.stage == "up"]
    silent = [one for one in pots if one.row.stage != "up" and one.row.closed_on is None]
    late = _silence(silent, every, books, day)
    count = sum(one.count for one in up)
    going_on = [*(one for one in up if one.row.closed_on is None), *split_off]
    if not silent and not going_on:
        return None
    stage = "up" if count else "silent" if late else "sown"
    windows = [_seedlings(one, books) for one in silent if not late]
    windows = windows or [_crowded(one, books) for one in going_on]
    known = [window for window in windows if window]
    words = joined(f"{count} of {plural(every, 'pot')} up", _split_off(split_off))
    return Part(stage, words, min(known, key=_middle, default=None), late)


def _split_off(pots: Sequence[Pots]) -> str:
    count = sum(one.count for one in pots)
    return f"{plural(count, 'pot')} split off" if count else ""


def _middle(window: Window) -> date:
    return window.middle


def _silence(silent: Sequence[Pots], every: int, books: Books, day: date) -> str:
    """Words on the pots in which nothing came up by the end of their usual window."""
    late = [one for one in silent if (usual := _usual(one, books)) and (day - one.row.sown_last).days > usual[1]]
    if not late:
        return ""
    number, oldest = sum(one.count for one in late), min(late, key=lambda one: one.row.sown_first)
    of = plural(number, "pot") if number == every else f"{number} of {plural(every, 'pot')}"
    return f"nothing in {of}, {months(oldest.row.sown_first, day)}, {past_words(*_usual(oldest, books))}"


def _usual(one: Pots, books: Books) -> tuple[int, int] | None:
    row = one.row
    if row.sown_first is None or row.sown_last is None:
        return None
    expected = books.expectations.of(step(row), row.taxon_id, row.seed_parent_id, row.spike_id)
    return expected.low, expected.high


def _seedlings(one: Pots, books: Books) -> Window | None:
    row = one.row
    if row.sown_first is None or row.sown_last is None:
        return None
    expected = books.expectations.of(step(row), row.taxon_id, row.seed_parent_id, row.spike_id)
    return window_of("first seedlings", expected.timing, (row.sown_first, row.sown_last), row.first_after)


def _crowded(one: Pots, books: Books) -> Window | None:
    row = one.row
    if row.first_by is None or row.split_last is not None:
        return None  # a split gave them room, and for how long nobody has told
    law = books.expectations.of("crowded", row.taxon_id).timing
    return window_of("potting on", law, (row.first_after or row.first_by, row.first_by), row.last_look)


def window_of(what: str, law: Law, start: tuple[date, date], not_yet: date | None) -> Window:
    """When a step comes that began on one of the days from ``start`` and had not come on ``not_yet``.

    A vague start widens the window: its first day gives the low end, its last the high one.
    """
    first, last = start
    low, middle, high = ends_after(law, _age(first, not_yet))
    if first != last:
        half = first + (last - first) // 2
        middle_at, high = ends_after(law, _age(half, not_yet))[1], ends_after(law, _age(last, not_yet))[2]
        return Window(what, _later(first, low), _later(half, middle_at), _later(last, high))
    return Window(what, _later(first, low), _later(first, middle), _later(first, high))


def _age(start: date, not_yet: date | None) -> int:
    return max((not_yet - start).days, 0) if not_yet else 0


def _later(start: date, days: float) -> date:
    return start + min(timedelta(days=round(days)), _FARTHEST)


@lru_cache(maxsize=1 << 14)
def ends_after(law: Law, age: int) -> tuple[float, float, float]:
    """Low end, middle and high end of the 80% window in days, for a step that has not come at this age.

    Thousands of lines share a few laws and ages, so they are worked out once.
    """
    low, high = law.window_after(age)
    return low, law.median_after(age), high


def past_words(low: int, high: int) -> str:
    """
    >>> past_words(41, 170)
    'past the usual window (day 41 to 170)'
    """
    return f"past the usual window (day {low} to {high})"


def months(since: date, day: date) -> str:
    """
    >>> months(date(2026, 4, 20), date(2026, 11, 25)), months(date(2026, 11, 5), date(2026, 11, 25))
    ('7 months', '20 days')
    """
    days = (day - since).days
    return plural(int(days / _A_MONTH), "month") if days >= 2 * _A_MONTH else plural(days, "day")
