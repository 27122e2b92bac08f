"""Places in the order in which they are walked, and the arrows that change it."""

import uuid

from django.test import Client
from pytest_django import DjangoAssertNumQueries

from breeding.rounds.tasks import round_for
from nursery.models import Act, Place
from nursery.records.places import place_made
from nursery.records.undo import undone
from nursery.views.office.places import walked
from tests.making import Nursery, birth_of, today


def _names() -> list[str]:
    return [row.place.name for row in walked()]


def _tap(client: Client, place: Place, way: str, act_id: uuid.UUID | None = None):
    return client.post(f"/office/places/{place.pk}/{way}/", {"act_id": str(act_id or uuid.uuid4())})


def test_the_tree_is_walked_house_by_house(nursery: Nursery) -> None:
    warm, cool = nursery.house("Warm", order=2), nursery.house("Cool", order=1)
    nursery.bench("Left", inside=warm, order=1)
    nursery.bench("Back", inside=cool, order=2)
    nursery.bench("Front", inside=cool, order=1)
    assert _names() == ["Cool", "Front", "Back", "Warm", "Left"]
    assert [row.depth for row in walked()] == [0, 1, 1, 0, 1]


def test_an_arrow_changes_turns_with_a_neighbour(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    one, _, three = [nursery.bench(name, inside=house) for name in ("1", "2", "3")]
    _tap(as_owner, three, "earlier")
    assert _names() == ["Cool", "1", "3", "2"]
    _tap(as_owner, one, "later")
    assert _names() == ["Cool", "3", "1", "2"]


def test_trays_change_turns_on_their_bench_and_nowhere_else(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    near, far = nursery.bench("Near", inside=house, order=1), nursery.bench("Far", inside=house, order=2)
    trays = [nursery.made(place_made, name=name, size="tray", inside=near) for name in ("a", "b", "c")]
    nursery.made(place_made, name="d", size="tray", inside=far)
    _tap(as_owner, trays[2], "earlier")
    assert _names() == ["Cool", "Near", "a", "c", "b", "Far", "d"]
    _tap(as_owner, near, "later")
    assert _names() == ["Cool", "Far", "d", "Near", "a", "c", "b"]
    assert [row.depth for row in walked()] == [0, 1, 2, 1, 2, 2, 2]


def test_houses_change_turns_with_all_that_is_in_them(as_owner: Client, nursery: Nursery) -> None:
    warm, cool = nursery.house("Warm", order=1), nursery.house("Cool", order=2)
    nursery.bench("Left", inside=warm)
    nursery.bench("Right", inside=cool)
    _tap(as_owner, cool, "earlier")
    assert _names() == ["Cool", "Right", "Warm", "Left"]


def test_the_round_follows_the_arrows(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    for name in ("1", "2"):
        nursery.spike(nursery.plant(place=nursery.bench(name, inside=house)), days_ago=20)
    assert [group.within for group in round_for(today()).groups] == ["1", "2"]
    _tap(as_owner, Place.objects.get(name="2"), "earlier")
    assert [group.within for group in round_for(today()).groups] == ["2", "1"]


def test_the_same_tap_twice_moves_once(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    *_, three = [nursery.bench(name, inside=house) for name in ("1", "2", "3")]
    act_id = uuid.uuid4()
    for _ in range(2):
        assert _tap(as_owner, three, "earlier", act_id)["Location"] == f"/office/places/#place-{three.pk}"
    assert _names() == ["Cool", "1", "3", "2"]


def test_at_the_end_of_the_row_nothing_happens(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    first, last = nursery.bench("1", inside=house), nursery.bench("2", inside=house)
    before = Act.objects.count()
    _tap(as_owner, first, "earlier")
    _tap(as_owner, last, "later")
    assert (_names(), Act.objects.count()) == (["Cool", "1", "2"], before)


def test_turns_are_acts_that_stand_in_the_story(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    first, last = nursery.bench("1", inside=house), nursery.bench("2", inside=house)
    _tap(as_owner, last, "earlier")
    turned = Act.objects.filter(kind="place_renamed").order_by("placerenamed__order")
    assert [(act.thing_id, act.placerenamed.name, act.placerenamed.order) for act in turned] == [
        (last.pk, "2", 1),
        (first.pk, "1", 2),
    ]


def test_a_tap_without_an_id_counts_too(as_owner: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    nursery.bench("1", inside=house)
    last = nursery.bench("2", inside=house)
    as_owner.post(f"/office/places/{last.pk}/earlier/", {"act_id": "<b>no id</b>"})
    assert _names() == ["Cool", "2", "1"]


def test_a_place_taken_out_of_the_books_is_not_walked(as_owner: Client, nursery: Nursery) -> None:
    bench = nursery.bench("Wrong", inside=nursery.house("Cool"))
    nursery.record(undone, target=birth_of(bench))
    assert _names() == ["Cool"]
    assert _tap(as_owner, bench, "earlier").status_code == 404


def test_only_owners_see_arrows(as_owner: Client, as_grower: Client, nursery: Nursery) -> None:
    house = nursery.house("Cool")
    nursery.bench("1", inside=house), nursery.bench("2", inside=house)
    assert "Walk 1 later" in as_owner.get("/office/places/").content.decode()
    page = as_grower.get("/office/places/").content.decode()
    assert "Walk 1 later" not in page and "Add a place" in page


def test_an_empty_page_offers_the_first_step(as_owner: Client, as_viewer: Client) -> None:
    assert "Begin with a house." in as_owner.get("/office/places/").content.decode()
    assert "/places/new/" not in as_viewer.get("/office/places/").content.decode()


def test_names_are_escaped(as_owner: Client, nursery: Nursery) -> None:
    nursery.house("<script>alert(1)</script>")
    page = as_owner.get("/office/places/").content.decode()
    assert "<script>alert" not in page and "&lt;script&gt;alert(1)" in page


def test_many_places_ask_no_more_than_few(
    as_viewer: Client, nursery: Nursery, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    def add(count: int) -> None:
        house = nursery.house()
        for _ in range(count):
            nursery.bench(inside=house)

    add(1)
    as_viewer.get("/office/places/")
    with django_assert_num_queries(5):
        as_viewer.get("/office/places/")
    add(12)
    with django_assert_num_queries(5):
        as_viewer.get("/office/places/")
