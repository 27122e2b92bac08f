"""What a section's acts say of it, one case a line."""

from datetime import date

import pytest

from breeding.milestones.sections import section
from nursery.days import Day
from nursery.seen import Seen
from tests.breeding.milestones.told import born, in_order, on, told

DABBED = born("pollinated")
UNKNOWN = Day.unknown()


def _pods(day: int | Day, seen: str, **more) -> Seen:
    return told("pod_look", day, seen=seen, **more)


def _take(day: int | Day, swelling: str = "", brown: str = "") -> Seen:
    return told("take_look", day, swelling=swelling, brown=brown)


@pytest.mark.parametrize(
    ("acts", "stage"),
    [
        ([], "pollinated"),
        ([_take(14, brown="some")], "pollinated"),
        ([_take(40, "none")], "no_take"),
        ([_take(40, "cant_tell")], "pollinated"),
        ([_take(40, "third")], "swelling"),
        ([_take(40, "none"), _take(45, "most")], "swelling"),
        ([_take(40, "none"), _pods(60, "green")], "swelling"),
        ([_pods(60, "turning")], "turning"),
        ([_pods(60, "turning"), _pods(61, "cant_tell")], "turning"),
        ([_pods(60, "opening")], "opening"),
        ([_pods(60, "split")], "split"),
        ([_pods(60, "split", pods_left=4)], "split"),
        ([_pods(60, "split", pods_left=0)], "lost"),
        ([told("harvested", 90, what="pods")], "pollinated"),
        ([told("harvested", 90)], "harvested"),
        ([told("harvested", 90), _pods(80, "opening")], "harvested"),
        ([_pods(Day.unknown(), "green")], "swelling"),
        ([_pods(Day.unknown(), "green"), _pods(60, "turning")], "turning"),
        ([told("bagged", 70)], "pollinated"),
        ([told("walked_past", 70)], "pollinated"),
        ([told("harvested", UNKNOWN)], "harvested"),
        ([_pods(90, "opening"), told("harvested", Day(on(88), on(91), "week"))], "harvested"),
        ([_pods(90, "opening"), told("harvested", UNKNOWN, recorded=89)], "opening"),
        ([told("harvested", UNKNOWN, recorded=90), _pods(90, "opening")], "harvested"),
        ([told("harvested", 90), _pods(91, "opening")], "opening"),
        ([told("harvested", 90), _pods(Day.about_week(on(93)), "opening")], "harvested"),
        ([told("harvested", 90), _pods(UNKNOWN, "green")], "harvested"),
        ([told("harvested", 90), _pods(95, "cant_tell"), told("walked_past", 95)], "harvested"),
        ([_pods(95, "green"), _pods(UNKNOWN, "split", pods_left=0)], "lost"),
        ([_take(40, "half"), told("pollinated", 44)], "swelling"),
        ([_take(Day.unknown(), "half")], "swelling"),
        ([_pods(UNKNOWN, "opening")], "opening"),
        ([_pods(80, "turning"), told("pollinated", 84)], "turning"),
        ([_take(40, "none"), told("pollinated", 44)], "pollinated"),
        ([_take(40, "half"), told("harvested", 90), told("pollinated", 95)], "swelling"),
    ],
)
def test_how_far_it_is(acts: list[Seen], stage: str) -> None:
    assert section(in_order(DABBED, *acts))["stage"] == stage


@pytest.mark.parametrize(
    ("acts", "after", "by"),
    [
        ([], 0, None),
        ([_take(40, "half")], 40, None),
        ([_pods(90, "green")], 90, None),
        ([_pods(90, "green", extent="some")], 0, None),
        ([_pods(90, "turning")], 90, None),
        ([_pods(90, "green"), _pods(100, "opening")], 90, 100),
        ([_pods(90, "green"), _pods(100, "split")], 90, 100),
        ([_pods(90, "opening", extent="some")], 0, 90),
        ([told("walked_past", 95), _pods(100, "opening")], 95, 100),
        ([_pods(100, "opening"), told("walked_past", 105)], 0, 100),
        ([told("harvested", 100, pods=20, pods_open=3)], 0, 100),
        ([told("harvested", 100, pods=20, pods_open=0)], 0, None),
        ([told("harvested", 100, pods=20)], 0, None),
        ([_pods(Day.about_week(on(90)), "green"), _pods(Day.about_week(on(110)), "opening")], 87, 113),
        ([_pods(Day.month(2026, 6), "opening")], 0, 121),
        ([_pods(Day.unknown(), "opening"), _pods(100, "green")], 100, None),
    ],
)
def test_between_which_days_the_first_pod_opened(acts: list[Seen], after: int | None, by: int | None) -> None:
    columns = section(in_order(DABBED, *acts))
    assert [columns["open_after"], columns["open_by"]] == [None if day is None else on(day) for day in (after, by)]


