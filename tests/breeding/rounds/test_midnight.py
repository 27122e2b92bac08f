"""Every kind of task comes up on the page, and goes from it, when the nursery's own day begins.

When a day begins somewhere is what the tz database says (through zoneinfo), which holds each night below.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.utils import timezone

from breeding.records import pods, pots, routines, sowing
from breeding.rounds.kinds import BY_CODE
from nursery.models import House, LivingThing, Person
from nursery.records.house import house
from nursery.records.tags import tags_printed
from nursery.records.watching import postponed
from tests.conftest import signed_in
from tests.keeping import undone_at_the_end
from tests.making import Nursery, tag_of, today

pytestmark = pytest.mark.django_db

SECOND = timedelta(seconds=1)
NIGHTS = [
    ("UTC", date(2028, 2, 29)),
    ("Pacific/Kiritimati", date(2027, 1, 1)),
    ("Europe/London", date(2026, 3, 30)),  # the night after clocks went forward
    ("America/New_York", date(2026, 11, 2)),  # and after they went back
    ("America/Santiago", date(2026, 9, 6)),  # clocks go forward at midnight: this day begins at one
]


def _begins(day: date, zone: str) -> datetime:
    return datetime.combine(day, time.min, tzinfo=ZoneInfo(zone)).astimezone(UTC)


def _spike(nursery: Nursery) -> LivingThing:
    return nursery.spike()


def _taken_once(nursery: Nursery) -> LivingThing:
    male = nursery.male()
    nursery.pollen([male])
    return male


def _dabbed_once(nursery: Nursery) -> LivingThing:
    female = nursery.female()
    nursery.section(female)
    return female


def _cant_tell_of_pods(nursery: Nursery) -> LivingThing:
    section = nursery.section(days_ago=120)
    nursery.record(pods.take_read, section=section, swelling="most", days_ago=70)
    nursery.record(pods.pods_looked_at, section=section, seen="cant_tell")
    return section


def _put_off(seen: str) -> Callable[[Nursery], LivingThing]:
    def made(nursery: Nursery) -> LivingThing:
        section = nursery.section(days_ago=120)
        nursery.record(pods.pods_looked_at, section=section, seen=seen, days_ago=1)
        nursery.record(postponed, thing=section, until=today() + timedelta(days=5))
        return section

    return made


def _planned(nursery: Nursery) -> LivingThing:
    line = sowing.Line(nursery.seed(), 1, seeds=30)
    return nursery.sowing(line, planned_for=today() + timedelta(days=6))


def _silent_pot(nursery: Nursery) -> LivingThing:
    pot = nursery.pot(days_ago=90)
    nursery.record(pots.pot_looked_at, pot=pot, seen="cant_tell")
    return pot


def _done_once(nursery: Nursery) -> LivingThing:
    routine = nursery.routine(rule="FREQ=DAILY;INTERVAL=7")
    nursery.record(routines.routine_done, routine=routine)
    return routine


def _faded(nursery: Nursery) -> LivingThing:
    plant = nursery.plant()
    tags_printed(by=nursery.by, numbers=[tag_of(plant).number], lasts_until=today() + timedelta(days=40))
    return plant.place


COMES = [
    ("spikes", 10, _spike),
    ("pollen", 7, _taken_once),
    ("pollinate", 4, _dabbed_once),
    ("take", 35, Nursery.section),
    ("pods", 2, _cant_tell_of_pods),
    ("bag", 5, _put_off("turning")),
    ("harvest", 5, _put_off("opening")),
    ("sow", 6, _planned),
    ("pots", 2, _silent_pot),
    ("routine", 7, _done_once),
    ("old_pollen", 5, Nursery.pollen),  # on an open bench pollen keeps four days
    ("retag", 10, _faded),  # a month before the print is gone
]
"""A kind of task, the days until it is asked, and what makes the thing that it is asked about."""

GOES = [
    ("pollinate", 31, Nursery.female),  # receptive for thirty days
    ("take", 63, Nursery.section),  # the pods are asked about instead
]


Made = tuple[str, int, Callable[[Nursery], LivingThing]]


@dataclass(frozen=True)
class Night:
    """What was made for the tests of a night, and what the page asked in its last second and in the day's first."""

    zone: str
    begins: datetime
    made: dict[Made, int]
    evening: set[tuple[str, int]]
    morning: set[tuple[str, int]]

    def asked(self, one: Made) -> tuple[bool, bool]:
        task = one[0], self.made[one]
        return task in self.evening, task in self.morning


@pytest.fixture(scope="module", params=NIGHTS, ids=lambda night: f"{night[0]}-{night[1]}")
def night(request: pytest.FixtureRequest, kept: Nursery) -> Iterator[Night]:
    """Every night in turn, before which each thing was made in time; the two pages are asked for once for all."""
    zone, day = request.param
    begins = _begins(day, zone)
    with undone_at_the_end(), timezone.override(zone):
        House.objects.filter(pk=house().pk).update(minutes_a_day=960)  # so that nothing rolls over
        made = _made_before(day, zone, kept.again())
        yield Night(zone, begins, made, _asked(kept.by, begins - SECOND), _asked(kept.by, begins))


def _made_before(day: date, zone: str, nursery: Nursery) -> dict[Made, int]:
    made = {}
    for one in sorted([*COMES, *GOES], key=lambda one: -one[1]):
        with _at(_begins(day - timedelta(days=one[1]), zone) + timedelta(hours=15)):
            made[one] = one[2](nursery).pk
    return made


def _at(moment: datetime) -> time_machine.travel:
    return time_machine.travel(moment, tick=False)


def _asked(owner: Person, moment: datetime, **chosen: str) -> set[tuple[str, int]]:
    """The kinds of task on the page at this moment, each with the thing that it is about."""
    with _at(moment):
        page = signed_in(owner).get("/", chosen).context
        assert page["later"] is None
        return {(task.kind, task.thing_id) for bench in page["groups"] for task in bench.tasks}


def test_every_kind_of_task_is_tried() -> None:
    assert {kind for kind, _, _ in COMES} == set(BY_CODE)


@pytest.mark.parametrize("comes", COMES, ids=lambda one: one[0])
def test_it_is_asked_from_the_first_second_of_the_nurserys_day(night: Night, comes: Made) -> None:
    assert night.asked(comes) == (False, True)


@pytest.mark.parametrize("goes", GOES, ids=lambda one: one[0])
def test_it_is_asked_until_the_last_second_of_the_day_before(night: Night, goes: Made) -> None:
    assert night.asked(goes) == (True, False)


@pytest.mark.parametrize("night", NIGHTS[:1], ids=lambda night: night[0], indirect=True)
def test_asked_for_one_kind_the_page_shows_what_it_shows_of_it_among_all(night: Night, owner: Person) -> None:
    for kind in BY_CODE:
        assert _asked(owner, night.begins, kind=kind) == {one for one in night.morning if one[0] == kind}
