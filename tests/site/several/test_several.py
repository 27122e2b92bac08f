"""One answer for all that are ticked: one act each, all or none, and one undo."""

import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone
from django.utils.html import escape

from breeding.models import SeedPot
from breeding.records.pots import pot_looked_at
from nursery.models import Act, Flag, Person, Together
from nursery.records.errors import AlreadySent, Refused
from nursery.records.plants import plant_gone
from nursery.records.together import act_id_of, recorded_together, undone_together
from nursery.site import several
from tests.conftest import signed_in
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db
LOOK = "/several/pots/look/"


def _post(client: Client, pots: list[Any], **values: Any) -> Any:
    told = {"act_id": uuid.uuid4(), "things": [pot.pk for pot in pots], "listed": [pot.pk for pot in pots]}
    return client.post(LOOK, told | {"seen": "nothing", "next": "/"} | values)


def _looks() -> Any:
    return Act.objects.filter(kind="pot_look", voided_by__isnull=True)


# --- what is listed ---


def test_what_grew_on_a_plant_that_is_gone_is_not_listed_at_its_place(nursery: Nursery) -> None:
    plant = nursery.plant(place=nursery.bench())
    section = nursery.section(nursery.spike(plant, sex="female"))
    assert {one.pk for one in several.at_place(plant.place)} == {section.pk, section.spike_id}
    nursery.record(plant_gone, plant=plant, why="died")
    assert several.at_place(plant.place) == []


def test_later_is_for_those_that_are_all_asked_by_now(nursery: Nursery) -> None:
    place = nursery.bench()
    due, fresh = (nursery.pot(days_ago=days_ago, place=place) for days_ago in (200, 1))
    for pots, labels in (([due], ["Later"]), ([due, fresh], []), ([fresh], [])):
        [batch] = several.batches([one for one in several.at_place(place) if one in pots], today())
        assert [answer.label for answer in batch.answers if answer.url.endswith("/later/")] == labels


def test_many_things_take_as_many_queries_as_few(nursery: Nursery, django_assert_max_num_queries: Any) -> None:
    place = nursery.bench()
    counts = []
    for _ in range(2):
        nursery.spike(nursery.plant(place=place), days_ago=20)
        nursery.pots(3, days_ago=200, place=place)
        things = several.at_place(place)
        several.batches(things, today())  # the first time reads what is kept in memory
        with django_assert_max_num_queries(30) as asked:
            several.batches(things, today())
        counts.append(len(asked))
    assert counts[0] == counts[1] <= 12


# --- recording ---


def test_one_act_for_each_thing_and_one_undo_for_all(nursery: Nursery, as_grower: Client, grower: Person) -> None:
    pots, submit = nursery.pots(3, days_ago=40), uuid.uuid4()
    assert _post(as_grower, pots, act_id=submit)["Location"] == "/"
    assert {act.pk for act in _looks()} == {act_id_of(submit, pot) for pot in pots}
    assert {act.by for act in _looks()} == {grower}
    strip = as_grower.get("/").context["undo"]
    assert (strip["about"], strip["url"]) == ("3 seed pots", f"/several/{submit}/undo/")
    as_grower.post(strip["url"], {"act_id": strip["act_id"]})
    assert not _looks().exists()
    assert Act.objects.filter(kind="void").count() == 3
    assert "Undone: 3 seed pots: " in as_grower.get("/").content.decode()


def test_all_but_those_whose_tick_was_taken_away(nursery: Nursery, as_grower: Client) -> None:
    pots = nursery.pots(3, days_ago=40)
    _post(as_grower, pots, things=[pots[0].pk, pots[2].pk])
    assert set(_looks().values_list("thing_id", flat=True)) == {pots[0].pk, pots[2].pk}


def test_sent_twice_it_is_recorded_once(nursery: Nursery, as_grower: Client) -> None:
    pots, submit = nursery.pots(3, days_ago=40), uuid.uuid4()
    answers = [_post(as_grower, pots, act_id=submit).status_code for _ in range(2)]
    assert answers == [302, 302]
    assert (_looks().count(), Together.objects.count()) == (3, 3)


@pytest.mark.parametrize("change", ["list", "answer"])
def test_the_same_tap_with_another_list_or_answer_is_told_so(change: str, nursery: Nursery, as_grower: Client) -> None:
    pots, submit = nursery.pots(3, days_ago=40), uuid.uuid4()
    _post(as_grower, pots, act_id=submit)
    other = {"things": [pots[0].pk]} if change == "list" else {"seen": "few"}
    answer = _post(as_grower, pots, act_id=submit, **other)
    assert answer.status_code == 422
    assert "This page was answered before, with another list or another answer." in answer.content.decode()
    assert set(_looks().values_list("potlook__seen", flat=True)) == {"nothing"}
    assert _looks().count() == 3


