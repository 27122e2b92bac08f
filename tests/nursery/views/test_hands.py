"""A phone that goes from hand to hand: one tap says whose, acts are signed by them, with a grower's rights at most."""

import re
import uuid
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from nursery.models import Act, House, Person
from nursery.records.hands import lent
from nursery.records.undo import undone
from tests.conftest import signed_in
from tests.making import Nursery, tag_of, today

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).parents[3]


def _say(client: Client, person: Person, **more: Any) -> Any:
    return client.post("/hands/", {"person": person.pk, "next": "/"} | more)


def _remark(client: Client, nursery: Nursery, words: str = "Leans over.") -> Act:
    id = uuid.uuid4()
    client.post(f"/plants/{nursery.plant().pk}/remark/", {"act_id": id, "words": words})
    return Act.objects.get(pk=id)


def _strip(client: Client, address: str = "/") -> str:
    html = client.get(address).content.decode()
    found = re.search(r'<aside class="hands.*?</aside>', html, re.DOTALL)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", found[0])) if found else ""


def test_one_tap_says_whose_and_what_is_recorded_then_is_signed_by_them(
    nursery: Nursery, as_owner: Client, owner: Person, grower: Person
) -> None:
    before = _remark(as_owner, nursery)
    assert _say(as_owner, grower)["Location"] == "/"
    during = _remark(as_owner, nursery)
    _say(as_owner, owner)
    after = _remark(as_owner, nursery)
    assert [(act.by, act.phone_of) for act in (before, during, after)] == [
        (owner, None),
        (grower, owner),
        (owner, None),
    ]


def test_every_page_of_a_shared_phone_says_whose_it_is_and_whose_hands(
    nursery: Nursery, as_owner: Client, grower: Person
) -> None:
    assert _strip(as_owner) == ""
    _say(as_owner, grower)
    for address in ("/", f"/plants/{nursery.plant().pk}/", "/search/"):
        assert "Phone of Ida Fern, hands of Tom Reed" in _strip(as_owner, address)
    assert "In the office it stays Ida Fern" in _strip(as_owner, "/office/")
    assert "In the office" not in _strip(as_owner)


def test_the_buttons_are_those_who_may_record_and_the_pressed_one_holds_it(
    as_owner: Client, owner: Person, grower: Person, viewer: Person
) -> None:
    Person.objects.create(name="Old Hand", role="grower", is_active=False)
    _say(as_owner, grower)
    html = as_owner.get("/").content.decode()
    buttons = re.findall(r'name="person" value="(\d+)" aria-pressed="(\w+)"', html)
    assert buttons == [(str(owner.pk), "false"), (str(grower.pk), "true")]


def test_shared_no_more_takes_the_strip_away(nursery: Nursery, as_owner: Client, owner: Person, grower: Person) -> None:
    _say(as_owner, grower)
    as_owner.post("/hands/", {"person": ""})
    assert _strip(as_owner) == ""
    assert _remark(as_owner, nursery).by == owner


@pytest.mark.parametrize("told", ["999999", "moss", "-1", "9" * 30, "٣", "<b>"])
def test_nobodys_hands_change_nothing(told: str, nursery: Nursery, as_owner: Client, owner: Person) -> None:
    page = as_owner.post("/hands/", {"person": told}, follow=True).content.decode()
    assert "Nobody of that name records here. Choose again." in page
    assert _remark(as_owner, nursery).by == owner


def test_neither_a_viewers_hands_nor_those_of_somebody_who_left(
    nursery: Nursery, as_owner: Client, owner: Person, grower: Person, viewer: Person
) -> None:
    _say(as_owner, viewer)
    assert _remark(as_owner, nursery).by == owner
    _say(as_owner, grower)
    Person.objects.filter(pk=grower.pk).update(is_active=False)
    act = _remark(as_owner, nursery)
    assert (act.by, act.phone_of) == (owner, None)
    assert "hands of Ida Fern" in _strip(as_owner)


def test_signing_out_ends_it(nursery: Nursery, as_owner: Client, owner: Person, grower: Person) -> None:
    _say(as_owner, grower)
    as_owner.post("/sign-out/")
    as_owner.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")
    assert _remark(as_owner, nursery).by == owner


# --- rights ---


def test_an_owners_hands_on_a_growers_phone_have_a_growers_rights(
    nursery: Nursery, grower: Person, owner: Person, time_machine: Any
) -> None:
    other = _remark(signed_in(nursery.person()), nursery)
    time_machine.move_to(timezone.now() + timedelta(days=1))
    phone = signed_in(grower)
    _say(phone, owner)
    assert phone.get("/office/people/").status_code == 403, "the office stays with who signed in"
    phone.post(f"/acts/{other.pk}/undo/", {"act_id": uuid.uuid4()})
    assert not hasattr(Act.objects.get(pk=other.pk), "voided_by")
    place = nursery.bench()
    renamed = phone.post(f"/places/{place.pk}/rename/", {"act_id": uuid.uuid4(), "name": "Mine", "order": 1})
    assert renamed.status_code == 422
    place.refresh_from_db()
    assert place.name != "Mine"


