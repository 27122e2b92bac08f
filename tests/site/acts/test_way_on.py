"""Where a form leads once its act is recorded."""

import uuid

import pytest
from django.test import Client

from nursery.links import act_url, thing_url
from nursery.models import Act
from tests.making import Nursery


@pytest.mark.parametrize(
    ("wanted", "place"), [("/round/2026-03-01/", "/round/2026-03-01/"), ("moss", None), ("", None)]
)
def test_it_goes_on_to_an_address_of_ours_or_else_to_the_thing(
    nursery: Nursery, as_grower: Client, wanted: str, place: str | None
):
    spike = nursery.spike(days_ago=9)
    act_id = uuid.uuid4()
    answer = as_grower.post(act_url(spike, "look"), {"act_id": act_id, "seen": "growing", "next": wanted})
    assert (answer.status_code, answer.headers["Location"]) == (302, place or thing_url(spike))
    assert Act.objects.filter(pk=act_id).exists()


def test_a_cutting_is_confirmed_as_one(nursery: Nursery, as_grower: Client):
    answer = as_grower.post(act_url(nursery.plant(), "cutting"), {"act_id": uuid.uuid4(), "pot": "9 cm"}, follow=True)
    assert "plant entered: a cutting, 9 cm" in answer.content.decode()
