"""Every field of every form of the office with empty, huge, wrong, marked-up, other-script and emoji input.

A form answers with sentences beside its fields or takes the words as they are; nothing breaks, nothing is unescaped.
"""

import html

import pytest
from django.test import Client

from breeding.models import Expectation
from nursery.models import Person
from tests.making import Nursery
from tests.site.office.test_rights import PERSON, TAXON, TIMING

SCRIPTS, EMOJI, MARKUP = "नर्सरी 猪笼草 مشتل", "🌱👩‍🌾🏳️‍🌈", "<script>alert('x')</script>"
AWKWARD = {
    "empty": "",
    "spaces": " \t\n ",
    "huge": "w" * 20_000,
    "huge number": "9" * 400,
    "below nothing": "-1",
    "no number": "NaN",
    # What a browser or a template might take for its own, and other scripts; short enough for every field.
    "odd signs": "<script>alert(1)</script>{% now %}\"'`न猪م\u202eL🌱👩‍🌾",
    "null": "a\x00b",
    "lone surrogate": "a\udc00b",
}

FORMS = {
    "/office/people/new/": PERSON | {"password": "wet moss, warm night"},
    "/office/people/{person}/": PERSON | {"password": ""},
    "/office/taxa/new/": TAXON | {"note": ""},
    "/office/taxa/{taxon}/": TAXON | {"note": ""},
    "/office/timings/new/": TIMING | {"step": "ripe", "taxon": "{taxon}", "note": ""},
    "/office/timings/{timing}/": TIMING | {"note": ""},
    "/office/house/": {"name": "Drizzle Lane", "public_address": "https://tags.example"},
    "/office/round/": {"minutes_a_day": 30, "looks_on": "1", "kinds": "pods"},
    "/sign-in/": {"name": "Ida Fern", "password": "no", "way": "password"},
}


@pytest.fixture
def ids(nursery: Nursery, grower: Person) -> dict[str, int]:
    return {
        "person": grower.pk,
        "taxon": nursery.taxon("hamata").pk,
        "timing": Expectation.objects.get(step="take").pk,
    }


def _sent(values: dict, ids: dict) -> dict:
    return {name: value.format(**ids) if isinstance(value, str) else value for name, value in values.items()}


@pytest.mark.parametrize("address", FORMS)
@pytest.mark.parametrize("kind", AWKWARD)
def test_no_value_breaks_a_form(ids: dict, as_owner: Client, stranger: Client, address: str, kind: str) -> None:
    client = stranger if address == "/sign-in/" else as_owner
    usual = _sent(FORMS[address], ids)
    for name in usual:
        answer = client.post(address.format(**ids), _encodable(usual | {name: AWKWARD[kind]}))
        assert answer.status_code in (302, 422), name
        assert "<script>alert" not in answer.content.decode()
        if answer.status_code == 422:
            _says_why(answer)


def _says_why(answer) -> None:
    """Each error is a sentence, and it stands in the page."""
    errors = [str(error) for errors in answer.context["form"].errors.values() for error in errors]
    shown = " ".join(html.unescape(answer.content.decode()).split())
    assert errors
    for error in errors:
        assert error.endswith(".")
        assert " ".join(error.split()) in shown


def _encodable(values: dict) -> dict:
    """As a browser sends it: what is no character is sent as the replacement character."""
    return {name: str(value).encode("utf-8", "replace").decode() for name, value in values.items()}


@pytest.mark.parametrize("address", ["/office/", "/office/people/", "/office/taxa/", "/office/timings/", "/help/"])
def test_words_that_were_taken_are_escaped_on_lists(ids: dict, as_owner: Client, address: str) -> None:
    as_owner.post("/office/people/new/", PERSON | {"name": MARKUP})
    as_owner.post("/office/taxa/new/", TAXON | {"note": MARKUP})
    as_owner.post(f"/office/timings/{ids['timing']}/", TIMING | {"source": MARKUP})
    as_owner.post("/office/house/", FORMS["/office/house/"] | {"name": MARKUP})
    page = as_owner.get(address).content.decode()
    assert MARKUP not in page
    assert html.escape(MARKUP) in page


def test_other_scripts_and_emoji_are_kept_as_they_are(as_owner: Client) -> None:
    as_owner.post("/office/people/new/", PERSON | {"name": SCRIPTS})
    as_owner.post("/office/taxa/new/", TAXON | {"note": EMOJI})
    assert SCRIPTS in as_owner.get("/office/people/").content.decode()
    assert EMOJI in as_owner.get("/office/taxa/").content.decode()
