"""Who shared a place and who was cut after whom, worked out by hand. The examples are our own; no outside source."""

from datetime import UTC, date, datetime, timedelta
from uuid import UUID

from nursery.standing import Stay, When
from nursery.tracing import After, Touch, cut_after, shared

HER, NEXT, THIRD, OTHER = 1, 2, 3, 4
BENCH, TRAY = 10, 11
TODAY = date(2026, 11, 25)
MORNING = datetime(2026, 3, 3, 8, tzinfo=UTC)


def _day(month: int, day: int) -> When:
    told = date(2026, month, day)
    return When(told, told, (told, 0))


def _stay(place: int, since: tuple[int, int], until: tuple[int, int] | None = None) -> Stay:
    return Stay(place, _day(*since), _day(*until) if until else None)


def test_days_in_one_place_are_added_up_by_place() -> None:
    """She: bench 1 March to 10 April and again from 1 May to 31 May, tray from 1 May to 31 May.

    The other: bench from 20 March to 11 May, tray from 21 May. By hand: bench 21 days (20 March to 10 April) and
    10 (1 to 11 May), 31 in all; tray 10 days (21 to 31 May).
    """
    hers = [_stay(BENCH, (3, 1), (4, 10)), _stay(BENCH, (5, 1), (5, 31)), _stay(TRAY, (5, 1), (5, 31))]
    other = [_stay(BENCH, (3, 20), (5, 11)), _stay(TRAY, (5, 21))]
    found = shared(hers, other, {BENCH, TRAY}, TODAY)
    assert [(one.place, one.fewest, one.most) for one in found] == [(BENCH, 31, 31), (TRAY, 10, 10)]
    assert [(stay.since.first.day, stay.until.first.day) for stay in found[0].times] == [(20, 10), (1, 11)]


def test_only_the_places_asked_for_count() -> None:
    stays = [_stay(BENCH, (3, 1)), _stay(TRAY, (3, 1))]
    assert [one.place for one in shared(stays, stays, {TRAY}, TODAY)] == [TRAY]
    assert shared([_stay(BENCH, (3, 1), (3, 9))], [_stay(BENCH, (3, 10))], {BENCH}, TODAY) == []


def _touch(plant: int, minute: int, day: date = date(2026, 3, 3), last: date | None = None, act: int = 0) -> Touch:
    return Touch(UUID(int=act or 1000 + minute), plant, day, last or day, MORNING + timedelta(minutes=minute))


def _told(found: list[After]) -> list[tuple[int, int, bool]]:
    return [(one.touch.plant, one.turn, one.sure) for one in found]


def test_those_cut_later_that_day_in_the_order_of_recording() -> None:
    """Recorded that day: other, she, next, third, next again. After her: next (1), third (2); the other was before."""
    touches = [_touch(OTHER, 0), _touch(HER, 1), _touch(NEXT, 2), _touch(THIRD, 3), _touch(NEXT, 4)]
    assert _told(cut_after(HER, touches[::-1])) == [(NEXT, 1, True), (THIRD, 2, True)]


def test_her_next_cut_begins_anew() -> None:
    """She, next, she again, third: third is the first after her second cut, and stands there only."""
    touches = [_touch(HER, 1), _touch(NEXT, 2), _touch(HER, 3), _touch(THIRD, 4)]
    found = cut_after(HER, touches)
    assert {(one.touch.plant, one.turn, one.hers.recorded_at.minute) for one in found} == {(NEXT, 1, 1), (THIRD, 1, 3)}


def test_another_day_is_no_danger_however_late_it_was_recorded() -> None:
    day_before, day_after = date(2026, 3, 2), date(2026, 3, 4)
    touches = [_touch(HER, 1), _touch(NEXT, 2, day_after), _touch(THIRD, 3, day_before)]
    assert cut_after(HER, touches) == []


def test_where_the_day_is_vague_it_may_have_been_the_same_and_stands_last() -> None:
    vague = _touch(NEXT, 2, date(2026, 3, 1), date(2026, 3, 31))
    touches = [_touch(HER, 1), vague, _touch(THIRD, 3)]
    assert _told(cut_after(HER, touches)) == [(THIRD, 2, True), (NEXT, 1, False)]


def test_what_was_cut_in_one_act_with_her_has_no_turn() -> None:
    """Mixed pollen of her and another, then the next plant."""
    touches = [_touch(HER, 1, act=7), _touch(OTHER, 1, act=7), _touch(NEXT, 2)]
    assert _told(cut_after(HER, touches)) == [(OTHER, 0, True), (NEXT, 1, True)]
