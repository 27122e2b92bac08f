"""Look for seedlings.

Fresh seed about eight weeks (day 28 to 112), old seed up to a year (day 56 to 365), asked at 3, 6 and 12 months,
crowded after about a year: common practice, no source.
"""

import pytest

from breeding.rounds.rules.pots import step
from breeding.science.cadence import next_look
from breeding.science.grace import Grace
from breeding.science.shipped import shipped
from tests.breeding.rounds.rows import DAY, before, due_in, next_of, pot


def silent(sown, looked, **facts):
    usual = {"ripe": sown + 5, "last_look": before(looked), "first_after": before(looked), "last_seen": "nothing"}
    return pot(**{"sown": sown} | usual | facts)


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (pot(sown=0, ripe=60), "germination"),
        (pot(sown=0, ripe=61), "germination_old"),
        (pot(sown=0), "germination_old"),  # seed of unknown age
        (pot(ripe=10), "germination_old"),  # sown on a day not known
    ],
)
def test_seed_older_than_sixty_days_at_sowing_is_old(row, expected):
    assert step(row) == expected


@pytest.mark.parametrize("age", [0, 20, 40, 56, 70])
def test_fresh_seed_is_looked_at_by_the_cadence(age):
    row = shipped("germination")
    expected = next_look(age, row.timing, grace=Grace.of(14), risk=0.1, longest_gap=28)
    assert due_in("pots", silent(age, 0)) == expected - age


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (pot(sown=0, ripe=5), 28),  # four weeks at the most
        (silent(90, 0), 1),  # three months
        (silent(170, 0), 12),  # six months
        (silent(364, 0), 1),  # a year
        (silent(364, 1, last_seen="cant_tell", last_look=before(0)), 2),
        (silent(500, 3), 13),  # asked for ever, never closed by itself
        (pot(sown=10, ripe=5, stage="up", last_look=before(10), first_by=before(10)), 80),
        (pot(sown=10, ripe=5, stage="up", last_look=before(0), last_seen="cant_tell"), 2),
        (pot(sown=10, ripe=5, stage="up", made=0), 80),  # up on a day not known
    ],
)
def test_a_pot_is_asked_about(row, due):
    assert due_in("pots", row) == due


def test_a_pot_sown_on_a_day_not_known_is_looked_at_within_four_weeks_of_being_entered():
    assert 1 <= due_in("pots", pot(made=0)) <= 28


@pytest.mark.parametrize(
    ("sown", "looked", "words"),
    [
        (90, 10, ""),
        (91, 10, "nothing up after three months, so say whether to keep it"),
        (182, 10, "nothing up after six months, so say whether to keep it"),
        (400, 36, "nothing up after a year, so say whether to keep it"),
        (400, 20, ""),  # was asked then
    ],
)
def test_a_silent_pot_asks_whether_to_keep_it_at_three_six_and_twelve_months(sown, looked, words):
    reason = next_of("pots", silent(sown, looked)).tell(DAY).reason
    assert ("so say whether to keep it" in reason) == bool(words)
    assert words in reason


def test_the_reason_tells_which_seed_it_was():
    assert next_of("pots", silent(40, 20)).tell(DAY).reason == (
        "Day 40 since it was sown; usual is day 28 to 112, middle 56 (shipped, common practice) for fresh seed; "
        "last look 20 days ago: nothing yet."
    )
    assert "for old seed or of unknown age" in next_of("pots", silent(40, 20, ripe=400)).tell(DAY).reason


@pytest.mark.parametrize(("first", "title"), [(100, "Look at seedlings"), (274, "Pot on?")])
def test_seedlings_want_potting_on_after_about_a_year(first, title):
    row = pot(
        sown=first + 50,
        ripe=first + 55,
        stage="up",
        first_after=before(first),
        first_by=before(first),
        last_look=before(1),
    )
    told = next_of("pots", row).tell(DAY)
    assert told.title == title
    assert ("see whether to pot on" in told.reason) == (title == "Pot on?")


def _split(days: int, **facts):
    """A pot that was split so many days before DAY, which had been up for a year by then."""
    day = before(days)
    usual = {"sown": 500, "ripe": 505, "stage": "up", "first_by": before(400), "last_look": day}
    return pot(**usual | {"split_first": day, "split_last": day} | facts)


@pytest.mark.parametrize(
    ("row", "due", "reason"),
    [
        (_split(30), 60, "Day 30 since it was split; not looked at since."),
        (_split(30, split_from_id=3, first_by=None), 60, "Day 30 since it was split off; not looked at since."),
        (
            _split(30, last_look=before(4), last_seen="few"),
            86,
            "Day 30 since it was split; last look 4 days ago: few.",
        ),
        (
            _split(9, split_from_id=3, first_by=None, split_first=None, last_look=None),
            81,
            "It was split off on a day not known; not looked at since.",
        ),
    ],
)
def test_after_a_split_seedlings_have_room_and_are_looked_at_once_in_a_quarter(row, due, reason):
    told = next_of("pots", row).tell(DAY)
    assert (due_in("pots", row), told.reason, told.title) == (due, reason, "Look at seedlings")
