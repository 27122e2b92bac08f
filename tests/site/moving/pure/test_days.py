"""Days as people write them. Which words mean which months is common practice, no source."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nursery.days import Day
from nursery.site.moving.tables.day_order import names_seasons, order_must_be_asked, order_told
from nursery.site.moving.tables.days import Reading, day_told, written
from nursery.site.moving.tables.errors import CellWrong

TODAY = date(2026, 11, 25)
HOW = Reading(today=TODAY)
MARCH_9 = Day.on(date(2026, 3, 9))


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-09",
        "2026/3/9",
        "2026.03.09",
        "2026-03-09 00:00:00",
        "2026-03-09T14:30Z",
        "9 Mar 2026",
        "9 March 2026",
        "09 march 2026",
        "9th March 2026",
        "9. Mar. 2026",
        "9-Mar-2026",
        "9 Mar 26",
        "Mar 9, 2026",
        "March 9 2026",
        "March 9th, 2026",
        "Mon 9 Mar 2026",
        "Monday, 9 March 2026",
        " 9   MAR 2026 ",
        "9.3.2026",
        "09.03.2026",
        "9.3.26",
    ],
)
def test_one_exact_day_in_many_ways(text: str) -> None:
    assert day_told(text, HOW) == MARCH_9


@pytest.mark.parametrize(
    "text",
    [
        "2026-03",
        "2026/3",
        "03/2026",
        "3.2026",
        "Mar 2026",
        "March 2026",
        "mar. 2026",
        "early March 2026",
        "mid-March 2026",
        "end of March 2026",
        "2026 March",
        "about March 2026",
    ],
)
def test_a_month_stays_a_month(text: str) -> None:
    assert day_told(text, HOW) == Day.month(2026, 3)


@pytest.mark.parametrize("text", ["2024", "about 2024", "c. 2024", "ca 2024", "~2024"])
def test_a_year_stays_a_year(text: str) -> None:
    assert day_told(text, HOW) == Day.year(2024)


@pytest.mark.parametrize("text", ["about 9 Mar 2026", "~2026-03-09", "around 9.3.2026", "approx. 9 March 2026"])
def test_about_a_day_is_about_a_week(text: str) -> None:
    assert day_told(text, HOW) == Day.about_week(date(2026, 3, 9))


@pytest.mark.parametrize(
    "text", ["", "  ", "unknown", "Unknown.", "?", "???", "-", "–", "n/a", "not known", "don’t know"]
)
def test_unknown_creates_no_day(text: str) -> None:
    assert day_told(text, HOW) == Day.unknown()


@pytest.mark.parametrize(
    ("text", "spring", "first", "last"),
    [
        ("spring 2026", "march", date(2026, 3, 1), date(2026, 5, 31)),
        ("Summer 2025", "march", date(2025, 6, 1), date(2025, 8, 31)),
        ("autumn 2025", "march", date(2025, 9, 1), date(2025, 11, 30)),
        ("fall 2025", "march", date(2025, 9, 1), date(2025, 11, 30)),
        ("winter 2025/26", "march", date(2025, 12, 1), date(2026, 2, 28)),
        ("winter 2023-2024", "march", date(2023, 12, 1), date(2024, 2, 29)),
        ("spring 2025", "september", date(2025, 9, 1), date(2025, 11, 30)),
        ("summer 2024/25", "september", date(2024, 12, 1), date(2025, 2, 28)),
        ("autumn 2025", "september", date(2025, 3, 1), date(2025, 5, 31)),
        ("winter 2025", "september", date(2025, 6, 1), date(2025, 8, 31)),
    ],
)
def test_seasons_north_and_south(text: str, spring: str, first: date, last: date) -> None:
    assert day_told(text, Reading(today=TODAY, spring=spring)) == Day(first, last, "season")


def test_numbers_are_read_as_was_asked() -> None:
    assert day_told("3/4/2026", Reading(today=TODAY, order="day")) == Day.on(date(2026, 4, 3))
    assert day_told("3/4/2026", Reading(today=TODAY, order="month")) == Day.on(date(2026, 3, 4))
    assert day_told("3-4-26", Reading(today=TODAY, order="day")) == Day.on(date(2026, 4, 3))
    assert day_told("4/4/2026", HOW) == Day.on(date(2026, 4, 4)), "both ways the same day"


@pytest.mark.parametrize(
    ("text", "how", "sentence"),
    [
        ("3/4/2026", HOW, "“3/4/2026” may be two days. Say above which number is the day."),
        ("3/25/2026", Reading(TODAY, "day"), "“3/25/2026” does not put the day first, as the others do."),
        ("25/3/2026", Reading(TODAY, "month"), "“25/3/2026” does not put the month first, as the others do."),
        ("29 Feb 2025", HOW, "“29 Feb 2025” is no day of any calendar. Look at it again."),
        ("winter 2025", HOW, "“winter 2025” may begin or end in 2025. Write winter 2024/25 or winter 2025/26."),
        ("9 Mar 27", HOW, "The year “27” may be of two centuries. Write it with four digits."),
        ("1890", HOW, "“1890”: give a year from 1950 to 2199."),
        ("May 1949", HOW, "“May 1949”: give a year from 1950 to 2199."),
        ("0000", HOW, "“0000” is no day of any calendar. Look at it again."),
    ],
)
def test_what_cannot_be_read_is_told(text: str, how: Reading, sentence: str) -> None:
    with pytest.raises(CellWrong) as wrong:
        day_told(text, how)
    assert str(wrong.value) == sentence


@pytest.mark.parametrize(
    "text", ["before 2020", "last week", "9 Mär 2026", "2025 or 2026", "=TODAY()", "<b>2026</b>", "🌱"]
)
def test_what_is_no_day_is_never_guessed(text: str) -> None:
    with pytest.raises(CellWrong) as wrong:
        day_told(text, HOW)
    assert str(wrong.value).endswith("Write it like 2026-03-09, 9 Mar 2026, March 2026, spring 2026, 2026 or unknown.")


DAYS = st.dates(date(1950, 3, 1), date(2100, 1, 1))  # a season of January 1950 begins before any day that is taken
ANY_DAY = st.one_of(
    DAYS.map(Day.on),
    DAYS.map(Day.about_week),
    DAYS.map(lambda day: Day.month(day.year, day.month)),
    DAYS.map(Day.season),
    DAYS.map(lambda day: Day.year(day.year)),
    st.just(Day.unknown()),
)


@given(ANY_DAY, st.sampled_from(["", "day", "month"]), st.sampled_from(["march", "september"]))
def test_what_export_writes_is_read_the_same_whatever_was_asked(day: Day, order: str, spring: str) -> None:
    assert day_told(written(day), Reading(today=TODAY, order=order, spring=spring)) == day


@given(st.text(max_size=30))
def test_no_text_breaks_the_reading(text: str) -> None:
    try:
        day = day_told(text, HOW)
    except CellWrong as wrong:
        assert str(wrong).endswith(".")
    else:
        assert isinstance(day, Day)


# --- what a column tells ---


@pytest.mark.parametrize(
    ("cells", "told", "asked"),
    [
        ([], "", False),
        (["2026-03-09", "March 2026"], "", False),
        (["3/4/2026"], "", True),
        (["3/4/2026", "25/4/2026"], "day", False),
        (["3/4/2026", "4/25/2026"], "month", False),
        (["25/4/2026", "4/25/2026"], "", True),
        (["4/4/2026"], "", False),
    ],
)
def test_a_column_shows_its_order_or_must_be_asked(cells: list[str], told: str, asked: bool) -> None:
    assert (order_told(cells), order_must_be_asked(cells)) == (told, asked)


def test_seasons_are_noticed() -> None:
    assert names_seasons(["2024", "Spring 2024"])
    assert not names_seasons(["2024", "springtail"])
