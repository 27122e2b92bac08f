"""Where people are signed in, and signing out everywhere."""

from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from nursery.devices import LONGEST_WORDS, device_words
from nursery.models import Person, SignedIn
from nursery.records.people import signed_out_everywhere
from tests.conftest import PASSWORD, signed_in

PAGE = "/office/signed-in/"
PHONE = "Mozilla/5.0 (Linux; Android 14; Pixel 7) AppleWebKit/537.36 (KHTML) Chrome/126.0 Mobile Safari/537.36"
DESK = "Mozilla/5.0 (X11; Linux x86_64; rv:127.0) Gecko/20100101 Firefox/127.0"


def _by_password(person: Person, agent: str = PHONE) -> Client:
    client = Client(headers={"User-Agent": agent})
    assert client.post("/sign-in/", {"name": person.name, "password": PASSWORD})["Location"] == "/"
    return client


def _devices(client: Client, address: str = PAGE) -> list[tuple[str, bool]]:
    return [(one["words"], one["here"]) for one in client.get(address).context["devices"]]


def test_each_device_is_shown_with_this_one_marked(viewer: Person) -> None:
    phone = _by_password(viewer)
    desk = _by_password(viewer, DESK)
    assert _devices(phone) == [("Firefox on Linux", False), ("Chrome on Android phone", True)]
    assert _devices(desk) == [("Firefox on Linux", True), ("Chrome on Android phone", False)]


def test_one_signs_out_everywhere_but_here(grower: Person) -> None:
    here, lost, noted_nowhere = _by_password(grower), _by_password(grower, DESK), signed_in(grower)
    assert here.post(f"{PAGE}end/")["Location"] == PAGE
    assert [client.get("/").status_code for client in (here, lost, noted_nowhere)] == [200, 302, 302]
    assert [words for words, mine in _devices(here) if mine] == ["Chrome on Android phone"]


def test_an_owner_signs_somebody_out_everywhere(as_owner: Client, grower: Person) -> None:
    theirs = _by_password(grower)
    page = f"/office/people/{grower.pk}/"
    assert _devices(as_owner, page) == [("Chrome on Android phone", False)]
    assert as_owner.post(f"{page}sign-out/")["Location"] == page
    assert theirs.get("/").status_code == 302
    assert as_owner.get("/").status_code == 200


def test_an_owner_who_signs_themselves_out_stays_here(owner: Person) -> None:
    here, there = _by_password(owner), _by_password(owner, DESK)
    here.post(f"/office/people/{owner.pk}/sign-out/")
    assert (here.get("/").status_code, there.get("/").status_code) == (200, 302)


def test_signed_out_they_sign_in_anew_as_before(grower: Person) -> None:
    signed_out_everywhere(by=grower, person=grower)
    assert _by_password(grower).get("/").status_code == 200


def test_it_ends_again_what_was_begun_since(grower: Person) -> None:
    signed_out_everywhere(by=grower, person=grower)
    client = _by_password(grower)
    signed_out_everywhere(by=grower, person=grower)
    assert client.get("/").status_code == 302


def test_nobody_else_is_signed_out(grower: Person, viewer: Person) -> None:
    other = _by_password(viewer)
    signed_out_everywhere(by=grower, person=grower)
    assert other.get("/").status_code == 200


def test_what_was_signed_out_or_ran_out_is_not_shown(grower: Person) -> None:
    gone, old, here = _by_password(grower, DESK), _by_password(grower, DESK), _by_password(grower)
    gone.post("/sign-out/")
    Session.objects.filter(pk=old.session.session_key).update(expire_date=timezone.now() - timedelta(hours=1))
    assert _devices(here) == [("Chrome on Android phone", True)]
    _by_password(grower)
    assert SignedIn.objects.filter(person=grower).count() == 2, "what ended is forgotten at the next sign-in"


def test_a_new_password_keeps_the_session_it_was_set_in(owner: Person) -> None:
    here = _by_password(owner)
    here.post(f"/office/people/{owner.pk}/", {"name": owner.name, "role": "owner", "password": "green pod, brown pod"})
    assert _devices(here) == [("Chrome on Android phone", True)]


@pytest.mark.parametrize(
    ("agent", "words"),
    [
        (PHONE, "Chrome on Android phone"),
        (PHONE.replace(" Mobile", ""), "Chrome on Android tablet"),
        (DESK, "Firefox on Linux"),
        (
            "Mozilla/5.0 (iPhone; CPU iPhone OS 17_5) Version/17.5 Mobile Safari/604.1",
            "Safari on an iPhone",
        ),
        ("Mozilla/5.0 (Windows NT 10.0) Chrome/126.0 Safari/537.36 Edg/126.0", "Edge on Windows"),
        ("curl/8.5", "a device that does not say what it is"),
        ("<script>alert(1)</script>" * 400, "a device that does not say what it is"),
    ],
)
def test_a_device_in_words(agent: str, words: str) -> None:
    assert device_words(agent) == words
    assert len(words) <= LONGEST_WORDS
