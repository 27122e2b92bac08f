"""The office's page of routines, the form that makes them, and their answers on the round."""

import uuid

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.forms.routines import how_often
from breeding.models import Routine
from breeding.records.routines import routine_done
from nursery.links import act_url, thing_url
from nursery.records.watching import stopped
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db


def _post(client: Client, url: str = "/routines/new/", **values):
    return client.post(url, {"act_id": uuid.uuid4(), "words": "mist"} | values)


@pytest.mark.parametrize(
    ("values", "rule"),
    [
        ({"how": "daily"}, "FREQ=DAILY"),
        ({"how": "weekdays", "weekdays": ["MO", "TH"]}, "FREQ=WEEKLY;BYDAY=MO,TH"),
        ({"how": "weeks", "weeks": "3"}, "FREQ=WEEKLY;INTERVAL=3"),
        ({"how": "weeks", "weeks": "2", "weekdays": ["FR"]}, "FREQ=WEEKLY;INTERVAL=2;BYDAY=FR"),
        ({"how": "monthly", "month_day": "15"}, "FREQ=MONTHLY;BYMONTHDAY=15"),
        ({"how": "monthly", "month_day": "-1"}, "FREQ=MONTHLY;BYMONTHDAY=-1"),
        ({"how": "own", "rule": "freq=monthly;byday=1fr"}, "FREQ=MONTHLY;BYDAY=1FR"),
        # What was not chosen is not read.
        ({"how": "daily", "weekdays": ["MO"], "weeks": "4", "rule": "FREQ=HOURLY"}, "FREQ=DAILY"),
    ],
)
def test_the_form_writes_the_rule_and_reads_it_again(as_grower: Client, values, rule):
    response = _post(as_grower, **values)
    routine = Routine.objects.get()
    assert (response.status_code, response.headers["Location"]) == (302, thing_url(routine))
    assert routine.rule == rule
    again = how_often(rule)
    assert again["how"] == values["how"]
    page = as_grower.get(act_url(routine, "change"))
    assert page.context["form"].initial["how"] == values["how"]


@pytest.mark.parametrize(
    ("values", "field", "sentence"),
    [
        ({"how": "weekdays"}, "weekdays", "Choose one day of the week or more."),
        ({"how": "weeks"}, "weeks", "Say every how many weeks."),
        ({"how": "monthly"}, "month_day", "Choose a day of the month."),
        ({"how": "own"}, "rule", "Write the rule, for example FREQ=WEEKLY;BYDAY=MO,TH."),
        ({"how": "own", "rule": "FREQ=HOURLY"}, "rule", "A routine comes once a day at most. Write FREQ=DAILY."),
        ({}, "how", "Choose how often."),
        ({"how": "daily", "words": ""}, "words", "Say what is to be done."),
    ],
)
def test_what_is_missing_or_wrong_is_said_beside_its_field(as_grower: Client, values, field, sentence):
    response = _post(as_grower, **values)
    assert response.status_code == 422
    assert response.context["form"].errors[field] == [sentence]
    assert not Routine.objects.exists()


def test_the_form_shows_the_cautions(as_grower: Client):
    page = as_grower.get("/routines/new/").text.replace("&#x27;", "'")
    assert "legionella" in page and "product's label" in page


def test_a_change_starts_with_what_holds_now(as_grower: Client, nursery: Nursery):
    routine = nursery.routine("feed", "FREQ=WEEKLY;BYDAY=MO", days_ago=5)
    initial = as_grower.get(act_url(routine, "change")).context["form"].initial
    assert (initial["words"], initial["how"], initial["weekdays"]) == ("feed", "weekdays", ["MO"])
    _post(as_grower, act_url(routine, "change"), words="feed lightly", how="daily")
    changed = Routine.objects.get()
    assert (changed.words, changed.rule, changed.starts) == ("feed lightly", "FREQ=DAILY", routine.starts)


def test_the_round_takes_both_answers(as_grower: Client, nursery: Nursery):
    routine = nursery.routine()
    assert "Mist" in as_grower.get("/").text
    answered = as_grower.post(
        act_url(routine, "done"), {"act_id": uuid.uuid4(), "answer": "not_today"}, headers={"HX-Request": "true"}
    )
    assert "not today" in answered.text
    _post(as_grower, act_url(routine, "done"), answer="done")
    assert Routine.objects.get().done_on == today()
    assert ">Mist<" not in as_grower.get("/").text


def test_the_cautions_stand_in_the_round(as_grower: Client, nursery: Nursery):
    nursery.routine("mist")
    assert "legionella" in as_grower.get("/").text


def test_the_office_lists_them_with_the_stopped_ones_last(as_viewer: Client, nursery: Nursery):
    over = nursery.routine("aerate")
    nursery.record(stopped, thing=over)
    mist = nursery.routine("mist", "FREQ=WEEKLY;BYDAY=MO", place=nursery.bench("Long bench"))
    nursery.record(routine_done, routine=mist)
    rows = as_viewer.get("/office/routines/").context["rows"]
    told = [[cell["text"] for cell in row["cells"]] for row in rows]
    assert [row["url"] for row in rows] == [thing_url(mist), thing_url(over)]
    assert told[0][0] == "mist" and told[0][1].endswith(", Long bench") and told[0][2] == "every Monday"
    assert told[1][4] == ""


def test_only_those_who_record_are_offered_to_add_one(as_viewer: Client, as_grower: Client):
    assert "/routines/new/" not in as_viewer.get("/office/routines/").text
    assert "/routines/new/" in as_grower.get("/office/routines/").text


def test_a_stranger_is_asked_to_sign_in(stranger: Client):
    assert stranger.get("/office/routines/").status_code == 302


@pytest.mark.parametrize("address", ["/office/routines/", "/"])
def test_many_cost_no_more_questions_than_few(as_grower: Client, nursery: Nursery, address: str):
    bench = nursery.bench()
    nursery.routine(place=bench)
    as_grower.get(address)
    few = _queries(as_grower, address)
    for number in range(8):
        nursery.routine(f"sweep {number}", place=bench)
    assert _queries(as_grower, address) == few


def _queries(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        client.get(address)
    return len(asked)
