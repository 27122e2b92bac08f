"""A day typed into a form is taken or asked about, whatever is chosen above it, and never left out in silence."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client

from nursery.forms.acts import StopForm
from nursery.links import act_url
from nursery.models import Act
from nursery.records.remarks import remarked
from tests.making import Nursery, ago, today
from tests.site.acts.posting import form_on

pytestmark = pytest.mark.django_db


def _typed(days_ago: int = 17) -> dict[str, str]:
    return {"day_on": (today() - timedelta(days=days_ago)).isoformat()}


def _told(**values: Any) -> StopForm:
    form = StopForm(values)
    form.is_valid()
    return form


@pytest.mark.parametrize("said", [{}, {"day_said": ""}, {"day_said": "today"}, {"day_said": "on"}])
def test_a_day_typed_while_today_stayed_chosen_is_that_day(said: dict[str, str], nursery: Nursery, as_grower: Client):
    plant = nursery.plant(days_ago=40)
    as_grower.post(act_url(plant, "remark"), {"words": "Leans to the east."} | _typed() | said)
    act = Act.objects.get(kind="remarked")
    assert (act.day_first, act.day_last, act.said) == (*[today() - timedelta(days=17)] * 2, "exact")


def test_a_form_that_comes_back_has_the_day_chosen_that_counts(nursery: Nursery, as_grower: Client):
    page = as_grower.post(act_url(nursery.plant(), "remark"), {"day_said": "today"} | _typed()).content.decode()
    assert form_on(page)["day_said"] == ["on"]
    assert form_on(page)["day_on"] == [_typed()["day_on"]]


@pytest.mark.parametrize(("said", "words"), [("yesterday", "Yesterday"), ("unknown", "Day not known")])
def test_a_day_beside_another_answer_is_asked_about(said: str, words: str):
    assert _told(day_said=said, **_typed()).errors["day_on"] == [
        f"You chose “{words}”, and gave a day. Choose “On this day” if the day is right, or empty the box."
    ]


@pytest.mark.parametrize(("said", "days"), [("today", 0), ("yesterday", 1)])
def test_a_day_that_says_the_same_is_no_question(said: str, days: int):
    form = _told(day_said=said, **_typed(days))
    assert not form.errors
    assert form.day_meant.first == today() - timedelta(days=days)


def test_a_day_to_come_and_one_that_is_none_are_asked_about():
    assert _told(day_said="today", **_typed(-1)).errors["day_on"] == ["That day has not come yet."]
    assert "day_on" in _told(day_said="today", day_on="10 Nov").errors


@pytest.mark.parametrize(
    ("said", "first"), [("today", today), ("yesterday", lambda: ago(1).first), ("unknown", lambda: None)]
)
def test_the_date_that_a_correction_opens_with_is_not_typed(
    said: str, first: Callable[[], date | None], nursery: Nursery, as_owner: Client
):
    act = nursery.record(remarked, thing=nursery.plant(days_ago=40), words="Leans to the east.", days_ago=5)
    values = form_on(as_owner.get(f"/acts/{act.pk}/correct/").content.decode())
    assert values["day_on"] == [ago(5).first.isoformat()]
    assert as_owner.post(f"/acts/{act.pk}/correct/", values | {"day_said": said}).status_code == 302
    assert Act.objects.get(replaces=act).day_first == first()


def test_a_date_typed_into_a_correction_counts(nursery: Nursery, as_owner: Client):
    act = nursery.record(remarked, thing=nursery.plant(days_ago=40), words="Leans to the east.", days_ago=5)
    values = form_on(as_owner.get(f"/acts/{act.pk}/correct/").content.decode())
    as_owner.post(f"/acts/{act.pk}/correct/", values | {"day_said": "today"} | _typed())
    assert Act.objects.get(replaces=act).day_first == today() - timedelta(days=17)
