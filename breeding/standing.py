"""What stands in a place as the books have it: plants and seed pots, on the trays and benches inside it too."""

from collections.abc import Collection, Iterable
from typing import Any

from breeding.models import SeedPot
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
