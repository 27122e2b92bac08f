"""What the pipeline needs from the database, in a number of queries that does not grow with the rows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from django.db.models import Count, Max, Min, Q, QuerySet, TextField
from django.db.models.functions import Cast

from breeding.milestones.spikes import OPEN
from breeding.models import Cross, Section, SeedLot, SeedPot, Spike
from breeding.rounds.books import Books
from breeding.rounds.gather import completed, places
from breeding.rounds.naming import Names, names_of
from breeding.rounds.place_order import Walked
from breeding.rounds.reading import AS_IT_COMES, columns_of, read
from breeding.rounds.rows import PotRow, SectionRow, SeedRow, columns
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
    """A seed lot; ``taxon_id`` is its mother's. ``section_id`` is None of what came by post or was there before."""

    row: SeedRow
    section_id: int | None
    taxon_id: int | None


class Pots(NamedTuple):
    """Pots of one lot that are alike in all that is told of them: one row, and how many they are."""

    row: PotRow
    lot_id: int
    count: int


@dataclass(frozen=True)
class Gathered:
    """All that lines are made of; ``alive`` are the sections whose plant is still there."""

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


def gather(*, finished: bool = False) -> Gathered:
    """What is under way; with ``finished``, also what is over. Nothing that was undone."""
    sections, lots = _sections(finished), _lots(finished)
    section_rows = completed(SectionRow, sections)
    lot_rows = [_lot(row) for row in read(lots, [*columns_of(SeedRow), *_OF_LOTS])]
    wishes = [Wish(*row) for row in _wishes().values_list(*_WISH)]
    expectations, off, working = settings()
    return Gathered(
        sections=section_rows,
        lots=lot_rows,
        pots=_pots(lots),
        wishes=wishes,
        alive=frozenset(sections.filter(spike__plant__closed_on__isnull=True).values_list("pk", flat=True)),
        names=names_of([*section_rows, *(lot.row for lot in lot_rows), *wishes]),
        places=places(),
        books=Books(expectations=expectations, off=off, working=working),
        taxa={taxon.pk: str(taxon) for taxon in Taxon.objects.all()},
        spikes_open=Spike.objects.filter(
            cancelled=False, closed_on__isnull=True, plant__closed_on__isnull=True, stage__in=OPEN
        ).count(),
    )


_WISH = ("pk", "pk", "seed_parent_id", "pollen_parent_id", "seed_parent__taxon_id", "wanted", "stage", "closed_on")
_OF_LOTS = (("section_id", AS_IT_COMES), ("cross__seed_parent__taxon_id", AS_IT_COMES))
_OPEN = Q(closed_on__isnull=True)


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
    return Lot(SeedRow(*row[:-2]), row[-2], row[-1])


_ALIKE = [name for name in PotRow._fields if name not in {"pk", "made_at", "sowing"}]


def _pots(lots: QuerySet) -> list[Pots]:
    """One row for all pots of a lot that stand, were sown, looked at and seen alike."""
    paths = dict(zip(PotRow._fields, columns(PotRow), strict=True))
    pots = SeedPot.objects.filter(cancelled=False, unsown=False, lot__in=lots.values("pk")).order_by()
    alike = [paths[name] for name in _ALIKE]
    asked = pots.values_list("lot_id", *alike).annotate(
        count=Count("pk"), one=Min("pk"), made=Cast(Max("thing__made_at"), TextField())
    )
    found = []
    for lot_id, *values, count, pk, made_at in asked:
        told = dict(zip(_ALIKE, values, strict=True))
        found.append(Pots(PotRow(pk=pk, made_at=made_at, sowing=None, **told), lot_id, count))
    return found
