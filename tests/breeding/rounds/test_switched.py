"""Which kinds of task are on: six in a new nursery, the others with the first thing they ask about."""

import pytest

from breeding.records import pods
from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.switched import WAITS_FOR, switches
from breeding.rounds.tasks import Outlook, next_words, round_for, tasks_for
from breeding.rounds.why_not import switched_off
from nursery.models import LivingThing
from nursery.records.house import house, round_changed
from nursery.records.tags import tags_printed
from tests.making import Nursery, tag_of, today

pytestmark = pytest.mark.django_db

TAKE_OFF = "Take readings are switched off. An owner can switch them on under Office, Round."


def _off(nursery: Nursery, *codes: str) -> None:
    round_changed(by=nursery.by, minutes_a_day=45, tasks_off=codes)


def _asked(thing: LivingThing) -> set[str]:
    return {task.kind for task in round_for(today(), minutes=10_000).today if task.thing_id == thing.pk}


def _outlook(thing: LivingThing) -> Outlook:
    return tasks_for(type(thing).objects.get(pk=thing.pk), today())


def test_a_new_nursery_is_asked_six() -> None:
    house()
    asked = [one.kind.code for one in switches() if one.on and not one.waits]
    assert asked == ["spikes", "pollen", "pollinate", "take", "pods", "bag"]


def test_the_others_come_with_the_first_thing_they_ask_about(nursery: Nursery) -> None:
    house()
    nursery.pot(nursery.seed(days_ago=30))
    assert {one.kind.code for one in switches() if one.waits} == {"harvest", "routine", "retag"}
    nursery.routine()
    tags_printed(by=nursery.by, numbers=[tag_of(nursery.plant()).number], lasts_until=today())
    nursery.record(pods.pods_looked_at, section=nursery.section(days_ago=120), seen="opening")
    assert not [one for one in switches() if one.waits]


def test_what_waits_is_a_kind_and_each_kind_has_its_words() -> None:
    codes = [kind.code for kind in TASK_KINDS]
    assert set(WAITS_FOR) < set(codes)
    for code in codes:
        said = switched_off([code])
        assert said[0].isupper() and (" is switched off." in said or " are switched off." in said)


def test_a_kind_that_is_off_is_gone_from_the_round_and_the_thing_says_why(nursery: Nursery) -> None:
    section = nursery.section(days_ago=40)
    assert _asked(section) == {"take"}
    assert _outlook(section).off == ""
    _off(nursery, "take")
    assert _asked(section) == set()
    assert _outlook(section).off == TAKE_OFF


def test_its_pods_are_asked_about_all_the_same_once_the_take_can_no_longer_be_read(nursery: Nursery) -> None:
    _off(nursery, "take")
    assert _asked(nursery.section(days_ago=70)) == {"pods"}


def test_turning_pods_are_looked_at_where_nobody_is_asked_to_bag_them(nursery: Nursery) -> None:
    section = nursery.section(days_ago=120)
    nursery.record(pods.pods_looked_at, section=section, seen="turning", days_ago=7)
    _off(nursery, "bag")
    assert _asked(section) == {"pods"}
    assert _outlook(section).off.startswith("Questions for bags are switched off.")


def test_every_kind_can_be_off_and_then_nothing_is_asked(nursery: Nursery) -> None:
    section, spike, routine = nursery.section(days_ago=40), nursery.spike(days_ago=20), nursery.routine()
    _off(nursery, *(kind.code for kind in TASK_KINDS))
    assert round_for(today()).today == ()
    for thing in (section, spike, routine):
        assert _outlook(thing).tasks == ()
        assert " switched off." in _outlook(thing).off


def test_what_an_answer_promises_knows_what_is_off(nursery: Nursery) -> None:
    section = nursery.section(days_ago=120)
    nursery.record(pods.pods_looked_at, section=section, seen="turning")
    section.refresh_from_db()
    assert next_words(section, today()) == "then: bag it"
    _off(nursery, "bag")
    assert next_words(section, today()).startswith("look at the pods ")


def test_switched_on_again_it_is_asked_as_before(nursery: Nursery) -> None:
    section = nursery.section(days_ago=40)
    _off(nursery, "take")
    _off(nursery)
    assert _asked(section) == {"take"}


def test_a_kind_that_is_no_more_known_is_passed_over(nursery: Nursery) -> None:
    _off(nursery, "dance")
    assert _asked(nursery.section(days_ago=40)) == {"take"}
