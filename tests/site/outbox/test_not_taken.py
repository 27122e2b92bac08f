"""What a phone sends and cannot be recorded: told so, held for somebody to look at, never in the way of the rest."""

import json
import uuid
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.db import OperationalError
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from breeding.forms.pods import PodLookForm
from breeding.models import Section
from nursery.damm import damm_digit
from nursery.models import Act, House, NeedsALook, Person
from nursery.records.numbers import blank_tags_make
from tests.conftest import signed_in
from tests.making import Nursery, ago, tag_of, today
from tests.site.outbox.phone import post, send, tap

pytestmark = pytest.mark.django_db


def _good(nursery: Nursery, **changes: Any) -> dict[str, Any]:
    section = Section.objects.first() or nursery.section(days_ago=100)
    return tap("pods", section, values={"seen": "green"}) | changes


def _blank() -> int:
    [tag] = blank_tags_make(count=1)
    return tag.number


MALFORMED: dict[str, tuple[Callable[[Nursery], Any], str]] = {
    "a word": (lambda _: "pods", "This is no act: it has no parts with names."),
    "nothing": (lambda _: None, "This is no act: it has no parts with names."),
    "no id": (lambda n: _good(n, id=None), "It has no UUID, so nobody can tell whether it was sent before."),
    "a short id": (lambda n: _good(n, id="12"), "It has no UUID, so nobody can tell whether it was sent before."),
    "no act": (lambda n: _good(n, act=None), "It does not say what was done or seen."),
    "an unknown act": (lambda n: _good(n, act="sing"), "Nothing like “sing” can be recorded of a section."),
    "an act of another kind": (lambda n: _good(n, act="sow"), "Nothing like “sow” can be recorded of a section."),
    "no thing": (lambda n: _good(n, thing=None), "Nothing like “pods” can be recorded without a thing."),
    "an unknown thing": (lambda n: _good(n, thing=987654321), "There is no thing 987654321 here."),
    "a thing far too big": (lambda n: _good(n, thing=10**30), f"There is no thing {10**30} here."),
    "a thing in words": (lambda n: _good(n, thing="that one"), "There is no thing that one here."),
    "a wrong digit": (
        lambda n: _good(n, thing=None, tag=20874600 + (int(damm_digit("2087460")) + 1) % 10),
        "Tag 208 746 0",
    ),
    "an unknown tag": (
        lambda n: _good(n, thing=None, tag=int("99999" + str(damm_digit("99999")))),
        "No tag 999 99",
    ),
    "a blank tag": (lambda n: _good(n, thing=None, tag=_blank()), "is blank: it is on nothing yet."),
    "no day": (lambda n: _good(n, tapped_at=None), "It does not say on which day it was tapped."),
    "a wrong day": (lambda n: _good(n, tapped_at="yesterday"), "It does not say on which day it was tapped."),
    "a day to come": (lambda n: _good(n, tapped_at="2190-01-01T08:00"), "That day is still to come."),
    "a day before there was a nursery": (lambda n: _good(n, tapped_at="0001-01-01T00:00+14:00"), "on which day"),
    "values without names": (lambda n: _good(n, values=["green"]), "Its values have no names."),
    "values in values": (lambda n: _good(n, values={"seen": {"a": 1}}), "One of its values is no words"),
    "a missing value": (lambda n: _good(n, values={}), "The pods: Say what you see, or “can't tell”."),
    "a wrong value": (lambda n: _good(n, values={"seen": "purple"}), "The pods: "),
    "markup": (lambda n: _good(n, values={"seen": "<script>alert(1)</script>"}), "The pods: "),
    "a null character": (lambda n: _good(n, values={"seen": "green", "note": "a\0b"}), "Note: There is a sign in it"),
    "half a character": (
        lambda n: _good(n, values={"seen": "green", "note": "\ud83c"}),
        "A character in it is broken.",
    ),
    "a huge value": (lambda n: _good(n, values={"seen": "green", "note": "x" * 100_000}), "Note: Write at most 1000"),
    "emoji": (lambda n: _good(n, values={"seen": "🌱"}), "The pods: "),
    "a number that is none": (lambda n: _good(n, values={"seen": "green", "pods_left": float("nan")}), "Pods left"),
    "no such person": (lambda n: _good(n, hands=987654), "Nobody here is the person whose hands it names."),
    "a walk without a place": (lambda n: tap("walk", values={"things": [1]}), "which place was walked past."),
    "a walk past nothing": (lambda n: tap("walk", n.bench()), "Nothing was listed here"),
    "an undo of nothing": (lambda n: tap("undo", values={"target": str(uuid.uuid4())}), "is not in the books."),
    "an undo of no act": (lambda n: tap("undo", values={"target": "all"}), "is not in the books."),
}


