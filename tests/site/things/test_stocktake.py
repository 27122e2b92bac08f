"""The stocktake of a bench as a page: what is listed, what is sent, and how the differences are settled."""

import re
import uuid

import pytest
from django.test import Client

from nursery.models import Act, Place, Plant
from nursery.records.flags import open_flags
from nursery.records.moves import moved
from nursery.records.places import place_made
from nursery.records.plants import plant_gone
from nursery.templatetags.tepal import plate
from tests.making import Nursery, tag_of


@pytest.fixture
def bench(nursery: Nursery) -> Place:
    return nursery.bench("Long bench", inside=nursery.house("Warm house"))


@pytest.fixture
def plants(nursery: Nursery, bench: Place) -> list[Plant]:
    """Three plants on the bench, the last of them on a tray on it."""
    tray = nursery.made(place_made, name="Tray 1", size="tray", inside=bench)
    return [nursery.plant(place=place) for place in (bench, bench, tray)]


def _url(bench: Place) -> str:
    return f"/places/{bench.pk}/stocktake/"


def _listed(client: Client, bench: Place) -> list[int]:
    return [int(pk) for pk in re.findall(r'name="things" value="(\d+)"', client.get(_url(bench)).text)]


def _send(client: Client, bench: Place, listed: list[Plant], *ticked: Plant, others: str = "", **more):
    values = {"listed": ",".join(str(one.pk) for one in listed), "things": [one.pk for one in ticked]}
    return client.post(_url(bench), values | {"others": others} | more)


def _seen(act: Act) -> set[int]:
    return set(act.links.values_list("thing_id", flat=True))


def test_what_should_stand_there_is_listed_and_nothing_is_ticked(
    nursery: Nursery, bench: Place, plants: list[Plant], as_grower: Client
):
    nursery.plant()
    nursery.record(plant_gone, plant=nursery.plant(place=bench), why="died")
    pot = nursery.pot(place=bench)
    assert sorted(_listed(as_grower, bench)) == [*(one.pk for one in plants), pot.pk]
    html = as_grower.get(_url(bench)).text
    assert plate(tag_of(plants[0]).number) in html
    assert not re.search(r'name="things"[^>]* checked', html)


def test_it_counts_what_was_ticked_or_typed_and_nothing_else(
    nursery: Nursery, bench: Place, plants: list[Plant], as_grower: Client
):
    stranger, late = nursery.plant(), nursery.plant(place=bench)  # the last came after the page was opened
    answer = _send(as_grower, bench, plants, plants[0], plants[2], others=f"{plate(tag_of(stranger).number)}\n")
    act = Act.objects.get(kind="stocktake")
    assert answer.headers["Location"] == f"/stocktakes/{act.pk}/"
    assert _seen(act) == {plants[0].pk, plants[2].pk, stranger.pk}
    assert set(act.stocktake.missed.values_list("pk", flat=True)) == {plants[1].pk}
    html = as_grower.get(answer.headers["Location"]).text
    assert "3 seen" in html
    assert f"/plants/{plants[1].pk}/" in html and f"/plants/{stranger.pk}/" in html
    assert f"/plants/{late.pk}/" not in html and f"/plants/{plants[0].pk}/" not in html


def test_a_listed_thing_whose_tag_was_typed_was_seen(bench: Place, plants: list[Plant], as_grower: Client):
    _send(as_grower, bench, plants, others=str(tag_of(plants[1]).number))
    act = Act.objects.get(kind="stocktake")
    assert _seen(act) == {plants[1].pk}
    assert plants[1].pk not in act.stocktake.missed.values_list("pk", flat=True)


def test_what_was_not_on_the_list_cannot_be_ticked(nursery: Nursery, bench: Place, plants: list[Plant], as_grower):
    answer = _send(as_grower, bench, plants, nursery.plant())
    assert answer.status_code == 422
    assert "One of these was not on this list. Open the page again." in answer.text
    assert not Act.objects.filter(kind="stocktake").exists()


@pytest.mark.parametrize(
    ("typed", "words"),
    [("12", "is no tag number"), ("moss", "is no tag number"), ("208746 1 208746 1", "one number a line")],
)
def test_a_wrong_number_is_said_and_the_ticks_stay(
    typed: str, words: str, bench: Place, plants: list[Plant], as_grower: Client
):
    answer = _send(as_grower, bench, plants, plants[0], others=typed)
    assert answer.status_code == 422 and words in answer.text
    assert re.search(rf'name="things" value="{plants[0].pk}"[^>]* checked', answer.text)


def test_a_tag_of_a_spike_is_no_plant(nursery: Nursery, bench: Place, plants: list[Plant], as_grower: Client):
    answer = _send(as_grower, bench, plants, others=str(tag_of(nursery.spike(plants[0])).number))
    assert "is on no plant and no seed pot. Type the number of the plant or pot itself." in answer.text


