"""Seed pots of one sowing that are due on one day are one row of the round, and still so many looks."""

from typing import Any

import pytest
from django.test import Client

from breeding.answers import THIRD
from breeding.records.pots import pot_looked_at
from breeding.rounds.tasks import round_for
from breeding.rounds.together import together
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db
ENOUGH = 600


def _pots_tasks() -> list[Any]:
    return [task for task in together(round_for(today(), minutes=ENOUGH).today) if task.kind == "pots"]


def test_six_pots_of_a_sowing_are_one_task(nursery: Nursery) -> None:
    pots = nursery.pots(6, days_ago=200)
    [task] = _pots_tasks()
    assert (task.sub, task.number, task.url) == ("6 pots", None, "")
    assert set(task.things) == {pot.pk for pot in pots}
    assert {answer.url for answer in task.answers} == {"/several/pots/look/", "/several/pots/later/"}
    assert [(link.label, link.url) for link in task.extra_links] == [
        ("Answer each, or all but some", f"/acts/{pots[0].thing.born_by_id}/several/")
    ]
    assert task.minutes == 6


def test_a_pot_alone_stays_as_it_is(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=200)
    [task] = _pots_tasks()
    assert (task.thing_id, task.things) == (pot.pk, ())
    assert task.url == f"/pots/{pot.pk}/"


def test_two_sowings_are_two_tasks(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=210)
    nursery.pots(2, lot, days_ago=200)
    nursery.pots(3, lot, days_ago=200)
    assert sorted(len(task.things) for task in _pots_tasks()) == [2, 3]


def test_a_pot_that_is_asked_otherwise_stands_alone(nursery: Nursery) -> None:
    """One is up, so its answers are others and its day is another."""
    pots = nursery.pots(3, days_ago=300)
    nursery.record(pot_looked_at, pot=pots[0], seen="few", days_ago=150)
    tasks = _pots_tasks()
    assert sorted(len(task.things) for task in tasks) == [0, 2]


def test_what_opens_the_form_of_one_pot_is_no_answer_for_all(nursery: Nursery) -> None:
    pots = nursery.pots(2, days_ago=300)
    for pot in pots:
        nursery.record(pot_looked_at, pot=pot, seen="few", days_ago=150)
    [task] = _pots_tasks()
    assert [answer.label for answer in task.answers] == ["A few", "Plenty", "A carpet", "Can’t tell", "Later"]
    assert all(answer.url and not answer.href for answer in task.answers)
    assert [answer.size for answer in task.answers] == ["", "", THIRD, THIRD, THIRD]


def test_the_page_names_the_pots_in_the_row_and_walks_past_all(nursery: Nursery, as_grower: Client) -> None:
    pots = nursery.pots(3, days_ago=200, place=nursery.bench())
    page = as_grower.get("/?kind=pots")
    [bench] = page.context["groups"]
    [task] = bench.tasks
    assert set(task.walked) == {pot.pk for pot in pots}
    html = page.content.decode()
    assert "3 pots" in html
    assert html.count('name="things"') == 6, "three to walk past, three to answer"
    answered = {"act_id": task.act_id, "things": task.things, "seen": "nothing", "next": "/"}
    assert as_grower.post(task.answers[0].url, answered).status_code == 302
    assert as_grower.get("/?kind=pots").context["groups"] == []


def test_a_viewer_sees_the_row_and_no_answers(nursery: Nursery, as_viewer: Client) -> None:
    nursery.pots(3, days_ago=200, place=nursery.bench())
    [bench] = as_viewer.get("/?kind=pots").context["groups"]
    [task] = bench.tasks
    assert (task.sub, task.answers, task.extra_links) == ("3 pots", (), ())
