"""Every page that records an act: by every role, with right and with nasty values."""

import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from django.test import Client

from nursery.models import Act
from tests.keeping import undone_at_the_end
from tests.making import Nursery
from tests.site.acts.every_page import CASES, Case


@dataclass(frozen=True)
class Asked:
    """A page with the thing it stands on, and what is sent."""

    case: Case
    url: str
    values: dict[str, Any]


@pytest.fixture(scope="module", params=CASES, ids=str)
def asked(request: pytest.FixtureRequest, kept: Nursery) -> Iterator[Asked]:
    """Every page in turn, with a thing made once for all that is tried on it."""
    with undone_at_the_end():
        nursery = kept.again()
        yield Asked(request.param, request.param.url(nursery), request.param.values(nursery))


OBJECTIONS = [
    "before_pollination",
    "before_sowing",
    "clone_other_sex",
    "father_unknown",
    "lot_was_finished",
    "pollen_from_female",
    "section_was_closed",
    "seedlings_gone",
    "sown_more_than_estimated",
]
"""As if the person had seen every objection there is."""

NASTY = {
    "empty": "",
    "huge": "9" * 5000,
    "wrong": "no such thing",
    "negative": "-4",
    "html, other scripts, emoji": "<script>alert('x')</script>и́猪籠نبا🌱",  # short enough for every field
    "null": "a\x00b",
}


def test_it_records_one_act_however_often_it_is_sent(asked: Asked, as_owner: Client):
    url, act_id = asked.url, uuid.uuid4()
    values = asked.values | {"act_id": act_id, "anyway": "yes", "objections_seen": OBJECTIONS}
    first = as_owner.post(url, values)
    assert first.status_code == 302, first.content.decode()
    assert Act.objects.get(pk=act_id).kind == asked.case.page.act_kind
    acts = Act.objects.count()
    second = as_owner.post(url, values)
    assert (second.status_code, second.headers["Location"]) == (302, first.headers["Location"])
    assert Act.objects.count() == acts


def test_its_form_opens_for_growers_only(asked: Asked, as_grower: Client, as_viewer: Client):
    url, values = asked.url, asked.values
    acts = Act.objects.count()
    answer = as_grower.get(url)
    assert answer.status_code == 200
    assert asked.case.page.button in answer.content.decode()
    assert as_viewer.get(url).status_code == 403
    assert as_viewer.post(url, values).status_code == 403
    assert Act.objects.count() == acts


def test_a_stranger_is_asked_to_sign_in_and_nothing_typed_is_lost(asked: Asked, stranger: Client):
    url, values = asked.url, asked.values
    acts = Act.objects.count()
    assert stranger.get(url).status_code == 302
    answer = stranger.post(url, values | {"note": "typed with a wet thumb"})
    assert answer.status_code == 401
    assert "typed with a wet thumb" in answer.content.decode()
    assert Act.objects.count() == acts


def test_nasty_input_is_answered_in_words(asked: Asked, as_owner: Client):
    url = asked.url
    for what, nasty in NASTY.items():
        answer = as_owner.post(url, dict.fromkeys([*asked.case.page.form.base_fields, "act_id", "next"], nasty))
        page = answer.content.decode()
        assert answer.status_code in {302, 409, 422}, f"{what}: {page[:2000]}"
        assert "<script>alert" not in page, what
        if answer.status_code == 422:
            assert "field__error" in page or "Please look again" in page, what
