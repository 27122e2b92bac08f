"""Where it is hot, or was lately, by the log of the houses: bare pods that stood there meanwhile spill sooner."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from types import MappingProxyType
from typing import NamedTuple

from django.db.models import Exists, OuterRef, Q, QuerySet

from breeding.learning import stamp
from breeding.learning.odd import Odd, days_of, log
from breeding.models import Section
from nursery.models import Act, HouseEvent, HouseEventEnded, Thing
from nursery.standing import EVER, Move, Stay, stood
from nursery.stays import layout, stays_of

LATELY = timedelta(days=60)
"""What was told longer ago, and is over, no look still to come asks about."""


class Spell(NamedTuple):
    """From its first day to its last one, which is the last of all while it goes on."""

    first: date
    last: date


Spells = Mapping[int, tuple[Spell, ...]]


class Heat(NamedTuple):
    """Hot spells by place, of whatever stood there all the time; and by spike, where its plant was moved meanwhile."""

    places: Spells = MappingProxyType({})
    moved: Spells = MappingProxyType({})

    def struck(self, spike: int, place: int | None, since: date, day: date) -> bool:
        """Whether a spell that its plant stood in has begun by a day, and was not over by the last look, on ``since``.

        >>> july = lambda *days: tuple(Spell(date(2026, 7, first), date(2026, 7, last)) for first, last in days)
        >>> heat = Heat({7: july((3, 9))}, {1: july((3, 4)), 2: ()})
        >>> [heat.struck(0, 7, date(2026, 7, looked), date(2026, 7, 12)) for looked in (1, 8, 9)]
        [True, True, False]
        >>> [heat.struck(spike, 7, date(2026, 7, 4), date(2026, 7, 12)) for spike in (0, 1, 2)]
        [True, False, False]
        """
        if not self.places:
            return False
        spells = self.moved[spike] if spike in self.moved else self.places.get(place or 0, ())
        return any(spell.first <= day and spell.last > since for spell in spells)


NO_HEAT = Heat()


def told_lately(today: date) -> Exists:
    """Whether there is any to ask about; asked along with other things, for most days there is none."""
    return Exists(_spells(today))


def heat_lately(today: date) -> Heat:
    """Three queries, and one more where plants were moved since: the spells, where all places stood, which plants those
    are, and where they stood."""
    spells: dict[int, list[Spell]] = {}
    for event in log().filter(pk__in=_spells(today).values("pk")):
        odd = days_of(event, today)
        spells.setdefault(odd.place, []).append(_spell(odd, goes_on=not (event.over or event.ended)))
    known = layout()
    stood_in = {place: stood([Move(place, EVER)], known.moves) for place in known.places}
    begun = min((spell.first for told in spells.values() for spell in told), default=today)
    spikes = _moved_since(begun)
    stays = stays_of(Thing.objects.filter(pk__in=set(spikes.values())), known) if spikes else {}
    moved = {spike: _during(stays.get(plant, []), spells) for spike, plant in spikes.items()}
    return Heat({place: hot for place, stays in stood_in.items() if (hot := _during(stays, spells))}, moved)


def _moved_since(day: date) -> dict[int, int]:
    """By spike with pods to watch its plant, where that can have been moved on this day or later."""
    moves = Act.objects.filter(thing=OuterRef("spike__plant"), kind="moved", voided_by__isnull=True)
    late = moves.filter(Q(day_last__gte=day) | Q(day_last__isnull=True, recorded_at__gte=stamp.midnight(day)))
    watched = Section.objects.filter(Exists(late), cancelled=False, closed_on__isnull=True)
    return dict(watched.order_by().values_list("spike", "spike__plant"))


def _spell(odd: Odd, *, goes_on: bool) -> Spell:
    return Spell(odd.first, date.max if goes_on else odd.last)


def _during(stays: Iterable[Stay], spells: Mapping[int, Sequence[Spell]]) -> tuple[Spell, ...]:
    """The spells in the places of these stays, for as long as it can have stood there."""
    shared = (
        Spell(max(spell.first, stay.since.first), min(spell.last, stay.until.last if stay.until else date.max))
        for stay in stays
        for spell in spells.get(stay.place, ())
        if stay.covers(*spell)
    )
    return tuple(sorted(shared))


def _spells(today: date) -> QuerySet[HouseEvent]:
    lately = stamp.midnight(today - LATELY)
    ends = HouseEventEnded.objects.filter(event=OuterRef("pk"), act__voided_by__isnull=True)
    still = Q(over=False) & (~Exists(ends) | Exists(ends.filter(act__recorded_at__gte=lately)))
    heat = HouseEvent.objects.filter(act__voided_by__isnull=True, what=HouseEvent.What.HEAT)
    return heat.filter(Q(act__recorded_at__gte=lately) | still)
