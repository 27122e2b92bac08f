"""The demo loads on any day, always the same for the same day, and never over a nursery's own records."""

from datetime import date
from typing import Any

import pytest

from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.tasks import round_for
from demo_fixtures.load import load_demo
from nursery.models import Act, Flag, Tag
from nursery.records.errors import Refused
from tests.demo.conftest import filled
from tests.making import Nursery

LEAP_DAY, LAST_DAY = date(2024, 2, 29), date(2025, 12, 31)


@pytest.mark.django_db
def test_on_the_last_day_of_a_year():
    with filled(LAST_DAY):
        _must_have_a_full_round(LAST_DAY)


@pytest.mark.django_db
def test_on_a_leap_day_and_twice_the_same():
    with filled(LEAP_DAY):
        _must_have_a_full_round(LEAP_DAY)
        first = _told()
    with filled(LEAP_DAY):
        assert _told() == first


@pytest.mark.django_db
def test_a_nursery_of_its_own_is_left_alone(nursery: Nursery):
    nursery.plant()
    acts = Act.objects.count()
    with pytest.raises(Refused, match="not the demo's"):
        load_demo(LAST_DAY)
    assert Act.objects.count() == acts


def _must_have_a_full_round(day: date) -> None:
    due = round_for(day)
    tasks = (*due.today, *due.rest)
    assert {task.kind for task in tasks} == {kind.code for kind in TASK_KINDS}
    assert 15 <= len(tasks) <= 32
    assert not Act.objects.filter(day_last__gte=day).exists()


def _told() -> dict[str, Any]:
    """All acts by id, what they tell and whom; all tags; all flags. Row numbers of things may differ."""
    acts = Act.objects.order_by("id").values_list("id", "kind", "day_first", "day_last", "said", "by__name", "note")
    return {
        "acts": list(acts),
        "tags": list(Tag.objects.order_by("number").values_list("number", "thing__kind", "thing__born_by", "retired")),
        "flags": sorted(Flag.objects.values_list("act_id", "code", "sentence")),
    }