def test_what_is_gone_and_stands_there_is_asked_once(
    nursery: Nursery, bench: Place, plants: list[Plant], as_grower: Client
):
    nursery.record(plant_gone, plant=plants[0], why="died")
    answer = _send(as_grower, bench, [], others=str(tag_of(plants[0]).number))
    assert answer.status_code == 422 and "Recorded as gone before, but stands here" in answer.text
    values = {"anyway": "yes", "objections_seen": ["seen_though_gone"]}
    assert _send(as_grower, bench, [], others=str(tag_of(plants[0]).number), **values).status_code == 302
    flag = open_flags().get()
    assert (flag.code, flag.thing_id) == ("seen_though_gone", plants[0].pk)
    page = as_grower.get("/office/to-sort-out/").text
    assert f"/flags/{flag.pk}/repair/still-here/" in page and "Two tags were swapped" in page
    answer = as_grower.post(f"/flags/{flag.pk}/repair/still-here/", {"act_id": str(uuid.uuid4())}, follow=True)
    assert "Undone: plant gone: died" in answer.text
    plants[0].refresh_from_db()
    assert plants[0].is_open and not open_flags().exists()


def _buttons(client: Client, url: str) -> dict[str, tuple[str, dict[str, str]]]:
    """By label: where a button posts, and what."""
    found = {}
    forms = re.findall(r'<form method="post" action="(/(?:plants|pots)/[^"]+)"(.*?)</form>', client.get(url).text, re.S)
    for form in forms:
        fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form[1]))
        found[re.search(r'<button class="button">([^<]+)<', form[1])[1]] = (form[0], fields)
    return found


def test_each_difference_is_settled_by_a_button(nursery: Nursery, bench: Place, plants: list[Plant], as_grower: Client):
    stranger = nursery.plant()
    here = _send(as_grower, bench, plants, *plants[:2], others=str(tag_of(stranger).number)).headers["Location"]
    buttons = _buttons(as_grower, here)
    assert set(buttons) == {"Not found", "Move it here"}
    for url, fields in buttons.values():
        answer = as_grower.post(url, fields)
        assert (answer.status_code, answer.headers["Location"]) == (302, here)
    stranger.refresh_from_db()
    assert stranger.place == bench
    assert open_flags().get().sentence.startswith("Not found at the stocktake of Tray 1.")
    settled = as_grower.get(here)
    assert _buttons(as_grower, here) == {}
    assert settled.context["found"].strangers == ()
    assert settled.context["found"].missed[0].settled.startswith("not found: in Tray 1")


def test_a_bench_on_which_all_stood_says_so(bench: Place, plants: list[Plant], as_grower: Client, as_viewer: Client):
    here = _send(as_grower, bench, plants, *plants).headers["Location"]
    assert "Everything stood where the books have it." in as_viewer.get(here).text
    assert "3 seen" in as_viewer.get(f"/places/{bench.pk}/").text


def test_what_was_moved_afterwards_was_no_difference_then(
    nursery: Nursery, bench: Place, plants: list[Plant], as_grower: Client
):
    here = _send(as_grower, bench, plants, *plants).headers["Location"]
    nursery.record(moved, thing=plants[0], place=nursery.bench())
    assert as_grower.get(here).context["found"].strangers == ()


def test_a_viewer_reads_the_differences_and_settles_none(
    bench: Place, plants: list[Plant], as_grower: Client, as_viewer: Client, stranger: Client
):
    here = _send(as_grower, bench, plants).headers["Location"]
    assert _buttons(as_viewer, here) == {} and "Listed, and not seen" in as_viewer.get(here).text
    assert stranger.get(here).status_code == 302
    assert as_viewer.post(here).status_code == 405


def test_it_is_corrected_with_the_same_list(bench: Place, plants: list[Plant], as_grower: Client):
    _send(as_grower, bench, plants, plants[0])
    act = Act.objects.get(kind="stocktake")
    html = as_grower.get(f"/acts/{act.pk}/correct/").text
    assert re.search(rf'name="things" value="{plants[0].pk}"[^>]* checked', html)
    values = {"listed": ",".join(str(one.pk) for one in plants), "things": [plants[0].pk, plants[1].pk]}
    here = as_grower.post(f"/acts/{act.pk}/correct/", values).headers["Location"]
    assert len(as_grower.get(here).context["found"].missed) == 1
    assert "so it does not count" in as_grower.get(f"/stocktakes/{act.pk}/").text


def test_it_asks_as_often_for_many_as_for_few(nursery: Nursery, as_grower: Client, django_assert_max_num_queries):
    as_grower.get("/more/")
    counts = []
    for count in (2, 9):
        bench = nursery.bench()
        plants = [nursery.plant(place=bench) for _ in range(count)]
        strangers = "\n".join(str(tag_of(nursery.plant()).number) for _ in range(count))
        with django_assert_max_num_queries(20) as asked:
            as_grower.get(_url(bench))
        listing = len(asked)
        here = _send(as_grower, bench, plants, *plants[:1], others=strangers).headers["Location"]
        nursery.record(moved, thing=plants[1], place=nursery.bench())
        as_grower.get("/more/")  # shows the strip of the act just recorded
        with django_assert_max_num_queries(20) as shown:
            as_grower.get(here)
        counts.append((listing, len(shown)))
    assert counts[0] == counts[1]
