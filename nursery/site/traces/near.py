"""Who stood near a plant: on the same bench or tray at the same time."""

from collections import defaultdict
from collections.abc import Collection
from datetime import date

from django.db.models import Q, QuerySet

from breeding.words.ages import plural
from nursery.models import Moved, Place, Plant, Thing
from nursery.site.around import stay_words
from nursery.site.traces.parts import Trace, trace_of
from nursery.stays import BEGAN, Layout, ids, layout, stays_of
from nursery.tracing import Shared, shared

IN_WORDS = {Place.Size.BENCH: "same bench", Place.Size.TRAY: "same tray or spot"}


def near(plant: Plant, today: date) -> Trace:
    """Plants and pots that shared a bench or tray with it, those of one tray first, then the longest together."""
    known = layout()
    hers = stays_of(ids([plant]), known).get(plant.pk, [])
    places = {stay.place for stay in hers if not known.is_house(stay.place)}
    others = stays_of(_ever_in(_ever_within(places, known)).exclude(pk=plant.pk), known) if places else {}
    together = {pk: shared(hers, stays, places, today) for pk, stays in others.items()}
    reasons = {pk: _reasons(found, known, today) for pk, found in together.items() if found}
    order = sorted(reasons, key=lambda pk: _key(together[pk], known, pk))
    return trace_of(
        "Who stood near",
        [(pk, reasons[pk]) for pk in order],
        ("plant", "seedpot"),
        today,
        empty="Nothing shared a bench or tray with it, as far as the books know.",
        lead="On the same bench or tray at the same time, by the days of all moves; vague days are taken wide.",
    )


def _ever_within(places: Collection[int], known: Layout) -> set[int]:
    """These places and all that were ever put in them."""
    inside: dict[int, set[int]] = defaultdict(set)
    for place, moves in known.moves.items():
        for move in moves:
            inside[move.place].add(place)
    found, waiting = set(places), list(places)
    while waiting:
        new = inside[waiting.pop()] - found
        found |= new
        waiting.extend(new)
    return found


def _ever_in(places: Collection[int]) -> QuerySet[Thing]:
    """Whatever began in one of these places or was moved there."""
    moved = Moved.objects.filter(place__in=places, act__voided_by__isnull=True).values("act__thing")
    began = Q(pk__in=moved)
    for path in BEGAN:
        began |= Q(**{f"born_by__{path}__in": places})
    return Thing.objects.filter(began, kind__in=("plant", "seedpot"))


def _key(found: list[Shared], known: Layout, pk: int) -> tuple[bool, int, int]:
    on_one_tray = any(known.places[one.place].size == Place.Size.TRAY for one in found)
    return not on_one_tray, -max(one.most for one in found), pk


def _reasons(found: list[Shared], known: Layout, today: date) -> str:
    """The smallest place first: "same tray or spot, Tray 1: 21 days (3 Mar to 24 Mar)"."""
    order = sorted(found, key=lambda one: known.places[one.place].size != Place.Size.TRAY)
    return "; ".join(_reason(one, known, today) for one in order)


def _reason(one: Shared, known: Layout, today: date) -> str:
    times = " and ".join(stay_words(stay, today) for stay in one.times)
    place = known.places[one.place]
    return f"{IN_WORDS[place.size]}, {place.name}: {_days(one)} ({times})"


def _days(one: Shared) -> str:
    if any(stay.since.first == date.min for stay in one.times):
        return f"at least {plural(one.fewest, 'day')}"
    if one.fewest == one.most:
        return plural(one.most, "day") if one.most else "some hours of one day"
    return f"{one.fewest:,} to {plural(one.most, 'day')}"
