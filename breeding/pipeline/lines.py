"""One line for each spike that forms or flowers, for each section with all that came of it, for seed without a section,
and for crosses wished for. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import Any, NamedTuple

from breeding.pipeline.gather import Gathered, Lot, Pots, Wish
from breeding.pipeline.parts import Part, Window, pots_part, section_part, seed_part, spike_part
from breeding.rounds import words
from breeding.rounds.books import Next
from breeding.rounds.kinds import BY_CODE
from breeding.rounds.naming import sub_words
from breeding.rounds.place_order import Walked
from breeding.rounds.rows import PotRow, Row, SectionRow, SpikeRow
from breeding.rounds.rules import nexts_for
from nursery.names import NamePart

THIS_WEEK = timedelta(days=7)


class Line(NamedTuple):
    """A spike not pollinated yet, a section from its pollination to its seedlings, seed without a section, or a wish.

    ``cross_id`` is None of a spike; ``url`` leads to its story.
    ``stages`` are all it is in at once, ``stage`` the furthest. ``start`` and ``end`` are its past, ``end`` None while
    it goes on. ``due`` is the day of the next task, ``next_words`` what it is. ``late`` are words, or empty.
    """

    pk: int
    cross_id: int | None
    name: str
    name_parts: tuple[NamePart, ...] = ()
    sub: str = ""
    stages: frozenset[str] = frozenset()
    stage: str = "over"
    stage_words: str = "finished"
    start: date | None = None
    end: date | None = None
    windows: tuple[Window, ...] = ()
    due: date | None = None
    next_words: str = ""
    late: str = ""
    wanted: int | None = None
    taxon_id: int | None = None
    clone_id: int | None = None
    where: frozenset[Walked] = frozenset()
    lots_open: int = 0
    pots_open: int = 0
    may_open: bool = False
    bagged: bool = False

    @property
    def url(self) -> str:
        return f"/spikes/{self.pk}/" if self.cross_id is None else f"/crosses/{self.cross_id}/"

    @property
    def is_late(self) -> bool:
        return bool(self.late)

    @property
    def predicted(self) -> date | None:
        """The middle of its first window."""
        return self.windows[0].middle if self.windows else None


class _Under(NamedTuple):
    """What one line covers."""

    section: SectionRow | None
    lots: Sequence[Lot]
    pots: Sequence[Pots]

    @property
    def lead(self) -> SectionRow | Any:
        return self.section or self.lots[0].row

    @property
    def rows(self) -> list[Row]:
        own = [self.section] if self.section else []
        return [*own, *(lot.row for lot in self.lots), *(one.row for one in self.pots)]


def lines(found: Gathered, day: date, *, finished: bool = False) -> list[Line]:
    """Every line as of ``day``; those that are over only with ``finished``."""
    wanted = {wish.cross_id: wish.wanted for wish in found.wishes}
    told = [_line(under, found, wanted, day) for under in _unders(found)]
    shown = [line for line in told if finished or line.stage != "over"]
    begun = {line.cross_id for line in told}
    wished = [one for one in found.wishes if one.stage == "planned" and one.cross_id not in begun]
    spikes = [_spike(row, found, day) for row in found.spikes]
    return [*spikes, *shown, *(_wish(one, found) for one in wished if one.closed_on is None)]


def _unders(found: Gathered) -> Iterator[_Under]:
    pots, lots = defaultdict(list), defaultdict(list)
    for one in found.pots:
        pots[one.lot_id].append(one)
    known = {section.pk for section in found.sections}
    for lot in found.lots:
        lots[("section", lot.section_id) if lot.section_id in known else ("cross", lot.row.cross_id)].append(lot)
    for section in found.sections:
        own = lots.pop(("section", section.pk), [])
        yield _Under(section, own, _pots_of(own, pots))
    for own in lots.values():
        yield _Under(None, own, _pots_of(own, pots))


def _pots_of(lots: Iterable[Lot], pots: dict[int, list[Pots]]) -> list[Pots]:
    return [one for lot in lots for one in pots.get(lot.row.pk, ())]


def _line(under: _Under, found: Gathered, wanted: dict[int, int | None], day: date) -> Line:
    lead, section = under.lead, under.section
    watched = section is not None and section.pk in found.alive
    own = section_part(section, found.books, day) if watched else None
    parts = [part for part in (own, seed_part(under.lots), pots_part(under.pots, found.books, day)) if part]
    due, next_words = _next(under, found, watched, day)
    return Line(
        pk=lead.pk,
        cross_id=lead.cross_id,
        name=found.names.text(lead),
        name_parts=found.names.parts(lead),
        sub=_sub(under),
        **_stage(parts),
        start=_start(under),
        end=None if parts else max((row.closed_on for row in under.rows if row.closed_on), default=day),
        due=due,
        next_words=next_words,
        wanted=wanted.get(lead.cross_id),
        taxon_id=section.taxon_id if section else under.lots[0].taxon_id,
        clone_id=lead.seed_parent_id,
        where=_where(under, found.places, watched),
        lots_open=sum([lot.row.closed_on is None for lot in under.lots]),
        pots_open=sum([one.count for one in under.pots if one.row.closed_on is None]),
        may_open=_may_open(own, day),
        bagged=bool(section and section.bagged),
    )


def _stage(parts: Sequence[Part]) -> dict[str, Any]:
    """What the parts say together, in the order in which they come, so that the last one is the furthest."""
    if not parts:
        return {}
    windows = [part.window for part in parts if part.window]
    return {
        "stages": frozenset([part.stage for part in parts]),
        "stage": parts[-1].stage,
        "stage_words": "; ".join([part.words for part in parts]),
        "windows": tuple(sorted(windows, key=_middle) if len(windows) > 1 else windows),
        "late": "; ".join([part.late for part in parts if part.late]),
    }


def _middle(window: Window) -> date:
    return window.middle


def _sub(under: _Under) -> str:
    if under.section is not None:
        return sub_words(under.section)
    said = [lot.row.words for lot in under.lots if lot.row.words]
    return f"seed, {said[0]}" if len(under.lots) == 1 and said else "seed without a section"


def _start(under: _Under) -> date | None:
    if under.section is not None and under.section.day0_first:
        return under.section.day0_first
    days = [lot.row.ripe_first for lot in under.lots] + [one.row.sown_first for one in under.pots]
    return min((one for one in days if one), default=None)


def _next(under: _Under, found: Gathered, watched: bool, day: date) -> tuple[date | None, str]:
    """The first of the round's tasks for anything on the line."""
    rows = [row for row in under.rows if row.closed_on is None and (watched or row is not under.section)]
    return _first_of(rows, found, day)