def test_undone_twice_is_undone_once(nursery: Nursery, as_grower: Client) -> None:
    pots, submit = nursery.pots(2, days_ago=40), uuid.uuid4()
    _post(as_grower, pots, act_id=submit)
    for _ in range(2):
        assert as_grower.post(f"/several/{submit}/undo/", {"act_id": uuid.uuid4()}).status_code == 302
    assert Act.objects.filter(kind="void").count() == 2


def test_nothing_ticked_is_told_so_and_the_list_stays(nursery: Nursery, as_grower: Client) -> None:
    pots = nursery.pots(2, days_ago=40)
    answer = _post(as_grower, pots, things=[])
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Tick at least one, or there is nothing to record." in page
    assert page.count('name="listed"') == 2
    assert " checked" not in page


def test_refused_for_one_it_is_recorded_of_none(nursery: Nursery, as_grower: Client) -> None:
    pots = nursery.pots(2, days_ago=40)
    seen = nursery.act(id=act_id_of(submit := uuid.uuid4(), pots[1]))
    pot_looked_at(act=seen, pot=pots[1], seen="few")
    answer = _post(as_grower, pots, act_id=submit)
    assert answer.status_code == 422
    assert [act.pk for act in _looks()] == [seen.id]


def test_all_or_none_when_the_record_function_refuses(nursery: Nursery) -> None:
    pots = nursery.pots(3, days_ago=40)

    def record(pot: Any, id: uuid.UUID) -> Act:
        if pot == pots[2]:
            raise Refused("odd", "Not this one.")
        return pot_looked_at(act=nursery.act(id=id), pot=pot, seen="nothing")

    with pytest.raises(Refused):
        recorded_together(submit=uuid.uuid4(), things=pots, record=record)
    assert not _looks().exists()


def test_a_wrong_value_is_told_and_nothing_recorded(nursery: Nursery, as_grower: Client) -> None:
    pots = nursery.pots(2, days_ago=40)
    assert _post(as_grower, pots, seen="<script>alert('x')").status_code == 422
    assert not _looks().exists()


def test_what_contradicts_the_books_is_asked_about_once_and_taken(nursery: Nursery, as_grower: Client) -> None:
    """The answer was good when the page was opened; meanwhile somebody counted seedlings in one of the pots."""
    pots = nursery.pots(2, days_ago=40)
    nursery.record(pot_looked_at, pot=pots[0], seen="few", days_ago=1)
    asked = _post(as_grower, pots)
    assert asked.status_code == 422
    [objection] = asked.context["objections"]
    assert escape(objection.sentence) in asked.content.decode()
    assert _looks().count() == 1
    _post(as_grower, pots, anyway="yes", objections_seen=[objection.code])
    assert _looks().count() == 3
    assert Flag.objects.get().thing_id == pots[0].pk


def test_with_htmx_the_row_of_the_round_says_what_was_done(nursery: Nursery, as_grower: Client) -> None:
    pots, submit = nursery.pots(6, days_ago=40), uuid.uuid4()
    told = {"act_id": submit, "things": [pot.pk for pot in pots], "seen": "nothing"}
    row = as_grower.post(LOOK, told, headers={"HX-Request": "true"}).content.decode()
    assert "6 seed pots: " in row
    assert f'hx-post="/several/{submit}/undo/"' in row
    undo = as_grower.post(f"/several/{submit}/undo/", {"act_id": uuid.uuid4()}, headers={"HX-Request": "true"})
    assert "Undone: 6 seed pots: " in undo.content.decode()


@pytest.mark.parametrize("address", ["/several/plants/gone/", "/several/sections/harvest/", "/several/pots/sing/"])
def test_what_makes_something_new_or_is_no_answer_has_no_such_page(address: str, as_grower: Client) -> None:
    assert as_grower.post(address, {"things": [1]}).status_code == 404


# --- rights ---


@pytest.mark.parametrize("method", ["answer", "undo", "place", "sowing"])
def test_a_viewer_may_not_and_a_stranger_must_sign_in(
    method: str, nursery: Nursery, as_owner: Client, as_viewer: Client, stranger: Client
) -> None:
    pots, submit, bench = nursery.pots(2, days_ago=40), uuid.uuid4(), nursery.bench()
    _post(as_owner, pots, act_id=submit)
    before = Act.objects.count()

    def ask(client: Client) -> int:
        if method == "answer":
            return _post(client, pots).status_code
        if method == "undo":
            return client.post(f"/several/{submit}/undo/", {"act_id": uuid.uuid4()}).status_code
        address = f"/places/{bench.pk}/several/" if method == "place" else f"/acts/{_sowing(pots[0])}/several/"
        return client.get(address).status_code

    assert ask(as_viewer) == 403
    assert ask(stranger) in {302, 401}
    assert Act.objects.count() == before


