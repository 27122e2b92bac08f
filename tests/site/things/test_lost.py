"""A tag that is gone: a few things narrowed down, one chosen, or the doubt kept on each of them."""

import uuid
from typing import Any

import pytest
from django.test import Client

from nursery.models import Act, Place, Plant, Remark
from nursery.records.remarks import remarked
from nursery.records.swapped import tags_swapped
from nursery.records.undo import undone
from tests.making import Nursery, tag_of

PAGE = "/tag/lost/"


@pytest.fixture
def bench(nursery: Nursery) -> Place:
    return nursery.bench("Top")


@pytest.fixture
def plants(nursery: Nursery, bench: Place) -> list[Plant]:
    """Two lowii on the top bench; elsewhere a third, and a hamata beside the two."""
    mine = [nursery.plant(nursery.clone("lowii"), place=bench) for _ in range(2)]
    nursery.plant(nursery.clone("lowii"), place=nursery.bench(inside=nursery.house()))
    nursery.plant(nursery.clone("hamata"), place=bench)
    return mine


def _found(client: Client, **asked: Any) -> set[int]:
    return {one.pk for one in client.get(PAGE, asked).context["candidates"]}


def test_place_kind_and_words_narrow_it_down(
    as_grower: Client, nursery: Nursery, plants: list[Plant], bench: Place
) -> None:
    assert _found(as_grower, kind="plant", place=bench.pk, q="lowii") == {plant.pk for plant in plants}
    assert len(_found(as_grower, kind="plant", q="lowii")) == 3
    assert len(_found(as_grower, place=bench.inside.pk)) == 3, "what stands on a bench stands in its house"
    assert _found(as_grower, kind="spike", place=bench.pk) == set()
    tray = nursery.bench("Tray", inside=bench)
    in_tray = nursery.pot(place=tray)
    for place in (tray, bench, bench.inside):
        assert in_tray.pk in _found(as_grower, kind="seedpot", place=place.pk), "a tray stands where its bench stands"


def test_nothing_is_shown_before_anything_is_said(as_grower: Client, plants: list[Plant]) -> None:
    assert _found(as_grower) == _found(as_grower, kind="", place="", q="") == set()


def test_what_is_gone_is_no_candidate(as_grower: Client, nursery: Nursery, plants: list[Plant]) -> None:
    Plant.objects.filter(pk=plants[0].pk).update(closed_on="2026-01-01", closed_why="died")
    assert plants[0].pk not in _found(as_grower, kind="plant", q="lowii")


def test_words_of_a_parent_find_its_sections(as_grower: Client, nursery: Nursery) -> None:
    section = nursery.section(nursery.female(nursery.clone("veitchii")), days_ago=9)
    nursery.section(days_ago=9)
    assert _found(as_grower, kind="section", q="veitchii") == {section.pk}


def test_too_many_are_cut_and_said(as_grower: Client, nursery: Nursery, bench: Place) -> None:
    clone = nursery.clone()
    for _ in range(13):
        nursery.plant(clone, place=bench)
    page = as_grower.get(PAGE, {"kind": "plant"})
    assert len(page.context["candidates"]) == 12
    assert "The first 12 of more" in page.content.decode()


def test_the_one_that_is_known_gets_a_new_tag(as_grower: Client, plants: list[Plant]) -> None:
    [one, _] = as_grower.get(PAGE, {"kind": "plant", "q": "lowii"}).context["candidates"][1:]
    assert one.tag_url == f"/plants/{one.pk}/tag/"
    assert as_grower.get(one.tag_url).status_code == 200


def test_a_doubt_is_kept_on_each_and_guesses_nothing(as_grower: Client, nursery: Nursery, plants: list[Plant]) -> None:
    act_id = uuid.uuid4()
    sent = {"thing": [plant.pk for plant in plants], "words": "three pitchers", "act_id": str(act_id)}
    for _ in range(2):
        assert as_grower.post(PAGE, sent)["Location"] == f"/plants/{plants[0].pk}/"
    numbers = ", ".join(f"{tag_of(plant).number}" for plant in plants)
    words = Remark.objects.get().words
    assert words.replace(" ", "").startswith(f"Foundwithoutitstag;itisoneofthese:{numbers}".replace(" ", ""))
    assert words.endswith("three pitchers")
    for plant in plants:
        told = as_grower.get(f"/plants/{plant.pk}/").context["remarks"]
        assert [row.words for row in told] == [words]
    undone(act=nursery.act(), target=Act.objects.get(pk=act_id))
    assert as_grower.get(f"/plants/{plants[1].pk}/").context["remarks"] == ()


def test_a_corrected_doubt_is_of_the_same_things(nursery: Nursery, plants: list[Plant]) -> None:
    old = nursery.record(remarked, thing=plants[0], also=plants[1:], words="one of these")
    new = nursery.record(remarked, thing=plants[0], words="one of these two", replaces=old)
    assert list(new.links.values_list("thing", flat=True)) == [plants[1].pk]


def test_a_doubt_goes_over_with_a_swapped_tag(nursery: Nursery, plants: list[Plant]) -> None:
    third = nursery.plant()
    old = nursery.record(remarked, thing=plants[0], also=plants[1:], words="one of these")
    nursery.record(tags_swapped, thing=plants[1], other=third, moved=[old])
    again = Act.objects.get(replaces=old)
    assert (again.thing_id, again.links.get().thing_id) == (plants[0].pk, third.pk)


@pytest.mark.parametrize("sent", [[], ["1"], ["x", "🌱"], ["9" * 5000, "-4"], ["\x00", "<b>"]])
def test_one_alone_is_no_doubt(sent: list[str], as_grower: Client, plants: list[Plant]) -> None:
    answer = as_grower.post(f"{PAGE}?kind=plant", {"thing": sent})
    assert answer["Location"] == f"{PAGE}?kind=plant"
    page = as_grower.get(answer["Location"]).content.decode()
    assert "Tick at least two. If you know which one it is, put a new tag on that one." in page
    assert not Remark.objects.exists()


@pytest.mark.parametrize(
    "typed", ["", "9" * 5000, "no such thing", "<script>alert(1)</script>", "猪籠草", "🌱", "a\x00b"]
)
def test_nasty_input_is_answered_in_words(typed: str, as_grower: Client, plants: list[Plant]) -> None:
    page = as_grower.get(PAGE, {"kind": typed, "place": typed, "q": typed})
    assert page.status_code in {200, 422}
    assert "<script>alert" not in page.content.decode()
    assert ("field__error" in page.content.decode()) == bool(typed)
    words = {"thing": [plant.pk for plant in plants], "words": typed}
    assert as_grower.post(PAGE, words).status_code == 302


def test_only_who_records_may(as_viewer: Client, stranger: Client, plants: list[Plant]) -> None:
    assert as_viewer.get(PAGE).status_code == 403
    assert as_viewer.post(PAGE).status_code == 403
    assert stranger.get(PAGE).status_code == 302
    assert "The tag is gone" not in as_viewer.get("/tag/").content.decode()


def test_the_find_page_leads_here(as_grower: Client, db: None) -> None:
    assert f'href="{PAGE}"' in as_grower.get("/tag/").content.decode()
