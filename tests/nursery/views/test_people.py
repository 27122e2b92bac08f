"""The pages on which owners say who may sign in."""

import re

import pytest
from django.test import Client

from nursery.models import House, Person
from nursery.records.people import code_hash
from tests.conftest import PASSWORD, signed_in

NEW = "/office/people/new/"


def _payload(**changes: str) -> dict[str, str]:
    return {"name": "Eve Sedge", "role": "grower", "password": ""} | changes


def test_a_person_with_a_password_can_sign_in(as_owner: Client, stranger: Client) -> None:
    answer = as_owner.post(NEW, _payload(password=PASSWORD))
    eve = Person.objects.get(name="Eve Sedge")
    assert answer["Location"] == f"/office/people/{eve.pk}/"
    assert stranger.post("/sign-in/", {"name": "Eve Sedge", "password": PASSWORD})["Location"] == "/"


def test_a_person_without_a_password_signs_in_by_a_code_only(as_owner: Client) -> None:
    """So the way goes to the code, and nobody is told that they can sign in already."""
    answer = as_owner.post(NEW, _payload())
    eve = Person.objects.get(name="Eve Sedge")
    assert not eve.has_usable_password()
    assert answer["Location"] == f"/office/people/{eve.pk}/code/"
    page = as_owner.get(answer["Location"]).text
    assert "Eve Sedge is added, and signs in by a code that you show them." in page
    assert "can sign in now" not in page


def test_who_has_no_password_is_not_said_to_have_one(as_owner: Client, grower: Person) -> None:
    address, keeps = f"/office/people/{grower.pk}/", "keep the one they have"
    assert keeps in as_owner.get(address).text
    grower.set_unusable_password()
    grower.save()
    page = as_owner.get(address).text
    assert keeps not in page and "They have none." in page


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"name": ""}, "name", "Write something here."),
        ({"name": "  "}, "name", "Write something here."),
        ({"name": "ida fern"}, None, "Somebody already has this name."),
        ({"role": ""}, "role", "Choose one."),
        ({"password": "short"}, "password", "This password is too short. It must contain at least 10 characters."),
        ({"password": "1234567890123"}, "password", "This password is too common."),
        ({"password": "eve sedge"}, "password", "The password is too similar to the name."),
    ],
)
def test_what_cannot_be_is_said_in_words(
    as_owner: Client, changes: dict[str, str], field: str | None, sentence: str
) -> None:
    before = Person.objects.count()
    answer = as_owner.post(NEW, _payload(**changes))
    assert answer.status_code == 422
    errors = answer.context["form"].errors.get(field or "__all__")
    assert errors == [sentence]
    assert Person.objects.count() == before


def test_an_unknown_role_is_refused(as_owner: Client) -> None:
    answer = as_owner.post(NEW, _payload(role="emperor"))
    assert answer.context["form"].errors["role"] == [
        "What was chosen is not offered here, or not any more. Choose again."
    ]


def test_a_person_is_renamed_and_gets_another_role(as_owner: Client, grower: Person) -> None:
    as_owner.post(f"/office/people/{grower.pk}/", {"name": "Tom Rush", "role": "viewer"})
    grower.refresh_from_db()
    assert (grower.name, grower.role, grower.check_password(PASSWORD)) == ("Tom Rush", "viewer", True)


def test_a_new_password_ends_their_sessions_and_not_ones_own(as_owner: Client, owner: Person, grower: Person) -> None:
    theirs, fresh = signed_in(grower), "green pod, brown pod"
    as_owner.post(f"/office/people/{grower.pk}/", {"name": "Tom Reed", "role": "grower", "password": fresh})
    as_owner.post(f"/office/people/{owner.pk}/", {"name": "Ida Fern", "role": "owner", "password": fresh})
    assert theirs.get("/office/").status_code == 302
    assert as_owner.get("/office/people/").status_code == 200


# --- the last owner ---


def test_the_last_owner_stays_an_owner(as_owner: Client, owner: Person) -> None:
    answer = as_owner.post(f"/office/people/{owner.pk}/", {"name": "Ida Fern", "role": "grower"})
    sentence = "This is the only owner. Make somebody else an owner first."
    assert (answer.status_code, answer.context["form"].errors["role"]) == (422, [sentence])
    owner.refresh_from_db()
    assert owner.role == "owner"


def test_the_last_owner_does_not_leave(as_owner: Client, owner: Person) -> None:
    answer = as_owner.post(f"/office/people/{owner.pk}/leave/")
    assert answer.status_code == 422
    assert "This is the only owner. Make somebody else an owner first." in answer.content.decode()
    owner.refresh_from_db()
    assert owner.is_active


