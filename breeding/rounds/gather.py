"""What the round needs from the database, in a number of queries that does not grow with the rows."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from django.db.models import Count, Max, Q, QuerySet
from django.db.models.functions import Coalesce, TruncDate

from breeding.milestones.sections import OPENED
from breeding.milestones.spikes import OPEN
from breeding.models import (
    PodLook,
    PollenLot,
    Routine,
    Section,
    SeedLot,
    SeedPot,
    SowingSession,
    Spike,
    SpikeLook,
    TakeLook,
)
from breeding.rounds.books import Books
from breeding.rounds.fading import fading_rows
from breeding.rounds.place_order import PlaceRow, Walked, walking_order
from breeding.rounds.reading import read_rows
from breeding.rounds.rows import (
    KINDS,
    FadingRow,
    PollenRow,
    PotRow,
    RoutineRow,
    Row,
    SectionRow,
    SeedRow,
    SowingRow,
    SpikeRow,
)
from breeding.rounds.stored import settings
from nursery.models import LivingThing, Place

_MODELS: dict[type[Row], type[LivingThing]] = {
    SpikeRow: Spike,
    SectionRow: Section,
    PollenRow: PollenLot,
    SeedRow: SeedLot,
    PotRow: SeedPot,
    RoutineRow: Routine,
    SowingRow: SowingSession,
}
_OTHER_SIDE = Q(sex="female") | Q(sex="male", stage__in=OPEN)
_PLANT: dict[type[LivingThing], str] = {Spike: "plant", Section: "spike__plant"}


def gather(*, only: LivingThing | Collection[LivingThing] | None = None) -> Books:
    """All that is open; with ``only``, one thing whether open or closed (of a plant, its open spikes), or several of
    one kind.

    What grew on a plant that is gone is left out, and so is its pollen.

    Pollen, male and female spikes come along wherever a spike is open, and might be pollinated or give pollen.
    """
    rows = tuple(_open_rows() if only is None else _rows_of(only))
    if only is None:
        pollen = [row for row in rows if isinstance(row, PollenRow)]
        spikes = [row for row in rows if isinstance(row, SpikeRow)]
    else:
        in_flower = any(isinstance(row, SpikeRow) and row.stage in OPEN for row in rows)
        pollen = read_rows(PollenRow, _open(PollenLot)) if in_flower else []
        spikes = read_rows(SpikeRow, _open(Spike).filter(_OTHER_SIDE)) if in_flower else []
    expected, off, working = settings()
    males, females = (tuple(filter(side, spikes)) for side in (_sheds, _is_female))
    return Books(rows, expected, tuple(pollen), males, females, off, working)


def with_rows(books: Books, rows: tuple[Row, ...]) -> Books:
    """The books with these open rows instead, and the pollen and spikes among them."""
    pollen = tuple(row for row in rows if isinstance(row, PollenRow))
    spikes = [row for row in rows if isinstance(row, SpikeRow)]
    males, females = (tuple(filter(side, spikes)) for side in (_sheds, _is_female))
    return replace(books, rows=rows, pollen=pollen, males=males, females=females, good={})


def rows_whenever(kind: type[Row], ids: Collection[int]) -> list[Row]:
    """The rows of these things, of those that ended too; what other tables have to say of them is left out."""
    return read_rows(kind, _on_a_plant(_MODELS[kind]).filter(pk__in=ids))


def places() -> dict[int, Walked]:
    """Every place in walking order."""
    rows = Place.objects.filter(cancelled=False).values_list("pk", "name", "inside_id", "order")
    return walking_order(PlaceRow(*row) for row in rows)


def _open(model: type[LivingThing]) -> QuerySet:
    return _on_a_plant(model).filter(cancelled=False, closed_on__isnull=True)


def _on_a_plant(model: type[LivingThing]) -> QuerySet:
    """All of a kind, of spikes and sections those whose plant is still there and watched."""
    plant = _PLANT.get(model)
    return model.objects.filter(**{f"{plant}__closed_on__isnull": True}) if plant else model.objects.all()


def _open_rows() -> Iterable[Row]:
    for kind in KINDS:
        yield from completed(kind, _open(_MODELS[kind]))
    yield from fading_rows()


def _rows_of(only: LivingThing | Collection[LivingThing]) -> Iterable[Row]:
    if not isinstance(only, LivingThing):
        return _rows_alike(only)
    if only.kind == "plant":
        return completed(SpikeRow, _open(Spike).filter(plant_id=only.pk))
    if only.kind == FadingRow.kind:
        return fading_rows(at=only)
    return _rows_alike([only])


def _rows_alike(things: Collection[LivingThing]) -> Iterable[Row]:
    kinds = {thing.kind for thing in things}
    kind = next((kind for kind in KINDS if {kind.kind} == kinds), None)
    return completed(kind, _on_a_plant(_MODELS[kind]).filter(pk__in=[thing.pk for thing in things])) if kind else []


def completed(kind: type[Row], things: QuerySet) -> list[Row]:
    """The rows with what other tables have to say of them, asked only where some are at a stage that needs it."""
    rows = read_rows(kind, things)
    if kind is SpikeRow:
        dabbed = _last_dabs(things)  # at any stage: what comes after "open" depends on it
        asked = [row for row in rows if row.stage == "open" and row.sex != "male"]
        unready = _last_unready(asked, things) if asked else {}
        known = dabbed.keys() | unready.keys()
        more = {pk: {"dabbed_on": dabbed.get(pk), "unready_on": unready.get(pk)} for pk in known}
        return [row._replace(**more[row.pk]) if row.pk in more else row for row in rows]
    if kind is SectionRow:
        none = _none_readings(things) if any(row.stage == "no_take" for row in rows) else {}
        seen = _last_seen_open(things) if any(row.stage in OPENED for row in rows) else {}
        more = {pk: {"none_readings": none.get(pk, 0), "seen_open": seen.get(pk)} for pk in none.keys() | seen.keys()}
        return [row._replace(**more[row.pk]) if row.pk in more else row for row in rows]
    if kind is SeedRow:
        prepared = _prepared_for(things)
        return [row._replace(prepared_for=prepared[row.pk]) if row.pk in prepared else row for row in rows]
    return rows


def _prepared_for(lots: QuerySet) -> dict[int, object]:
    """By lot, the last day for which an open session has pots that wait for its seed."""
    pots = _open(SeedPot).filter(unsown=True, session__closed_on__isnull=True, lot__in=lots.values("pk"))
    return dict(pots.order_by().values_list("lot_id").annotate(Max("session__planned_for")))


def _last_dabs(spikes: QuerySet) -> dict[int, object]:
    sections = Section.objects.filter(cancelled=False, spike__in=spikes.values("pk"))
    return dict(sections.order_by().values_list("spike_id").annotate(Max("day0_last")))


def _last_unready(open_ones: list[SpikeRow], spikes: QuerySet) -> dict[int, object]:
    """The last day on which somebody saw open flowers and nothing showing, after they had been seen open before; who
    only walked past did not say so."""
    looks = SpikeLook.objects.filter(seen__in=OPEN, act__voided_by__isnull=True)
    looks = looks.filter(act__thing_id__in=spikes.filter(stage="open").values("pk"))
    day = Coalesce("act__day_last", TruncDate("act__recorded_at"))
    told = looks.order_by().values_list("act__thing_id", "act__thing__born_by__spikefound__seen")
    told = told.annotate(times=Count("pk"), day=Max(day, filter=Q(seen="open", sex="")))
    days = {pk: (day, found in OPEN or times > 1) for pk, found, times, day in told if day}
    known = ((row, *days[row.pk]) for row in open_ones if row.pk in days)
    return {row.pk: day for row, day, again in known if again or (row.open_by and day > row.open_by)}


def _none_readings(sections: QuerySet) -> dict[int, int]:
    unswollen = sections.filter(stage="no_take").values("pk")
    looks = TakeLook.objects.filter(swelling="none", act__voided_by__isnull=True, act__thing_id__in=unswollen)
    return dict(looks.order_by().values_list("act__thing_id").annotate(Count("pk")))


def _last_seen_open(sections: QuerySet) -> dict[int, object]:
    """The last day on which somebody saw pods open; who only walked past, or cut some, did not say so."""
    opened = sections.filter(stage__in=OPENED).values("pk")
    looks = PodLook.objects.filter(seen__in=OPENED, act__voided_by__isnull=True, act__thing_id__in=opened)
    day = Coalesce("act__day_last", TruncDate("act__recorded_at"))
    return dict(looks.order_by().values_list("act__thing_id").annotate(day=Max(day)))


def _sheds(spike: SpikeRow) -> bool:
    """Whether pollen can be taken straight from it: it was seen showing, or was taken before."""
    return spike.sex == "male" and (spike.stage == "showing" or (spike.stage in OPEN and bool(spike.pollen_taken_on)))


def _is_female(spike: SpikeRow) -> bool:
    return spike.sex == "female"