def test_day_0_runs_from_the_first_dab_to_the_last() -> None:
    week = Day.about_week(on(10))
    columns = section(in_order(born("pollinated", 4), told("pollinated", 6), told("pollinated", week)))
    assert (columns["day0_first"], columns["day0_last"]) == (on(4), on(13))


def test_a_dab_whose_day_nobody_knows_leaves_day_0_to_the_others() -> None:
    columns = section(in_order(born("pollinated", Day.unknown()), told("pollinated", 6)))
    assert (columns["day0_first"], columns["day0_last"]) == (on(6), on(6))


@pytest.mark.parametrize(
    ("acts", "take"),
    [
        ([_take(14, brown="most")], ""),
        ([_take(40, "half")], "half"),
        ([_take(40, "half"), _take(45, "cant_tell")], "half"),
        ([_take(40, "half"), _take(45, "most")], "most"),
        ([_take(45, "most"), _take(40, "half")], "most"),
    ],
)
def test_the_last_reading_of_swelling_is_the_take(acts: list[Seen], take: str) -> None:
    assert section(in_order(DABBED, *acts))["take"] == take


@pytest.mark.parametrize(
    ("acts", "harvested_on"),
    [
        ([], None),
        ([told("harvested", 91, what="pods")], on(91)),
        ([told("harvested", UNKNOWN, what="pods", recorded=92)], on(92)),
        ([told("harvested", 91, what="pods"), told("harvested", UNKNOWN, what="pods", recorded=94)], on(94)),
        ([told("harvested", UNKNOWN, recorded=92)], None),
        ([told("harvested", UNKNOWN, what="pods", recorded=92), told("harvested", 95)], on(95)),
    ],
)
def test_some_pods_cut_on_an_unknown_day_were_cut_when_it_was_told(acts: list[Seen], harvested_on: date | None) -> None:
    """So the harvest of those pods is asked for no more; when all is cut, no day is made up. Our choice."""
    assert section(in_order(DABBED, _pods(90, "opening"), *acts))["harvested_on"] == harvested_on


@pytest.mark.parametrize(
    ("acts", "is_bagged"),
    [
        ([], False),
        ([told("bagged", 70)], True),
        ([told("bagged", 70), _pods(80, "green")], True),
        ([told("bagged", 70), _pods(80, "green", bagged=False)], False),
        ([_pods(80, "green", bagged=True)], True),
        ([_pods(80, "green", bagged=False), told("bagged", UNKNOWN)], True),
        ([_pods(80, "green", bagged=False), told("bagged", UNKNOWN, recorded=79)], False),
    ],
)
def test_whether_it_is_bagged(acts: list[Seen], is_bagged: bool) -> None:
    assert section(in_order(DABBED, *acts))["bagged"] is is_bagged


@pytest.mark.parametrize(
    ("acts", "closed_on", "why"),
    [
        ([told("harvested", 100, what="pods")], None, ""),
        ([told("harvested", 100)], 100, "harvested"),
        ([_pods(100, "split", pods_left=0)], 100, "lost"),
        ([told("harvested", Day.about_week(on(100)))], 103, "harvested"),
        ([told("harvested", UNKNOWN, recorded=100)], 100, "harvested"),
        ([told("harvested", UNKNOWN, recorded=100), _pods(101, "opening")], None, ""),
    ],
)
def test_when_it_is_closed(acts: list[Seen], closed_on: int | None, why: str) -> None:
    columns = section(in_order(DABBED, *acts))
    assert (columns["closed_on"], columns["closed_why"]) == (None if closed_on is None else on(closed_on), why)


def test_only_the_birth_tells_its_tie_and_size() -> None:
    columns = section(
        in_order(born("pollinated", 0, tie="red", flowers=20), told("pollinated", 3, tie="", flowers=None))
    )
    assert (columns["tie"], columns["flowers"]) == ("red", 20)