def test_an_owner_who_left_does_not_count_as_another(as_owner: Client, owner: Person) -> None:
    Person.objects.create(name="Gone Owner", role="owner", is_active=False, password="!")
    assert as_owner.post(f"/office/people/{owner.pk}/leave/").status_code == 422


def test_one_of_two_owners_may_leave(as_owner: Client, owner: Person, grower: Person) -> None:
    Person.objects.filter(pk=grower.pk).update(role="owner")
    assert as_owner.post(f"/office/people/{owner.pk}/leave/").status_code == 302
    assert as_owner.get("/office/").status_code == 302  # and is signed out


# --- leaving ---


def test_leaving_is_asked_before_it_is_done(as_owner: Client, grower: Person) -> None:
    page = as_owner.get(f"/office/people/{grower.pk}/leave/").content.decode()
    assert "Tom Reed leaves" in page and "Yes, they leave" in page
    grower.refresh_from_db()
    assert grower.is_active


def test_who_left_can_come_back(as_owner: Client, grower: Person) -> None:
    address = f"/office/people/{grower.pk}/leave/"
    as_owner.post(address)
    assert not Person.objects.get(pk=grower.pk).is_active
    assert "Yes, let them in again" in as_owner.get(address).content.decode()
    as_owner.post(address)
    assert Person.objects.get(pk=grower.pk).is_active


def test_changing_who_left_leaves_them_out(as_owner: Client, grower: Person) -> None:
    Person.objects.filter(pk=grower.pk).update(is_active=False)
    as_owner.post(f"/office/people/{grower.pk}/", {"name": "Tom Reed", "role": "viewer"})
    assert not Person.objects.get(pk=grower.pk).is_active


# --- the code ---


def _code(page: str) -> str:
    return re.search(r'class="code"[^>]*><strong>(.+?)</strong>', page)[1]


def test_the_code_page_makes_a_code_by_a_post_only(as_owner: Client, grower: Person) -> None:
    address = f"/office/people/{grower.pk}/code/"
    assert 'class="code"' not in as_owner.get(address).content.decode()
    answer = as_owner.post(address)
    page = answer.content.decode()
    code = _code(page)
    assert grower.codes.get().code_hash == code_hash(code)
    assert re.fullmatch(r"\w{4} \w{4}", code)
    assert "Write nothing down" in page
    assert "http://testserver/sign-in/" in page
    assert "no-store" in answer["Cache-Control"]


@pytest.mark.parametrize("host", ["127.0.0.1:8717", "localhost:8717", "[::1]:8717"])
def test_an_address_of_this_machine_alone_is_told_to_no_phone(
    as_owner: Client, grower: Person, settings, host: str
) -> None:
    settings.ALLOWED_HOSTS = ["*"]
    address = f"/office/people/{grower.pk}/code/"
    page = as_owner.post(address, headers={"Host": host}).text
    assert host not in page and "serve --lan" in page
    House.objects.update_or_create(id=1, defaults={"public_address": "https://tags.example"})
    page = as_owner.post(address, headers={"Host": host}).text
    assert "https://tags.example/sign-in/" in page and "serve --lan" not in page
    House.objects.update(demo=True)
    assert "tags.example" not in as_owner.post(address, headers={"Host": host}).text, "it is invented, too"


def test_the_shown_code_signs_in(as_owner: Client, stranger: Client, grower: Person) -> None:
    code = _code(as_owner.post(f"/office/people/{grower.pk}/code/").content.decode())
    stranger.post("/sign-in/", {"code": code, "way": "code"})
    assert stranger.session["_auth_user_id"] == str(grower.pk)


def test_no_code_for_who_has_left(as_owner: Client, grower: Person) -> None:
    Person.objects.filter(pk=grower.pk).update(is_active=False)
    answer = as_owner.post(f"/office/people/{grower.pk}/code/")
    assert answer.status_code == 422
    assert "Tom Reed is not active. Make them active first." in answer.content.decode()
    assert 'class="code"' not in answer.content.decode()


# --- the list ---


def test_the_list_shows_who_may_do_what_and_who_left(as_owner: Client, grower: Person, viewer: Person) -> None:
    Person.objects.filter(pk=viewer.pk).update(is_active=False)
    rows = as_owner.get("/office/people/").context["rows"]
    told = [(row["cells"][0]["text"], row["cells"][0]["pill"], row["cells"][1]["text"]) for row in rows]
    assert told == [("Ida Fern", "", "owner"), ("Tom Reed", "", "grower"), ("Una Vale", "left", "viewer")]


def test_many_people_ask_no_more_than_few(as_owner: Client, django_assert_num_queries) -> None:
    as_owner.get("/office/people/")
    with django_assert_num_queries(4):
        as_owner.get("/office/people/")
    for turn in range(8):
        Person.objects.create_user(name=f"Hand {turn}")
    with django_assert_num_queries(4):
        as_owner.get("/office/people/")
