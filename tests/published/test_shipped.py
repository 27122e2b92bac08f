"""The shipped windows hold what their sources say.

P1: Flowering phenology and floral biology of Nepenthes macfarlanei, J. Trop. Forest Sci. 12(2):377-387, 2000.
P2: Pollination biology and breeding system of the same, J. Trop. Forest Sci. 12(4):635-642, 2000.
"""

import pytest

from breeding.science.cadence import next_look_age
from breeding.science.shipped import GRACE_REACHES, SHIPPED, STRENGTHS, shipped

WEEK = 7


def _share_between(step, low, high):
    timing = shipped(step).timing
    return timing.survival(low) - timing.survival(high)


@pytest.mark.parametrize(
    ("step", "low", "high"),
    [
        ("spike_open", 28, 49),  # P1
        ("take", 5 * WEEK, 7 * WEEK),  # from memory
        ("ripe", 80, 240),  # from memory; wider than P1
        ("germination", 4 * WEEK, 16 * WEEK),  # common practice, no source
        ("germination_old", 8 * WEEK, 365),  # common practice, no source
    ],
)
def test_four_in_five_lie_in_the_window_of_the_source(step, low, high):
    assert _share_between(step, low, high) == pytest.approx(0.8, abs=1e-9)


@pytest.mark.parametrize(
    ("step", "low", "high"),
    [
        ("spike_over", 30, 30),  # P2: receptive for about 30 days
        ("ripe", 20 * WEEK, 26 * WEEK),  # P1: pollination to ripe in the wild
        ("turning", 7, 21),  # from memory: ripening runs along a section over one to three weeks
        ("ripe", 80, 130),  # from memory: warm easy hybrids
        ("ripe", 150, 240),  # from memory: cool highlanders
        ("germination", 8 * WEEK, 8 * WEEK),  # common practice, no source: about eight weeks
        ("crowded", 365, 365),  # common practice, no source: about a year
    ],
)
def test_the_window_covers_what_the_source_says(step, low, high):
    row = shipped(step)
    assert row.low <= low <= high <= row.high


@pytest.mark.parametrize(
    ("step", "days"),
    [
        ("spike_over", 30),  # P2
        ("germination", 8 * WEEK),  # common practice, no source
        ("crowded", 365),  # common practice, no source
    ],
)
def test_half_have_come_at_the_time_that_the_source_calls_about(step, days):
    assert shipped(step).timing.median == pytest.approx(days, rel=0.02)


def test_old_seed_is_still_expected_after_months_but_hardly_after_a_year():
    # Common practice, no source: other conditions or older seed, up to a year.
    old = shipped("germination_old").timing
    assert old.survival(180) > 0.3
    assert old.survival(365) == pytest.approx(0.1)


def test_the_graces_of_pods_are_the_careful_ends_of_their_ranges_and_reach_to_the_others():
    # From memory: an open pod keeps about 6-10 days, a bagged one 3-4 weeks.
    row, (plain, bagged) = shipped("ripe"), GRACE_REACHES["ripe"]
    assert (row.grace_plain, row.grace_bagged) == (6, 3 * WEEK)
    assert (row.grace_plain * plain, row.grace_bagged * bagged) == pytest.approx((10, 4 * WEEK))


@pytest.mark.parametrize(
    ("step", "strength"),
    [("spike_open", "P"), ("spike_over", "P"), ("take", "M"), ("ripe", "M"), ("turning", "M")]
    + [(step, "C") for step in ("germination", "germination_old", "crowded")],
)
def test_each_row_says_how_strong_its_source_is(step, strength):
    assert shipped(step).strength == strength


@pytest.mark.parametrize(
    ("strength", "words"), [("C", "common practice, no source."), ("M", "from memory."), ("P", "J. Trop. Forest Sci.")]
)
def test_the_words_of_a_source_fit_its_strength(strength, words):
    rows = [row for row in SHIPPED if row.strength == strength]
    assert rows
    assert [row.step for row in rows if words not in row.source] == []


@pytest.mark.parametrize("row", SHIPPED, ids=lambda row: row.step)
def test_a_row_is_told_in_sentences_and_can_be_used(row):
    assert row.strength in STRENGTHS
    assert row.source.endswith(".") or row.source.endswith(").")
    assert row.note.endswith(".")
    assert 0 < row.grace_plain <= row.grace_bagged
    for grace in (row.grace_plain, row.grace_bagged):
        look = next_look_age(0, timing=row.timing, risk=row.risk, grace=grace, longest_gap=row.longest_gap)
        assert 1 <= look <= row.longest_gap


def test_steps_are_named_once():
    assert len({row.step for row in SHIPPED}) == len(SHIPPED) == 8


def test_an_unknown_step_is_refused():
    with pytest.raises(ValueError) as refusal:
        shipped("lunch")
    assert str(refusal.value) == (
        "No timing is shipped for “lunch”; there is one for spike_open, spike_over, take, ripe, turning, germination, "
        "germination_old, crowded."
    )
