from datetime import date

from django.urls import reverse

from nursery.days import Day
from nursery.models import Act, Place
from nursery.site.cards.parts import MOST_ROWS, Card, Detail, Fact, Link, acts_of, details, listing, named, row_of
from nursery.site.fetch import listed, open_things


def card(place: Place, today: date) -> Card:
    """A house, bench or tray: what stands in it, in walking order."""
    inside = listed(open_things("place").filter(inside=place).order_by("order", "name")[: MOST_ROWS + 1])
    plants = listed(open_things("plant").filter(place=place).order_by("pk")[: MOST_ROWS + 1])
    pots = listed(open_things("seedpot").filter(place=place).order_by("pk")[: MOST_ROWS + 1])
    routines = listed(open_things("routine").filter(place=place).order_by("words")[: MOST_ROWS + 1])
    return Card(
        section="office",
        facts=[
            Fact(_count(plants), "plants here"),
            Fact(_count(pots), "seed pots here"),
            Fact(_turn(place), "turn in the walk"),
        ],
        acts=[*_several(place), *acts_of(place, *_own_acts(place))],
        details=details(
            ("", named("Inside", place.inside)), ("Room for", _room(place)), ("", _last_stocktake(place, today))
        ),
        lists=[
            listing("Inside it", [row_of(one, today, sub=one.get_size_display()) for one in inside]),
            listing("Plants", [row_of(one, today) for one in plants], empty="No plants stand here."),
            listing("Seed pots", [row_of(one, today) for one in pots], empty="No seed pots stand here."),
            listing("Routines here", [row_of(one, today) for one in routines]),
        ],
    )


def _several(place: Place) -> list[Link]:
    return [Link("Answer several at once", reverse("several-at-place", args=[place.pk]))] if place.is_open else []


def _own_acts(place: Place) -> list[tuple[str, str]]:
    if not place.is_open:
        return []
    move = [] if place.size == Place.Size.HOUSE else [("Move it", "move")]
    return [
        ("Stocktake", "stocktake"),
        ("House log", "event"),
        *move,
        ("Room for pots", "room"),
        ("Rename, reorder", "rename"),
    ]


def _last_stocktake(place: Place, today: date) -> Detail | None:
    taken = Act.objects.filter(thing=place.pk, kind="stocktake", voided_by__isnull=True)
    last = taken.select_related("stocktake").order_by("-recorded_at").first()
    if last is None:
        return None
    day = Day(last.day_first, last.day_last, last.said).words(today)
    return Detail("Last stocktake", f"{day}, {last.stocktake.seen} seen", url=reverse("stocktake", args=[last.pk]))


def _count(rows: list) -> str:
    return f"over {MOST_ROWS}" if len(rows) > MOST_ROWS else str(len(rows))


def _turn(place: Place) -> str:
    return str(place.order) if place.order else "not set"


def _room(place: Place) -> str:
    return "" if place.room is None else f"{place.room:,} seed pot{'' if place.room == 1 else 's'}"
