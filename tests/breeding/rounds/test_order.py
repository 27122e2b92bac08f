from datetime import date

import pytest

from breeding.rounds.order import by_urgency, cut, grouped
from breeding.rounds.place_order import PlaceRow, walking_order
from breeding.rounds.tasks import Task

WALK = walking_order([PlaceRow(1, "Cool", None, 1), PlaceRow(2, "Bench 2", 1, 0), PlaceRow(3, "Warm", None, 2)])


def _task(thing_id, urgency=1.0, minutes=1, **facts):
    usual = {
        "kind": "pods",
        "title": "Look at pods",
        "slug": "sections",
        "number": None,
        "name_parts": (),
        "sub": "",
        "place_id": 1,
        "due": date(2026, 7, 15),
        "until": None,
        "due_words": "today",
        "tone": "today",
        "reason": "",
        "icon": "pod-green",
        "look": True,
    }
    return Task(**usual | {"thing_id": thing_id, "urgency": urgency, "minutes": minutes} | facts)


def _ids(tasks):
    return [task.thing_id for task in tasks]


def test_the_most_urgent_comes_first():
    assert _ids(by_urgency([_task(1, 0.5), _task(2, 9), _task(3, 2)])) == [2, 3, 1]


def test_of_equally_urgent_ones_the_first_due_comes_first_and_then_a_fixed_order():
    late = _task(3, due=date(2026, 7, 1))
    assert _ids(by_urgency([_task(2), _task(1), late])) == [3, 1, 2]


@pytest.mark.parametrize(
    ("minutes", "today", "rest"),
    [
        (100, [1, 2, 3, 4], []),
        (30, [1, 2, 4], [3]),  # what is too long for the rest of the time rolls over, a shorter one still fits
        (11, [1, 2], [3, 4]),
        (10, [1], [2, 3, 4]),
        (3, [1], [2, 3, 4]),  # the most urgent is always asked, however long it takes
        (0, [1], [2, 3, 4]),
    ],
)
def test_the_list_is_cut_to_the_minutes_by_risk(minutes, today, rest):
    tasks = [_task(1, 9, 10), _task(2, 5, 1), _task(3, 3, 20), _task(4, 1, 1)]
    found = cut(tasks, minutes)
    assert (_ids(found[0]), _ids(found[1])) == (today, rest)


def test_nothing_is_lost_by_cutting():
    tasks = [_task(number, number % 7, 1 + number % 5) for number in range(50)]
    today, rest = cut(tasks, 37)
    assert sorted(_ids([*today, *rest])) == list(range(50))
    assert sum(task.minutes for task in today) <= 37


def test_an_empty_day_is_an_empty_list():
    assert cut([], 45) == ([], [])


def test_groups_follow_the_walk_and_packets_come_last():
    tasks = [
        _task(1, place_id=3),
        _task(2, place_id=2),
        _task(3, place_id=None, slug="pollen"),
        _task(4, place_id=None),
        _task(5, place_id=1),
        _task(6, place_id=99),
        _task(7, 9, place_id=3),
    ]
    assert [(group.house, group.within, _ids(group.tasks)) for group in grouped(tasks, WALK)] == [
        ("Cool", "", [5]),
        ("Cool", "Bench 2", [2]),
        ("Warm", "", [7, 1]),
        ("Packets", "", [3]),
        ("Place not noted", "", [4, 6]),
    ]


def test_only_looks_are_answered_by_walking_past():
    [group] = grouped([_task(1), _task(2, look=False)], WALK)
    assert _ids(group.looks) == [1]
