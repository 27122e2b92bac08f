"""A lost sign-in loses nothing: what was posted is held, shown again, and sent only by a person's own tap."""

import uuid

import pytest
from django.http import QueryDict
from django.test import Client

from nursery.models import Act, Person, Taxon
from nursery.records.places import place_made
from nursery.views import held
from nursery.views.held import About, Row
from tests.conftest import PASSWORD
from tests.making import Nursery, birth_of, tag_of

TAXON = {"epithet": "veitchii", "genus": "Nepenthes", "rank": "species", "cites": "II", "note": "from the <b>hill</b>"}


def _signed_in_with(client: Client, page) -> object:
    """Sign in on the page that was shown, with the hidden values it holds."""
    carried = QueryDict(mutable=True)
    for name, value in page.context["held"]:
        carried.appendlist(name, value)
    carried.update({"name": "Ida Fern", "password": PASSWORD, "way": "password", "next": page.context["next"]})
    return client.post("/sign-in/", carried.urlencode(), content_type="application/x-www-form-urlencoded")


def test_a_strangers_post_gets_the_sign_in_page_and_writes_nothing(stranger: Client) -> None:
    page = stranger.post("/office/taxa/new/", TAXON)
    assert page.status_code == 401
    assert "what you typed comes back after you sign in" in page.content.decode()
    assert not Taxon.objects.filter(epithet="veitchii").exists()


def test_what_was_typed_is_shown_after_signing_in_and_not_sent_by_itself(stranger: Client, owner: Person) -> None:
    answer = _signed_in_with(stranger, stranger.post("/office/taxa/new/", TAXON))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert answer.context["action"] == "/office/taxa/new/"
    assert Row("Epithet", "veitchii") in answer.context["rows"]
    assert "from the &lt;b&gt;hill&lt;/b&gt;" in page and "<b>hill" not in page
    assert page.count("Save now") == 1
    assert not Taxon.objects.filter(epithet="veitchii").exists()


def test_save_now_sends_it_to_its_own_address(owner: Person) -> None:
    client = Client(enforce_csrf_checks=True)
    client.get("/sign-in/")
    token = client.cookies["csrftoken"].value
    page = client.post("/office/taxa/new/", TAXON | {"csrfmiddlewaretoken": token})
    answer = client.post(
        "/sign-in/",
        dict(page.context["held"])
        | {"name": "Ida Fern", "password": PASSWORD, "next": page.context["next"], "csrfmiddlewaretoken": token},
    )
    assert not any(name == "csrfmiddlewaretoken" for name, _ in answer.context["held"])
    fresh = str(answer.context["csrf_token"])
    saved = client.post(answer.context["action"], dict(answer.context["held"]) | {"csrfmiddlewaretoken": fresh})
    assert saved.status_code == 302
    assert Taxon.objects.get(epithet="veitchii").note == "from the <b>hill</b>"


def test_the_acts_id_is_kept_so_that_nothing_counts_twice(stranger: Client, nursery: Nursery) -> None:
    bench, sent = nursery.bench(), {"act_id": str(uuid.uuid4()), "words": "Leans to the east."}
    address = f"/places/{bench.pk}/remark/"
    answer = _signed_in_with(stranger, stranger.post(address, sent))
    assert dict(answer.context["held"]) == sent
    assert [row.label for row in answer.context["rows"]] == ["Remark"]
    assert answer.context["about"] == About("place", tag_of(bench).number, f"/places/{bench.pk}/")
    for _ in range(2):
        stranger.post(address, dict(answer.context["held"]))
    assert Act.objects.filter(kind="remarked").count() == 1
    assert str(Act.objects.get(kind="remarked").pk) == sent["act_id"]


def test_a_wrong_password_in_between_keeps_it(stranger: Client, owner: Person) -> None:
    page = stranger.post("/office/taxa/new/", TAXON)
    again = stranger.post(
        "/sign-in/", dict(page.context["held"]) | {"name": "Ida Fern", "password": "no", "next": "/x"}
    )
    assert dict(again.context["held"]) == dict(page.context["held"])
    assert Row("Epithet", "veitchii") in _signed_in_with(stranger, again).context["rows"]


def test_a_name_typed_in_the_form_is_not_taken_for_the_name_to_sign_in(stranger: Client, owner: Person) -> None:
    page = stranger.post("/office/people/new/", {"name": "Somebody Else", "role": "viewer", "password": "secret word"})
    answer = _signed_in_with(stranger, page)
    assert stranger.session["_auth_user_id"] == str(owner.pk)
    assert ("name", "Somebody Else") in answer.context["held"]
    assert Row("Password", "(not shown)") in answer.context["rows"]


