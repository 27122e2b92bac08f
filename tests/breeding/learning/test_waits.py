"""What a wait tells, cut short at an odd time, or as it was known on an earlier day."""

from datetime import date, timedelta

import numpy as np
import pytest

from breeding.learning.calibration import Stretch, calibrated, stretch, stretches
from breeding.learning.waits import Wait, arranged, cut_short, known_by, told, written
from breeding.science.phenology import fit
from breeding.science.predicted import Predicted
from breeding.science.shares import wilson
from breeding.science.timings import Timing


def day(number: int) -> date:
    return date(2026, 1, 1) + timedelta(days=number)


def wait(start: int, not_yet: int, seen: int | None = None, *, until: int | None = None) -> Wait:
    last = day(start if until is None else until)
    return Wait(1, day(start), last, day(not_yet), None if seen is None else day(seen), 3, 4)


@pytest.mark.parametrize(
    ("start", "came", "expected"),
    [
        pytest.param((0, 0), (40, 47), (0, 0, 40, 47), id="looked at before and after it came"),
        pytest.param((0, 0), (None, 47), (0, 0, 0, 47), id="never looked at before it had come"),
        pytest.param((0, 9), (40, 47), (0, 9, 40, 47), id="a vague start stays an interval"),
        pytest.param((0, 0), (40, None), (0, 0, 40, None), id="not seen to come: known until the last look"),
        pytest.param((0, 9), (5, None), None, id="nobody looked since it surely began"),
        pytest.param((5, 5), (None, 5), None, id="there on the day it began: how long it took is not told"),
        pytest.param((None, None), (40, 47), None, id="nobody knows since when"),
    ],
)
def test_what_a_thing_tells(start: tuple, came: tuple, expected: tuple | None) -> None:
    days = [[None if one is None else day(one) for one in pair] for pair in (start, came)]
    found = told(1, *map(tuple, days))
    assert (found and found[1:5]) == (expected and tuple(None if one is None else day(one) for one in expected))


@pytest.mark.parametrize(
    ("told_of", "expected"),
    [
        pytest.param(wait(0, 10, 19), wait(0, 10, 19), id="over before"),
        pytest.param(wait(31, 40, 50), wait(31, 40, 50), id="began after"),
        pytest.param(wait(0, 25, 40), wait(0, 19), id="ran through it: not come by the day before, that much is known"),
        pytest.param(wait(0, 15, 25), wait(0, 15), id="came in it"),
        pytest.param(wait(0, 12, None), wait(0, 12, None), id="last looked at before it"),
        pytest.param(wait(22, 30, 40), None, id="began in it"),
        pytest.param(wait(15, 30, 40, until=24), None, id="may have begun in it"),
        pytest.param(wait(0, 0, 25), None, id="not looked at before it"),
    ],
)
def test_days_20_to_30_are_left_out(told_of: Wait, expected: Wait | None) -> None:
    assert cut_short(told_of, day(20), day(30)) == expected


def test_as_known_on_an_earlier_day() -> None:
    assert known_by(wait(0, 40, 47), day(44)) == wait(0, 40)
    assert known_by(wait(0, 40, 47), day(47)) == wait(0, 40, 47)
    assert known_by(wait(10, 40, 47), day(9)) is None


def test_the_arrays_hold_the_same_and_the_bytes_do_not_depend_on_the_order() -> None:
    waits = [wait(0, 40, 47), wait(3, 9)]
    arrays = arranged(waits)
    assert arrays.seen_by[0] - arrays.start_first[0] == 47 and np.isnan(arrays.seen_by[1])
    assert (arrays.taxon.tolist(), arrays.clone.tolist(), arrays.spike.tolist()) == ([3, 3], [4, 4], [-1, -1])
    assert written(waits) == written(waits[::-1]) != written(waits[:1])


# --- observed against predicted ---

LAW = Predicted(((1.0, 50.0, 0.2),), never=0.2)


def test_a_wait_lies_where_its_law_puts_its_days() -> None:
    come = stretch(wait(0, 40, 50), LAW)
    assert (come.high, come.came, come.weight) == (0.5, True, 1.0)
    assert come.low == pytest.approx(1 - LAW.survival(40))
    assert stretch(wait(0, 50), LAW) == Stretch(0.5, 1.0, False, pytest.approx(0.4 / 0.6))  # Bayes: 0.8·0.5 of 0.6
    assert stretch(wait(0, 5000), LAW).weight == pytest.approx(0, abs=1e-6)


def test_even_stretches_are_a_right_prediction() -> None:
    even = [Stretch(at / 20, (at + 1) / 20, True) for at in range(20)]
    found = calibrated(day(0), even)
    assert [one.had_come for one in found.held] == pytest.approx([0.1, 0.25, 0.5, 0.75, 0.9])
    assert (found.inside.had_come, found.came, found.waiting) == (pytest.approx(0.8), 20, 0)
    assert (found.inside.low, found.inside.high) == wilson(16, 20)


def test_each_wait_is_held_against_what_was_known_before_it_began() -> None:
    """Quick ones first, slow ones later: what was learned from the quick must not know of the slow."""
    quick = [wait(10 * turn, 10 * turn + 48, 10 * turn + 52) for turn in range(10)]
    slow = [wait(100 + 10 * turn, 100 + 10 * turn + 148, 100 + 10 * turn + 152) for turn in range(10)]
    asked: list[int] = []

    def fitted(known):
        asked.append(max(one.seen_by for one in known if one.seen_by).toordinal() - day(0).toordinal())
        return fit(arranged(known), shipped=Timing(40, 60))

    since, found = stretches([*quick, *slow], fitted)
    assert since == day(70) and asked[0] <= 70
    assert min(one.low for one in found[-2:]) > 0.99 and len(found) == 12
    assert stretches(quick[:7], fitted) is None