@pytest.mark.parametrize("what", MALFORMED)
def test_what_is_malformed_or_impossible_is_held_once_and_does_not_stop_the_others(
    what: str, nursery: Nursery, as_grower: Client, grower: Person
) -> None:
    make, sentence = MALFORMED[what]
    bad, before, after = make(nursery), _good(nursery), _good(nursery)
    count = Act.objects.count()
    answers = send(as_grower, before, bad, after)
    assert [one["is"] for one in answers] == ["recorded", "needs_a_look", "recorded"]
    assert sentence in answers[1]["sentence"]
    assert Act.objects.count() == count + 2
    row = NeedsALook.objects.get()
    assert (json.dumps(json.loads(row.sent)), row.sentence) == (json.dumps(bad), answers[1]["sentence"])
    assert (row.sender, row.settled_at) == (grower, None)
    assert send(as_grower, bad) == [answers[1]]
    assert NeedsALook.objects.count() == 1, "sent again it is held once"


def test_the_id_comes_back_as_it_was_sent(nursery: Nursery, as_grower: Client) -> None:
    sent = _good(nursery)
    ids = [sent["id"].upper(), "12", None, 7, ["a"]]
    assert [one["id"] for one in send(as_grower, *(sent | {"id": id} for id in ids))] == [
        ids[0],
        "12",
        None,
        None,
        None,
    ]


def test_an_owner_finds_it_in_the_office_enters_it_and_says_so(nursery: Nursery, as_owner: Client) -> None:
    section = nursery.section(days_ago=100)
    sent = tap("pods", section, days_ago=3, values={"seen": "split", "pods_left": "many"}, hands=nursery.by.pk)
    send(as_owner, sent)
    page = as_owner.get(reverse("sort-out")).content.decode()
    assert "Pods left, if some split or fell: Write a whole number." in page
    assert "Look at the pods; tapped: " in page and "pods left: many" in page
    assert "1 record waits for somebody to look" in as_owner.get(reverse("office")).content.decode()
    [row] = as_owner.get(reverse("sort-out")).context["held"]
    form = as_owner.get(row.enter_url).context["form"]
    assert form["seen"].value() == "split"
    assert form["day_on"].value() == ago(3).first.isoformat()
    as_owner.post(row.settle_url)
    held = NeedsALook.objects.get()
    assert held.settled_by == nursery.by
    assert held.settled_at is not None
    assert "Nothing waits." in as_owner.get(reverse("sort-out")).content.decode()
    assert send(as_owner, sent)[0]["is"] == "needs_a_look", "sent after that, it stays settled"
    assert NeedsALook.objects.get().settled_by == nursery.by


def test_a_viewer_reads_what_waits_and_settles_nothing(nursery: Nursery, as_owner: Client, as_viewer: Client) -> None:
    send(as_owner, _good(nursery, values={}))
    [row] = as_viewer.get(reverse("sort-out")).context["held"]
    assert (row.settle_url, row.enter_url) == ("", "")
    held = NeedsALook.objects.get()
    assert as_viewer.post(reverse("held-settle", args=[held.pk])).status_code == 403
    held.refresh_from_db()
    assert held.settled_at is None


