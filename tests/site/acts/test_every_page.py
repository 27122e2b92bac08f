"""Every page that records an act: by every role, with right and with nasty values."""

import uuid

import pytest
from django.test import Client

from nursery.models import Act
from tests.making import Nursery
from tests.site.acts.every_page import CASES, Case

pytestmark = pytest.mark.parametrize("case", CASES, ids=str)

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
    "html": "<script>alert('x')</script>",
    "other script": "лови́я 猪籠草 نبات",
    "emoji": "🌱🪴",
    "null": "a\x00b",
}


def test_it_records_one_act_however_often_it_is_sent(case: Case, nursery: Nursery, as_owner: Client):
    url, act_id = case.url(nursery), uuid.uuid4()
    values = case.values(nursery) | {"act_id": act_id, "anyway": "yes", "objections_seen": OBJECTIONS}
    first = as_owner.post(url, values)
    assert first.status_code == 302, first.content.decode()
    assert Act.objects.get(pk=act_id).kind == case.page.act_kind
    acts = Act.objects.count()
    second = as_owner.post(url, values)
    assert (second.status_code, second.headers["Location"]) == (302, first.headers["Location"])
    assert Act.objects.count() == acts


def test_its_form_opens_for_growers_only(case: Case, nursery: Nursery, as_grower: Client, as_viewer: Client):
    url, values = case.url(nursery), case.values(nursery)
    acts = Act.objects.count()
    answer = as_grower.get(url)
    assert answer.status_code == 200
    assert case.page.button in answer.content.decode()
    assert as_viewer.get(url).status_code == 403
    assert as_viewer.post(url, values).status_code == 403
    assert Act.objects.count() == acts


def test_a_stranger_is_asked_to_sign_in_and_nothing_typed_is_lost(case: Case, nursery: Nursery, stranger: Client):
    url, values = case.url(nursery), case.values(nursery)
    acts = Act.objects.count()
    assert stranger.get(url).status_code == 302
    answer = stranger.post(url, values | {"note": "typed with a wet thumb"})
    assert answer.status_code == 401
    assert "typed with a wet thumb" in answer.content.decode()
    assert Act.objects.count() == acts


def test_nasty_input_is_answered_in_words(case: Case, nursery: Nursery, as_owner: Client):
    url = case.url(nursery)
    for what, nasty in NASTY.items():
        answer = as_owner.post(url, dict.fromkeys([*case.page.form.base_fields, "act_id", "next"], nasty))
        page = answer.content.decode()
        assert answer.status_code in {302, 409, 422}, f"{what}: {page[:2000]}"
        assert "<script>alert" not in page, what
        if answer.status_code == 422:
            assert "field__error" in page or "Please look again" in page, what
