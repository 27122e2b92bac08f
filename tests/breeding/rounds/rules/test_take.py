"""Read take. Swelling at five to seven weeks is the answer: from memory, as shipped (day 35 to 49)."""

from datetime import timedelta

import pytest

from tests.breeding.rounds.rows import DAY, before, due_in, next_of, section


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (section(day0=0), 35),
        (section(day0=35), 0),
        (section(day0=62), -27),
        (section(day0=63), None),  # goes on to pods unread
        (section(day0=40, last_look=before(2)), 12),  # walked past
        (section(day0=40, last_look=before(0), last_seen="cant_tell"), 2),
        (section(day0=20, last_look=before(0), last_seen="cant_tell"), 15),  # too early to tell: at day 35
        (section(day0=40, last_look=before(20), last_seen="brown_most"), -5),  # brown is a hint, no answer
        (section(day0=40, take="half", stage="swelling"), None),
        (section(day0=50, take="none", stage="no_take", none_readings=1, last_look=before(4)), 10),
        (section(day0=90, take="none", stage="no_take", none_readings=2, last_look=before(4)), 24),
        (section(day0=200, take="none", stage="no_take", none_readings=2, last_look=before(30)), -2),
        (
            section(day0=50, take="none", stage="no_take", none_readings=2, last_look=before(0), last_seen="cant_tell"),
            2,
        ),
        (section(made=80), None),  # day of pollination not known
    ],
)
def test_take_is_read_from_day_35(row, due):
    assert due_in("take", row) == due


def test_take_counts_from_the_first_dab():
    assert due_in("take", section(day0=35, day0_last=before(20))) == 0


@pytest.mark.parametrize(("day", "kind", "other"), [(62, "take", "pods"), (63, "pods", "take")])
def test_a_take_not_read_by_day_63_gives_way_to_the_pods(day, kind, other):
    row, on = section(day0=0), DAY + timedelta(days=day)
    assert next_of(kind, row, on).due <= on
    assert next_of(other, row, on) is None


def test_the_reason_tells_the_window_and_its_source():
    assert next_of("take", section(day0=40)).tell(DAY).reason == (
        "Day 40 since it was pollinated; swelling shows from day 35 to 49 (shipped, from memory); not looked at since."
    )


def test_a_dab_is_no_look():
    dabbed = section(day0=40, day0_last=before(3), last_look=before(3))
    assert next_of("take", dabbed).tell(DAY).reason.endswith("; not looked at since.")
    again = section(day0=60, day0_last=DAY, last_look=DAY, take="none", none_readings=1, last_seen="none")
    assert next_of("take", again).tell(DAY).reason.endswith("; dabbed today; last seen: none swelling.")
    looked = section(day0=60, last_look=before(3), take="none", none_readings=1, last_seen="none", stage="no_take")
    assert next_of("take", looked).tell(DAY).reason.endswith("; last look 3 days ago: none swelling.")


def test_a_reading_of_none_twice_says_that_it_is_asked_seldom_now():
    row = section(day0=90, take="none", stage="no_take", none_readings=2, last_look=before(30), last_seen="none")
    assert "none swelling at 2 readings, so it is asked seldom now" in next_of("take", row).tell(DAY).reason


def test_it_serves_as_well_until_the_window_closes():
    assert next_of("take", section(day0=40)).tell(DAY).until == before(-9)


def test_a_section_dabbed_again_after_a_reading_of_none_is_still_asked_for():
    row = section(day0=60, take="none", stage="pollinated", none_readings=1, last_look=before(3))
    assert due_in("take", row) == 11
