"""Of two people at one section, the second is told who ended it, when, and which seed came of it."""

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
import time_machine

from breeding.records.closed_before import closed_before
from breeding.records.pods import harvested, pods_looked_at
from nursery.records.watching import stopped
from nursery.templatetags.tepal import plate
from tests.making import Nursery, row_of, tag_of

pytestmark = pytest.mark.django_db
NOON = "2026-11-27 12:00Z"


@pytest.fixture(autouse=True)
def at_noon() -> Iterator[None]:
    with time_machine.travel(NOON):
        yield


@pytest.fixture
def section(at_noon: None, nursery: Nursery) -> Any:
    return nursery.section(days_ago=140)


def test_it_says_who_cut_it_when_and_the_number_of_its_seed(nursery: Nursery, section: Any) -> None:
    part = nursery.record(harvested, section=section, what="pods")
    whole = nursery.record(harvested, section=section)
    number = tag_of(whole.thing).number
    assert number != tag_of(part.thing).number
    said = f"This section was harvested before, as Ida Fern has told on 27 Nov 2026. Its seed is {plate(number)}."
    assert closed_before(row_of(section.pk), None) == said
    assert closed_before(row_of(section.pk), whole) == "This section was harvested before."


@pytest.mark.parametrize(
    ("record", "facts", "how"),
    [(pods_looked_at, {"seen": "split", "pods_left": 0}, "lost"), (stopped, {}, "no longer watched")],
)
def test_it_says_who_told_that_it_ended_otherwise(
    nursery: Nursery, section: Any, record: Any, facts: dict[str, Any], how: str
) -> None:
    nursery.record(record, **{"thing" if record is stopped else "section": section}, **facts)
    said = f"This section was {how} before, as Ida Fern has told on {date(2026, 11, 27):%d} Nov 2026."
    assert closed_before(row_of(section.pk), None) == said