def _first_of(rows: Iterable[Row], found: Gathered, day: date) -> tuple[date | None, str]:
    nexts = [(one, row) for row in rows for one in nexts_for(row, found.books, day)]
    if not nexts:
        return None, ""
    first, row = min(nexts, key=lambda pair: pair[0].due) if len(nexts) > 1 else nexts[0]
    return first.due, f"{_title(first, row)} {due_words(first.due, day)}"


def _title(task: Next, row: Row) -> str:
    return "Look at seedlings" if isinstance(row, PotRow) and row.stage == "up" else BY_CODE[task.kind].title


def due_words(due: date, day: date) -> str:
    """
    >>> day = date(2026, 11, 25)
    >>> due_words(date(2026, 11, 25), day), due_words(date(2026, 11, 23), day), due_words(date(2026, 12, 1), day)
    ('today', 'since Mon 23 Nov', 'on Tue 1 Dec')
    """
    if due == day:
        return "today"
    return f"{'since' if due < day else 'on'} {words.short(due, day)}"


def _where(under: _Under, places: dict[int, Walked], watched: bool) -> frozenset[Walked]:
    """Where its open things stand: the section's plant, and the pots."""
    ids = {under.section.place_id} if watched and under.section and under.section.closed_on is None else set()
    ids |= {one.row.place_id for one in under.pots if one.row.closed_on is None}
    return frozenset(places[pk] for pk in ids if pk in places)


def _may_open(own: Part | None, day: date) -> bool:
    """Whether pods that are still closed may open within seven days."""
    return own is not None and (
        own.words == "pods turning" or (own.window is not None and own.window.low <= day + THIS_WEEK)
    )


def _spike(row: SpikeRow, found: Gathered, day: date) -> Line:
    """Of one that is or may be female, its clone is a seed parent to be."""
    part, (due, next_words) = spike_part(row, found.books, day), _first_of([row], found, day)
    bears = row.sex != "male"
    return Line(
        pk=row.pk,
        cross_id=None,
        name=found.names.text(row),
        name_parts=found.names.parts(row),
        sub=sub_words(row),
        **_stage([part]),
        start=row.found_first or row.open_after,
        due=due,
        next_words=next_words,
        taxon_id=row.taxon_id if bears else None,
        clone_id=row.clone_id if bears else None,
        where=frozenset({found.places[row.place_id]} if row.place_id in found.places else ()),
    )


def _wish(one: Wish, found: Gathered) -> Line:
    return Line(
        pk=one.pk,
        cross_id=one.cross_id,
        name=found.names.text(one),
        name_parts=found.names.parts(one),
        stages=frozenset({"wished"}),
        stage="wished",
        stage_words="wished for",
        next_words="Not pollinated yet",
        wanted=one.wanted,
        taxon_id=one.taxon_id,
        clone_id=one.seed_parent_id,
    )
