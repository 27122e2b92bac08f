"""The office's page of the round: minutes a day, and which kinds of task are asked."""

from datetime import timedelta

import pytest
from django.test import Client

from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.tasks import tasks_for
from nursery.links import thing_url
from nursery.records.house import house
from tests.making import Nursery, today

PAGE = "/office/round/"
WEEK = list(range(7))
ALL = [kind.code for kind in TASK_KINDS]

pytestmark = pytest.mark.django_db


def _without(*codes: str) -> list[str]:
    return [code for code in ALL if code not in codes]


def test_it_works(as_owner: Client) -> None:
    told = {"minutes_a_day": 30, "looks_on": [0, 2, 4], "kinds": _without("take", "bag")}
    assert as_owner.get(PAGE).context["form"].initial["looks_on"] == WEEK
    assert as_owner.post(PAGE, told)["Location"] == PAGE
    assert (house().minutes_a_day, house().looks_on, house().tasks_off) == (30, [0, 2, 4], ["bag", "take"])
    assert as_owner.get(PAGE).context["form"].initial == told


def test_looks_are_asked_for_on_the_days_that_were_ticked(as_owner: Client, nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=3)
    for weekday in WEEK:
        as_owner.post(PAGE, {"minutes_a_day": 30, "looks_on": [weekday], "kinds": ALL})
        (due,) = {task.due for task in tasks_for(spike, today()).tasks if task.kind == "spikes"}
        assert due.weekday() == weekday
        assert due <= today() + timedelta(days=7)


def test_what_comes_by_itself_says_with_what(as_owner: Client, nursery: Nursery) -> None:
    assert "Sow (from the first seed on)" in as_owner.get(PAGE).text
    nursery.seed_by_post(words="from a friend")
    page = as_owner.get(PAGE).text
    assert "Sow (from" not in page and "Routine (from the first routine on)" in page


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"minutes_a_day": 4}, "minutes_a_day", "Give a number from 5 to 960."),
        ({"minutes_a_day": 961}, "minutes_a_day", "Give a number from 5 to 960."),
        ({"minutes_a_day": "all day"}, "minutes_a_day", "Write a whole number of minutes."),
        ({"minutes_a_day": ""}, "minutes_a_day", "Say how many minutes."),
        ({"looks_on": []}, "looks_on", "Choose at least one day of the week on which somebody looks."),
        ({"looks_on": [7]}, "looks_on", "There is no such weekday. Choose from the list."),
        ({"kinds": ["dance"]}, "kinds", "There is no such kind of task. Choose from the list."),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(as_owner: Client, changes: dict, field: str, sentence: str) -> None:
    answer = as_owner.post(PAGE, {"minutes_a_day": 30, "looks_on": WEEK, "kinds": ALL} | changes)
    assert (answer.status_code, answer.context["form"].errors[field]) == (422, [sentence])
    assert (house().minutes_a_day, house().looks_on, house().tasks_off) == (45, [], [])


def test_the_page_of_a_thing_says_what_is_not_asked(as_owner: Client, nursery: Nursery) -> None:
    section = nursery.section(days_ago=40)
    as_owner.post(PAGE, {"minutes_a_day": 30, "looks_on": WEEK, "kinds": _without("take")})
    assert "Take readings are switched off." in as_owner.get(thing_url(section)).text
    assert "Read the take" not in as_owner.get("/").text
