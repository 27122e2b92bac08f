"""An id that no database can hold, typed into an address or a form, finds nothing and breaks nothing."""

import pytest
from django.test import Client

from nursery.links import act_url
from nursery.models import Place, Plant
from tests.making import Nursery

HUGE = 10**30


@pytest.mark.parametrize("number", [HUGE, -HUGE, 2**63])
def test_no_thing_has_such_an_id(nursery: Nursery, number: int):
    place = nursery.bench()
    assert not Place.objects.filter(pk=number).exists()
    assert not Plant.objects.filter(place=number).exists()
    assert list(Place.objects.exclude(pk=number).filter(pk=place.pk)) == [place]


@pytest.mark.parametrize("address", ["/plants/{}/", "/crosses/{}/", "/plants/{}/move/"])
def test_its_address_is_not_found(as_grower: Client, address: str):
    assert as_grower.get(address.format(HUGE)).status_code == 404


def test_a_form_says_that_it_is_not_here(nursery: Nursery, as_grower: Client):
    response = as_grower.post(act_url(nursery.plant(), "move"), {"place": str(HUGE)})
    assert response.status_code == 422 and "This place is not here any more." in response.text
