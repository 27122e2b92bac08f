"""A place is told the same way everywhere, from its house inwards, and offered in the order of the walk."""

import pytest
from django.test import Client

from breeding.rounds.gather import places
from nursery.forms.choices import place_field
from nursery.links import act_url, thing_url
from nursery.models import Place
from nursery.records.house_log import house_event
from nursery.records.places import place_made
from nursery.records.undo import undone
from nursery.where import place_words
from tests.making import Nursery, birth_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def tray(nursery: Nursery) -> Place:
    """In the second house of the walk, which comes first by name."""
    warm = nursery.made(place_made, name="Warm house", size="house", order=1)
    nursery.made(place_made, name="Door bench", size="bench", inside=warm, order=1)
    cool = nursery.made(place_made, name="Cool house", size="house", order=2)
    south = nursery.made(place_made, name="South bench", size="bench", inside=cool, order=2)
    nursery.made(place_made, name="North bench", size="bench", inside=cool, order=1)
    return nursery.made(place_made, name="Seed tray", size="tray", inside=south)


def test_a_tray_is_told_from_its_house_inwards_on_every_page(nursery: Nursery, as_grower: Client, tray: Place) -> None:
    words, pot = "Cool house, South bench, Seed tray", nursery.pot(place=tray, days_ago=60)
    assert place_words(tray) == words
    for address in (thing_url(pot), thing_url(pot.lot), "/pots/", act_url(pot, "move")):
        assert words in as_grower.get(address).text, address


def test_places_are_offered_as_they_are_walked(tray: Place) -> None:
    offered = [value.value for value, _ in place_field().choices if value]
    assert offered == list(places())
    assert [words for _, words in place_field().choices][-2:] == [
        "Cool house, South bench",
        "Cool house, South bench, Seed tray",
    ]


def test_what_was_entered_by_mistake_never_stood_anywhere(nursery: Nursery, as_grower: Client) -> None:
    bench = nursery.bench()
    spike = nursery.spike(nursery.plant(place=bench))
    nursery.record(house_event, place=bench, what="heat", days_ago=300)
    undone(act=nursery.act(), target=birth_of(spike))
    assert "heat" not in as_grower.get(f"{thing_url(spike)}?story=whole").text
