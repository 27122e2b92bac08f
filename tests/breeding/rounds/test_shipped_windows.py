"""Tasks appear and vanish in the windows that the sources give, told day by day through the books.

P1: J. Trop. Forest Sci. 12(2):377-387, 2000 (spike to open flower 28 to 49 days).
P2: J. Trop. Forest Sci. 12(4):635-642, 2000 (receptive about 30 days, best in the first 14).
Take at five to seven weeks, pods 80 to 240 days: from memory. Seedlings after about eight weeks, old seed up to a
year, asked at 3, 6 and 12 months: common practice, no source.
"""

from datetime import timedelta

import pytest

from breeding.records import pods, pots, spikes
from breeding.rounds.tasks import tasks_for
from nursery.days import Day
from nursery.models import LivingThing
from tests.making import Nursery, ago, today

ONE_DAY = timedelta(days=1)


def _looks(nursery: Nursery, thing: LivingThing, kind: str, record, *, ago: int, days: int, **said) -> list[int]:
    """The ages in days at which a grower who does just what is asked looks, always seeing the same."""
    start, looked = today() - ONE_DAY * ago, []
    while True:
        thing = type(thing).objects.get(pk=thing.pk)
        day = min(task.due for task in tasks_for(thing, start).tasks if task.kind == kind)
        if (day - start).days >= days:
            return looked
        assert kind not in {task.kind for task in tasks_for(thing, day - ONE_DAY).due(day - ONE_DAY)}
        looked.append((day - start).days)
        nursery.record(record, day=Day.on(day), **{thing.kind.removeprefix("seed"): thing}, **said)


def _gaps(looks: list[int]) -> list[int]:
    return [later - earlier for earlier, later in zip(looks, looks[1:], strict=False)]


def test_a_spike_is_looked_at_through_its_window_of_28_to_49_days(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=70)
    looks = _looks(nursery, spike, "spikes", spikes.spike_looked, ago=70, days=60, seen="growing")
    assert looks[0] == 10
    assert max(_gaps(looks)) <= 10
    # P1: 28 to 49 days; the window holds at least three looks, and they come closer as it goes on.
    assert len([look for look in looks if 28 <= look <= 49]) >= 3
    assert _gaps(looks) == sorted(_gaps(looks), reverse=True)


def test_pods_are_looked_at_from_after_take_through_day_240(nursery: Nursery) -> None:
    section = nursery.section(days_ago=260)
    nursery.record(pods.take_read, section=section, swelling="most", days_ago=225)
    looks = _looks(nursery, section, "pods", pods.pods_looked_at, ago=260, days=250, seen="green")
    in_window = [gap for look, gap in zip(looks[1:], _gaps(looks), strict=True) if 80 <= look <= 240]
    # From memory: an open pod keeps about 6 to 10 days, and is seen turning before that.
    assert 6 <= min(in_window) <= max(in_window) <= 14
    assert looks[0] >= 35
    assert max(_gaps([35, *looks])) <= 28


def test_a_bagged_section_asks_for_far_fewer_looks(nursery: Nursery) -> None:
    section = nursery.section(days_ago=260)
    nursery.record(pods.take_read, section=section, swelling="most", days_ago=225)
    nursery.record(pods.bagged, section=section, days_ago=200)
    looks = _looks(nursery, section, "pods", pods.pods_looked_at, ago=260, days=250, seen="green")
    in_window = [gap for look, gap in zip(looks[1:], _gaps(looks), strict=True) if 80 <= look <= 240]
    # From memory: a bagged one keeps three to four weeks.
    assert 21 <= min(in_window) <= max(in_window) <= 28


@pytest.mark.parametrize(("day", "asked"), [(34, False), (35, True), (49, True), (62, True), (63, False)])
def test_take_is_asked_for_from_five_weeks_on(nursery: Nursery, day: int, asked: bool) -> None:
    section = nursery.section()
    on = today() + ONE_DAY * day
    assert ("take" in {task.kind for task in tasks_for(section, on).due(on)}) == asked


@pytest.mark.parametrize(
    ("day", "window"), [(0, "best until"), (14, "best until"), (15, "until"), (30, "until"), (31, None)]
)
def test_a_female_is_receptive_for_thirty_days_and_best_for_fourteen(
    nursery: Nursery, day: int, window: str | None
) -> None:
    spike = nursery.female()
    on = today() + ONE_DAY * day
    found = [task.due_words for task in tasks_for(spike, on).due(on) if task.kind == "pollinate"]
    asked = [words.partition("until ")[:2] for words in found]
    assert ["".join(words).strip() for words in asked] == ([window] if window else [])


def test_fresh_seed_is_looked_for_through_week_eight(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=130)
    looks = _looks(nursery, pot, "pots", pots.pot_looked_at, ago=130, days=125, seen="nothing")
    assert looks[0] == 28
    assert any(56 - 14 <= look <= 56 + 14 for look in looks), "about eight weeks"
    assert 91 in looks, "three months"
    assert max(_gaps(looks)) <= 28


def test_old_seed_is_asked_about_at_three_six_and_twelve_months_and_never_closed(nursery: Nursery) -> None:
    lot = nursery.seed_by_post(words="by post", day=Day.unknown())
    pot = nursery.pot(lot, day=ago(500))
    looks = _looks(nursery, pot, "pots", pots.pot_looked_at, ago=500, days=500, seen="nothing")
    assert {91, 182, 365} <= set(looks)
    assert max(_gaps(looks)) <= 28
    pot = type(pot).objects.get(pk=pot.pk)
    assert pot.closed_on is None
    assert tasks_for(pot, today()).tasks
