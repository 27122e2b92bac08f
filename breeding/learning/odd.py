"""Odd times: what befell a place, and is left out of what is learned because an owner said so."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple
from uuid import UUID

from django.db.models import Exists, F, OuterRef, QuerySet, Subquery
from django.utils import timezone

from breeding.learning.waits import Wait, cut_short
from breeding.models import LeftOut
from nursery.models import Act, HouseEvent, HouseEventEnded, Thing
from nursery.standing import Stay
from nursery.stays import layout, stays_of


class Odd(NamedTuple):
    """Days that something lasted in a place, the last one today where it goes on."""

    event: UUID
    place: int
    first: date
    last: date


def odd_days(today: date) -> list[Odd]:
    """The times that are left out; one query where there are none."""
    marked = marked_events()
    if not marked:
        return []
    return [days_of(event, today) for event in log().filter(act__voided_by__isnull=True, pk__in=marked)]


def marked_events() -> set[UUID]:
    """What an owner left out, and what corrected that since: a corrected event stays left out."""
    marked = set(LeftOut.objects.filter(left_out=True).values_list("event", flat=True))
    if marked:
        told = {row: left for row, left in LeftOut.objects.values_list("event", "left_out")}
        versions = Act.objects.filter(kind="house_event", replaces__isnull=False).order_by("recorded_at")
        for pk, before in versions.values_list("pk", "replaces"):
            if told.get(pk, before in marked):
                marked.add(pk)
    return marked


def log() -> QuerySet[HouseEvent]:
    """What is in the log of any place, with whether and when it was over."""
    ends = HouseEventEnded.objects.filter(event=OuterRef("pk"), act__voided_by__isnull=True)
    end = ends.order_by(F("act__day_last").asc(nulls_last=True)).values("act__day_last")[:1]
    return HouseEvent.objects.annotate(ended=Exists(ends), ended_on=Subquery(end)).select_related("act")


def hot_spells(today: date) -> list[Odd]:
    """Every heat that the log of any place tells of. One query."""
    return [days_of(event, today) for event in log().filter(act__voided_by__isnull=True, what=HouseEvent.What.HEAT)]


def days_of(event: HouseEvent, today: date) -> Odd:
    """From the first day that it can have begun to the one on which it was over as told, else to today."""
    act = event.act
    recorded = timezone.localdate(act.recorded_at)
    first, own = act.day_first or recorded, act.day_last or recorded
    last = max(event.ended_on or own, own) if event.over or event.ended else max(today, own)
    return Odd(event.pk, act.thing_id, first, last)


def without_odd_days(waits: list[Wait], odd: Sequence[Odd]) -> list[Wait]:
    """What the waits tell where these times are left out, of things that stood there then. Three queries, or none."""
    if not odd or not waits:
        return waits
    stays = stays_of(Thing.objects.filter(pk__in={wait.stands for wait in waits}), layout())
    told = (_without(wait, odd, stays.get(wait.stands, [])) for wait in waits)
    return [wait for wait in told if wait is not None]


def _without(wait: Wait, odd: Sequence[Odd], stays: Sequence[Stay]) -> Wait | None:
    left: Wait | None = wait
    for one in odd:
        if left and any(stay.place == one.place and stay.covers(one.first, one.last) for stay in stays):
            left = cut_short(left, one.first, one.last)
    return left