def test_a_grower_does_not_undo_what_another_recorded_on_another_day(
    nursery: Nursery, as_owner: Client, grower: Person, time_machine: Any
) -> None:
    pots, submit = nursery.pots(2, days_ago=40), uuid.uuid4()
    _post(as_owner, pots, act_id=submit)
    time_machine.move_to(timezone.now() + timedelta(days=1))
    signed_in(grower).post(f"/several/{submit}/undo/", {"act_id": uuid.uuid4()})
    assert _looks().count() == 2
    with pytest.raises(Refused):
        undone_together(act=nursery.act(by=grower), submit=submit)


# --- what is listed ---


def _sowing(pot: SeedPot) -> uuid.UUID:
    return SeedPot.objects.get(pk=pot.pk).thing.born_by_id


def _page(client: Client, address: str) -> list[Any]:
    return client.get(address).context["batches"]


def test_a_place_lists_what_stands_on_it_and_on_its_trays_by_what_is_asked(nursery: Nursery, as_grower: Client) -> None:
    house = nursery.house()
    bench, elsewhere = nursery.bench(inside=house), nursery.bench(inside=house)
    spike = nursery.spike(nursery.plant(place=bench), days_ago=9)
    nursery.spike(nursery.plant(place=elsewhere), days_ago=9)
    silent = nursery.pots(2, days_ago=60, place=bench)
    up = nursery.pots(1, days_ago=60, place=bench)
    nursery.record(pot_looked_at, pot=up[0], seen="few", days_ago=20)
    batches = _page(as_grower, f"/places/{bench.pk}/several/")
    assert [[one.pk for one in batch.choices] for batch in batches] == [
        [spike.pk],
        [pot.pk for pot in silent],
        [up[0].pk],
    ]
    assert "Nothing yet" in {answer.label for answer in batches[1].answers}
    assert "Nothing yet" not in {answer.label for answer in batches[2].answers}
    whole_house = _page(as_grower, f"/places/{house.pk}/several/")
    assert sum(len(batch.choices) for batch in whole_house) == 5


def test_a_sowing_lists_its_open_pots_and_no_others(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(days_ago=60)
    pots = nursery.pots(3, lot, days_ago=50)
    nursery.pots(2, lot, days_ago=20)
    [batch] = _page(as_grower, f"/acts/{_sowing(pots[0])}/several/")
    assert [one.pk for one in batch.choices] == [pot.pk for pot in pots]
    links = as_grower.get(f"/seed/{lot.pk}/").content.decode()
    assert f"/acts/{_sowing(pots[0])}/several/" in links


def test_an_empty_bench_says_so(nursery: Nursery, as_grower: Client) -> None:
    page = as_grower.get(f"/places/{nursery.bench().pk}/several/").content.decode()
    assert "Nothing stands here that is answered with one tap." in page


def test_more_than_are_listed_at_once_is_told_on_the_page_and_refused_whole(
    nursery: Nursery, as_grower: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(several, "MOST", 3)
    bench = nursery.bench()
    pots = nursery.pots(4, days_ago=50, place=bench)
    page = as_grower.get(f"/places/{bench.pk}/several/")
    assert len(page.context["batches"][0].choices) == 3
    assert "Of each kind the first 3 are listed." in page.content.decode()
    answer = _post(as_grower, pots)
    assert answer.status_code == 422
    assert "at once. Nothing was recorded; answer them in parts, by bench or tray." in answer.content.decode()
    assert not _looks().exists()


def test_many_ask_no_more_than_few(nursery: Nursery, as_grower: Client, django_assert_max_num_queries: Any) -> None:
    bench, lot = nursery.bench(), nursery.seed(days_ago=60)
    nursery.pots(30, lot, days_ago=50, place=bench)
    with django_assert_max_num_queries(20):
        as_grower.get(f"/places/{bench.pk}/several/")


def test_already_sent_is_the_first_of_the_tap(nursery: Nursery) -> None:
    pots, submit = nursery.pots(2, days_ago=40), uuid.uuid4()

    def record(pot: Any, id: uuid.UUID) -> Act:
        return pot_looked_at(act=nursery.act(id=id), pot=pot, seen="nothing")

    first = recorded_together(submit=submit, things=pots, record=record)[0]
    with pytest.raises(AlreadySent) as error:
        recorded_together(submit=submit, things=pots[:1], record=record)
    assert error.value.act == first


def test_the_ways_down_say_what_stands_there(nursery: Nursery, as_grower: Client) -> None:
    bench = nursery.bench()
    plant = nursery.plant(place=bench)
    for seen in ("growing", "growing", "buds"):
        nursery.spike(plant, seen=seen, days_ago=9)
    labels = [tab.label for tab in as_grower.get(f"/places/{bench.pk}/several/").context["tabs"]]
    assert labels == ["2 spikes: growing", "1 spike: in bud, sex not read yet"]
