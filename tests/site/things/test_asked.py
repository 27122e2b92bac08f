"""The page of a thing says what the round asks of it, and why not where nothing is asked."""

import uuid
from datetime import timedelta

from django.test import Client

from breeding.records import pods, spikes
from breeding.rounds.tasks import tasks_for
from breeding.rounds.words import short
from nursery.links import thing_url
from nursery.records.watching import stopped
from tests.making import Nursery, today


def test_it_shows_the_tasks_of_the_round_with_their_reasons(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=45)
    shown = as_grower.get(thing_url(section))
    asked = tasks_for(section, today()).tasks
    assert [(task.kind, task.due) for task in shown.context["tasks"]] == [(task.kind, task.due) for task in asked[:3]]
    assert "Read the take" in shown.text and asked[0].reason in shown.text.replace("&#x27;", "'")


def test_a_viewer_sees_what_is_due_without_answers(nursery: Nursery, as_viewer: Client):
    shown = as_viewer.get(thing_url(nursery.section(days_ago=45)))
    assert "Read the take" in shown.text and not shown.context["answers"]


def test_answers_say_what_is_asked_next(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=120)
    nursery.record(pods.pods_looked_at, section=section, seen="green")
    hints = {answer.value: answer.hint for answer in as_grower.get(thing_url(section)).context["answers"]}
    assert hints["turning"] == "then: bag it" and hints["green"].startswith("again ")


def test_later_is_for_what_is_asked_by_now(nursery: Nursery, as_grower: Client):
    """To ask again in three days, of what is asked for in a month, would promise what does not happen."""
    for days_ago, there in ((0, False), (45, True)):
        shown = as_grower.get(thing_url(nursery.section(days_ago=days_ago))).context
        assert [task.kind for task in shown["tasks"]] == ["take"]
        labels = [answer.label for answer in shown["more_answers"]]
        assert labels == ["Dab again", "Later"][: 1 + there]
        assert bool([answer for answer in shown["tasks"][0].answers if answer.label == "Later"]) is there


def test_later_says_the_day_and_that_day_it_is_asked(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=45)
    later = as_grower.get(thing_url(section)).context["more_answers"][-1]
    as_grower.post(later.url, {"act_id": uuid.uuid4(), later.name: later.value})
    [task] = tasks_for(type(section).objects.get(pk=section.pk), today()).tasks
    assert later.hint == f"asks {short(task.due, today())}" and task.due == today() + timedelta(days=3)
    assert [one.label for one in as_grower.get(thing_url(section)).context["more_answers"]] == ["Dab again"]


def test_why_nothing_is_asked_is_said(nursery: Nursery, as_grower: Client):
    spike = nursery.spike(seen="buds")
    nursery.record(spikes.spike_looked, spike=spike, seen="aborted")
    page = as_grower.get(thing_url(spike))
    assert not page.context["tasks"]
    assert "aborted" in page.text and page.context["moved_on"].words == "Nothing was pollinated on it."
    pot = nursery.pot()
    nursery.record(stopped, thing=pot)
    assert "It is not watched any more" in as_grower.get(thing_url(pot)).text


def test_a_plant_shows_what_its_spikes_ask_for(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    assert "without an open spike" in as_grower.get(thing_url(plant)).context["why_not"]
    nursery.spike(plant, days_ago=20)
    assert [task.kind for task in as_grower.get(thing_url(plant)).context["tasks"]] == ["spikes"]
