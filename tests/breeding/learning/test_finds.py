"""How long an open pod keeps, from pods that were found open: what counts as a find, and what is learned from it."""

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from breeding.learning import graces
from breeding.learning.finds import Find, as_found
from breeding.learning.gather import records_until
from breeding.learning.graces import learned_grace
from breeding.learning.stamp import midnight
from breeding.models import Section
from breeding.records.pods import bagged, harvested, pods_looked_at
from breeding.science.shipped import graces as set_here
from breeding.science.shipped import shipped
from nursery.records.house_log import house_event
from nursery.records.undo import undone
from tests.making import Nursery, today

DAY = date(2026, 7, 15)
TURNING = shipped("turning").timing


def _finds(moment: datetime | None = None) -> dict[int, tuple[int, int, bool, bool]]:
    """By section: days before today of the two looks, whether turning, whether split."""
    records = records_until(moment or midnight(today() + timedelta(days=1)), today())
    return {
        one.thing: ((today() - one.not_yet).days, (today() - one.by).days, one.turning, one.split)
        for one in records.finds
    }


def _looked(nursery: Nursery, *looks: tuple[int, str], **facts: Any) -> int:
    section = nursery.section(days_ago=150)
    for days_ago, seen in looks:
        nursery.record(pods_looked_at, section=section, seen=seen, days_ago=days_ago, **facts)
    return section.pk


def _section(pk: int) -> Section:
    return Section.objects.get(pk=pk)


def test_pairs_of_looks_at_bare_pods_are_finds(nursery: Nursery) -> None:
    """One section for each way in which a pair can tell or not; days are told back from today."""
    green = _looked(nursery, (40, "green"), (30, "opening"))
    turning = _looked(nursery, (44, "green"), (40, "turning"), (33, "split"))
    turned_between = _looked(nursery, (40, "green"), (36, "cant_tell"), (30, "split"), (28, "opening"))
    both_that_day = _looked(nursery, (40, "green"), (30, "opening"), (30, "split"))
    nothing = [
        _looked(nursery, (30, "opening")),  # pollinated 120 days before: it opened on any of many days
        _looked(nursery, (60, "green"), (30, "split")),
        _looked(nursery, (40, "green")),
        _looked(nursery, (40, "green"), (30, "opening"), bagged=True),
    ]
    with_bag = _looked(nursery, (40, "turning"), (30, "split"))
    bag_after = _looked(nursery, (40, "turning"), (31, "opening"))
    cut_open = _looked(nursery, (40, "green"))
    nursery.record(bagged, section=_section(with_bag), days_ago=39)
    nursery.record(bagged, section=_section(bag_after), days_ago=31)
    nursery.record(harvested, section=_section(cut_open), what="pods", pods=3, pods_open=1, days_ago=32)
    taken_back = _looked(nursery, (40, "green"))
    wrong = nursery.record(pods_looked_at, section=_section(taken_back), seen="split", days_ago=35)
    nursery.record(undone, target=wrong)
    found = _finds()
    assert found == {
        green: (40, 30, False, False),
        turning: (40, 33, True, True),
        turned_between: (40, 30, False, True),
        both_that_day: (40, 30, False, True),
        bag_after: (40, 31, True, False),
    }
    assert not {*nothing, with_bag, cut_open, taken_back} & found.keys()
    assert _finds(midnight(today())) == {}  # all of it was recorded today


def test_pods_that_stood_in_a_hot_spell_say_nothing_of_other_days(nursery: Nursery) -> None:
    house = nursery.house()
    here = nursery.section(nursery.spike(nursery.plant(place=nursery.bench(inside=house)), sex="female", days_ago=160))
    elsewhere = nursery.section(days_ago=150)
    for section in (here, elsewhere):
        nursery.record(pods_looked_at, section=section, seen="green", days_ago=40)
        nursery.record(pods_looked_at, section=section, seen="split", days_ago=30)
    nursery.record(house_event, place=house, what="heat", over=True, days_ago=50)
    nursery.record(house_event, place=house, what="frost", over=True, days_ago=35)
    assert _finds().keys() == {here.pk, elsewhere.pk}
    nursery.record(house_event, place=house, what="heat", over=True, days_ago=33)
    assert _finds().keys() == {elsewhere.pk}


# --- what is learned ---


def _rows(days: int, split: bool, times: int) -> list[Find]:
    return [Find(turn, 3, 9, DAY - timedelta(days=days), DAY, True, split) for turn in range(times)]


@pytest.fixture(autouse=True)
def folder(settings: Any, tmp_path: Path) -> Path:
    settings.LEARNED = tmp_path
    return tmp_path


def test_a_grace_is_learned_on_top_of_the_days_set_and_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    keeps, spills = _rows(9, False, 12), _rows(9, True, 12)
    assert learned_grace("grace", 6, [], TURNING) is None
    longer, shorter = (learned_grace("grace", 6, finds, TURNING) for finds in (keeps, spills))
    assert (longer.n, longer.split, shorter.split) == (12, 0, 12)
    assert shorter.grace.mean < set_here("ripe", 6, bagged=False).mean < longer.grace.mean
    assert learned_grace("grace", 12, spills, TURNING).grace.mean > shorter.grace.mean
    again = learned_grace("grace", 6, keeps, TURNING)
    monkeypatch.setattr(graces, "grace_now", None)
    assert learned_grace("grace", 6, list(reversed(keeps)), TURNING) == again == longer


@pytest.mark.parametrize("text", ["", "[]", '{"key": "k", "told": [[6], [0.5], 1, 0]}', '{"key": "k", "told": 3}'])
def test_a_broken_file_is_made_again_and_a_failure_leaves_what_was_learned_last(
    folder: Path, text: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    first = learned_grace("grace", 6, _rows(9, False, 2), TURNING)
    (folder / "grace.json").write_text(text)
    assert learned_grace("grace", 6, _rows(9, False, 2), TURNING) == first
    monkeypatch.setattr(graces, "learned", lambda *_, **__: 1 / 0)
    assert learned_grace("grace", 6, _rows(9, True, 2), TURNING) == first
    assert learned_grace("grace-3", 6, _rows(9, True, 2), TURNING) is None
    assert "Learning grace failed. What was learned last is used." in caplog.text


def test_finds_come_in_one_order_whatever_theirs() -> None:
    mixed = [*_rows(9, True, 1), *_rows(4, False, 1)]
    assert as_found(mixed) == as_found(reversed(mixed)) == ((4, 9), (True, True), (False, True))