def test_markup_in_what_is_held_is_shown_as_text(nursery: Nursery, as_owner: Client) -> None:
    send(as_owner, "<script>alert('x')</script>", _good(nursery, values={"<script>alert('y')": "<script>alert('z')"}))
    page = as_owner.get(reverse("sort-out")).content.decode()
    assert "<script>alert" not in page
    assert page.count("&lt;script&gt;alert") >= 3


# --- people ---


def test_by_a_person_since_deactivated_it_is_held_with_their_name(
    nursery: Nursery, as_owner: Client, grower: Person
) -> None:
    grower.is_active = False
    grower.save()
    [answer] = send(as_owner, _good(nursery, hands=grower.pk))
    assert (answer["is"], answer["sentence"]) == (
        "needs_a_look",
        "Tom Reed has left. Enter it for them if it was so.",
    )
    assert NeedsALook.objects.get().hands == grower
    assert "Tom Reed, on the phone of Ida Fern" in as_owner.get(reverse("sort-out")).content.decode()


def test_a_person_deactivated_while_signed_in_must_sign_in(nursery: Nursery, grower: Person) -> None:
    phone, sent = signed_in(grower), _good(nursery)
    grower.is_active = False
    grower.save()
    response = post(phone, sent)
    assert response.status_code == 401
    assert response.json()["acts"][0] | {"sentence": ""} == {
        "id": sent["id"],
        "is": "sign_in_needed",
        "sentence": "",
    }


def test_a_stranger_is_told_to_sign_in_and_nothing_is_recorded_or_held(nursery: Nursery, stranger: Client) -> None:
    sent = _good(nursery)
    response = post(stranger, sent, "rubbish")
    assert response.status_code == 401
    assert response.json() == {
        "epoch": None,
        "sentence": "Sign in, then it is sent again. Nothing is lost.",
        "acts": [
            {
                "id": id,
                "is": "sign_in_needed",
                "sentence": "Sign in, then it is sent again. Nothing is lost.",
            }
            for id in (sent["id"], None)
        ],
    }
    assert not Act.objects.filter(pk=sent["id"]).exists()
    assert not NeedsALook.objects.exists()


def test_a_viewer_records_nothing_and_holds_nothing(nursery: Nursery, as_viewer: Client, owner: Person) -> None:
    response = post(as_viewer, _good(nursery, hands=owner.pk), "rubbish")
    assert response.status_code == 403
    assert {one["is"] for one in response.json()["acts"]} == {"sign_in_needed"}
    assert not Act.objects.filter(kind="pod_look").exists()
    assert not NeedsALook.objects.exists()


def test_other_hands_sign_and_the_phone_is_kept_with_it(nursery: Nursery, as_owner: Client, grower: Person) -> None:
    sent = _good(nursery, hands=grower.pk)
    assert send(as_owner, sent)[0]["is"] == "recorded"
    act = Act.objects.get(pk=sent["id"])
    assert (act.by, act.phone_of) == (grower, nursery.by)


def test_where_phones_are_not_shared_each_sends_their_own(nursery: Nursery, as_owner: Client, grower: Person) -> None:
    House.objects.update_or_create(id=1, defaults={"shared_phones": False})
    [answer] = send(as_owner, _good(nursery, hands=grower.pk))
    assert (answer["is"], answer["sentence"]) == ("sign_in_needed", "Sign in as Tom Reed to send this.")
    assert not NeedsALook.objects.exists()
    assert send(as_owner, _good(nursery, hands=nursery.by.pk))[0]["is"] == "recorded"


def test_a_viewers_hands_record_nothing(nursery: Nursery, as_owner: Client, viewer: Person) -> None:
    [answer] = send(as_owner, _good(nursery, hands=viewer.pk))
    assert answer["sentence"] == "Una Vale may read here but not record. Enter it for them if it was so."


def test_an_owners_hands_on_a_growers_phone_have_a_growers_rights(
    nursery: Nursery, as_grower: Client, owner: Person, grower: Person, time_machine: Any
) -> None:
    """An undo of what a third person recorded on another day is an owner's right, and needs the owner's sign-in."""
    look = _good(nursery)
    send(signed_in(nursery.person()), look)
    time_machine.move_to(timezone.now() + timedelta(hours=26))
    [answer] = send(signed_in(grower), tap("undo", values={"target": look["id"]}, hands=owner.pk))
    assert answer["sentence"] == "Somebody else recorded this on another day. Ask them or an owner."
    assert send(signed_in(owner), tap("undo", values={"target": look["id"]}))[0]["is"] == "recorded"


