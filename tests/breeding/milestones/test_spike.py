"""What a spike's acts say of it, one case a line."""

from typing import Any

import pytest

from breeding.milestones.spikes import spike
from nursery.days import Day
from nursery.seen import Seen
from tests.breeding.milestones.told import born, in_order, on, told

FOUND = born("spike_found")


def _look(day: int | Day, seen: str, sex: str = "", sex_from: str = "flowers", **when: Any) -> Seen:
    return told("spike_look", day, seen=seen, sex=sex, sex_from=sex_from if sex else "", **when)


@pytest.mark.parametrize(
    ("acts", "stage", "after", "by"),
    [
        ([], "growing", 0, None),
        ([_look(5, "buds")], "buds", 5, None),
        ([_look(5, "buds"), _look(9, "open")], "open", 5, 9),
        ([_look(9, "open"), _look(5, "buds")], "open", 5, 9),
        ([_look(5, "open"), _look(9, "buds")], "buds", 0, 5),
        ([_look(9, "over")], "over", 0, 9),
        ([_look(9, "aborted")], "aborted", 9, None),
        ([_look(9, "cant_tell")], "growing", 0, None),
        ([_look(5, "open"), _look(9, "cant_tell")], "open", 0, 5),
        ([told("walked_past", 7)], "growing", 7, None),
        ([told("walked_past", 7), _look(9, "open")], "open", 7, 9),
        ([_look(5, "showing"), told("walked_past", 9)], "showing", 0, 5),
        ([told("pollinated", 12, main=False)], "open", 0, 12),
        ([told("pollen_collected", 12, main=False)], "open", 0, 12),
        ([_look(8, "showing"), told("pollinated", 12, main=False)], "showing", 0, 8),
        ([_look(9, "over"), told("pollinated", 12, main=False)], "open", 0, 9),
        ([_look(9, "over"), told("pollinated", Day.about_week(on(10)), main=False)], "over", 0, 9),
        ([_look(Day.about_week(on(20)), "open")], "open", 0, 23),
        ([_look(Day.about_week(on(20)), "buds"), _look(30, "open")], "open", 17, 30),
        ([_look(Day.unknown(), "buds"), _look(30, "open")], "open", 0, 30),
        ([_look(Day.unknown(), "open")], "growing", 0, None),
        ([_look(5, "buds"), _look(Day.unknown(), "aborted")], "aborted", 5, None),
        ([_look(Day.unknown(), "aborted", recorded=8), _look(8, "buds")], "aborted", 8, None),
        ([_look(Day.unknown(), "aborted", recorded=8), _look(9, "buds")], "buds", 9, None),
        ([_look(5, "open"), _look(Day.about_week(on(4)), "over")], "over", 0, 5),
        ([_look(Day.unknown(), "over", recorded=8), told("walked_past", 20)], "over", 20, None),
        ([_look(Day.unknown(), "over", recorded=8), told("pollinated", 20, main=False)], "open", 0, 20),
        ([_look(9, "over"), _look(Day.unknown(), "open")], "over", 0, 9),
    ],
)
def test_how_far_it_is_and_when_it_opened(acts: list[Seen], stage: str, after: int | None, by: int | None) -> None:
    columns = spike(in_order(FOUND, *acts))
    days = [None if day is None else on(day) for day in (after, by)]
    assert [columns["stage"], columns["open_after"], columns["open_by"]] == [stage, *days]


def test_nothing_at_all_is_no_spike() -> None:
    columns = spike([])
    assert (columns["cancelled"], columns["stage"], columns["last_look"]) == (True, "", None)


@pytest.mark.parametrize(
    ("acts", "sex", "sex_from"),
    [
        ([], "", ""),
        ([_look(3, "buds", "male", "buds")], "male", "buds"),
        ([_look(3, "buds", "male", "buds"), _look(9, "open", "female")], "female", "flowers"),
        ([_look(3, "open", "female"), _look(9, "buds", "male", "buds")], "female", "flowers"),
        ([_look(3, "open", "female"), _look(9, "open", "male")], "unclear", "flowers"),
        ([_look(3, "buds", "female", "buds"), _look(4, "buds", "male", "buds")], "male", "buds"),
        ([_look(3, "buds", "female", "buds"), _look(Day.unknown(), "buds", "male", "buds")], "male", "buds"),
    ],
)
def test_flowers_decide_its_sex(acts: list[Seen], sex: str, sex_from: str) -> None:
    columns = spike(in_order(FOUND, *acts))
    assert (columns["sex"], columns["sex_from"]) == (sex, sex_from)


@pytest.mark.parametrize(
    ("acts", "closed_on", "why"),
    [
        ([_look(9, "open")], None, ""),
        ([_look(9, "over")], 9, "over"),
        ([_look(9, "aborted")], 9, "aborted"),
        ([_look(9, "over"), _look(12, "open")], None, ""),
        ([told("stopped", 8)], 8, "stopped"),
        ([told("stopped", 8), told("resumed", 9)], None, ""),
        ([told("stopped", 8), _look(9, "over")], 9, "over"),
        ([_look(9, "buds"), _look(Day.unknown(), "aborted", recorded=12)], 12, "aborted"),
        ([told("stopped", 3), told("resumed", 4), told("stopped", Day.unknown(), recorded=9)], 9, "stopped"),
        ([told("stopped", 8), told("resumed", Day.unknown(), recorded=9)], None, ""),
        ([told("stopped", Day.unknown(), recorded=8), told("resumed", 9)], None, ""),
    ],
)
def test_when_it_is_closed(acts: list[Seen], closed_on: int | None, why: str) -> None:
    columns: dict[str, Any] = spike(in_order(FOUND, *acts))
    assert columns["closed_on"] == (None if closed_on is None else on(closed_on))
    assert columns["closed_why"] == why


def test_a_spike_that_aborted_on_an_unknown_day_was_last_seen_aborted() -> None:
    assert spike(in_order(FOUND, _look(9, "buds"), _look(Day.unknown(), "aborted")))["last_seen"] == "aborted"


@pytest.mark.parametrize(
    ("acts", "until"),
    [
        ([told("postponed", 3, until=on(10))], 10),
        ([told("postponed", 3, until=on(10)), told("postponed", 4, until=on(20))], 20),
        ([told("postponed", 3, until=on(10)), _look(5, "buds")], None),
        ([told("postponed", 3, until=on(10)), told("walked_past", 5)], None),
        ([told("postponed", 3, until=on(10)), told("remarked", 5)], 10),
        ([_look(2, "buds"), told("postponed", Day.unknown(), until=on(10), recorded=3)], 10),
        ([told("postponed", Day.unknown(), until=on(10), recorded=3), _look(5, "buds")], None),
    ],
)
def test_a_postponement_holds_until_it_is_looked_at(acts: list[Seen], until: int | None) -> None:
    assert spike(in_order(FOUND, *acts))["later_until"] == (None if until is None else on(until))
