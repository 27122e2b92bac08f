"""Read back by the icalendar library, and held against what RFC 5545 prints of lines and of whole days."""

from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from breeding.rounds.ahead import Coming
from breeding.rounds.calendar_file import MOST_LINES, calendar_file

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
DAY = date(2026, 11, 25)


def coming(day: date = DAY, **more) -> Coming:
    facts = {
        "turn": 1,
        "place": "Warm house, bench 1",
        "title": "Look at pods",
        "name": "hamata lantern × lowii",
        "number": 208746,
        "minutes": 1,
    }
    return Coming(day, **facts | more)


def written(*tasks: Coming, **more) -> bytes:
    facts = {"house": "Drizzle Lane Nursery", "key": "a1b2", "now": NOW, "round_url": "https://tags.example/"}
    return calendar_file(tasks, **facts | more)


def events(file: bytes) -> list:
    return list(Calendar.from_ical(file).walk("VEVENT"))


def test_a_day_is_one_event_of_a_whole_day_that_marks_nobody_as_busy():
    [event] = events(written(coming(), coming(title="Sow", place="Packets", turn=9, minutes=20)))
    assert event.decoded("dtstart") == DAY
    assert event.decoded("dtend") == DAY + timedelta(days=1)  # RFC 5545 3.6.1: the end of whole days is not in it
    assert event["transp"] == "TRANSPARENT"
    assert event["summary"] == "Round: 2 tasks, 21 min"
    assert event["url"] == "https://tags.example/round/2026-11-25/"
    assert str(event["description"]).split("\n") == [
        "Warm house, bench 1:",
        "- Look at pods · hamata lantern × lowii · 208746",
        "Packets:",
        "- Sow · hamata lantern × lowii · 208746",
    ]


def test_days_follow_each_other_across_a_leap_day_and_a_year_end():
    days = [date(2028, 2, 29), date(2027, 12, 31), date(2028, 3, 1), date(2028, 1, 1)]
    found = events(written(*(coming(day) for day in days)))
    assert [event.decoded("dtstart") for event in found] == sorted(days)


def test_a_day_keeps_its_uid_however_often_it_is_read():
    first = events(written(coming()))
    later = events(written(coming(), coming(DAY + timedelta(days=1)), now=NOW + timedelta(hours=4)))
    assert first[0]["uid"] == later[0]["uid"] != later[1]["uid"]
    assert later[0].decoded("dtstamp") == NOW + timedelta(hours=4)


def test_what_rfc_5545_asks_of_every_calendar_and_event():
    calendar = Calendar.from_ical(written(coming()))
    assert calendar["version"] == "2.0"
    assert calendar["prodid"]
    assert {"uid", "dtstamp", "dtstart"} <= {name.lower() for name in events(written(coming()))[0]}
    assert b"DTSTART;VALUE=DATE:20261125\r\n" in written(coming())  # 3.3.4: a date has no time
    assert b"DTSTAMP:20261125T073000Z\r\n" in written(coming())  # 3.8.7.2: in UTC
    assert b"REFRESH-INTERVAL;VALUE=DURATION:PT4H\r\n" in written(coming())  # RFC 7986 5.7


@given(st.text(max_size=200), st.text(max_size=200))
def test_any_words_come_back_whole_in_lines_of_75_octets(name, house):
    told = "".join(sign for sign in name if sign.isprintable())
    file = written(coming(name=told), house="".join(sign for sign in house if sign.isprintable()))
    assert all(len(line) <= 75 for line in file.split(b"\r\n"))  # 3.1: folded, and lines end in CRLF
    assert b"\n" not in file.replace(b"\r\n", b"")
    [event] = events(file)
    assert (told.strip() in str(event["description"])) or not told.strip()


def test_a_very_long_day_says_how_much_it_leaves_out():
    [event] = events(written(*(coming(number=number) for number in range(MOST_LINES + 7))))
    lines = str(event["description"]).split("\n")
    assert lines[-1] == "and 7 more"
    assert len(lines) == MOST_LINES + 2


def test_an_empty_calendar_is_one_all_the_same():
    assert events(written()) == []
    assert str(Calendar.from_ical(written())["name"]) == "Drizzle Lane Nursery: round"
