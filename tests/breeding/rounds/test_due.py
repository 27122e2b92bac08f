from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breeding.rounds.due import MOST_FOR_WAITING, Watch, cant_tell, overdue
from breeding.rounds.expected import Expectations, Expected, from_shipped, source_words
from breeding.science.shipped import SHIPPED

START = date(2026, 3, 1)
PODS = from_shipped("ripe")


def _watch(age, looked=None, **facts):
    looked = age if looked is None else looked
    return Watch(START, START + timedelta(days=age), START + timedelta(days=looked), PODS, **facts)


@given(
    age=st.integers(0, 2000),
    since=st.integers(0, 400),
    step=st.sampled_from([row.step for row in SHIPPED]),
    bagged=st.booleans(),
)
def test_the_next_look_is_at_least_tomorrow_and_at_most_the_longest_gap_after_the_last(age, since, step, bagged):
    expected = from_shipped(step)
    looked = START + timedelta(days=age + since)
    due = Watch(START, START + timedelta(days=age), looked, expected, bagged).due
    assert 1 <= (due - looked).days <= expected.longest_gap


def test_a_last_look_before_the_first_possible_day_counts_as_none():
    early = Watch(START, START - timedelta(days=9), START - timedelta(days=9), PODS)
    assert early.due == START + timedelta(days=19)


@pytest.mark.parametrize("age", [40, 60, 90, 131, 200])
def test_a_look_on_its_due_day_keeps_the_accepted_risk_and_a_day_later_would_not(age):
    watch = _watch(age)
    assert (watch.due - watch.looked).days < PODS.longest_gap, "it is due for its risk"
    assert watch.urgency(watch.due - timedelta(days=1), watch.due) <= 1 < watch.urgency(watch.due, watch.due)


def test_urgency_is_nothing_where_only_the_longest_gap_asks():
    assert _watch(0).urgency(START + timedelta(days=20), _watch(0).due) == pytest.approx(0, abs=1e-3)


def test_waiting_adds_to_urgency_up_to_a_point():
    assert [overdue(START + timedelta(days=days), START, 14) for days in (-3, 0, 7, 14)] == [0, 0, 0.5, 1]
    assert overdue(START + timedelta(days=900), START, 14) == MOST_FOR_WAITING


def test_cant_tell_is_asked_again_in_two_days_but_within_the_longest_gap():
    assert cant_tell(START, 10) == START + timedelta(days=2)
    assert cant_tell(START, 1) == START + timedelta(days=1)


def test_absurd_ages_do_not_break_it():
    assert _watch(200_000).due > START + timedelta(days=200_000)
    assert _watch(200_000).urgency(START + timedelta(days=200_001), START) >= 0


@pytest.mark.parametrize(
    ("asked", "found"),
    [(("ripe", 7), "own taxon"), (("ripe", 8), "for all"), (("take", 7), "shipped, from memory")],
)
def test_the_taxons_own_timing_wins_then_the_one_for_all_then_what_is_shipped(asked, found):
    own = Expected("ripe", 100, 120, 6, 21, 0.002, 28, "own taxon")
    for_all = Expected("ripe", 90, 200, 6, 21, 0.002, 28, "for all")
    assert Expectations([(7, own), (None, for_all)]).of(*asked).said == found


@pytest.mark.parametrize("row", SHIPPED, ids=lambda row: row.step)
def test_a_shipped_timing_says_so_until_somebody_changes_it(row):
    assert source_words(row.step, row.low, row.high, row.strength).startswith("shipped, ")
    assert source_words(row.step, row.low + 1, row.high, row.strength) == "set here"
