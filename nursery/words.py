"""Acts of the nursery's own in a few words, for stories and the journal. Each reads its act's details."""

from datetime import date, datetime

from django.utils import timezone

from nursery.days import Day
from nursery.models import Act, HouseEvent


def joined(*parts: str) -> str:
    """The parts that say something, with commas between; the full stop of one that others follow is left out."""
    told = [part for part in parts if part]
    return ", ".join([*(part.removesuffix(".") for part in told[:-1]), *told[-1:]])


def plant_entered(act: Act) -> str:
    """That it is a cutting of a plant here, whose name it shares, and its pot."""
    return joined("a cutting" if act.plantarrived.struck_from_id else "", act.plantarrived.pot)


def house_event(act: Act) -> str:
    event = act.houseevent
    closed = f"closed until {moment(event.closed_until, timezone.localdate())}" if event.closed_until else ""
    return joined(_what(event), event.words, event.product, _hand(event), closed, "over by then" if event.over else "")


def house_event_ended(act: Act) -> str:
    event = act.houseeventended.event
    return _what(event) or event.words


def happened(act: Act) -> str:
    """What befell a place and when: "treatment, soap spray, 25 Nov"."""
    day = Day(act.day_first, act.day_last, act.said).words(timezone.localdate())
    return joined(_what(act.houseevent), act.houseevent.words, act.houseevent.product, day)


def asked_again(act: Act) -> str:
    """Until when it is left alone: "ask again on 30 Nov", with the year where it is another one."""
    return f"ask again on {Day.on(act.later.until).words(timezone.localdate())}"


def stocktake(act: Act) -> str:
    return f"{act.stocktake.seen} seen"


def not_found(act: Act) -> str:
    return f"in {act.notfound.place.name}" if act.notfound.place else ""


def sample_sent(act: Act) -> str:
    return joined(f"to {act.samplesent.to_whom}", act.samplesent.what_for)


def sample_result(act: Act) -> str:
    """What was looked for, if a sample is named, and whether it was found."""
    result = act.sampleresult
    of = result.sample.what_for or f"sample to {result.sample.to_whom}" if result.sample else ""
    return joined(of, result.get_found_display(), result.words)


def moment(when: datetime, today: date) -> str:
    """A moment as people say it, local: "14:00 today", "14:00 on 27 Nov"."""
    local = timezone.localtime(when)
    days = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    day = days.get((local.date() - today).days) or f"on {Day.on(local.date()).words(today)}"
    return f"{local:%H:%M} {day}"


def _what(event: HouseEvent) -> str:
    """What happened; "something else" is said by its own words alone."""
    return "" if event.what == HouseEvent.What.OTHER and event.words else event.get_what_display()


def _hand(event: HouseEvent) -> str:
    return f"done by {event.done_by}" if event.done_by else ""
