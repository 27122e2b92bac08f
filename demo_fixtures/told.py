"""Days as the growers tell them, counted back from the day of loading."""

from dataclasses import dataclass
from datetime import date, timedelta

from nursery.days import Day, Said


@dataclass(frozen=True)
class Told:
    """A day ``ago`` days before today, told as exactly as ``said``."""

    ago: int
    said: Said = "exact"

    def day(self, today: date) -> Day:
        day = today - timedelta(days=self.ago)
        match self.said:
            case "week":
                return Day.about_week(day)
            case "month":
                return Day.month(day.year, day.month)
            case "season":
                return Day.season(day)
            case "year":
                return Day.year(day.year)
            case "unknown":
                return Day.unknown()
        return Day.on(day)


def on(ago: int) -> Told:
    return Told(ago)


def about_week(ago: int) -> Told:
    return Told(ago, "week")


def in_month(ago: int) -> Told:
    return Told(ago, "month")


def in_season(ago: int) -> Told:
    return Told(ago, "season")


def in_year(ago: int) -> Told:
    return Told(ago, "year")


NOT_KNOWN = Told(0, "unknown")
