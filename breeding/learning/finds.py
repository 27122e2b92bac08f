"""Pods found open: what each pair of looks tells of how long an open pod keeps, before it spills."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from django.db.models import Q

from breeding.learning.odd import Odd
from breeding.milestones.sections import OPENED
from breeding.models import PodLook
from breeding.science.grace import Found
from nursery.models import Act, Thing
from nursery.standing import Stay
from nursery.stays import layout, stays_of

MOST_APART = 28
"""Days between the two looks, our choice: further apart, nobody can say on which of them a pod opened."""


class Find(NamedTuple):
    """Bare pods of a section, known not to be open on one day and found open on another.

    ``turning``: whether they had been seen turning by the first day; ``split``: whether they had split or fallen by the
    second. ``taxon`` is the kind of the mother, ``stands`` the plant.
    """

    thing: int
    taxon: int
    stands: int
    not_yet: date
    by: date
    turning: bool
    split: bool


def finds_of(sections: Iterable[Mapping[str, Any]], midnight: datetime, apart: Sequence[Odd]) -> list[Find]:
    """From sections as they stood at a midnight: those found open soon after they were known not to be.

    Bagged pods are left out, for what splits in a bag is not lost; so are pods that stood in one of the times
    ``apart``. Two queries, and three more for where they stood, or none.
    """
    near = {row["pk"]: row for row in sections if _is_near(row["open_after"], row["open_by"])}
    if not near:
        return []
    split, bags = _split(near, midnight), _first_bags(near, midnight)
    rows = (row for pk, row in near.items() if pk in split and not _was_bagged(bags.get(pk), row["open_by"]))
    return _none_during(apart, [_find(row, split[row["pk"]]) for row in rows])


def as_found(finds: Iterable[Find]) -> Found:
    rows = sorted(((one.by - one.not_yet).days, one.turning, one.split) for one in finds)
    return Found(*zip(*rows, strict=True)) if rows else Found((), (), ())


def _is_near(not_yet: date | None, by: date | None) -> bool:
    return bool(not_yet and by and 0 < (by - not_yet).days <= MOST_APART)


def _find(row: Mapping[str, Any], split: bool) -> Find:
    turned = row["turning_by"] is not None and row["turning_by"] <= row["open_after"]
    kind = -1 if row["taxon"] is None else row["taxon"]
    return Find(row["pk"], kind, row["stands"], row["open_after"], row["open_by"], turned, split)


def _split(near: Mapping[int, Mapping[str, Any]], midnight: datetime) -> dict[int, bool]:
    """By section, whether the look that found its pods open found them split; a harvest does not tell."""
    looks = PodLook.objects.filter(seen__in=OPENED, act__in=_acts(near, midnight))
    found: dict[int, bool] = {}
    for pk, first, last, seen in looks.values_list("act__thing_id", "act__day_first", "act__day_last", "seen"):
        if first == last == near[pk]["open_by"]:
            found[pk] = found.get(pk, False) or seen == "split"
    return found


def _first_bags(near: Collection[int], midnight: datetime) -> dict[int, date]:
    """By section, the first day on which its pods can have been in a bag. What put them there is an act of its own, or
    a look that says so, whose bag was there before."""
    told = _acts(near, midnight).filter(Q(kind="bagged") | Q(podlook__bagged=True))
    found: dict[int, date] = {}
    for pk, kind, day in told.values_list("thing_id", "kind", "day_first"):
        first = date.min if day is None or kind != "bagged" else day
        found[pk] = min(found.get(pk, first), first)
    return found


def _was_bagged(since: date | None, found_open: date) -> bool:
    return since is not None and since < found_open


def _acts(near: Collection[int], midnight: datetime):
    return Act.objects.filter(thing__in=list(near), recorded_at__lt=midnight, voided_by__isnull=True).order_by()


def _none_during(apart: Sequence[Odd], finds: list[Find]) -> list[Find]:
    if not apart or not finds:
        return finds
    stays = stays_of(Thing.objects.filter(pk__in={one.stands for one in finds}), layout())
    return [one for one in finds if not any(_stood_in(odd, one, stays.get(one.stands, [])) for odd in apart)]


def _stood_in(odd: Odd, find: Find, stays: Sequence[Stay]) -> bool:
    first, last = max(odd.first, find.not_yet), min(odd.last, find.by)
    return first <= last and any(stay.place == odd.place and stay.covers(first, last) for stay in stays)
