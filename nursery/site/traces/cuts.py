"""Who was cut after a plant: cuttings, pollen, pollination and harvest by anybody on the same day, recorded later."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.db.models import Max, Min, Q, QuerySet

from breeding.models import Section, Spike
from nursery.days import Day
from nursery.models import Act, ActLink, Plant
from nursery.records.milestones import first_told
from nursery.site.traces.parts import Trace, trace_of
from nursery.tracing import After, Touch, cut_after

TOOLS = ("plant_arrived", "pollen_collected", "pollinated", "harvested")
WORDS = {
    "plant_arrived": "cutting taken",
    "pollen_collected": "pollen taken",
    "pollinated": "pollinated",
    "harvested": "harvested",
}
LEAD = (
    "Tools carry sap. These were cut, pollinated or harvested by anybody on a day on which it was, and recorded after "
    "it: the order of recording stands for the order of the work, and nobody knows it better. Where the day is not "
    "known, nothing is said."
)


@dataclass(frozen=True)
class Told:
    """An act as the reasons name it."""

    kind: str
    day: Day
    who: str

    @property
    def words(self) -> str:
        return WORDS[self.kind]


def cuts(plant: Plant, today: date) -> Trace:
    """Five queries, and one for each time that something was corrected again: her own acts, all on the same days, the
    plants of both, and the names."""
    hers = _hers(plant)
    days = hers.aggregate(first=Min("day_first"), last=Max("day_last"))
    told, touches = _touches(days["first"], days["last"]) if days["first"] else ({}, [])
    reasons = [(one.touch.plant, _reason(one, told, today)) for one in cut_after(plant.pk, touches)]
    return trace_of(
        "Who was cut after it",
        _joined(reasons),
        ["plant"],
        today,
        empty="Nothing was cut after it on one day, as far as the books know.",
        lead=LEAD,
    )


def _hers(plant: Plant) -> QuerySet[Act]:
    spikes = Spike.objects.filter(plant=plant).values("pk")
    sections = Section.objects.filter(spike__plant=plant).values("pk")
    links = ActLink.objects.filter(Q(thing__in=spikes) | Q(thing__in=sections)).values("act")
    on_her = Q(plantarrived__struck_from=plant) | Q(thing__in=sections) | Q(pk__in=links)
    return _counting().filter(on_her)


def _counting() -> QuerySet[Act]:
    """Acts of tools that count, of which a day is known; a plant that was no cutting was not cut."""
    acts = Act.objects.filter(kind__in=TOOLS, voided_by__isnull=True, day_first__isnull=False)
    return acts.exclude(kind="plant_arrived", plantarrived__struck_from__isnull=True)


def _touches(first: date, last: date) -> tuple[dict[UUID, Told], list[Touch]]:
    acts = _counting().filter(day_first__lte=last, day_last__gte=first).order_by()
    rows = list(acts.values(*_COLUMNS))
    of_links, first = _plants_by_links(acts), first_told(rows)
    told, touches = {}, []
    for row in rows:
        pk, start, end = row["id"], row["day_first"], row["day_last"]
        told[pk] = Told(row["kind"], Day(start, end, row["said"]), row["by__name"])
        touched = {*(row[path] for path in _PLANTS), *of_links.get(pk, ())} - {None}
        recorded_at = first.get(pk, row["recorded_at"])
        touches += [Touch(pk, plant, start, end, recorded_at) for plant in sorted(touched)]
    return told, touches


_PLANTS = ("plantarrived__struck_from", "thing__section__spike__plant")
_COLUMNS = ("id", "kind", "day_first", "day_last", "said", "recorded_at", "replaces", "by__name", *_PLANTS)


def _plants_by_links(acts: QuerySet[Act]) -> dict[UUID, set[Any]]:
    """The plants of the spikes and sections that acts touched; who gave a cutting is told by the act itself."""
    links = ActLink.objects.filter(act__in=acts.exclude(kind="plant_arrived").values("pk"))
    found: dict[UUID, set[Any]] = {}
    for act, spike, section in links.values_list("act", "thing__spike__plant", "thing__section__spike__plant"):
        found.setdefault(act, set()).update({spike, section} - {None})
    return found


def _reason(one: After, told: dict[UUID, Told], today: date) -> str:
    act, hers = told[one.touch.act], told[one.hers.act]
    turn = {0: "in one act with it", 1: "next after it"}.get(one.turn, f"number {one.turn} after it")
    perhaps = "" if one.sure else ", perhaps on the same day"
    return f"{act.words} {act.day.words(today)} by {act.who}, {turn} ({hers.words} by {hers.who}){perhaps}"


def _joined(reasons: Iterable[tuple[int, str]]) -> list[tuple[int, str]]:
    """One row a plant, with all its reasons."""
    found: dict[int, list[str]] = {}
    for plant, words in reasons:
        found.setdefault(plant, []).append(words)
    return [(plant, "; ".join(words)) for plant, words in found.items()]
