"""How long ago, and on which day, in a few words. Pure; where a day is vague, so is its age."""

from datetime import date

from nursery.days import Day

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def day_words(day: date, today: date) -> str:
    """One day as on a calendar, the year left away where it is this year's: "3 Mar"."""
    return Day.on(day).words(today)


def days_words(first: date | None, last: date | None, today: date) -> str:
    """A day of which only the ends are kept.

    >>> d = lambda day: date(2026, 3, day)
    >>> days_words(d(3), d(3), d(9)), days_words(d(1), d(31), d(31)), days_words(None, None, d(9))
    ('3 Mar', '1 Mar to 31 Mar', 'day not known')
    """
    if first is None or last is None:
        return "day not known"
    return day_words(last, today) if first == last else f"{day_words(first, today)} to {day_words(last, today)}"


def ended_words(how: str, day: Day, today: date) -> str:
    """
    >>> [ended_words("died", day, date(2026, 5, 1)) for day in (Day.month(2026, 3), Day.unknown())]
    ['died in March 2026', 'died, day not known']
    """
    return f"{how} {day.words(today)}" if day.is_known else f"{how}, day not known"


def on_day(day: date, today: date) -> str:
    """When something was seen, near days by name.

    >>> [on_day(date(2026, 11, day), date(2026, 11, 25)) for day in (25, 24, 23, 12)]
    ['today', 'yesterday', 'on Monday', 'on 12 Nov']
    """
    ago = (today - day).days
    near = {0: "today", 1: "yesterday"}.get(ago)
    return near or (f"on {WEEKDAYS[day.weekday()]}" if 0 < ago < 7 else f"on {day_words(day, today)}")


def age(first: date | None, last: date | None, today: date) -> str:
    """Days from a day that may be vague until today, as a number or two; empty when not known.

    >>> age(date(2026, 10, 2), date(2026, 10, 2), date(2026, 11, 25)), age(date(2026, 10, 1), date(2026, 10, 31),
    ...     date(2026, 11, 25)), age(None, None, date(2026, 11, 25))
    ('54', '25 to 55', '')
    """
    return between(first, last, today, today)


def between(first: date | None, last: date | None, after: date | None, by: date | None) -> str:
    """Days from one vague day to another, as a number or two; empty when either is not known.

    >>> d = lambda day: date(2026, 3, day)
    >>> between(d(1), d(1), d(20), d(24)), between(d(1), d(3), d(3), d(3)), between(d(1), d(1), None, d(4))
    ('19 to 23', '0 to 2', '3 at most')
    """
    if first is None or last is None or by is None:
        return ""
    most = (by - first).days
    if after is None:
        return f"{most} at most"
    fewest = max((after - last).days, 0)
    return str(most) if fewest == most else f"{fewest} to {most}"


def ago(first: date | None, last: date | None, today: date) -> str:
    """How long ago in words: "today", "yesterday", "54 days ago", "25 to 55 days ago"; empty when not known."""
    days = age(first, last, today)
    return {"": "", "0": "today", "1": "yesterday"}.get(days, f"{days} days ago")


def plural(count: int, one: str, many: str = "") -> str:
    """
    >>> plural(1, "pot"), plural(0, "pot"), plural(2, "cross", "crosses")
    ('1 pot', '0 pots', '2 crosses')
    """
    return f"{count:,} {one if count == 1 else many or one + 's'}"


def joined(*parts: str) -> str:
    """The parts that say something, with commas between."""
    return ", ".join(part for part in parts if part)