# --- the sending as a whole ---


@pytest.mark.parametrize("body", ["", "{", "[]", '"acts"', '{"acts": 3}', '{"act": []}', "[" * 100_000, "\xff"])
def test_what_is_no_list_of_acts_is_told_so(body: str, as_grower: Client) -> None:
    response = as_grower.post("/acts/", body, content_type="application/json")
    assert response.status_code == 400
    assert response.json()["sentence"] == "This is no list of acts. Nothing was taken; keep it and send it again."


def test_a_list_too_long_is_not_taken_at_all(nursery: Nursery, as_grower: Client) -> None:
    response = post(as_grower, *[_good(nursery)] * 201)
    assert response.status_code == 413
    assert response.json()["sentence"].startswith("That is too much at once. Send at most 200 acts")
    assert not Act.objects.filter(kind="pod_look").exists()


def test_a_body_too_big_is_not_taken_at_all(nursery: Nursery, as_grower: Client) -> None:
    response = post(as_grower, _good(nursery, values={"note": "x" * 3_000_000}))
    assert response.status_code == 413
    assert not NeedsALook.objects.exists()


def test_without_the_token_nothing_is_taken_and_with_it_all(nursery: Nursery, grower: Person) -> None:
    phone = Client(enforce_csrf_checks=True)
    phone.force_login(grower, backend="django.contrib.auth.backends.ModelBackend")
    assert post(phone, _good(nursery)).status_code == 403
    token = phone.get("/acts/").json()["csrf"]
    assert post(phone, _good(nursery), headers={"X-CSRFToken": token}).status_code == 200


def test_who_asks_is_told_who_is_signed_in_and_how_much_is_taken(as_grower: Client, grower: Person) -> None:
    told = as_grower.get("/acts/").json()
    assert (told["person"], told["most"]) == ({"id": grower.pk, "name": "Tom Reed"}, 200)


def test_a_stranger_who_asks_is_told_nothing_of_the_nursery(stranger: Client) -> None:
    told = stranger.get("/acts/").json()
    assert (told["epoch"], told["person"]) == (None, None)


def test_a_busy_database_is_no_reason_to_hold_it(
    nursery: Nursery, as_grower: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def busy(self: Any, act: Any) -> Act:
        raise OperationalError("database is locked")

    sent, good = _good(nursery), tap("look", nursery.spike(days_ago=9), values={"seen": "buds"})
    with monkeypatch.context() as patch:
        patch.setattr(PodLookForm, "record", busy)
        assert [one["is"] for one in send(as_grower, sent, good)] == ["try_again", "recorded"]
    assert not NeedsALook.objects.exists()
    assert send(as_grower, sent)[0]["is"] == "recorded"


def test_a_fault_of_ours_is_held_too_and_the_rest_goes_on(
    nursery: Nursery, as_grower: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(self: Any, act: Any) -> Act:
        raise ZeroDivisionError

    monkeypatch.setattr(PodLookForm, "record", broken)
    good = tap("look", nursery.spike(days_ago=9), values={"seen": "buds"})
    answers = send(as_grower, _good(nursery), good)
    assert [one["is"] for one in answers] == ["needs_a_look", "recorded"]
    assert "Something went wrong here" in NeedsALook.objects.get().sentence


def test_a_tag_is_found_by_its_number_even_when_replaced(nursery: Nursery, as_grower: Client) -> None:
    section = nursery.section(days_ago=100)
    old = tag_of(section).number
    as_grower.post(f"/sections/{section.pk}/tag/", {"number": _blank()})
    assert tag_of(section).number != old
    assert send(as_grower, tap("pods", tag=old, values={"seen": "green"}))[0]["is"] == "recorded"
    assert today() == Act.objects.latest("recorded_at").day_last
