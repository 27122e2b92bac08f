"""Signing in by a code: once, within ten minutes, by POST only, and throttled like passwords."""

from datetime import timedelta

import pytest
import time_machine
from django.test import Client
from django.utils import timezone

from nursery.models import Person, SignInCode
from nursery.records import people
from nursery.records.errors import Refused
from nursery.views.sign_in import WRONG_CODE
from tests.conftest import PASSWORD, signed_in

PAGE = "/sign-in/"


@pytest.fixture
def code(owner: Person, grower: Person) -> str:
    """A fresh code for Tom Reed."""
    return people.code_shown(by=owner, person=grower)


def _try(client: Client, code: str, **more: str):
    return client.post(PAGE, {"code": code, "way": "code"} | more)


def _who(client: Client) -> str | None:
    return client.session.get("_auth_user_id")


def test_it_works(stranger: Client, grower: Person, code: str) -> None:
    answer = _try(stranger, code, next="/office/")
    assert (answer.status_code, answer["Location"]) == (302, "/office/")
    assert _who(stranger) == str(grower.pk)
    assert stranger.get("/office/").status_code == 200


def test_it_works_once(stranger: Client, code: str) -> None:
    _try(Client(), code)
    answer = _try(stranger, code)
    assert answer.status_code == 422
    assert answer.context["code_form"].non_field_errors() == [WRONG_CODE]
    assert _who(stranger) is None


@pytest.mark.parametrize(("seconds", "works"), [(0, True), (599, True), (600, False), (86400, False)])
def test_it_lasts_ten_minutes(stranger: Client, owner: Person, grower: Person, seconds: int, works: bool) -> None:
    with time_machine.travel(timezone.now(), tick=False) as clock:
        code = people.code_shown(by=owner, person=grower)
        clock.shift(timedelta(seconds=seconds))
        _try(stranger, code)
    assert (_who(stranger) is not None) is works


def test_a_get_never_signs_in_nor_uses_it_up(stranger: Client, code: str) -> None:
    stranger.get(PAGE, {"code": code, "way": "code"})
    assert _who(stranger) is None
    assert _try(stranger, code).status_code == 302


def test_case_spaces_and_hyphens_do_not_matter(stranger: Client, code: str) -> None:
    _try(stranger, f" {code[:4].lower()} - {code[4:].lower()} ")
    assert _who(stranger) is not None


def test_only_a_hash_is_kept(code: str) -> None:
    row = SignInCode.objects.get()
    kept = [str(getattr(row, field.attname)) for field in row._meta.concrete_fields]
    assert code not in kept
    assert row.code_hash == people.code_hash(code) != code


def test_a_new_code_ends_the_one_before(stranger: Client, owner: Person, grower: Person, code: str) -> None:
    newer = people.code_shown(by=owner, person=grower)
    assert _try(stranger, code).status_code == 422
    assert _try(stranger, newer).status_code == 302


def test_who_has_left_gets_in_by_no_code(stranger: Client, grower: Person, code: str) -> None:
    Person.objects.filter(pk=grower.pk).update(is_active=False)
    assert _try(stranger, code).status_code == 422


def test_who_has_left_is_shown_no_code(owner: Person, grower: Person) -> None:
    grower.is_active = False
    with pytest.raises(Refused, match="Tom Reed is not active. Make them active first."):
        people.code_shown(by=owner, person=grower)


@pytest.mark.parametrize("typed", ["", " ", "-- --"])
def test_an_empty_code_opens_nothing(stranger: Client, code: str, typed: str) -> None:
    assert _try(stranger, typed).status_code == 422
    assert _who(stranger) is None


@pytest.mark.parametrize("typed", ["A" * 41, "0; DROP", "<b>", "ß" * 8, "🌱" * 8, "ABCD\x00EFG"])
def test_odd_codes_are_refused_in_words(stranger: Client, code: str, typed: str) -> None:
    answer = _try(stranger, typed)
    assert answer.status_code == 422
    assert answer.context["code_form"].errors
    assert "<b>" not in answer.content.decode()


def test_wrong_codes_are_throttled_and_then_the_right_one_too(stranger: Client, code: str) -> None:
    tries = [_try(stranger, f"WRNG{turn:04}").status_code for turn in range(8)]
    assert tries == [422] * 7 + [429]
    assert _try(stranger, code).status_code == 429
    assert _who(stranger) is None


def test_another_name_beside_each_try_does_not_evade_the_throttle(stranger: Client, code: str) -> None:
    tries = [_try(stranger, f"WRNG{turn:04}", name=f"Guess {turn}").status_code for turn in range(8)]
    assert tries[-1] == 429


def test_wrong_codes_leave_passwords_alone(stranger: Client, grower: Person, code: str) -> None:
    for turn in range(8):
        _try(stranger, f"WRNG{turn:04}")
    answer = stranger.post(PAGE, {"name": "Tom Reed", "password": PASSWORD, "way": "password"})
    assert answer.status_code == 302


def test_the_code_form_stands_open_after_a_wrong_code(stranger: Client, code: str) -> None:
    page = _try(stranger, "WRNGWRNG").content.decode()
    assert '<details class="more" open>' in page


def test_a_code_leaves_the_persons_other_devices_signed_in(stranger: Client, grower: Person, code: str) -> None:
    elsewhere = signed_in(grower)
    _try(stranger, code)
    assert elsewhere.get("/office/").status_code == 200
