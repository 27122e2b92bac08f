"""Signing in by name and password, and out again."""

from datetime import timedelta

import pytest
import time_machine
from axes.models import AccessAttempt
from django.conf import settings
from django.test import Client
from django.utils import timezone

from nursery.models import Person
from nursery.views.sign_in import WRONG_PASSWORD
from tests.conftest import PASSWORD, signed_in

PAGE = "/sign-in/"


def _typed(**changes: str) -> dict[str, str]:
    return {"name": "Tom Reed", "password": PASSWORD, "way": "password"} | changes


def _is_signed_in(client: Client) -> bool:
    return "_auth_user_id" in client.session


def test_it_works(stranger: Client, grower: Person) -> None:
    answer = stranger.post(PAGE, _typed(next="/office/"))
    assert (answer.status_code, answer["Location"]) == (302, "/office/")
    assert stranger.session["_auth_user_id"] == str(grower.pk)


def test_without_an_address_to_go_on_to_the_round_comes_next(stranger: Client, grower: Person) -> None:
    assert stranger.post(PAGE, _typed())["Location"] == "/"


@pytest.mark.parametrize("name", ["tom reed", "TOM REED", "  Tom Reed "])
def test_a_phones_capitals_and_spaces_are_forgiven(stranger: Client, grower: Person, name: str) -> None:
    stranger.post(PAGE, _typed(name=name))
    assert _is_signed_in(stranger)


@pytest.mark.parametrize("wrong", [{"password": "dry moss, cold night"}, {"name": "Nobody Known"}])
def test_a_wrong_password_and_a_wrong_name_look_the_same(stranger: Client, grower: Person, wrong: dict) -> None:
    answer = stranger.post(PAGE, _typed(**wrong))
    assert answer.status_code == 422
    assert answer.context["form"].non_field_errors() == [WRONG_PASSWORD]
    assert not _is_signed_in(stranger)


def test_what_is_missing_is_said_beside_its_field(stranger: Client) -> None:
    answer = stranger.post(PAGE, {"way": "password"})
    assert answer.context["form"].errors == {
        "name": ["Write your name."],
        "password": ["Write your password."],
    }


def test_the_password_is_never_written_into_the_page(stranger: Client, grower: Person) -> None:
    answer = stranger.post(PAGE, _typed(name="Nobody Known"))
    assert PASSWORD not in answer.content.decode()


def test_who_has_left_cannot_sign_in(stranger: Client, grower: Person) -> None:
    Person.objects.filter(pk=grower.pk).update(is_active=False)
    assert stranger.post(PAGE, _typed()).status_code == 422
    assert not _is_signed_in(stranger)


def test_who_leaves_is_signed_out_at_once(grower: Person) -> None:
    client = signed_in(grower)
    assert client.get("/office/").status_code == 200
    Person.objects.filter(pk=grower.pk).update(is_active=False)
    assert client.get("/office/")["Location"].startswith(PAGE)


def test_a_get_never_signs_in(stranger: Client, grower: Person) -> None:
    stranger.get(PAGE, _typed())
    assert not _is_signed_in(stranger)


def test_who_is_signed_in_is_sent_on(as_grower: Client) -> None:
    assert as_grower.get(PAGE, {"next": "/office/"})["Location"] == "/office/"


@pytest.mark.parametrize(
    "elsewhere",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "\\\\elsewhere.example",
        "/\\elsewhere.example",
        "javascript:alert(1)",
        "https:elsewhere.example",
        "http://testserver.elsewhere.example/",
        "http://testserver@elsewhere.example/",
        "moss",
    ],
)
def test_nobody_is_led_to_another_host_or_to_no_address(stranger: Client, grower: Person, elsewhere: str) -> None:
    assert stranger.get(PAGE, {"next": elsewhere}).context["next"] in ("", "/")
    assert stranger.post(PAGE, _typed(next=elsewhere))["Location"] == "/"
    assert stranger.get(PAGE, {"next": elsewhere})["Location"] == "/"  # signed in by now


def test_the_page_says_that_plain_http_makes_sessions_short(stranger: Client, settings) -> None:
    settings.SESSION_COOKIE_AGE = 12 * 3600
    words = "This address is plain http, which others on the same network can read, so you stay signed in for 12 hours"
    assert words in stranger.get(PAGE).content.decode()


def test_over_https_it_says_how_long(stranger: Client, settings) -> None:
    settings.SESSION_COOKIE_AGE = 90 * 86400
    page = stranger.get(PAGE, secure=True).content.decode()
    assert "You stay signed in on this device for 90 days, or until you sign out." in page


def test_no_cache_keeps_the_page(stranger: Client) -> None:
    assert "no-store" in stranger.get(PAGE)["Cache-Control"]


# --- too many wrong tries ---


def _fail(client: Client, times: int) -> list[int]:
    return [client.post(PAGE, _typed(password="no")).status_code for _ in range(times)]


def test_eight_wrong_tries_lead_to_the_page_that_says_to_wait(stranger: Client, grower: Person) -> None:
    assert _fail(stranger, 8) == [422] * 7 + [429]
    answer = stranger.post(PAGE, _typed())
    assert answer.status_code == 429
    assert "Signing in from here rests for 15 minutes." in answer.content.decode()
    assert answer["Retry-After"] == "900"
    assert not _is_signed_in(stranger)


def test_the_page_that_says_to_wait_tells_where_held_words_are(stranger: Client, grower: Person) -> None:
    words = "What you typed before you were signed out is still in the page behind this one"
    _fail(stranger, 8)
    assert words not in stranger.post(PAGE, _typed()).content.decode()
    assert words in stranger.post(PAGE, _typed(held="yes")).content.decode()


def test_after_a_quarter_of_an_hour_the_right_password_works_again(stranger: Client, grower: Person) -> None:
    with time_machine.travel(timezone.now(), tick=False) as clock:
        _fail(stranger, 8)
        clock.shift(settings.AXES_COOLOFF_TIME + timedelta(seconds=1))
        assert stranger.post(PAGE, _typed()).status_code == 302


def test_others_are_not_locked_out_with_them(stranger: Client, grower: Person, owner: Person) -> None:
    _fail(stranger, 8)
    assert stranger.post(PAGE, _typed(name="Ida Fern")).status_code == 302


def test_wrong_passwords_and_held_ones_are_not_kept(stranger: Client, grower: Person) -> None:
    stranger.post(PAGE, _typed(password="nearly right", **{"held-password": "another secret"}))
    kept = AccessAttempt.objects.get().post_data
    assert "nearly right" not in kept and "another secret" not in kept


# --- out ---


def test_signing_out_ends_the_session(as_grower: Client) -> None:
    answer = as_grower.post("/sign-out/")
    assert answer["Location"] == PAGE
    assert not _is_signed_in(as_grower)
    assert "You are signed out." in as_grower.get(PAGE).content.decode()


def test_signing_out_takes_a_post(as_grower: Client) -> None:
    assert as_grower.get("/sign-out/").status_code == 405
    assert _is_signed_in(as_grower)


def test_a_stranger_may_sign_out_too(stranger: Client) -> None:
    assert stranger.post("/sign-out/").status_code == 302
