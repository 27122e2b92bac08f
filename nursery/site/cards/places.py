from collections import Counter
from datetime import date

from django.urls import reverse

from breeding.rounds.at_places import due_within
from breeding.rounds.kinds import TASK_KINDS
from breeding.standing import Standing, places_within, standing_counts
from nursery.days import Day
from nursery.models import Act, Place
from nursery.site.cards.parts import MOST_ROWS, Card, Detail, Fact, Link, Row, acts_of, details, listing, named, row_of
from nursery.site.fetch import listed, open_things


def card(place: Place, today: date) -> Card:
    """A house, bench or tray: what stands in it and on what stands inside it, in walking order."""
    within, standing = places_within(place), standing_counts()
    here, due = standing.get(place.pk, Standing()), due_within(within, today)
    inside = listed(open_things("place").filter(inside=place).order_by("order", "name")[: MOST_ROWS + 1])
    plants = listed(open_things("plant").filter(place=place).order_by("pk")[: MOST_ROWS + 1])
    pots = listed(open_things("seedpot").filter(place=place).order_by("pk")[: MOST_ROWS + 1])
    routines = listed(open_things("routine").filter(place=place).order_by("words")[: MOST_ROWS + 1])
    return Card(
        section="office",
        facts=[
            Fact(f"{here.plants:,}", "plants here"),
            Fact(f"{here.pots:,}", "seed pots here"),
            Fact(f"{sum(due.values()):,}", "due today"),
        ],
        acts=[*_several(place), *acts_of(place, *_own_acts(place))],
        details=details(
            ("", named("Inside", place.inside)),
            ("Turn in the walk", place.order or "not set"),
            ("Room for", _room(place)),
            ("", _last_stocktake(place, today)),
        ),
        lists=[
            listing("Due here today", _due_rows(place, due)),
            listing("Inside it", [row_of(one, today, sub=_inside_words(one, standing)) for one in inside]),
            listing(
                "Plants", [row_of(one, today) for one in plants], empty="" if here.plants else "No plants stand here."
            ),
            listing(
                "Seed pots", [row_of(one, today) for one in pots], empty="" if here.pots else "No seed pots stand here."
            ),
            listing("Routines here", [row_of(one, today) for one in routines]),
        ],
    )


def _due_rows(place: Place, due: Counter[str]) -> list[Row]:
    """What the round asks here, a row for each kind of task, each leading to the round with that kind alone."""
    rows = ((kind, due[kind.code]) for kind in TASK_KINDS if due[kind.code])
    return [
        Row(f"{reverse('round')}?kind={kind.code}#place-{place.pk}", text=kind.title, sub=f"{count} due")
        for kind, count in rows
    ]


def _inside_words(place: Place, standing: dict[int, Standing]) -> str:
    """What one of the places inside is, and what stands there and on its trays."""
    return f"{place.get_size_display()}: {standing.get(place.pk, Standing()).words}"


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


def _room(place: Place) -> str:
    return "" if place.room is None else f"{place.room:,} seed pot{'' if place.room == 1 else 's'}"
