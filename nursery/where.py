"""Where a place is, in words and in the order of the walk. Asks the database for what was not fetched with it."""

from collections.abc import Iterator

from nursery.models import Place

UP_TO_THE_HOUSE = "inside__inside"
"""To be fetched with a place: a tray on a bench in a house."""


def place_words(place: Place | None) -> str:
    """From the house inwards: "Warm house, Long bench, Tray 1"; empty where there is none."""
    return ", ".join(one.name for one in _from_the_house(place))


def turn(place: Place) -> tuple[tuple[int, str, int], ...]:
    """What sorts places as they are walked (``breeding.rounds.place_order``): each before what is inside it."""
    return tuple((one.order, one.name, one.pk) for one in _from_the_house(place))


def _from_the_house(place: Place | None) -> Iterator[Place]:
    if place is not None:
        yield from _from_the_house(place.inside)
        yield place
