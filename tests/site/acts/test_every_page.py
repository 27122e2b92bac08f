"""Every page that records an act: by every role, with right and with nasty values."""

import re
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from django.forms import CharField, Form
from django.test import Client
from django.utils.html import escape

from nursery.links import thing_url
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

ODD = "<script>alert('x')</script>и́猪籠نبا🌱"
"""Markup, other scripts and an emoji; short enough for every field."""

SHOWN_ELSEWHERE = {"document", "pot_size", "rule"}
"""Words that the page of an act's thing does not show: of a new plant's clone, of the pots sown, of another choice."""

NASTY = {
    "empty": "",
    "huge": "9" * 5000,
    "wrong": "no such thing",
    "negative": "-4",
    "html, other scripts, emoji": ODD,
    "null": "a\x00b",
}


def test_it_records_one_act_however_often_it_is_sent_and_shows_its_words_as_typed(asked: Asked, as_owner: Client):
    url, act_id = asked.url, uuid.uuid4()
    odd = {name: f"{n}{ODD}" for n, name in enumerate(_fields_of_words(as_owner.get(url).context["form"]))}
    values = asked.values | odd | {"act_id": act_id, "anyway": "yes", "objections_seen": OBJECTIONS}
    first = as_owner.post(url, values)
    assert first.status_code == 302, first.content.decode()
    act = Act.objects.get(pk=act_id)
    assert act.kind == asked.case.page.act_kind
    shown = as_owner.get(thing_url(act.thing)).content.decode()
    assert [name for name, words in odd.items() if escape(words) not in shown and name not in SHOWN_ELSEWHERE] == []
    assert "<script>alert" not in shown
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
            assert "<h2>Not recorded yet</h2>" in page, what
            assert not DJANGOS_OWN.search(page), what
            assert _led_to(page) <= set(re.findall(r' id="([^"]+)"', page)), what


DJANGOS_OWN = re.compile(
    r"Ensure th|This field |Select a valid|Enter a |Null characters|is not a valid|Value .* is not"
)


def _led_to(page: str) -> set[str]:
    """The fields that the box above a form leads to."""
    return set(re.findall(r'<li><a href="#([^"]+)">', page))


def _fields_of_words(form: Form) -> list[str]:
    fields = form.fields.items()
    words = {name for name, field in fields if type(field) is CharField and not field.widget.is_hidden}
    return sorted(words - {"taxon_typed", "others"})  # of which one reads a taxon's name, the other tags
