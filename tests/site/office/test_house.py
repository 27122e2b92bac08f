"""The nursery's name and the address its tags carry."""

import re
import uuid

import pytest
from django.test import Client

from labels.records import printed
from nursery.records.house import house
from nursery.records.tags import tags_printed
from tests.making import Nursery, tag_of

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
        ("", "No public address is set, so each tag carries the one in use when it was printed."),
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
        ({"name": ""}, "name", "Write something here."),
        ({"name": "n" * 81}, "name", "Write at most 80 characters; these are 81."),
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


def test_another_address_is_kept_once_the_page_told_what_printed_tags_will_do(as_owner: Client, owner) -> None:
    nursery = Nursery(owner)
    as_owner.post(PAGE, _payload(public_address="https://old.example"))
    numbers = [tag_of(nursery.house()).number for _ in range(3)]
    print_of = {"by": owner, "numbers": numbers[:2], "stock": None, "address": "https://old.example", "printer": None}
    printed(id=uuid.uuid4(), **print_of)
    tags_printed(by=owner, numbers=numbers[2:])

    new = _payload(public_address="https://new.example/")
    answer = as_owner.post(PAGE, new)
    for words in (
        "2 tags are in use with the address https://old.example in their code. They will go on leading there",
        "1 tag was printed before prints were kept",
        "The digits on every tag keep working",
        "Tags printed from now on carry https://new.example.",
        "Change the address",
    ):
        assert words in answer.text
    assert (answer.status_code, house().public_address) == (200, "https://old.example")
    other = as_owner.post(PAGE, _payload(public_address="https://third.example", address_seen="https://new.example/"))
    assert other.status_code == 200 and house().public_address == "https://old.example"
    [seen] = re.findall(r'name="address_seen" value="([^"]+)"', answer.text)
    assert as_owner.post(PAGE, new | {"address_seen": seen}).status_code == 302
    assert house().public_address == "https://new.example"
    assert as_owner.post(PAGE, _payload(name="Fern", public_address="https://new.example")).status_code == 302

    assert "With another address (2)" in as_owner.get("/labels/").text
    listed = as_owner.get("/labels/elsewhere/").text
    assert [f'value="{number}"' in listed for number in numbers] == [True, True, False]
    printed(id=uuid.uuid4(), **print_of | {"address": "https://new.example"})
    assert "No tag in use carries another address" in as_owner.get("/labels/elsewhere/").text
