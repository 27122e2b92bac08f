"""The demo loads on any day, always the same for the same day, and never over a nursery's own records.

It is loaded on a day in summer by test_loaded, and on the last day of a year by test_awkward.
"""

from datetime import date
from typing import Any

import pytest

from demo_fixtures.load import load_demo
from nursery.models import Act, Flag, Tag
from nursery.records.errors import Refused
from tests.demo.conftest import LAST_DAY, filled, must_have_a_full_round
from tests.making import Nursery

LEAP_DAY = date(2024, 2, 29)


@pytest.mark.django_db
def test_on_a_leap_day_and_twice_the_same():
    with filled(LEAP_DAY):
        must_have_a_full_round(LEAP_DAY)
        first = _told()
    with filled(LEAP_DAY):
        assert _told() == first


@pytest.mark.django_db
def test_a_nursery_of_its_own_is_left_alone(nursery: Nursery):
    nursery.plant()
    acts = Act.objects.count()
    with pytest.raises(Refused, match="not the demo's"):
        load_demo(LAST_DAY, earlier=0)
    assert Act.objects.count() == acts


def _told() -> dict[str, Any]:
    """All acts by id, what they tell and whom; all tags; all flags. Row numbers of things may differ."""
    acts = Act.objects.order_by("id").values_list("id", "kind", "day_first", "day_last", "said", "by__name", "note")
    return {
        "acts": list(acts),
        "tags": list(Tag.objects.order_by("number").values_list("number", "thing__kind", "thing__born_by", "retired")),
        "flags": sorted(Flag.objects.values_list("act_id", "code", "sentence")),
    }
