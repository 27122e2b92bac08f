"""The line under the day's list: what stood above it when the day began stays there, whatever is answered."""

import uuid
from collections.abc import Iterator
from datetime import timedelta

import pytest
import time_machine
from django.db import transaction
from django.test import Client
from django.utils import timezone

from breeding.answers import Answer
from breeding.records import pods, pollen
from breeding.records.spikes import spike_looked
from breeding.rounds.tasks import Task, round_for
from nursery.records.house import house
from nursery.records.undo import undone
from tests.making import Nursery, row_of, today

pytestmark = pytest.mark.django_db  # a savepoint for each test: what one records is gone for the next

ENOUGH = 10_000


@pytest.fixture(scope="module")
def season(kept: Nursery) -> Nursery:
    """Tasks of many kinds on one bench, all entered on the day before."""
    with time_machine.travel(timezone.now() - timedelta(days=1)):
        kept.spike(days_ago=12)
        kept.spike(days_ago=9, seen="open")
        kept.male(days_ago=8, seen="showing")
        kept.female(days_ago=8)
        kept.section(days_ago=40)
        for seen in ("green", "turning", "opening"):
            section = kept.section(days_ago=140)
            kept.record(pods.pods_looked_at, section=section, seen=seen, days_ago=7)
        kept.pot(kept.seed(days_ago=40, estimate=100), days_ago=35)
        kept.routine()
        kept.pollen(days_ago=20, storage="bench")
    return kept


def _above(minutes: int) -> set[str]:
    return {task.row for task in round_for(today(), minutes=minutes).today}


def _answers(minutes: int) -> Iterator[tuple[Task, Answer]]:
    for task in round_for(today(), minutes=minutes).today:
        yield from ((task, answer) for answer in task.answers if answer.url)


def _post(client: Client, answer: Answer) -> None:
    sent = {"act_id": uuid.uuid4(), answer.name: answer.value}
    assert client.post(answer.url, sent, headers={"HX-Request": "true"}).status_code == 200


def test_the_day_is_longer_than_its_minutes(season: Nursery) -> None:
    found = round_for(today(), minutes=ENOUGH)
    assert len(found.today) >= 15
    assert len({task.kind for task in found.today}) >= 10


def test_no_answer_changes_what_else_stands_above_the_line(as_grower: Client, season: Nursery) -> None:
    minutes = 20
    found = round_for(today(), minutes=minutes)
    began, asked = ({task.row for task in tasks} for tasks in (found.today, (*found.today, *found.rest)))
    assert 2 < len(began) < len(asked)
    tried = 0
    for task, answer in list(_answers(minutes)):
        with transaction.atomic():
            _post(as_grower, answer)
            gone = {row for row in began if row.startswith(f"{task.slug}-{task.thing_id}-")}
            now = _above(minutes)
            assert began - gone <= now and not (now - began) & asked, f"{task.row}: {answer.label}"
            transaction.set_rollback(True)
        tried += 1
    assert tried >= 15


def test_the_minutes_go_down_as_one_answers_until_the_list_is_done(as_grower: Client, season: Nursery) -> None:
    minutes, needed = 30, []
    while (found := round_for(today(), minutes=minutes)).today and len(needed) < 40:
        needed.append(found.minutes_needed)
        task = found.today[-1]
        _post(as_grower, next(one for one in reversed(task.answers) if one.url))  # "Later" wherever there is one
    assert needed == sorted(needed, reverse=True) and len(set(needed)) == len(needed) > 5
    assert found.rest_count > 0
    house_minutes = house()
    house_minutes.minutes_a_day = minutes
    house_minutes.save()
    assert "Today’s list is done." in as_grower.get("/").content.decode()


def test_undo_puts_the_list_back(season: Nursery) -> None:
    began = round_for(today(), minutes=12)
    look = next(task for task in began.today if task.kind == "harvest")
    act = season.record(pods.harvested, section=row_of(look.thing_id), what="section")
    assert _above(12) == {task.row for task in began.today} - {look.row}
    undone(act=season.act(), target=act)
    assert _above(12) == {task.row for task in began.today}


def test_what_an_answer_brings_is_above_the_line_where_it_presses(season: Nursery) -> None:
    green = next(task for task in round_for(today(), minutes=ENOUGH).today if task.kind == "pods")
    harvest = f"sections-{green.thing_id}-harvest"
    short, long = _above(12), _above(30)
    season.record(pods.pods_looked_at, section=row_of(green.thing_id), seen="opening")
    assert _above(30) - long == {harvest}
    assert _above(12) - short == set(), "what presses more takes all of the minutes"
    assert harvest in {task.row for task in round_for(today(), minutes=12).rest}


def test_pollen_that_is_taken_today_does_not_lengthen_what_was_asked(season: Nursery) -> None:
    """With pollen at hand it takes longer to pollinate."""
    male = next(task for task in round_for(today(), minutes=ENOUGH).today if task.kind == "pollen")
    for minutes in range(5, 40, 5):
        began = _above(minutes) - {male.row}
        with transaction.atomic():
            season.record(pollen.pollen_collected, spikes=[row_of(male.thing_id)], storage="freezer")
            assert _above(minutes) - {male.row, f"spikes-{male.thing_id}-spikes"} == began - {
                f"spikes-{male.thing_id}-spikes"
            }
            transaction.set_rollback(True)


def test_another_day_is_cut_as_the_books_stand(season: Nursery) -> None:
    tomorrow = today() + timedelta(days=1)
    before = round_for(tomorrow, minutes=12)
    season.record(spike_looked, spike=season.spike(), seen="growing")
    assert [task.row for task in round_for(tomorrow, minutes=12).today] == [task.row for task in before.today]


def test_what_was_recorded_today_costs_as_many_queries_however_much_it_was(
    season: Nursery, django_assert_max_num_queries
) -> None:
    house()
    counts = []
    males = [task for task in round_for(today(), minutes=ENOUGH).today if task.kind == "pollen"]
    for task in males[-4:]:  # these have the same history
        season.record(spike_looked, spike=row_of(task.thing_id), seen="cant_tell")
        with django_assert_max_num_queries(30) as counted:
            round_for(today())
        counts.append(len(counted))
    assert len(counts) == 4 and len(set(counts)) == 1
