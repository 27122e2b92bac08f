"""Days as people remember them: how they are kept, said, sorted and counted from."""

from datetime import date, datetime, timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from nursery.days import EARLIEST, HOW_SAID, LATEST, Day, from_form

TODAY = date(2026, 11, 25)
DATES = st.dates(EARLIEST, LATEST)
SAID = st.sampled_from(HOW_SAID)
DAYS = st.builds(from_form, SAID, DATES)
KNOWN = DAYS.filter(lambda day: day.is_known)


def test_it_works():
    day = Day.on(date(2026, 11, 23))
    assert (day.first, day.last, day.said) == (date(2026, 11, 23), date(2026, 11, 23), "exact")
    assert day.words(TODAY) == "23 Nov"
    assert day.age_range(TODAY) == (2, 2)


@pytest.mark.parametrize(
    ("day", "first", "last"),
    [
        (Day.about_week(date(2026, 11, 23)), date(2026, 11, 20), date(2026, 11, 26)),
        (Day.about_week(date(2028, 3, 1)), date(2028, 2, 27), date(2028, 3, 4)),
        (Day.about_week(date(2026, 1, 1)), date(2025, 12, 29), date(2026, 1, 4)),
        (Day.month(2026, 2), date(2026, 2, 1), date(2026, 2, 28)),
        (Day.month(2028, 2), date(2028, 2, 1), date(2028, 2, 29)),
        (Day.month(2100, 2), date(2100, 2, 1), date(2100, 2, 28)),
        (Day.month(2026, 12), date(2026, 12, 1), date(2026, 12, 31)),
        (Day.month(9999, 12), date(9999, 12, 1), date(9999, 12, 31)),
        (Day.season(date(2026, 3, 1)), date(2026, 3, 1), date(2026, 5, 31)),
        (Day.season(date(2026, 8, 31)), date(2026, 6, 1), date(2026, 8, 31)),
        (Day.season(date(2026, 9, 15)), date(2026, 9, 1), date(2026, 11, 30)),
        (Day.season(date(2025, 12, 31)), date(2025, 12, 1), date(2026, 2, 28)),
        (Day.season(date(2028, 2, 29)), date(2027, 12, 1), date(2028, 2, 29)),
        (Day.season(date(2028, 1, 1)), date(2027, 12, 1), date(2028, 2, 29)),
        (Day.year(2026), date(2026, 1, 1), date(2026, 12, 31)),
        (Day.unknown(), None, None),
    ],
)
def test_vague_days_are_kept_as_first_and_last(day, first, last):
    assert (day.first, day.last) == (first, last)


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (Day.on(TODAY), "25 Nov"),
        (Day.on(date(2025, 11, 3)), "3 Nov 2025"),
        (Day.on(date(2025, 12, 31)), "31 Dec 2025"),
        (Day.on(date(2028, 2, 29)), "29 Feb 2028"),
        (Day.about_week(date(2026, 11, 23)), "about 23 Nov"),
        (Day.about_week(date(2026, 1, 1)), "about 1 Jan"),
        (Day.about_week(date(2025, 5, 9)), "about 9 May 2025"),
        (Day.month(2026, 3), "in March 2026"),
        (Day.season(date(2026, 4, 9)), "Mar–May 2026"),
        (Day.season(date(2026, 10, 9)), "Sep–Nov 2026"),
        (Day.season(date(2026, 2, 9)), "Dec 2025–Feb 2026"),
        (Day.year(2025), "in 2025"),
        (Day.unknown(), "day not known"),
    ],
)
def test_days_are_shown_as_they_were_said(day, words):
    assert day.words(TODAY) == words


@pytest.mark.parametrize(
    ("first", "last", "said", "sentence"),
    [
        (TODAY, TODAY, "soon", "A day is said as one of exact, week, month, season, year, unknown; got “soon”."),
        (TODAY, None, "unknown", "A day that is not known has no dates."),
        (None, TODAY, "unknown", "A day that is not known has no dates."),
        (None, None, "exact", "A day said as “exact” needs a first and a last date, without a time."),
        (TODAY, None, "month", "A day said as “month” needs a first and a last date, without a time."),
        (None, TODAY, "year", "A day said as “year” needs a first and a last date, without a time."),
        (
            datetime(2026, 11, 25, 8),
            datetime(2026, 11, 25, 8),
            "exact",
            "A day said as “exact” needs a first and a last date, without a time.",
        ),
        (
            date(2026, 11, 25),
            date(2026, 11, 24),
            "week",
            "From 2026-11-25 to 2026-11-24 is not a day said as “week”.",
        ),
        (
            date(2026, 11, 24),
            date(2026, 11, 25),
            "exact",
            "From 2026-11-24 to 2026-11-25 is not a day said as “exact”.",
        ),
        (
            date(2026, 1, 1),
            date(2027, 1, 2),
            "year",
            "From 2026-01-01 to 2027-01-02 is not a day said as “year”.",
        ),
    ],
)
def test_impossible_days_are_refused(first, last, said, sentence):
    with pytest.raises(ValueError) as refusal:
        Day(first, last, said)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("said", "day", "sentence"),
    [
        ("", TODAY, "Say the day as one of exact, week, month, season, year, unknown; got “”."),
        ("exact", None, "Give a date, or say that the day is not known."),
        ("month", None, "Give a date, or say that the day is not known."),
        ("exact", date(1026, 11, 25), "Give a year from 1950 to 2199; got 1026."),
        ("exact", date(1949, 12, 31), "Give a year from 1950 to 2199; got 1949."),
        ("week", date(9999, 12, 31), "Give a year from 1950 to 2199; got 9999."),
        ("week", date.min, "Give a year from 1950 to 2199; got 1."),
    ],
)
def test_forms_that_tell_no_day_are_refused(said, day, sentence):
    with pytest.raises(ValueError) as refusal:
        from_form(said, day)
    assert str(refusal.value) == sentence


