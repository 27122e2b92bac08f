"""Look at pods; bag them when they turn; harvest when the first ones open."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from breeding.milestones.sections import OPENED, SWOLLEN
from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import Watch, cant_tell, waiting
from breeding.rounds.expected import Expected
from breeding.rounds.rows import SectionRow
from breeding.rounds.rules.take import goes_on_from, goes_on_unread, looked

SWELLING = frozenset({"swelling", "turning", "opening", "split"})
TURNING_PRESSES = 10.0


def look_at_pods(row: SectionRow, books: Books, day: date) -> Next | None:
    """From the reading of take on, so often that a pod which opens is seldom lost; turning ones within their grace."""
    if not (_swells(row) or goes_on_unread(row, books, day)) or _waits_for_harvest(row):
        return None
    seen = max(looked(row), row.harvested_on or date.min)
    expected = _expected(row, books, seen, day)
    due = max(_due(row, books, expected, seen), goes_on_from(row, books) or date.min)
    return Next("pods", due, partial(_weigh_look, row, books, expected, due), partial(_tell_look, row, expected))


def bag_pods(row: SectionRow, books: Books, day: date) -> Next | None:
    """As soon as pods turn, unless they are bagged."""
    if row.stage != "turning" or row.bagged:
        return None
    due = row.turning_by or looked(row)
    return Next("bag", due, waiting(TURNING_PRESSES, due, 1), partial(_tell_bag, row, _expected(row, books, due, day)))


def harvest(row: SectionRow, books: Books, day: date) -> Next | None:
    """As soon as pods open or split, unless they were cut since."""
    if not _waits_for_harvest(row):
        return None
    about = row, _expected(row, books, _opened(row), day)
    return Next("harvest", _opened(row), partial(_weigh_harvest, *about), partial(_tell_harvest, *about))


def _expected(row: SectionRow, books: Books, since: date, day: date) -> Expected:
    """Where its plant stood in heat since the last look, what bare pods keep then."""
    found = books.expectations.of("ripe", row.taxon_id, row.seed_parent_id, row.spike_id)
    struck = books.expectations.heat.struck(row.spike_id, row.place_id, since, day)
    return found.in_heat if struck else found


def _turning(row: SectionRow, books: Books) -> Expected:
    return books.expectations.of("turning", row.taxon_id, row.seed_parent_id, row.spike_id)


def _swells(row: SectionRow) -> bool:
    """By its stage, or by what was read of its take, whatever was done to it since."""
    return row.stage in SWELLING or row.take in SWOLLEN


def _waits_for_harvest(row: SectionRow) -> bool:
    return row.stage in OPENED and (row.harvested_on is None or row.harvested_on < _opened(row))


def _opened(row: SectionRow) -> date:
    """The day on which pods were last seen open; walking past is no look at them."""
    return row.seen_open or row.open_by or looked(row)


def _due(row: SectionRow, books: Books, expected: Expected, seen: date) -> date:
    grace = timedelta(days=min(expected.grace(row.bagged), expected.longest_gap))
    if row.last_seen == "cant_tell":
        return cant_tell(seen, expected.longest_gap)
    # Turning, partly cut, or of unknown age: the next one may open tomorrow and be lost when its grace is over.
    if row.stage in OPENED or row.day0_first is None:
        return seen + grace
    due = _watch(row, books, expected, seen).due
    return min(due, seen + grace) if row.stage == "turning" else due


def _watch(row: SectionRow, books: Books, expected: Expected, seen: date) -> Watch:
    """Pods of which only some were looked at count as not looked at: ``open_after`` holds looks at all of them.

    Pods never seen turning are waited for to turn, which they do some days before they open, so that fewer looks find
    them in time. Those seen turning are waited for to open; nobody saw when they turned, so they are taken to have done
    so as long before as turning pods mostly take to open.
    """
    turning = _turning(row, books)
    start = row.day0_first or seen
    not_yet = max(row.open_after or start, start)
    if row.stage == "turning":
        turned = row.turning_by or not_yet
        began = turned - timedelta(days=turning.middle)
        return Watch(began, max(not_yet, turned), seen, expected, row.bagged, turning.timing)
    law, grace = None, None
    if not row.turning_by and row.stage not in OPENED:
        law, grace = expected.turns(turning.timing, row.bagged)
    return Watch(start, not_yet, seen, expected, row.bagged, law, grace)


def _weigh_look(row: SectionRow, books: Books, expected: Expected, due: date, day: date) -> float:
    return _watch(row, books, expected, looked(row)).urgency(day, due) + (1 if row.stage == "turning" else 0)


def _weigh_harvest(row: SectionRow, expected: Expected, day: date) -> float:
    gone = max((day - _opened(row)).days + 1, 1)
    return min(gone / max(expected.grace(row.bagged), 1), 1) / expected.risk


def _tell_look(row: SectionRow, expected: Expected, day: date) -> Told:
    hot = "a hot spell since the last look, which bursts ripe pods" if expected.is_hot and not row.bagged else ""
    bagged = "bagged" if row.bagged else ""
    unread = "take was never read" if row.stage == "pollinated" and not row.take else ""
    usual = f"{expected.usual} until the first pod opens"
    return Told(reason=words.sentence(_age(row, day), usual, unread, bagged, hot, words.last_look(row, day)))


def _tell_bag(row: SectionRow, expected: Expected, day: date) -> Told:
    since = row.turning_by or looked(row)
    bagged, bare = expected.grace(bagged=True), expected.grace(bagged=False)
    keeps = f"a bagged pod keeps its seed {words.days(bagged)}, a bare one {bare} ({expected.grace_said(bagged=False)})"
    return Told(reason=words.sentence(_age(row, day), f"seen turning {words.ago(since, day)} and not bagged", keeps))


def _tell_harvest(row: SectionRow, expected: Expected, day: date) -> Told:
    opened, grace = _opened(row), expected.grace(row.bagged)
    bag = "bagged" if row.bagged else "not bagged"
    until = opened + timedelta(days=grace)
    what = "split or fallen" if row.stage == "split" else "opening"
    return Told(
        reason=words.sentence(
            _age(row, day),
            f"seen {what} {words.ago(opened, day)}",
            f"{bag}, so the seed keeps about {words.days(grace)} ({expected.grace_said(row.bagged)})",
        ),
        until=until,
    )


def _age(row: SectionRow, day: date) -> str:
    return f"{words.age(row.day0_first, row.day0_last, day)} since it was pollinated"