def test_on_an_owners_phone_undo_follows_the_hands_and_the_office_the_owner(
    nursery: Nursery, owner: Person, grower: Person, time_machine: Any
) -> None:
    """Teo may not take back on her phone what the owner recorded on another day; the office stays open to her."""
    act = _remark(signed_in(owner), nursery)
    time_machine.move_to(timezone.now() + timedelta(days=1))
    phone = signed_in(owner)
    _say(phone, grower)
    phone.post(f"/acts/{act.pk}/undo/", {"act_id": uuid.uuid4()})
    assert not hasattr(Act.objects.get(pk=act.pk), "voided_by")
    assert phone.get(f"/acts/{act.pk}/correct/").status_code == 403
    assert phone.get("/office/people/").status_code == 200
    _say(phone, owner)
    phone.post(f"/acts/{act.pk}/undo/", {"act_id": uuid.uuid4()})
    void = Act.objects.get(pk=act.pk).voided_by.act
    assert (void.by, void.phone_of) == (owner, None)


def test_an_undo_is_signed_by_the_hands_too(nursery: Nursery, as_owner: Client, owner: Person, grower: Person) -> None:
    _say(as_owner, grower)
    act = _remark(as_owner, nursery)
    as_owner.post(f"/acts/{act.pk}/undo/", {"act_id": uuid.uuid4()})
    void = Act.objects.get(pk=act.pk).voided_by.act
    assert (void.by, void.phone_of) == (grower, owner)


def test_lending_changes_nobody(owner: Person) -> None:
    hands = lent(owner)
    assert (hands.pk, hands.is_owner, hands.may_record) == (owner.pk, False, True)
    owner.refresh_from_db()
    assert owner.is_owner


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_viewer_has_no_such_page_and_a_stranger_must_sign_in(
    method: str, as_viewer: Client, stranger: Client, owner: Person
) -> None:
    assert getattr(as_viewer, method)("/hands/", {"person": owner.pk}).status_code == 403
    assert getattr(stranger, method)("/hands/", {"person": owner.pk}).status_code in {302, 401}
    assert "Whose hands" not in as_viewer.get("/more/").content.decode()


# --- switched off ---


def test_an_owner_may_switch_it_off_and_then_everybody_signs_for_themselves(
    nursery: Nursery, as_owner: Client, as_grower: Client, owner: Person, grower: Person
) -> None:
    _say(as_grower, owner)
    form = {"name": "Drizzle Lane", "public_address": ""}
    as_owner.post("/office/house/", form)
    assert House.objects.get().shared_phones is False
    act = _remark(as_grower, nursery)
    assert (act.by, act.phone_of) == (grower, None)
    assert _strip(as_grower) == ""
    _say(as_grower, owner)
    assert _remark(as_grower, nursery).by == grower
    page = as_grower.get("/hands/").content.decode()
    assert "An owner has switched this off: everybody signs in on their own phone." in page
    as_owner.post("/office/house/", form | {"shared_phones": "on"})
    assert House.objects.get().shared_phones is True


# --- told ---


def test_the_journal_says_on_whose_phone(nursery: Nursery, as_owner: Client, grower: Person) -> None:
    _say(as_owner, grower)
    _remark(as_owner, nursery, "Leans to the east.")
    assert as_owner.get("/office/journal/").content.decode().count("On the phone of Ida Fern.") == 1


OFFICE = {"office", "moving.py", "house.py", "timings.py", "round_settings.py", "stocks.py", "printing.py"}
"""Views that stay with the person who signed in: the office, printing, moving in."""


def test_no_view_signs_an_act_with_the_person_who_signed_in() -> None:
    files = [*ROOT.glob("nursery/**/views/**/*.py"), *ROOT.glob("breeding/views/*.py")]
    signing = [
        file.relative_to(ROOT).as_posix()
        for file in files
        if not OFFICE & set(file.parts) and re.search(r"(NewAct|Sending)\([^)]*\)?[^)]*request\.user", file.read_text())
    ]
    assert files
    assert signing == []


def test_an_act_undone_by_records_keeps_its_signature(nursery: Nursery, grower: Person, owner: Person) -> None:
    plant = nursery.plant()
    act = plant.thing.born_by
    void = undone(act=nursery.act(by=lent(owner), phone_of=grower), target=act)
    assert (void.by_id, void.phone_of) == (owner.pk, grower)


def test_every_way_to_record_is_signed_by_the_hands(
    nursery: Nursery, as_owner: Client, owner: Person, grower: Person
) -> None:
    bench = nursery.bench()
    pots = nursery.pots(2, days_ago=60, place=bench)
    row, ids = str(uuid.uuid4()), [pot.pk for pot in pots]
    before = set(Act.objects.values_list("pk", flat=True))
    _say(as_owner, grower)
    as_owner.post(f"/walk/{bench.pk}/", {"act_id": uuid.uuid4(), "things": ids})
    as_owner.post("/several/pots/look/", {"act_id": uuid.uuid4(), "things": ids, "seen": "nothing"})
    typed = {"row": row, f"number-{row}": str(tag_of(pots[0]).number), f"answer-{row}": "few"}
    as_owner.post("/round/2026-03-09/grid/", typed | {f"day-{row}": today().isoformat()})
    acts = Act.objects.exclude(pk__in=before)
    assert sorted(acts.values_list("kind", flat=True)) == ["pot_look", "pot_look", "pot_look", "walked_past"]
    assert {(act.by, act.phone_of) for act in acts} == {(grower, owner)}
