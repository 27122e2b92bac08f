"""When a routine is due. DAY is a Wednesday; what is missed stays due until it is done or falls due anew."""

from datetime import date

import pytest

from breeding.science.recurrence import next_day
from tests.breeding.rounds.rows import DAY, before, due_in, next_of, routine

MONDAYS = "FREQ=WEEKLY;BYDAY=MO"


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (routine(), 0),
        (routine(done_on=before(0)), 1),
        (routine(done_on=before(1)), 0),
        (routine(put_off_on=before(0)), 1),
        (routine(rule=MONDAYS), -2),  # missed on Monday
        (routine(rule=MONDAYS, done_on=before(2)), 5),
        (routine(rule=MONDAYS, done_on=before(3)), -2),  # done on Sunday: that was last week's
        (routine(rule=MONDAYS, done_on=before(1)), 5),  # a day late
        (routine(rule=MONDAYS, put_off_on=before(1)), 0),
        (routine(rule=MONDAYS, put_off_on=before(4)), -2),  # that was last week's
        (routine(rule="FREQ=WEEKLY;BYDAY=WE"), 0),  # last week's was missed, this week's takes its place
        (routine(starts=before(-3)), 3),
        (routine(rule="FREQ=DAILY;UNTIL=20260714"), -1),  # its last day was missed
        (routine(rule="FREQ=DAILY;UNTIL=20260714", done_on=before(1)), None),
        (routine(rule="FREQ=DAILY;COUNT=2", starts=before(5), done_on=before(4)), None),
        (routine(rule="FREQ=DAILY;COUNT=2", starts=before(5), done_on=before(5)), -4),
    ],
)
def test_it_is_due_on_the_last_day_of_its_rule_until_it_is_done(row, due):
    assert due_in("routine", row) == due


def test_on_a_day_to_come_it_is_due_if_its_rule_says_so():
    row = routine(rule=MONDAYS, done_on=before(2))
    assert due_in("routine", row, before(-4)) == 5
    assert due_in("routine", row, before(-5)) == 5
    assert due_in("routine", row, before(-11)) == 5


def test_put_off_for_longer_it_is_not_asked_before():
    assert due_in("routine", routine(later_until=before(-6))) == 6


def test_it_says_how_often_and_when_it_was_done_last():
    told = next_of("routine", routine(rule=MONDAYS, done_on=before(9))).tell(DAY)
    assert told.title == "Mist"
    assert told.reason == "Every Monday; it was to be done on Mon 13 Jul; done last 9 days ago."


def test_a_new_one_says_that_it_was_not_done_yet():
    assert next_of("routine", routine()).tell(DAY).reason == "Every day; not done yet."


@pytest.mark.parametrize(
    ("words", "word"),
    [
        # Legionella in warm stored water: from memory, unchecked.
        ("Mist the warm house", "legionella"),
        # The label comes first: common practice, no source.
        ("feed the seedlings", "product's label"),
        # Bleach never with acids, ammonia or alcohol: government pages.
        ("Clean the trays", "bleach"),
    ],
)
def test_the_usual_caution_stands_with_it(words, word):
    assert word in " ".join(next_of("routine", routine(words=words)).tell(DAY).cautions)


def test_other_words_carry_no_caution():
    assert next_of("routine", routine(words="change the sticky cards")).tell(DAY).cautions == ()


def test_missed_longer_it_grows_more_urgent_but_never_presses():
    urgency = [next_of("routine", routine(rule=MONDAYS, starts=before(9))).weigh(day) for day in (DAY,)]
    yearly = routine(rule="FREQ=YEARLY", starts=before(300))
    assert 1 <= urgency[0] < next_of("routine", yearly).weigh(DAY) <= 3


def test_the_29th_of_february_comes_in_leap_years_only():
    assert next_day("FREQ=YEARLY", date(2024, 2, 29), DAY) == date(2028, 2, 29)
