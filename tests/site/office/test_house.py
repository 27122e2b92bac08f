"""The nursery's name and the address its tags carry."""

import pytest
from django.test import Client

from nursery.records.house import house

PAGE = "/office/house/"


def _payload(**changes: object) -> dict[str, object]:
    return {"name": "Drizzle Lane Nursery", "public_address": "https://tags.example"} | changes


def test_it_works(as_owner: Client) -> None:
    assert as_owner.post(PAGE, _payload())["Location"] == PAGE
    row = house()
    assert (row.name, row.public_address, row.minutes_a_day) == ("Drizzle Lane Nursery", "https://tags.example", 45)
    assert "Drizzle Lane Nursery" in as_owner.get("/office/").content.decode()


def test_a_slash_at_the_end_is_left_away(as_owner: Client) -> None:
    as_owner.post(PAGE, _payload(public_address=" https://tags.example/ "))
    assert house().public_address == "https://tags.example"


@pytest.mark.parametrize(
    ("address", "warning"),
    [
        ("", "No public address is set, so tags carry their digits only."),
        ("https://tags.example", None),
        ("http://192.168.1.20:8000", "is a number that changes when the network does"),
        ("http://192.168.1.20:8000", "The address holds the port 8000"),
        ("http://tags.example", "The address begins with http://"),
        ("tags.example", "must begin with https:// and a host name"),
        ("https://tags.example/greenhouse", "must end with the host name"),
        ("http://[", "is not a web address"),
    ],
)
def test_it_warns_of_an_address_that_will_not_last(as_owner: Client, address: str, warning: str | None) -> None:
    as_owner.post(PAGE, _payload(public_address=address))
    shown = as_owner.get(PAGE).context["cautions"]
    assert any(warning in one for one in shown) if warning else shown == []


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"name": ""}, "name", "This field is required."),
        ({"name": "n" * 81}, "name", "Ensure this value has at most 80 characters (it has 81)."),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(as_owner: Client, changes: dict, field: str, sentence: str) -> None:
    answer = as_owner.post(PAGE, _payload(**changes))
    assert (answer.status_code, answer.context["form"].errors[field]) == (422, [sentence])
    assert house().name == "Our nursery"


def test_a_name_is_escaped_everywhere(as_owner: Client, stranger: Client) -> None:
    as_owner.post(PAGE, _payload(name="<b>Wet</b> & warm 🌱 猪笼草"))
    for page in (as_owner.get(PAGE), stranger.get("/sign-in/")):
        text = page.content.decode()
        assert "<b>Wet" not in text and "&lt;b&gt;Wet&lt;/b&gt; &amp; warm 🌱 猪笼草" in text
