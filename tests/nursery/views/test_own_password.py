"""One's own password, for whoever signed in: by a code from the owner, or by the password before."""

import pytest
from django.test import Client

from nursery.models import Person
from nursery.records.people import code_shown
from tests.conftest import PASSWORD, signed_in

PAGE = "/office/password/"
FRESH = "green pod, brown pod"
SIGN_IN = "/sign-in/"


@pytest.fixture
def by_code(owner: Person, viewer: Person) -> Client:
    """Somebody without a password, whom the owner's code has let in."""
    viewer.set_unusable_password()
    viewer.save()
    client = Client()
    client.post(SIGN_IN, {"code": code_shown(by=owner, person=viewer), "way": "code"})
    return client


def test_after_a_code_the_way_leads_from_more_to_a_password(by_code: Client, viewer: Person) -> None:
    assert f'href="{PAGE}"' in by_code.get("/more/").text
    page = by_code.get(PAGE)
    assert list(page.context["form"].fields) == ["password"], "nobody is asked for what they do not have"
    assert by_code.post(PAGE, {"password": FRESH})["Location"] == "/more/"
    assert by_code.get("/more/").status_code == 200, "they stay signed in"
    assert Client().post(SIGN_IN, {"name": viewer.name, "password": FRESH})["Location"] == "/"


def test_who_has_one_says_it_and_other_devices_are_signed_out(as_grower: Client, grower: Person) -> None:
    elsewhere = signed_in(grower)
    answer = as_grower.post(PAGE, {"password_now": PASSWORD, "password": FRESH})
    assert answer.status_code == 302
    assert Person.objects.get(pk=grower.pk).check_password(FRESH)
    assert (as_grower.get("/more/").status_code, elsewhere.get("/more/").status_code) == (200, 302)


@pytest.mark.parametrize(
    ("sent", "field", "sentence"),
    [
        (
            {"password_now": "guessed it", "password": FRESH},
            "password_now",
            "This is not your password. Type it once more, or ask an owner for a new one.",
        ),
        ({"password": FRESH}, "password_now", "Write the password that you have now."),
        ({"password_now": PASSWORD}, "password", "Write a password."),
        (
            {"password_now": PASSWORD, "password": "short"},
            "password",
            "This password is too short. It must contain at least 10 characters.",
        ),
    ],
)
def test_what_does_not_do_is_said_and_nothing_is_set(
    as_grower: Client, grower: Person, sent: dict[str, str], field: str, sentence: str
) -> None:
    answer = as_grower.post(PAGE, sent)
    assert (answer.status_code, answer.context["form"].errors[field]) == (422, [sentence])
    assert Person.objects.get(pk=grower.pk).check_password(PASSWORD)


def test_guesses_on_a_phone_that_was_left_lying_are_throttled(as_grower: Client) -> None:
    tries = [
        as_grower.post(PAGE, {"password_now": f"guess {turn}", "password": FRESH}).status_code for turn in range(8)
    ]
    assert tries == [422] * 7 + [429]
    assert as_grower.post(PAGE, {"password_now": PASSWORD, "password": FRESH}).status_code == 429


def test_signed_out_meanwhile_what_was_typed_is_shown_to_nobody(stranger: Client, grower: Person) -> None:
    assert stranger.post(PAGE, {"password_now": PASSWORD, "password": FRESH}).status_code == 401
    held = {"held": "yes", "held-password_now": "old one here", "held-password": FRESH, "next": PAGE}
    page = stranger.post(SIGN_IN, {"name": grower.name, "password": PASSWORD} | held)
    assert [row.value for row in page.context["rows"]] == ["(not shown)", "(not shown)"]
