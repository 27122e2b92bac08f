"""The waits of every step, from the records up to a midnight, in a number of queries that does not grow with them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from django.db.models import F, Max, Q, QuerySet

from breeding.learning.finds import Find, finds_of
from breeding.learning.kinds import kinds_of_clones
from breeding.learning.odd import hot_spells, odd_days, without_odd_days
from breeding.learning.waits import Wait, told
from breeding.milestones.sections import SWOLLEN
from breeding.milestones.spikes import OPEN, WORKED_ON
from breeding.models import PodLook, Section, SeedPot, Spike, SpikeLook
from breeding.science.seed_age import germination_step
from nursery.models import Act, ActLink, Thing
from nursery.records import registry
from nursery.records.milestones import seen_before

STEPS = ("spike_open", "spike_over", "ripe", "turning", "germination", "germination_old")
"""The steps of which the records tell when they had not come yet, and when they had."""
MAY_NEVER = frozenset({"germination", "germination_old"})
"""Steps that never come for some: a pot may hold nothing that lives."""
MOST = 2000
"""Of more things of a kind than this, every second, third, ... is read, so that a first round stays quick."""
AT_ONCE = 500
SWELLS = frozenset({"swelling", "turning", "opening", "split", "lost"})

_SPIKE = ("found_first", "found_last", "open_after", "open_by", "over_by", "stage", "closed_why", "plant_id")
_SECTION = ("day0_first", "day0_last", "turning_by", "open_after", "open_by", "stage", "take", "spike_id")
_POT = ("sown_first", "sown_last", "first_after", "first_by")
_OF_SPIKE = {"clone": F("plant__clone_id"), "taxon": F("plant__clone__taxon_id")}
_OF_SECTION = {
    "clone": F("cross__seed_parent_id"),
    "taxon": F("cross__seed_parent__taxon_id"),
    "stands": F("spike__plant_id"),
}
_OF_POT = {
    "clone": F("lot__cross__seed_parent_id"),
    "taxon": F("lot__cross__seed_parent__taxon_id"),
    "spike": F("lot__section__spike_id"),
    "ripe_first": F("lot__ripe_first"),
}
Row = dict[str, Any]


class Records(NamedTuple):
    """The waits by step, the kinds of the clones that have no taxon of their own, and bare pods found open."""

    waits: dict[str, list[Wait]]
    kinds: dict[int, int]
    finds: tuple[Find, ...] = ()


def records_until(midnight: datetime, today: date) -> Records:
    """What is known from all that was recorded before this moment, odd periods left out."""
    kinds = kinds_of_clones()
    since = _told_since(midnight)
    found: dict[str, list[Wait]] = {step: [] for step in STEPS}
    sections = _rows(Section.objects.all(), _SECTION, _OF_SECTION, midnight, since)
    for step, wait in _all_of(sections, midnight, since):
        if wait is not None:
            kind = wait.taxon if wait.taxon >= 0 else kinds.get(wait.clone, -1)
            found[step].append(wait._replace(taxon=kind))
    odd = odd_days(today)
    told = {step: without_odd_days(waits, odd) for step, waits in found.items()}
    of_kinds = ({**row, "taxon": row["taxon"] or kinds.get(row["clone"])} for row in sections)
    return Records(told, kinds, tuple(finds_of(of_kinds, midnight, [*odd, *hot_spells(today)])))


def _all_of(sections: Iterable[Row], midnight: datetime, since: dict[int, Row]) -> Iterator[tuple[str, Wait | None]]:
    last_open, last_green = _last_seen_open(midnight), _last_all_green(midnight)
    for row in _rows(Spike.objects.all(), _SPIKE, _OF_SPIKE, midnight, since):
        yield "spike_open", _opening(row)
        yield "spike_over", _flowering(row, last_open.get(row["pk"]))
    for row in sections:
        yield "ripe", _ripening(row)
        yield "turning", _turning(row, last_green.get(row["pk"]))
    for row in _rows(SeedPot.objects.filter(split_from=None), _POT, _OF_POT, midnight, since):
        yield germination_step(row["ripe_first"], row["sown_last"]), _germination(row)


def _opening(row: Row) -> Wait | None:
    """From found to the first open flower; a spike found open never told how long it took."""
    if row["open_after"] is None:
        return None
    start, came = (row["found_first"], row["found_last"]), (row["open_after"], row["open_by"])
    return told(row["pk"], start, came, **_groups(row), stands=row["plant_id"])


def _flowering(row: Row, last_open: date | None) -> Wait | None:
    """From the first open flower to over; of a spike found open, nobody knows since when it was."""
    if row["open_after"] is None or row["open_by"] is None:
        return None
    over = row["over_by"] if row["closed_why"] == "over" else None
    seen_open = max(last_open or row["open_by"], row["open_by"])
    if over and seen_open >= over:
        seen_open = row["open_after"]
    start = (row["open_after"], row["open_by"])
    return told(row["pk"], start, (seen_open, over), **_groups(row), stands=row["plant_id"])


def _ripening(row: Row) -> Wait | None:
    """From pollinated to the first open pod, of sections that are known to have pods."""
    if not (row["stage"] in SWELLS or row["take"] in SWOLLEN or row["open_by"]):
        return None
    start, came = (row["day0_first"], row["day0_last"]), (row["open_after"], row["open_by"])
    return told(row["pk"], start, came, **_groups(row), spike=row["spike_id"], stands=row["stands"])


def _turning(row: Row, last_green: date | None) -> Wait | None:
    """From the first turning pod to the first open one, of sections that were seen all green before they turned."""
    start, came = (last_green, row["turning_by"]), (row["open_after"], row["open_by"])
    return told(row["pk"], start, came, **_groups(row), spike=row["spike_id"], stands=row["stands"])


def _germination(row: Row) -> Wait | None:
    start, came = (row["sown_first"], row["sown_last"]), (row["first_after"], row["first_by"])
    return told(row["pk"], start, came, **_groups(row), spike=row["spike"], stands=row["pk"])


def _groups(row: Row) -> dict[str, int | None]:
    return {"taxon": row["taxon"], "clone": row["clone"]}


def _rows(
    things: QuerySet, stored: Sequence[str], of: dict[str, F], midnight: datetime, since: dict[int, Row]
) -> list[Row]:
    """The stored columns of what was made before, those of what was told of since as they stood; none that was undone.

    Two queries.
    """
    made = things.filter(thing__made_at__lt=midnight).annotate(**of).order_by("pk")
    rows = _sample(made).values("pk", "cancelled", *stored, *of)
    told = (row | since.get(row["pk"], {}) for row in rows)
    return [row for row in told if not row["cancelled"]]


def _sample(things: QuerySet) -> QuerySet:
    """All of them, or every second, third, ...: which ones follows from their numbers, never from how they fared."""
    every = -(-things.count() // MOST)
    return things if every < 2 else things.annotate(turn=F("pk") % every).filter(turn=0)


def _last_seen_open(midnight: datetime) -> dict[int, date]:
    """By spike, the last day on which it was surely in flower before it was over, if it is. Two queries.

    A look that says so, an act that only an open flower allows, and walking past one that is in flower.
    """
    counts = Q(act__voided_by__isnull=True, act__recorded_at__lt=midnight)
    looks = SpikeLook.objects.filter(counts, seen__in=OPEN).values_list("act__thing_id")
    acts = ActLink.objects.filter(counts, thing__kind="spike", act__kind__in=(*WORKED_ON, "walked_past"))
    acts = _in_flower(acts, "thing__spike").values_list("thing_id")
    days: dict[int, date] = {}
    for found in (_in_flower(looks, "act__thing__spike"), acts):
        for pk, day in found.order_by().annotate(day=Max("act__day_first")):
            if day:
                days[pk] = max(days.get(pk, day), day)
    return days


def _last_all_green(midnight: datetime) -> dict[int, date]:
    """By section, the last day on which all its pods were firm and green before one was seen turning. One query."""
    looks = PodLook.objects.filter(
        act__voided_by__isnull=True, act__recorded_at__lt=midnight, seen="green", extent="all"
    )
    before = looks.filter(act__day_first__lt=F("act__thing__section__turning_by"))
    return dict(before.order_by().values_list("act__thing_id").annotate(Max("act__day_first")))


def _in_flower(told: QuerySet, spike: str) -> QuerySet:
    before = Q(**{f"{spike}__over_by__isnull": True}) | Q(act__day_first__lt=F(f"{spike}__over_by"))
    return told.filter(before, act__day_first__gte=F(f"{spike}__open_by"))


def _told_since(midnight: datetime) -> dict[int, Row]:
    """The columns of older things that were told of since a midnight, as their acts gave them then."""
    acts = Act.objects.filter(recorded_at__gte=midnight)
    links = ActLink.objects.filter(act__recorded_at__gte=midnight)
    touched = Thing.objects.filter(Q(pk__in=acts.values("thing")) | Q(pk__in=links.values("thing")))
    touched = touched.filter(kind__in=("spike", "section", "seedpot"), made_at__lt=midnight)
    kinds = dict(touched.order_by("pk").values_list("pk", "kind"))
    return {
        pk: dict(registry.thing_kind(kinds[pk]).milestones(seen))
        for some in _in_parts(list(kinds))
        for pk, seen in seen_before(some, midnight).items()
    }


def _in_parts(ids: Sequence[int]) -> Iterable[Sequence[int]]:
    return (ids[first : first + AT_ONCE] for first in range(0, len(ids), AT_ONCE))
