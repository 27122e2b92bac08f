"""What stands in a place as the books have it: plants and seed pots, on the trays and benches inside it too."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, QuerySet

from breeding.models import SeedPot
from breeding.words.ages import plural
from breeding.words.names import FETCH, name_parts
from nursery.models import LivingThing, Place, Plant
from nursery.records.numbers import current_numbers
from nursery.templatetags.tepal import plate

STAND = {"plant": Plant, "seedpot": SeedPot}
WORDS = {"plant": "plant", "seedpot": "seed pot"}

THERE: dict[str, dict[str, Any]] = {"plant": {}, "seedpot": {"unsown": False}}


def places_within(place: Place) -> set[int]:
    """The ids of a place and of all places inside it; one query."""
    inside: dict[int | None, list[int]] = {}
    for pk, above in Place.objects.filter(cancelled=False).values_list("pk", "inside_id"):
        inside.setdefault(above, []).append(pk)
    found, waiting = {place.pk}, [place.pk]
    while waiting:
        below = [pk for pk in inside.get(waiting.pop(), []) if pk not in found]
        found.update(below)
        waiting.extend(below)
    return found


@dataclass(frozen=True)
class Standing:
    """How many plants and sown pots stand in a place, on what stands inside it too; ``to_come`` are prepared pots."""

    plants: int = 0
    pots: int = 0
    to_come: int = 0

    @property
    def words(self) -> str:
        """For example "2 plants, 1 seed pot"."""
        told = [plural(count, word) for count, word in ((self.plants, "plant"), (self.pots, "seed pot")) if count]
        return ", ".join(told) or "empty"

    def __add__(self, other: Standing) -> Standing:
        return Standing(self.plants + other.plants, self.pots + other.pots, self.to_come + other.to_come)


def standing_counts() -> dict[int, Standing]:
    """What stands in each place that is open, with what stands in the places inside it; three queries."""
    above = dict(Place.objects.filter(cancelled=False).values_list("pk", "inside_id"))
    plants, pots = _open(Plant).filter(place__isnull=False), _open(SeedPot).filter(place__isnull=False)
    own: dict[int, Standing] = defaultdict(Standing)
    for pk, count in plants.order_by().values_list("place_id").annotate(Count("pk")):
        own[pk] += Standing(plants=count)
    for pk, unsown, count in pots.order_by().values_list("place_id", "unsown").annotate(Count("pk")):
        own[pk] += Standing(to_come=count) if unsown else Standing(pots=count)
    found = dict.fromkeys(above, Standing())
    for pk, here in own.items():
        around: int | None = pk
        while around in found:
            found[around] += here
            around = above[around]
    return found


def _open(model: type[LivingThing]) -> QuerySet[Any]:
    return model.objects.filter(cancelled=False, closed_on__isnull=True)


def standing_in(place: Place) -> list[LivingThing]:
    """The open plants and pots that stand there; not pots that wait to be sown, which are on the potting bench."""
    within = places_within(place)
    return [
        thing
        for code in STAND
        for thing in _named(code).filter(place__in=within, cancelled=False, closed_on__isnull=True, **THERE[code])
    ]


def of_ids(ids: Collection[int]) -> list[LivingThing]:
    """The plants and pots among these ids, those that are gone too; what was undone is left out."""
    return [thing for code in STAND for thing in _named(code).filter(pk__in=ids, cancelled=False)] if ids else []


def labelled(things: Iterable[Any]) -> list[tuple[int, str]]:
    """Each by its number, name and kind, in the order of places and numbers."""
    things = list(things)
    numbers = current_numbers(things)
    ordered = sorted(things, key=lambda thing: (thing.place.order, thing.place.name, thing.pk) if thing.place else ())
    return [(thing.pk, _label(thing, numbers.get(thing.pk))) for thing in ordered]


def _label(thing: Any, number: int | None) -> str:
    name = "".join(part.text for part in name_parts(thing))
    return " · ".join(part for part in (plate(number), name, WORDS[thing.kind]) if part)


def _named(code: str):
    rows = STAND[code].objects.select_related(*FETCH[code])
    return rows.prefetch_related("lot__cross__candidates") if code == "seedpot" else rows
