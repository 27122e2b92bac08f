"""Days of routines: the examples printed in RFC 5545 section 3.8.5.3, and rules of our own (see recurrence.json)."""

import json
import time
from datetime import UTC, date, datetime, timedelta
from itertools import islice, takewhile
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breeding.science.recurrence import checked, days, last_day, next_day

DATA = json.loads(Path(__file__).with_name("recurrence.json").read_text(encoding="utf-8"))
START = date(2026, 1, 5)


def _start(row: dict) -> date:
    return datetime.strptime(row["dtstart"], "%Y%m%dT%H%M%S").date()


def _names(row: dict, zone: ZoneInfo | None = None) -> list[str]:
    """The first days of a rule, one more than are printed; those that an EXDATE takes out left away."""
    start = _start(row)
    text = checked(row["rrule"], start=start, zone=zone or UTC).text
    out = {datetime.strptime(row["exdate"][:8], "%Y%m%d").date()} if "exdate" in row else set()
    found = (day for day in days(text, start) if day not in out)
    return [day.isoformat() for day in islice(found, row.get("count", len(row["dates"])) + 1)]


@pytest.mark.parametrize("row", DATA["recurrence"], ids=lambda row: row["name"])
def test_the_days_printed_in_the_standard(row: dict) -> None:
    found, printed = _names(row, ZoneInfo(row["tzid"])), row["dates"]
    assert len(found) == row["count"] if row["ends"] else len(found) == row["count"] + 1
    found = found[: row["count"]]
    if "..." in printed:
        assert [*found[:3], "...", *found[-3:]] == printed
    else:
        assert found == printed


@pytest.mark.parametrize("row", DATA["own"], ids=lambda row: row["name"])
def test_days_that_the_library_gave(row: dict) -> None:
    # Source: python-dateutil 4.0.0, dateutil.rrule.rrulestr.
    assert _names(row)[: len(row["dates"])] == row["dates"]


def test_every_example_of_the_standard_is_here() -> None:
    assert len(DATA["recurrence"]) == 37


# --- refused ---

REFUSED = {
    "FREQ=DAILY;COUNT=3;UNTIL=20260110T000000": "COUNT and UNTIL both say when it ends. Leave one of them out.",
    "INTERVAL=2": "FREQ is missing. Begin with FREQ=DAILY, WEEKLY, MONTHLY or YEARLY.",
    "FREQ=DAILY;BYMOON=1": "“BYMOON” is no part of a rule. Write it like this, for example FREQ=WEEKLY;BYDAY=MO,TH.",
    "FREQ=DAILY;INTERVAL=0;COUNT=2": "INTERVAL is a whole number from 1 to 3650, not “0”.",
    "": "Write the rule, for example FREQ=WEEKLY;BYDAY=MO,TH.",
    "FREQ=SECONDLY": "A routine comes once a day at most. Write FREQ=DAILY.",
    "FREQ=MINUTELY;INTERVAL=1440": "A routine comes once a day at most. Write FREQ=DAILY.",
    "FREQ=HOURLY": "A routine comes once a day at most. Write FREQ=DAILY.",
    "FREQ=FORTNIGHTLY": "FREQ is DAILY, WEEKLY, MONTHLY or YEARLY, not “FORTNIGHTLY”.",
    "FREQ=DAILY;BYHOUR=9": "A routine comes on a day, not at a time of it. Leave BYHOUR out.",
    "FREQ=DAILY;FREQ=WEEKLY": "FREQ stands in the rule twice. Leave one of them out.",
    "FREQ=DAILY;INTERVAL=99999": "INTERVAL is a whole number from 1 to 3650, not “99999”.",
    "FREQ=YEARLY;INTERVAL=11": "INTERVAL is a whole number from 1 to 10, not “11”.",
    "FREQ=DAILY;COUNT=0": "COUNT is a whole number from 1 to 9999, not “0”.",
    "FREQ=DAILY;COUNT=": "COUNT says nothing. Write something behind its sign, for example FREQ=WEEKLY;BYDAY=MO,TH.",
    "FREQ=DAILY;UNTIL=christmas": "UNTIL is a day, for example UNTIL=20261224.",
    "FREQ=DAILY;UNTIL=20260230": "UNTIL is a day, for example UNTIL=20261224.",
    "FREQ=WEEKLY;BYDAY=XX": "BYDAY takes MO, TU, WE, TH, FR, SA, SU, not “XX”.",
    "FREQ=WEEKLY;BYDAY=1FR": ("A number before a weekday, as in 1FR, goes with FREQ=MONTHLY or FREQ=YEARLY only."),
    "FREQ=MONTHLY;BYDAY=6FR": "The number before a weekday is a whole number from -5 to 5 without 0, not “6”.",
    "FREQ=MONTHLY;BYMONTHDAY=0": "BYMONTHDAY is a whole number from -31 to 31 without 0, not “0”.",
    "FREQ=MONTHLY;BYMONTHDAY=32": "BYMONTHDAY is a whole number from -31 to 31 without 0, not “32”.",
    "FREQ=WEEKLY;BYMONTHDAY=3": ("BYMONTHDAY does not go with FREQ=WEEKLY. Leave it out, or take another FREQ."),
    "FREQ=DAILY;BYSETPOS=2": "BYSETPOS chooses among days. Say which, with BYDAY or BYMONTHDAY.",
    "FREQ=WEEKLY;WKST=8": "WKST is one of MO, TU, WE, TH, FR, SA, SU.",
    f"FREQ=DAILY;BYMONTH={','.join(['1'] * 200)}": "A rule has 200 letters at most. Make two routines of it.",
}
NEVER = "This rule names no day in its first 10 years. Check its months, days and its end."
NAMES_NO_DAY = (
    "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=MONTHLY;BYDAY=5MO;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=DAILY;INTERVAL=7;BYDAY=TU",  # its start is a Monday
    "FREQ=MONTHLY;BYDAY=MO;BYSETPOS=6",
    "FREQ=WEEKLY;BYDAY=MO,TH;BYSETPOS=3",
    "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;BYDAY=MO",  # next on 29 February 2044
    "FREQ=DAILY;UNTIL=20251231",
)


