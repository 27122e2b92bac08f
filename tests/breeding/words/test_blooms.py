"""The picture of when a clone was seen in flower: where its bars stand, worked out by hand."""

from datetime import date

from breeding.words.blooms import LEFT, TOP, YEAR_HEIGHT, Bloom, chart_of


def bloom(first: date, last: date, **facts) -> Bloom:
    return Bloom(first, last, **{"sex": "female", "url": "/spikes/1/", "number": 7, "on": False} | facts)


def test_nothing_seen_in_flower_is_no_picture():
    assert chart_of([]) is None


def test_a_bar_begins_on_its_first_day_and_covers_its_last():
    # 1 March is day 61 of a leap year, which every row is as wide as: a unit a day.
    [bar] = chart_of([bloom(date(2026, 3, 1), date(2026, 3, 10))]).bars
    assert (bar.x - LEFT, bar.width, bar.y) == (60, 10, TOP)
    assert bar.words == "1 Mar 2026 to 10 Mar 2026"


def test_a_day_is_seen_too():
    [bar] = chart_of([bloom(date(2026, 3, 1), date(2026, 3, 1))]).bars
    assert bar.width == 1


def test_flowering_over_the_turn_of_the_year_has_a_bar_in_each():
    chart = chart_of([bloom(date(2025, 12, 30), date(2026, 1, 2))])
    assert [(bar.x - LEFT, bar.y) for bar in chart.bars] == [(364, TOP + YEAR_HEIGHT), (0, TOP)]
    assert [mark.text for mark in chart.years] == ["2026", "2025"]


def test_years_without_a_flower_have_a_row_too():
    chart = chart_of([bloom(date(2023, 5, 1), date(2023, 5, 9)), bloom(date(2026, 5, 1), date(2026, 5, 9))])
    assert [mark.text for mark in chart.years] == ["2026", "2025", "2024", "2023"]
    assert chart.words == "Days in flower by year, 2023 to 2026"
    assert len({bar.x for bar in chart.bars}) == 1, "the same day of the year stands at the same place"


def test_the_29th_of_february_has_its_place():
    [bar] = chart_of([bloom(date(2024, 2, 29), date(2024, 3, 1))]).bars
    assert bar.width == 2


def test_days_are_counted_with_both_ends():
    assert bloom(date(2026, 3, 1), date(2026, 3, 10)).days == 10