def test_a_post_without_any_value_is_held_too(stranger: Client, owner: Person, nursery: Nursery) -> None:
    act = nursery.record(place_made, name="Cool house", size="house")
    answer = _signed_in_with(stranger, stranger.post(f"/acts/{act.pk}/undo/"))
    assert (answer.status_code, answer.context["action"]) == (200, f"/acts/{act.pk}/undo/")
    assert not hasattr(Act.objects.get(pk=act.pk), "voided_by")


def test_it_is_never_sent_to_another_host(stranger: Client, owner: Person) -> None:
    page = stranger.post("/office/taxa/new/", TAXON)
    answer = stranger.post(
        "/sign-in/",
        dict(page.context["held"])
        | {"name": "Ida Fern", "password": PASSWORD, "next": "https://elsewhere.example/take"},
    )
    assert answer.context["action"] == "/"


def test_held_values_are_never_taken_from_an_address(stranger: Client) -> None:
    assert list(stranger.get("/sign-in/", {"held": "yes", "held-name": "x"}).context["held"]) == []


# --- htmx ---


def test_a_part_of_a_page_asks_for_the_whole_body(stranger: Client) -> None:
    answer = stranger.post("/office/taxa/new/", TAXON, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert (answer["HX-Retarget"], answer["HX-Reswap"]) == ("body", "innerHTML")
    assert ("held-epithet", "veitchii") in answer.context["held"]
    assert answer.context["next"] == "/office/taxa/new/"


@pytest.mark.parametrize(
    ("behind", "comes_back_to"),
    [("http://testserver/plants/?q=x", "/plants/?q=x"), ("https://elsewhere.example/", "/"), ("", "/")],
)
def test_a_get_by_htmx_comes_back_to_the_page_behind_it(stranger: Client, behind: str, comes_back_to: str) -> None:
    headers = {"HX-Request": "true", "HX-Current-URL": behind}
    assert stranger.get("/office/", headers=headers).context["next"] == comes_back_to


# --- the pairs ---


def test_a_field_with_several_values_keeps_them_all() -> None:
    posted = QueryDict("spikes=3&spikes=4&csrfmiddlewaretoken=x")
    carried = QueryDict("&".join(f"{name}={value}" for name, value in held.to_carry(posted)))
    assert held.unpacked(carried) == [("spikes", "3"), ("spikes", "4")]


@pytest.mark.parametrize("address", ["/nowhere/at/all/", "/office/taxa/new/", "/places/999999/remark/", "/"])
def test_a_post_about_no_thing_names_none(db: None, address: str) -> None:
    assert held.about(address) is None


def test_empty_values_are_held_but_not_shown() -> None:
    assert held.in_words([("note", " "), ("day_said", "today")]) == [Row("Day said", "today")]


# --- in the words of its form ---


def test_an_act_is_told_as_its_form_asks_for_it(stranger: Client, owner: Person, nursery: Nursery) -> None:
    spike, lot = nursery.female(days_ago=5), nursery.pollen(days_ago=3)
    sent = {"pollen": f"lot:{lot.pk}", "tie": "red wool", "covered_after": "yes", "day_said": "today", "size": "25"}
    page = _signed_in_with(stranger, stranger.post(f"/spikes/{spike.pk}/pollinate/?next=/round/", sent))
    rows = {row.label: row.value for row in page.context["rows"]}
    assert str(lot.clone) in rows.pop("Pollen")
    assert rows == {
        "Its tie": "red wool",
        "About how many flowers": "10 to 24",
        "Is it covered now?": "yes",
        "When": "Today",
    }
    assert ">Pollinate a section</h2>" in page.text
    assert page.text.count(spike.plant.clone.designation) == 1
    assert page.context["action"] == f"/spikes/{spike.pk}/pollinate/?next=/round/"


def test_a_quick_answer_and_a_correction_too(stranger: Client, owner: Person, nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=5)
    page = _signed_in_with(stranger, stranger.post(f"/spikes/{spike.pk}/look/", {"quick": "buds-female-buds"}))
    assert [(row.label, row.value) for row in page.context["rows"]] == [
        ("What you see", "buds"),
        ("Sex", "female"),
        ("Read from", "from its buds"),
    ]
    stranger.logout()
    act = birth_of(nursery.section(days_ago=3))
    page = _signed_in_with(stranger, stranger.post(f"/acts/{act.pk}/correct/", {"other_number": "17", "odd": "<b>"}))
    assert page.context["told"].title == "Correct: pollinate a section"
    assert Row("or the number on its tag", "17") in page.context["rows"]
    assert Row("Odd", "<b>") in page.context["rows"]


def test_an_act_on_nothing_any_more_is_told_by_its_names(stranger: Client, owner: Person) -> None:
    page = _signed_in_with(stranger, stranger.post("/spikes/99999/look/", {"seen": "buds"}))
    assert (page.context["told"], page.context["rows"]) == (None, [Row("Seen", "buds")])
