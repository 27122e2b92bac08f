"""The pipeline's page: who reads it, what stands in it, and that many lines ask no more than few."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.records import pods, pots
from nursery.models import Act
from nursery.records.plants import plant_gone
from tests.making import Nursery

PAGE = "/crosses/pipeline/"


def _names(client: Client, asked: str = "") -> list[str]:
    return [f"{row.sub}: {row.stage}" for row in client.get(PAGE + asked).context["rows"]]


def _queries(client: Client) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(PAGE + "?finished=yes").status_code == 200
    return len(asked)


def _some(nursery: Nursery) -> None:
    """A section with half its pods, a lot with pots of which one is up, and a packet by post."""
    nursery.section(days_ago=60)
    pot, *_ = nursery.pots(3)
    nursery.record(pots.pot_looked_at, pot=pot, seen="first")
    nursery.seed_by_post(words="seed of a friend")


def test_everybody_with_a_name_reads_it_and_it_changes_nothing(
    nursery: Nursery, as_owner: Client, as_grower: Client, as_viewer: Client, stranger: Client
):
    _some(nursery)
    acts = Act.objects.count()
    told = [_names(client) for client in (as_owner, as_grower, as_viewer)]
    assert told[0] == told[1] == told[2] and any("1 of 3 pots up" in words for words in told[0])
    assert stranger.get(PAGE).url == "/sign-in/?next=%2Fcrosses%2Fpipeline%2F"
    assert as_owner.post(PAGE).status_code == 405
    assert Act.objects.count() == acts


def test_it_asks_as_often_for_many_as_for_few(nursery: Nursery, as_grower: Client):
    _some(nursery)
    _queries(as_grower)
    few = _queries(as_grower)
    for _ in range(3):
        _some(nursery)
    assert _queries(as_grower) == few <= 22


def test_what_is_over_stands_only_among_also_finished(nursery: Nursery, as_grower: Client):
    lost = nursery.section(days_ago=100)
    nursery.record(pods.harvested, section=lost)
    gone = nursery.section(days_ago=30)
    nursery.record(plant_gone, plant=gone.spike.plant, why="died")
    open_ones, every = _names(as_grower), _names(as_grower, "?finished=yes")
    assert [one.split(": ")[1] for one in open_ones] == ["seed waiting"]
    assert sorted(one.split(": ")[1] for one in every) == ["finished", "seed waiting"]


def test_spikes_stand_there_until_they_are_pollinated(nursery: Nursery, as_grower: Client):
    forming, open_one = nursery.spike(days_ago=5), nursery.female(days_ago=3)
    nursery.male(days_ago=3)
    page = as_grower.get(PAGE)
    assert {row.url for row in page.context["rows"]} == {f"/spikes/{forming.pk}/", f"/spikes/{open_one.pk}/"}
    assert [total["value"] for total in page.context["totals"]][:2] == ["1", "2"], "forming; open, the male one too"
    assert [row.url for row in as_grower.get(PAGE + "?stage=forming").context["rows"]] == [f"/spikes/{forming.pk}/"]
    nursery.section(open_one, lot=nursery.pollen(days_ago=1))
    assert f"/spikes/{open_one.pk}/" not in as_grower.get(PAGE).text


def test_a_late_section_is_found_sorted_and_leads_to_its_story(nursery: Nursery, as_grower: Client):
    late = nursery.section(days_ago=300)
    nursery.record(pods.take_read, section=late, swelling="most", days_ago=250)
    nursery.section(days_ago=10)
    nursery.cross(wanted=40)
    response = as_grower.get(PAGE + "?late=yes&sort=-wanted")
    assert [row.late for row in response.context["rows"]] == ["past the usual window (day 80 to 240)"]
    assert f'href="/crosses/{late.cross_id}/"' in response.text and 'aria-sort="descending"' in response.text
    assert "Show all of them" in response.text and as_grower.get(f"/crosses/{late.cross_id}/").status_code == 200
    assert "Nothing under way fits this choice." in as_grower.get(PAGE + "?q=nosuchthing").text


def test_an_empty_pipeline_says_what_will_be_here(as_grower: Client):
    assert "one line for each section" in as_grower.get(PAGE).text


@pytest.mark.parametrize("asked", ["?stage=%00&place=x", "?parent=c" + "9" * 40, "?sort=🌱&q=%00"])
def test_nonsense_chooses_everything(nursery: Nursery, as_grower: Client, asked: str):
    nursery.section()
    assert len(_names(as_grower, asked)) == 1
