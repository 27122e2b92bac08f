"""Where a thing stood when, worked out by hand on one plant, two trays, two benches and two houses.

The example is our own; no outside source.
"""

from datetime import date

import pytest

from nursery.standing import EVER, Move, Stay, When, days_of, stood, together

COOL, WARM, NORTH, LONG, TRAY_1, TRAY_2 = range(1, 7)


def _on(month: int, day: int, turn: int = 0) -> When:
    """An exact day of 2026; ``turn`` is the order of recording within it."""
    told = date(2026, month, day)
    return When(told, told, (told, turn))


def _vague(first: tuple[int, int], last: tuple[int, int]) -> When:
    start, end = date(2026, *first), date(2026, *last)
    return When(start, end, (start + (end - start) / 2, 0))


HOUSES = {NORTH: [Move(COOL, EVER)], LONG: [Move(WARM, EVER)]}
TRAYS = {
    TRAY_1: [Move(NORTH, _on(2, 1)), Move(LONG, _on(4, 10))],
    TRAY_2: [Move(NORTH, _on(2, 1))],
}


def _told(stays: list[Stay]) -> list[tuple[int, str, str]]:
    """Place, first day and day left, for exact days."""
    return [
        (one.place, one.since.first.isoformat()[5:], one.until.first.isoformat()[5:] if one.until else "")
        for one in stays
    ]


def test_a_plant_on_a_tray_that_moves_and_then_by_itself() -> None:
    """Potted onto tray 1 on 1 March; tray 1 goes from North to Long on 10 April; the plant goes to tray 2 on 5 May.

    By hand: tray 1 from 1 March to 5 May, North until 10 April, Long from 10 April to 5 May, then tray 2 and North.
    """
    stays = stood([Move(TRAY_1, _on(3, 1)), Move(TRAY_2, _on(5, 5))], HOUSES | TRAYS)
    assert sorted(_told(stays)) == [
        (COOL, "03-01", "04-10"),
        (COOL, "05-05", ""),
        (WARM, "04-10", "05-05"),
        (NORTH, "03-01", "04-10"),
        (NORTH, "05-05", ""),
        (LONG, "04-10", "05-05"),
        (TRAY_1, "03-01", "05-05"),
        (TRAY_2, "05-05", ""),
    ]
    assert [one.since.first for one in stays] == sorted(one.since.first for one in stays), "oldest first"


def test_from_tray_to_tray_on_one_bench_it_stayed_on_that_bench() -> None:
    stays = stood([Move(TRAY_1, _on(2, 10)), Move(TRAY_2, _on(3, 1))], HOUSES | TRAYS)
    assert (NORTH, "02-10", "") in _told(stays)
    assert (COOL, "02-10", "") in _told(stays)


def test_a_place_is_older_than_its_entry() -> None:
    """The plant came a year before somebody entered the tray; it stood on North all the while."""
    came = When(date(2025, 1, 1), date(2025, 1, 1), (date(2025, 1, 1), 0))
    stays = stood([Move(TRAY_2, came)], HOUSES | TRAYS)
    assert {one.place for one in stays if one.since == came} == {TRAY_2, NORTH, COOL}


def test_what_is_gone_stands_nowhere() -> None:
    stays = stood([Move(NORTH, _on(3, 1)), Move(None, _on(3, 9))], HOUSES)
    assert _told(stays) == [(NORTH, "03-01", "03-09"), (COOL, "03-01", "03-09")]
    assert stood([Move(None, _on(3, 1))], HOUSES) == []


def test_on_one_day_the_order_of_recording_counts() -> None:
    """Put on tray 1 after the tray had been moved that day: it never stood on North. Before: it did."""
    after = stood([Move(TRAY_1, _on(4, 10, turn=5))], HOUSES | TRAYS)
    assert NORTH not in {one.place for one in after}
    before = stood([Move(TRAY_1, _on(4, 10, turn=-1))], HOUSES | TRAYS)
    assert (NORTH, "04-10", "04-10") in _told(before)


def test_vague_days_stay_vague() -> None:
    """Moved to North "in March", to Long on 20 March: it came to North by the 20th at the latest."""
    stays = stood([Move(NORTH, _vague((3, 1), (3, 31))), Move(LONG, _on(3, 20))], {})
    north, long = stays
    assert (north.since.first, north.since.last) == (date(2026, 3, 1), date(2026, 3, 20))
    assert (north.until.first, long.since.first) == (date(2026, 3, 20), date(2026, 3, 20))


def test_a_day_not_known_is_before_all_others_and_no_later_than_the_next() -> None:
    unknown = When(date.min, date.max, (date.min, 0))
    [stay, _] = stood([Move(NORTH, unknown), Move(LONG, _on(3, 20))], {})
    assert (stay.since.first, stay.since.last) == (date.min, date(2026, 3, 20))


def test_a_move_on_a_day_not_known_came_no_earlier_than_what_it_left() -> None:
    """Put on North on 1 March; "moved to Long, day not known", written down on 9 March."""
    north, long = stood(
        [Move(NORTH, _on(3, 1)), Move(LONG, When(date.min, date(2026, 3, 9), (date(2026, 3, 9), 0)))], {}
    )
    assert (north.until.first, north.until.last) == (date(2026, 3, 1), date(2026, 3, 9))
    assert (long.since.first, long.since.last, long.until) == (date(2026, 3, 1), date(2026, 3, 9), None)


@pytest.mark.parametrize(
    ("first", "last", "can", "sure"),
    [
        ((3, 1), (3, 31), True, True),
        ((2, 20), (2, 28), False, False),
        ((3, 3), (3, 4), True, False),  # it came between the 2nd and the 8th
        ((4, 1), (4, 30), True, False),  # it left between 25 March and 5 April
        ((4, 6), (4, 30), False, False),
    ],
)
def test_which_days_a_stay_can_and_does_cover(first, last, can: bool, sure: bool) -> None:
    stay = Stay(NORTH, _vague((3, 2), (3, 8)), _vague((3, 25), (4, 5)))
    days = date(2026, *first), date(2026, *last)
    assert (stay.covers(*days), stay.surely_covers(*days)) == (can, sure)


def test_the_time_that_two_had_in_common() -> None:
    """One from 1 March to 10 April, the other from 20 March on: 20 March to 10 April, 21 days."""
    one, other = Stay(NORTH, _on(3, 1), _on(4, 10)), Stay(NORTH, _on(3, 20))
    shared = together(one, other)
    assert _told([shared]) == [(NORTH, "03-20", "04-10")]
    assert days_of(shared, date(2026, 11, 25)) == (21, 21)
    assert together(one, Stay(NORTH, _on(4, 11))) is None
    assert together(Stay(NORTH, _on(3, 1)), other) == Stay(NORTH, _on(3, 20))


def test_days_in_common_are_counted_to_today_and_as_vague_as_told() -> None:
    assert days_of(Stay(NORTH, _on(3, 1)), date(2026, 3, 11)) == (10, 10)
    assert days_of(Stay(NORTH, _vague((3, 1), (3, 31))), date(2026, 4, 10)) == (10, 40)


def test_places_that_were_entered_in_a_circle_end() -> None:
    circle = {TRAY_1: [Move(TRAY_2, EVER)], TRAY_2: [Move(TRAY_1, EVER)]}
    assert {one.place for one in stood([Move(TRAY_1, _on(3, 1))], circle)} == {TRAY_1, TRAY_2}