def test_a_day_not_known_needs_no_date_and_ignores_one():
    assert from_form("unknown", None) == from_form("unknown", TODAY) == Day.unknown()


@pytest.mark.parametrize(
    ("day", "middle"),
    [
        (Day.on(TODAY), TODAY),
        (Day.about_week(TODAY), TODAY),
        (Day.month(2026, 2), date(2026, 2, 14)),
        (Day.month(2028, 2), date(2028, 2, 15)),
        (Day.year(2026), date(2026, 7, 2)),
        (Day.unknown(), None),
    ],
)
def test_the_middle_is_a_day_inside(day, middle):
    assert day.middle == middle


def test_ages_are_ranges():
    assert Day.month(2026, 2).age_range(date(2026, 3, 10)) == (10, 37)
    assert Day.month(2028, 2).age_range(date(2028, 3, 10)) == (10, 38)
    assert Day.unknown().age_range(TODAY) is None


def test_inside_a_vague_day_the_age_starts_at_0():
    assert Day.about_week(TODAY).age_range(TODAY) == (0, 3)


def test_an_effect_before_its_cause_has_a_negative_age():
    assert Day.on(date(2026, 11, 27)).age_range(TODAY) == (-2, -2)
    assert Day.year(2027).age_range(TODAY) == (-401, -37)


def test_days_sort_by_their_middle_and_the_unknown_come_first():
    days = [Day.on(date(2026, 3, 20)), Day.month(2026, 3), Day.on(date(2026, 3, 10)), Day.unknown(), Day.year(2025)]
    assert sorted(days, key=lambda day: day.key) == [
        Day.unknown(),
        Day.year(2025),
        Day.on(date(2026, 3, 10)),
        Day.month(2026, 3),
        Day.on(date(2026, 3, 20)),
    ]


@pytest.mark.parametrize(
    ("day", "can_be"),
    [
        (Day.on(TODAY), True),
        (Day.on(TODAY + timedelta(days=1)), False),
        (Day.about_week(TODAY + timedelta(days=3)), True),
        (Day.about_week(TODAY + timedelta(days=4)), False),
        (Day.month(2026, 11), True),
        (Day.month(2026, 12), False),
        (Day.season(date(2026, 12, 1)), False),
        (Day.year(2026), True),
        (Day.year(2027), False),
        (Day.unknown(), True),
    ],
)
def test_a_day_that_has_not_begun_cannot_have_been(day, can_be):
    assert day.not_after(TODAY) is can_be


def test_a_month_in_progress_is_clipped_and_still_said_as_a_month():
    clipped = Day.month(2026, 11).clipped(TODAY)
    assert (clipped.first, clipped.last, clipped.said) == (date(2026, 11, 1), TODAY, "month")
    assert clipped.words(TODAY) == "in November 2026"


def test_a_winter_in_progress_is_still_said_with_both_years():
    assert Day.season(date(2026, 1, 5)).clipped(date(2025, 12, 10)).words(TODAY) == "Dec 2025–Feb 2026"


def test_a_day_that_has_not_begun_cannot_be_clipped():
    with pytest.raises(ValueError) as refusal:
        Day.on(TODAY + timedelta(days=1)).clipped(TODAY)
    assert str(refusal.value) == "That day has not come yet."


@given(SAID, DATES)
def test_the_day_given_lies_inside(said, day):
    told = from_form(said, day)
    assert told.said == said
    assert not told.is_known if said == "unknown" else told.first <= day <= told.last


@given(st.sampled_from(["month", "season", "year"]), DATES)
def test_every_day_inside_tells_the_same(said, day):
    told = from_form(said, day)
    # The first season begins in the December before the first year, and the last one ends after the last year.
    assume(told.first >= EARLIEST and told.last <= LATEST)
    assert from_form(said, told.first) == from_form(said, told.last) == told


@given(st.sampled_from(["month", "season", "year"]), DATES)
def test_months_seasons_and_years_follow_each_other_without_a_gap(said, day):
    told = from_form(said, day)
    after = told.last + timedelta(days=1)
    assert after.day == 1
    if after.year < 2200:
        assert from_form(said, after).first == after


@given(DAYS, DATES)
def test_a_clipped_day_is_kept_in_a_row_and_reads_back_the_same(day, today):
    if not day.not_after(today):
        return
    clipped = day.clipped(today)
    assert Day(clipped.first, clipped.last, clipped.said) == clipped == clipped.clipped(today)
    assert clipped.words(today) == day.words(today)
    assert clipped.last is None or clipped.last <= today


@given(KNOWN, DATES)
def test_ages_are_in_order_and_hold_the_age_of_the_middle(day, on):
    fewest, most = day.age_range(on)
    middle = (on - day.middle).days
    assert fewest <= most
    assert middle <= most
    assert fewest <= max(middle, 0) or most < 0


@given(KNOWN)
def test_the_middle_and_the_key_agree(day):
    assert day.first <= day.middle <= day.last
    assert day.key == (day.middle, day.first)


@given(DAYS, DATES)
def test_words_are_always_there(day, today):
    words = day.words(today)
    assert words == words.strip() != ""
    assert day.said == "exact" or not words[0].isdigit()
