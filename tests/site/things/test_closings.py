"""The banner of a closed house: on the round, on the pages of the house and of all that stands in it."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from nursery.links import thing_url
from nursery.models import Place
from nursery.records.house_log import house_event
from nursery.records.places import place_made
from tests.making import Nursery

CLOSED = "is closed until 14:00 tomorrow, as typed from the label by Ida Fern"


@pytest.fixture
def house(nursery: Nursery) -> Place:
    """House 2, which was sprayed and is closed until tomorrow at two."""
    house = nursery.house("House 2")
    until = timezone.localtime().replace(hour=14, minute=0, second=0, microsecond=0) + timedelta(days=1)
    nursery.record(house_event, place=house, what="treatment", product="soap spray", closed_until=until)
    return house


def test_it_stands_on_the_round_and_on_all_that_is_in_the_house(nursery: Nursery, house: Place, as_grower: Client):
    bench = nursery.bench(inside=house)
    tray = nursery.made(place_made, name="Tray 1", size="tray", inside=bench)
    plant = nursery.plant(place=tray)
    for address in ("/", thing_url(house), thing_url(bench), thing_url(tray), thing_url(plant)):
        assert CLOSED in as_grower.get(address).text, address
    assert CLOSED not in as_grower.get(thing_url(nursery.plant())).text


def test_it_goes_when_somebody_says_that_it_is_over(house: Place, as_grower: Client):
    url = as_grower.get("/").context["closings"][0].end_url
    html = as_grower.get(url).text
    assert "checked" in html and "treatment, soap spray" in html
    event = url.partition("?event=")[2]
    values = {"event": event, "anyway": "yes", "objections_seen": ["open_before_label"]}
    assert as_grower.post(f"/places/{house.pk}/ended/", values).status_code == 302
    assert CLOSED not in as_grower.get("/").text


def test_open_before_the_label_says_is_asked_once(house: Place, as_grower: Client):
    event = as_grower.get("/").context["closings"][0].end_url.partition("?event=")[2]
    answer = as_grower.post(f"/places/{house.pk}/ended/", {"event": event})
    assert answer.status_code == 422
    assert "The time typed from the label has not come by then. Look at the label again." in answer.text
    assert CLOSED in as_grower.get("/").text


def test_a_viewer_reads_it_and_ends_nothing(house: Place, as_viewer: Client):
    html = as_viewer.get("/").text
    assert CLOSED in html and "It is over" not in html
    assert as_viewer.post(f"/places/{house.pk}/ended/", {}).status_code == 403


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({}, "Say what happened."),
        ({"what": "heat", "product": "soap"}, "Only a treatment has this."),
        ({"what": "other"}, "Say in words what happened."),
        ({"what": "treatment", "closed_until": "soon"}, "Write day and time as on the label"),
        ({"what": "treatment", "closed_until": "0001-01-01T00:00"}, "Give a year from 1950 to 2199."),
        ({"what": "treatment", "closed_until": "2199-12-31T12:00"}, "That is more than a year away."),
    ],
)
def test_the_form_says_what_is_missing(nursery: Nursery, as_grower: Client, values: dict, words: str):
    answer = as_grower.post(f"/places/{nursery.house().pk}/event/", values)
    assert answer.status_code == 422 and words in answer.text


def test_the_form_works_out_no_time(nursery: Nursery, as_grower: Client):
    html = as_grower.get(f"/places/{nursery.house().pk}/event/").text
    field = html[html.index('name="closed_until"') - 40 :][:200]
    assert "value=" not in field
    assert "Follow the product&#x27;s label and your local rules." in html
