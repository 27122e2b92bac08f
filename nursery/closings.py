"""What is going on in the houses, as banners: told as typed, until somebody records that it is over."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.utils import timezone

from nursery.days import Day
from nursery.links import act_url, thing_url
from nursery.models import HouseEvent, HouseEventEnded, Person, Place
from nursery.where import place_words
from nursery.words import moment

GOING_ON = {
    HouseEvent.What.POWER: "Power cut",
    HouseEvent.What.HEAT: "Heat",
    HouseEvent.What.FROST: "Frost",
    HouseEvent.What.TREATMENT: "Treatment",
}


@dataclass(frozen=True)
class Banner:
    """One thing that is going on; ``end_url`` is where a person says that it is over, empty for who may not."""

    words: str
    place_url: str
    end_url: str = ""


def open_events() -> list[HouseEvent]:
    """What nobody has said to be over, the latest first; one query."""
    ended = HouseEventEnded.objects.filter(act__voided_by__isnull=True).values("event")
    events = HouseEvent.objects.filter(act__voided_by__isnull=True, over=False).exclude(pk__in=ended)
    return list(events.select_related("act__by", "act__thing__place__inside__inside").order_by("-act__recorded_at"))


def banners(reader: Person) -> list[Banner]:
    """All that is going on anywhere."""
    return [banner(event, reader) for event in open_events()]


def banners_at(place: Place, reader: Person) -> list[Banner]:
    """What is going on at a place or at what it stands in: a house that is closed closes its benches."""
    events = open_events()
    around = places_around(place) if events else set()
    return [banner(event, reader) for event in events if event.act.thing_id in around]


def banners_of(events: Collection[UUID], reader: Person) -> list[Banner]:
    """What is going on, by the acts that told of it; no query where there is nothing."""
    return [banner(event, reader) for event in open_events() if event.pk in events] if events else []


def places_around(place: Place) -> set[int]:
    """The ids of a place and of all that it stands in; one query."""
    inside = dict(Place.objects.values_list("pk", "inside_id"))
    found: set[int] = set()
    here: int | None = place.pk
    while here is not None and here not in found:
        found.add(here)
        here = inside.get(here)
    return found


def banner(event: HouseEvent, reader: Person) -> Banner:
    place = event.act.thing.place
    end = f"{act_url(place, 'ended')}?event={event.pk}" if reader.may_record else ""
    return Banner(sentence(event, timezone.now()), thing_url(place), end)


def sentence(event: HouseEvent, now: datetime) -> str:
    """What the banner says: until when it is closed as typed, or since when it goes on; never more than was told."""
    name, by = place_words(event.act.thing.place), event.act.by.name
    if event.closed_until is None:
        return f"{_going_on(event)} in {name} {_since(event, timezone.localdate(now))}, told by {by}."
    until = moment(event.closed_until, timezone.localdate(now))
    product = f" ({event.product})" if event.product else ""
    if event.closed_until <= now:
        return (
            f"{name} was closed until {until}, as typed from the label by {by}{product}. "
            "Nobody has said that it is open again."
        )
    return f"{name} is closed until {until}, as typed from the label by {by}{product}."


def _going_on(event: HouseEvent) -> str:
    what = GOING_ON.get(event.what, "")
    details: Iterable[str] = [event.words, event.product]
    more = ", ".join(one for one in details if one)
    if not what:
        return more
    return f"{what} ({more})" if more else what


def _since(event: HouseEvent, today: date) -> str:
    act = event.act
    if act.day_first == act.day_last == today:
        return "since today"
    words = Day(act.day_first, act.day_last, act.said).words(today)
    return f"since {words}" if act.said == "exact" else f"({words})"
