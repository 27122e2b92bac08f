"""Quarantine on the pages: said on the plant, its spikes, its clone and in the round; asked once where it matters."""

from datetime import UTC, date, datetime
from importlib import import_module

import pytest
import time_machine
from django.apps import apps
from django.test import Client

from nursery.days import Day
from nursery.links import act_url, thing_url
from nursery.models import Act, Plant
from nursery.records import milestones
from nursery.records.quarantine import quarantined, released, sample_sent
from nursery.site.quarantine import quarantine_notices
from tests.making import Nursery, ago, today


@pytest.fixture
def plant(nursery: Nursery) -> Plant:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.record(quarantined, plant=plant, reason="mosaic", days_ago=10)
    plant.refresh_from_db()
    return plant


def test_it_is_said_on_its_page_its_spikes_and_its_clone(nursery: Nursery, plant: Plant, as_viewer: Client):
    since = ago(10).words(today())
    said = f"in quarantine since {since}: mosaic. Pollen, pollination, cuttings and its leaving are asked about once."
    section = nursery.section(nursery.spike(plant, sex="female"))
    assert f"It is {said}" in as_viewer.get(thing_url(plant)).text
    for thing in (section, section.spike):
        assert f"Its plant is {said}" in as_viewer.get(thing_url(thing)).text
    assert "1 plant of it is in quarantine: mosaic." in as_viewer.get(thing_url(plant.clone)).text
    nursery.record(released, plant=plant)
    assert "of it is in quarantine" not in as_viewer.get(thing_url(plant.clone)).text
    for thing in (plant, section):
        assert "in quarantine since" not in as_viewer.get(thing_url(thing)).text


VAGUE = {
    "week": (Day.about_week(date(2026, 3, 12)), " since about 12 Mar"),
    "month": (Day.month(2026, 3), " since March 2026"),
    "year": (Day.year(2025), " since 2025"),
    "unknown": (Day.unknown(), ""),
}


@pytest.mark.parametrize("day,since", VAGUE.values(), ids=VAGUE)
def test_since_when_is_said_no_more_exactly_than_it_was_told(nursery: Nursery, day: Day, since: str) -> None:
    """As its notice says it, and as the migration works it out for plants that were put there before."""
    plant = nursery.plant()
    with time_machine.travel(datetime(2026, 5, 15, 12, tzinfo=UTC), tick=False):
        nursery.record(quarantined, plant=plant, reason="mosaic", day=day)
        plant.refresh_from_db()
        assert quarantine_notices(plant, today())[0].startswith(f"It is in quarantine{since}: mosaic.")
    told = milestones.worked_out(plant)
    Plant.objects.update(quarantine_last=None, quarantine_said="")
    import_module("nursery.migrations.0016_since_when_in_quarantine").say_how_it_was_told(apps, None)
    plant.refresh_from_db()
    assert {name: getattr(plant, name) for name in told} == told


def test_it_is_said_in_its_rows_of_the_round(nursery: Nursery, plant: Plant, as_viewer: Client):
    nursery.spike(plant, days_ago=20)
    nursery.spike(days_ago=20)
    html = as_viewer.get("/").text
    assert html.count("spike, in quarantine") == 1


@pytest.mark.parametrize(
    ("make", "slug", "values"),
    [
        (lambda n, p: p, "cutting", {}),
        (lambda n, p: p, "gone", {"why": "sold"}),
        (lambda n, p: n.spike(p, sex="male"), "collect", {"storage": "bench"}),
        (lambda n, p: n.spike(p, sex="female"), "pollinate", {"pollen": "unknown"}),
    ],
    ids=["cutting", "sold", "pollen", "pollinate"],
)
def test_it_is_asked_once_and_then_taken(make, slug: str, values: dict, nursery: Nursery, plant: Plant, as_grower):
    url = act_url(make(nursery, plant), slug)
    before = Act.objects.count()
    answer = as_grower.post(url, values)
    assert answer.status_code == 422 and "In quarantine: lowii hammer (mosaic)." in answer.text
    assert Act.objects.count() == before
    anyway = {"anyway": "yes", "objections_seen": ["in_quarantine"]}
    assert as_grower.post(url, values | anyway).status_code == 302
    assert Act.objects.count() == before + 1


def test_the_page_offers_the_way_in_or_the_way_out(nursery: Nursery, plant: Plant, as_grower: Client):
    inside, outside = as_grower.get(thing_url(plant)).text, as_grower.get(thing_url(nursery.plant())).text
    assert f"/plants/{plant.pk}/release/" in inside and f"/plants/{plant.pk}/quarantine/" not in inside
    assert "Out of quarantine" not in outside and "/quarantine/" in outside


def test_a_cutting_is_a_plant_of_the_same_clone_and_names_its_mother(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    as_grower.post(f"/plants/{plant.pk}/cutting/", {"pot": "7 cm"})
    act = Act.objects.filter(kind="plant_arrived").latest("recorded_at")
    assert (act.plantarrived.struck_from, act.plantarrived.clone) == (plant, plant.clone)
    html = as_grower.get(f"/acts/{act.pk}/correct/").text
    assert "Correct: a cutting of it" in html
    as_grower.post(f"/acts/{act.pk}/correct/", {"pot": "9 cm"})
    act = Act.objects.filter(kind="plant_arrived").latest("recorded_at")
    assert (act.plantarrived.struck_from, act.plantarrived.pot) == (plant, "9 cm")


def test_a_result_offers_the_samples_of_this_plant(nursery: Nursery, plant: Plant, as_grower: Client):
    sent = nursery.record(sample_sent, plant=plant, to_whom="the plant clinic", what_for="mosaic virus", days_ago=3)
    nursery.record(sample_sent, plant=nursery.plant(), to_whom="a friend")
    html = as_grower.get(f"/plants/{plant.pk}/result/").text
    assert "mosaic virus, to the plant clinic" in html and "a friend" not in html
    assert f'value="{sent.pk}" selected' in html
    as_grower.post(f"/plants/{plant.pk}/result/", {"sample": sent.pk, "found": "no"})
    assert "sample result: mosaic virus, not found" in as_grower.get(thing_url(plant)).text