@pytest.mark.parametrize("rule", REFUSED)
def test_a_rule_that_cannot_be_is_refused_in_words(rule: str) -> None:
    with pytest.raises(ValueError) as refusal:
        checked(rule, start=START)
    assert str(refusal.value) == REFUSED[rule]


def test_what_the_library_takes_or_fails_on_is_refused_before_it_sees_it() -> None:
    # Source: python-dateutil 4.0.0 as run; "UNTIL in UTC with a start without zone" is a day of the nursery's here.
    left = {row["rule"] for row in DATA["refused"]} - REFUSED.keys()
    assert left == {"FREQ=DAILY;UNTIL=20260110T000000Z"}


@pytest.mark.parametrize("rule", NAMES_NO_DAY)
def test_a_rule_that_names_no_day_is_refused_and_does_not_hang(rule: str) -> None:
    before = time.monotonic()
    with pytest.raises(ValueError) as refusal:
        checked(rule, start=START)
    assert str(refusal.value) == NEVER
    assert time.monotonic() - before < 3  # it takes a fifth of a second; to the year 9999 it would take minutes


def test_a_rule_with_a_rare_first_day_is_taken() -> None:
    leap = checked("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", start=START).text
    assert next_day(leap, START, START) == date(2028, 2, 29)


@given(st.text(max_size=60))
def test_whatever_is_typed_is_a_rule_or_refused_in_a_sentence(text: str) -> None:
    try:
        assert checked(text, start=START).text
    except ValueError as refusal:
        assert str(refusal).endswith(".")


PARTS = st.sampled_from(
    ["FREQ=DAILY", "FREQ=WEEKLY", "FREQ=MONTHLY", "FREQ=YEARLY", "INTERVAL=3", "COUNT=4", "BYDAY=MO,TH", "BYDAY=-1SU"]
    + ["BYMONTH=2,9", "BYMONTHDAY=29", "BYMONTHDAY=-1", "BYYEARDAY=366", "BYWEEKNO=53", "BYSETPOS=2", "WKST=SU"]
)


@given(parts=st.lists(PARTS, min_size=1, max_size=5), days_on=st.integers(0, 800))
def test_of_any_rule_that_is_taken_last_and_next_day_stand_around_a_day(parts: list[str], days_on: int) -> None:
    try:
        text = checked(";".join(parts), start=START).text
    except ValueError:
        return
    day = START + timedelta(days=days_on)
    last, coming = last_day(text, START, day), next_day(text, START, day)
    assert last is None or START <= last <= day
    assert coming is None or coming > day
    assert last or coming, "it names a day within ten years"


@given(
    often=st.sampled_from(["FREQ=DAILY", "FREQ=WEEKLY"]),
    interval=st.integers(1, 9),
    more=st.sampled_from(["", ";BYDAY=MO", ";BYDAY=TU,SU", ";BYDAY=TU,SU;WKST=SU", ";UNTIL=20260301"]),
    days_on=st.integers(0, 900),
)
def test_years_that_are_not_gone_through_change_nothing(often: str, interval: int, more: str, days_on: int) -> None:
    text, day = f"{often};INTERVAL={interval}{more}", START + timedelta(days=days_on)
    try:
        checked(text, start=START)
    except ValueError:
        return
    whole = list(takewhile(lambda found: found <= day + timedelta(days=200), days(text, START)))
    until = [found for found in whole if found <= day]
    assert last_day(text, START, day) == (until[-1] if until else None)
    assert next_day(text, START, day) == next((found for found in whole if found > day), None)


# --- days, not moments ---


def test_until_counts_by_the_day_on_which_its_moment_falls_in_the_zone() -> None:
    rule = "FREQ=DAILY;UNTIL=20260110T230000Z"
    assert checked(rule, start=START, zone=ZoneInfo("Europe/Amsterdam")).until == date(2026, 1, 11)
    assert checked(rule, start=START, zone=ZoneInfo("America/New_York")).until == date(2026, 1, 10)


@pytest.mark.parametrize("change", [date(2026, 3, 29), date(2026, 10, 25), date(2026, 3, 8), date(2026, 11, 1)])
def test_a_day_on_which_clocks_change_is_a_day_like_any_other(change: date) -> None:
    # Source of the days: IANA time zone data, Europe/Amsterdam and America/New_York.
    around = [change + timedelta(days=step) for step in (-1, 0, 1)]
    assert list(islice(days("FREQ=DAILY", around[0]), 3)) == around
    assert last_day("FREQ=DAILY", START, change) == change
    assert next_day("FREQ=DAILY", START, change) == around[2]


@pytest.mark.parametrize("row", DATA["ages_in_days"], ids=lambda row: row["sown"])
def test_days_between_are_whole_days(row: dict) -> None:
    start, end = date.fromisoformat(row["sown"]), date.fromisoformat(row["on"])
    each = "FREQ=DAILY" if row["days"] == 1 else f"FREQ=DAILY;INTERVAL={row['days']}"
    assert next_day(checked(each, start=start).text, start, start) == end
