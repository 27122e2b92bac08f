"""What happened to a house as a whole, and that it is over. No time is ever worked out here."""

from datetime import datetime, timedelta

from django.utils import timezone

from nursery.days import Day
from nursery.models import Act, HouseEvent, HouseEventEnded, Place
from nursery.records import registry
from nursery.records.core import Contradiction, Entry, NewAct, recorded
from nursery.records.errors import Refused

LONGEST_CLOSED = timedelta(days=366)


@recorded
def house_event(
    *,
    act: NewAct,
    place: Place,
    what: str,
    words: str = "",
    product: str = "",
    done_by: str = "",
    closed_until: datetime | None = None,
    over: bool = False,
) -> Act:
    """A power cut, heat, frost, a treatment or something else befell a place, and all that stands in it.

    ``closed_until`` is typed from the label of a treatment's product. ``over`` says that it had ended already.
    """
    facts = {"what": what, "words": words.strip(), "product": product.strip(), "done_by": done_by.strip()}
    facts |= {"closed_until": closed_until, "over": over}
    entry = Entry(act, "house_event", on=[place], said=facts)
    if sent := entry.sent_before():
        return sent
    if closed_until and closed_until - entry.recorded_at > LONGEST_CLOSED:
        raise Refused("closed_absurd", "That is more than a year away. Check the year.", field="closed_until")
    flags = closing_contradictions(closed_until=closed_until, over=over, day=entry.day, now=entry.recorded_at)
    row = entry.keep(place, HouseEvent(**facts), flags=flags)
    _take_over_ends(row.houseevent, act)
    return row


@recorded
def house_event_ended(*, act: NewAct, event: HouseEvent) -> Act:
    """Power is back, the house is open again: what was told of a place is over."""
    place = registry.instance_of(event.act.thing)
    entry = Entry(act, "house_event_ended", on=[place], said={"event": event.pk})
    if sent := entry.sent_before():
        return sent
    flags = end_contradictions(event, day=entry.day, now=entry.recorded_at)
    return entry.keep(place, HouseEventEnded(event=event), flags=flags)


def _take_over_ends(event: HouseEvent, act: NewAct) -> None:
    """The end of a version before is the end of this one; not where this one is closed for longer than anybody knew."""
    versions = [act.replaces, act.again.version if act.again else None]
    for one in versions:
        before = HouseEvent.objects.filter(act=one).first() if one else None
        if before and not _closes_longer(event, before):
            before.ends.update(event=event)


def _closes_longer(event: HouseEvent, before: HouseEvent) -> bool:
    return event.closed_until is not None and (before.closed_until is None or event.closed_until > before.closed_until)


def closing_contradictions(
    *, closed_until: datetime | None, over: bool, day: Day, now: datetime
) -> list[Contradiction]:
    if closed_until is None:
        return []
    if day.first and timezone.localdate(closed_until) < day.first:
        return [Contradiction("closed_before_treated", "It would be closed until a time before it was treated.")]
    return [_too_early()] if over and now < closed_until else []


def end_contradictions(event: HouseEvent, *, day: Day, now: datetime) -> list[Contradiction]:
    flags = []
    if event.closed_until and (now < event.closed_until or _before(day, timezone.localdate(event.closed_until))):
        flags.append(_too_early())
    if _before(day, event.act.day_first):
        flags.append(Contradiction("ended_before_it_began", "This is older than the day on which it began."))
    return flags


def _before(day: Day, start) -> bool:
    return bool(start and day.last and day.last < start)


def _too_early() -> Contradiction:
    return Contradiction(
        "open_before_label", "The time typed from the label has not come by then. Look at the label again."
    )
