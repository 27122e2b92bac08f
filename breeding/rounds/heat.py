"""Where it is hot, or was lately, by the log of the houses: bare pods that stand there spill sooner."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import NamedTuple

from django.db.models import Exists, OuterRef, Q, QuerySet

from breeding.learning import stamp
from breeding.learning.odd import days_of, log
from nursery.models import HouseEvent, HouseEventEnded, Place

LATELY = timedelta(days=60)
"""What was told longer ago, and is over, no look still to come asks about."""


class Spell(NamedTuple):
    """From its first day to its last one, which is the last of all while it goes on."""

    first: date
    last: date


Heat = Mapping[int, tuple[Spell, ...]]
"""Hot spells by place, those of the places around it among them."""


def is_hot(heat: Heat, place: int | None, since: date, day: date) -> bool:
    """Whether a spell has begun there by a day that was not over by the last look, which was on ``since``.

    >>> bench = {7: (Spell(date(2026, 7, 3), date(2026, 7, 9)),)}
    >>> [is_hot(bench, 7, date(2026, 7, looked), date(2026, 7, 12)) for looked in (1, 8, 9)]
    [True, True, False]
    """
    return bool(heat) and any(spell.first <= day and spell.last > since for spell in heat.get(place or 0, ()))


def told_lately(today: date) -> Exists:
    """Whether there is any to ask about; asked along with other things, for most days there is none."""
    return Exists(_spells(today))


def heat_by_place(today: date) -> Heat:
    """Two queries."""
    spells: dict[int, tuple[Spell, ...]] = {}
    for event in log().filter(pk__in=_spells(today).values("pk")):
        odd = days_of(event, today)
        last = odd.last if event.over or event.ended else date.max
        spells[odd.place] = (*spells.get(odd.place, ()), Spell(odd.first, last))
    around = dict(Place.objects.values_list("pk", "inside_id"))
    return {place: found for place in around if (found := _of(place, spells, around))}


def _of(place: int | None, spells: Heat, around: Mapping[int, int | None]) -> tuple[Spell, ...]:
    found: tuple[Spell, ...] = ()
    while place is not None:
        found += spells.get(place, ())
        place = around.get(place)
    return found


def _spells(today: date) -> QuerySet[HouseEvent]:
    lately = stamp.midnight(today - LATELY)
    ends = HouseEventEnded.objects.filter(event=OuterRef("pk"), act__voided_by__isnull=True)
    still = Q(over=False) & (~Exists(ends) | Exists(ends.filter(act__recorded_at__gte=lately)))
    heat = HouseEvent.objects.filter(act__voided_by__isnull=True, what=HouseEvent.What.HEAT)
    return heat.filter(Q(act__recorded_at__gte=lately) | still)
