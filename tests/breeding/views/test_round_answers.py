"""Each answer on the round is taken by the page it posts to, and then what it promised is what is asked next."""

import uuid
from datetime import timedelta

import pytest
import time_machine
from django.db import transaction
from django.test import Client
from django.utils import timezone

from breeding.records import pods
from breeding.rounds.answers import next_words
from breeding.rounds.gather import gather
from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.tasks import Task, round_for
from nursery.days import Day
from nursery.models import Act, Person, Thing
from nursery.records import registry
from nursery.records.tags import tags_printed
from tests.conftest import signed_in
from tests.making import Nursery, tag_of, today

PROMISED_OTHERWISE = {"asks", "a"}
"""First words of hints that speak of the answer itself: "asks Sat 18 Jul", "a seed lot with its tag"."""


AWAY = timedelta(days=21)


@pytest.fixture(scope="module")
def season(kept: Nursery) -> Nursery:
    """One task of every kind, due today."""
    nursery = kept
    nursery.spike(days_ago=12)
    nursery.spike(days_ago=9, seen="open")
    nursery.male(days_ago=8, seen="showing")
    nursery.female(days_ago=8)
    nursery.section(days_ago=40)
    for seen in ("green", "turning", "opening"):
        section = nursery.section(days_ago=140)
        nursery.record(pods.pods_looked_at, section=section, seen=seen, days_ago=7)
    lot = nursery.seed(days_ago=40, estimate=100)
    nursery.pot(lot, days_ago=35)
    nursery.routine()
    nursery.pollen(days_ago=20, storage="bench")
    tags_printed(by=nursery.by, numbers=[tag_of(nursery.plant()).number], lasts_until=today())
    nursery.seed_by_post(words="from a friend", day=Day.unknown())
    return nursery


def _tasks() -> list[Task]:
    return list(round_for(today(), minutes=10_000).today)


def test_there_is_a_task_of_every_kind(season: Nursery) -> None:
    assert {task.kind for task in _tasks()} == {kind.code for kind in TASK_KINDS}


def test_every_answer_is_taken_and_keeps_its_promise(as_grower: Client, season: Nursery) -> None:
    tried = 0
    for task in _tasks():
        for answer in (answer for answer in task.answers if answer.url):
            with transaction.atomic():
                _answer(as_grower, task, answer)
                transaction.set_rollback(True)
            tried += 1
    assert tried > 60


def _answer(client: Client, task: Task, answer) -> None:
    act_id = uuid.uuid4()
    said = {"act_id": str(act_id), answer.name: answer.value}
    reply = client.post(answer.url, said, headers={"HX-Request": "true"})
    told = f"{task.title}, {answer.label}: {reply.content.decode()[:2000]}"
    assert reply.status_code == 200, told
    assert Act.objects.filter(pk=act_id).exists(), told
    assert 'class="done"' in reply.content.decode(), told
    if answer.hint.split()[0] not in PROMISED_OTHERWISE:
        assert _next(task) == answer.hint, told


def _next(task: Task) -> str:
    thing = registry.instance_of(Thing.objects.get(pk=task.thing_id))
    books = gather(only=thing)
    return next_words(books.rows[0], books, today(), asked=task.kind)


def test_every_link_leads_to_a_page(as_grower: Client, season: Nursery) -> None:
    for task in _tasks():
        assert as_grower.get(task.url).status_code == 200
        for address in {answer.href for answer in task.answers if answer.href} | {
            link.url for link in task.extra_links
        }:
            assert as_grower.get(address).status_code == 200, address


def test_the_pollen_that_was_tapped_is_chosen_in_the_form(as_grower: Client, season: Nursery) -> None:
    [task] = [task for task in _tasks() if task.kind == "pollinate"]
    address = task.answers[0].href
    value = address.rsplit("=", 1)[1]
    html = as_grower.get(address).content.decode()
    [chosen] = [line for line in html.split("<input") if f'value="{value}"' in line]
    assert "checked" in chosen


def test_three_weeks_away_break_nothing(season: Nursery, grower: Person) -> None:
    """What was asked is asked still, or its next question is; nothing closed by itself, and every answer is taken."""
    asked = {task.thing_id for task in _tasks()}
    still_open = _open_things()
    with time_machine.travel(timezone.now() + AWAY):
        client, tasks = signed_in(grower), _tasks()
        assert asked <= {task.thing_id for task in tasks}
        assert _open_things() == still_open
        page = client.get("/")
        assert page.status_code == 200 and page.context["later"].words.startswith("If there is time")
        for task in tasks:
            answer = next((one for one in task.answers if one.url), None)
            if answer is not None:
                with transaction.atomic():
                    _answer(client, task, answer)
                    transaction.set_rollback(True)


def _open_things() -> set[int]:
    models = [kind.model for kind in registry.thing_kinds().values()]
    return {
        pk for one in models for pk in one.objects.filter(closed_on=None, cancelled=False).values_list("pk", flat=True)
    }
