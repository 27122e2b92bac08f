"""What the pipeline needs from the database, in a number of queries that does not grow with the rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from django.db.models import Count, Max, Min, Q, QuerySet, TextField
from django.db.models.functions import Cast

from breeding.milestones.spikes import OPEN
from breeding.models import Cross, Section, SeedLot, SeedPot, Spike
from breeding.rounds.books import Books
from breeding.rounds.gather import completed, places
from breeding.rounds.naming import Names, names_of
from breeding.rounds.place_order import Walked
from breeding.rounds.reading import AS_IT_COMES, columns_of, pot_columns, read, read_rows
from breeding.rounds.rows import PotRow, SectionRow, SeedRow, SpikeRow
from breeding.rounds.stored import settings
from nursery.models import Taxon


class Wish(NamedTuple):
    """A cross that was wished for or wants a number of plants; named as its sections are."""

    kind = "cross"

    pk: int
    cross_id: int
    seed_parent_id: int | None
    pollen_parent_id: int | None
    taxon_id: int | None
    wanted: int | None
    stage: str
    closed_on: date | None


class Lot(NamedTuple):
    """A seed lot; ``taxon_id`` is its mother's. ``section_id`` is None of what came by post or was there before, and
    so is ``spike_id``, the spike it grew on."""

    row: SeedRow
    section_id: int | None
    taxon_id: int | None
    spike_id: int | None = None


class Pots(NamedTuple):
    """Pots of one lot that are alike in all that is told of them: one row, and how many they are."""

    row: PotRow
    lot_id: int
    count: int


@dataclass(frozen=True)
class Gathered:
    """All that lines are made of; ``alive`` are the sections whose plant is still there, ``spikes`` those that form or
    could be pollinated."""

    sections: list[SectionRow]
    lots: list[Lot]
    pots: list[Pots]
    wishes: list[Wish]
    alive: frozenset[int]
    names: Names
    places: dict[int, Walked]
    books: Books
    taxa: dict[int, str]
    spikes_open: int
    spikes: Sequence[SpikeRow] = ()


def gather(*, finished: bool = False) -> Gathered:
    """What is under way; with ``finished``, also what is over. Nothing that was undone."""
    sections, lots = _sections(finished), _lots(finished)
    section_rows, alive = completed(SectionRow, sections), _alive(sections)
    lot_rows = [_lot(row) for row in read(lots, [*columns_of(SeedRow), *_OF_LOTS])]
    spikes = _spikes()
    spike_rows = read_rows(SpikeRow, spikes.exclude(_GIVES_POLLEN).exclude(pk__in=_pollinated()))
    wishes = [Wish(*row) for row in _wishes().values_list(*_WISH)]
    expectations, off, working = settings()
    return Gathered(
        sections=section_rows,
        lots=lot_rows,
        pots=_pots(lots, lot_rows),
        wishes=wishes,
        alive=alive,
        names=names_of(_named(section_rows, lot_rows, spike_rows, wishes), numbers=False),
        places=places(),
        books=Books(expectations=expectations, off=off, working=working),
        taxa={taxon.pk: str(taxon) for taxon in Taxon.objects.all()},
        spikes_open=spikes.filter(stage__in=OPEN).count(),
        spikes=spike_rows,
    )


def _named(
    sections: Sequence[SectionRow], lots: Iterable[Lot], spikes: Iterable[SpikeRow], wishes: Iterable[Wish]
) -> Iterator[Any]:
    """What lines are named by: seed has the name of its section, and a wish that has begun that of what came of it."""
    known = {section.pk for section in sections}
    yield from sections
    yield from (lot.row for lot in lots if lot.section_id not in known)
    yield from spikes
    yield from (wish for wish in wishes if wish.stage == "planned")


def _alive(sections: QuerySet) -> frozenset[int]:
    return frozenset(sections.filter(spike__plant__closed_on__isnull=True).values_list("pk", flat=True))


def _spikes() -> QuerySet:
    """Those that are watched."""
    return Spike.objects.filter(_OPEN, cancelled=False, plant__closed_on__isnull=True)


def _pollinated() -> QuerySet:
    return Section.objects.filter(cancelled=False).values("spike_id")


_WISH = ("pk", "pk", "seed_parent_id", "pollen_parent_id", "seed_parent__taxon_id", "wanted", "stage", "closed_on")
_OF_LOTS = tuple((path, AS_IT_COMES) for path in ("section_id", "cross__seed_parent__taxon_id", "section__spike_id"))
_OPEN = Q(closed_on__isnull=True)
_GIVES_POLLEN = Q(sex="male", stage__in=OPEN)


def _wishes() -> QuerySet:
    return Cross.objects.filter(Q(wanted__isnull=False) | Q(stage="planned"), cancelled=False)


def _open_lots() -> QuerySet:
    """Lots with seed left, or with pots that are watched."""
    pots = SeedPot.objects.filter(_OPEN, cancelled=False, unsown=False)
    return SeedLot.objects.filter(_OPEN | Q(pk__in=pots.values("lot_id")), cancelled=False)


def _sections(finished: bool) -> QuerySet:
    """Open ones of plants that are there, and those of which seed or pots are open."""
    found = Section.objects.filter(cancelled=False)
    if finished:
        return found
    going_on = _OPEN & Q(spike__plant__closed_on__isnull=True)
    return found.filter(going_on | Q(pk__in=_open_lots().filter(section__isnull=False).values("section_id")))


def _lots(finished: bool) -> QuerySet:
    """All lots of the sections that are shown, open or not, and open ones without a section."""
    found = SeedLot.objects.filter(cancelled=False)
    if finished:
        return found
    own = Q(section__isnull=True, pk__in=_open_lots().values("pk"))
    return found.filter(own | Q(section_id__in=_sections(finished).values("pk")))


def _lot(row: tuple) -> Lot:
    return Lot(SeedRow(*row[: -len(_OF_LOTS)]), *row[-len(_OF_LOTS) :])


def _pots(of: QuerySet, lots: Iterable[Lot]) -> list[Pots]:
    """One row for all pots of a lot that stand, were sown, looked at and seen alike; they come of no one sowing."""
    own, _ = pot_columns()
    alike = [own[name] for name in own if name not in {"pk", "made_at", "sowing"}]
    pots = SeedPot.objects.filter(cancelled=False, unsown=False, lot__in=of.values("pk")).order_by()
    told_of_all = {"count": Count("pk"), "one": Min("pk"), "made": Cast(Max("thing__made_at"), TextField())}
    known = {lot.row.pk: _of_lot(lot) for lot in lots}
    return [
        Pots(PotRow(pk, made_at, *values, None, *known[lot_id]), lot_id, count)
        for lot_id, *values, count, pk, made_at in read(pots, [("lot_id", AS_IT_COMES), *alike], told_of_all)
    ]


def _of_lot(lot: Lot) -> tuple:
    """What a pot's row tells of its lot: its last fields, in their order."""
    row = lot.row
    return lot.taxon_id, row.cross_id, row.seed_parent_id, row.pollen_parent_id, lot.spike_id, row.ripe_first
