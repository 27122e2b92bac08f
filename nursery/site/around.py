"""What happened around a thing: to the places in which it stood, while it stood there."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from uuid import UUID

from django.db.models import Exists, F, OuterRef, Subquery
from django.utils import timezone

from nursery.days import HALF_A_WEEK, Day
from nursery.models import HouseEvent, HouseEventEnded, LivingThing
from nursery.site.cards.parts import Listing, Row, listing
from nursery.standing import Stay, When
from nursery.stays import Layout, ids, layout, standing_thing, stays_of


@dataclass(frozen=True)
class Around:
    """Where a thing stood, and the acts on those places that befell it: True where it surely stood there then.

    ``going_on`` are the acts of what still goes on where it stands now.
    """

    stays: tuple[Stay, ...] = ()
    acts: dict[UUID, bool] | None = None
    going_on: frozenset[UUID] = frozenset()
    known: Layout | None = None


@dataclass(frozen=True)
class Event:
    """Something in the log of a place, from its first possible day to the day on which it was over, as told."""

    act: UUID
    place: int
    first: date
    last: date
    over: bool


def around(thing: LivingThing, today: date) -> Around:
    """Three queries for what stands on a bench, none for anything else."""
    standing = standing_thing(thing)
    if standing is None or thing.cancelled:  # what was entered by mistake never stood anywhere
        return Around()
    known = layout()
    begun = _begun(thing)
    stays = tuple(_since(begun, stays_of(ids([standing]), known).get(standing.pk, ())))
    events = [one for one in _events({stay.place for stay in stays}, today) if one.last >= begun]
    now = {stay.place for stay in stays if stay.until is None}
    befell = [(one.act, one.place, one.first, one.last) for one in events]
    moved = [(act, place, when.first, when.last) for act, (place, when) in known.moved.items() if when.last >= begun]
    return Around(
        stays=stays,
        acts=_sure_or_not([*befell, *moved], stays),
        going_on=frozenset(one.act for one in events if not one.over and one.place in now),
        known=known,
    )


def _begun(thing: LivingThing) -> date:
    """From when on what stands with its plant was there itself; from the first day on where nobody knows."""
    match thing.kind:
        case "spike":
            return thing.found_first or date.min
        case "section":
            return thing.day0_first or date.min
    return date.min


def _since(begun: date, stays: Iterable[Stay]) -> Iterator[Stay]:
    """What is left of these stays from a day on."""
    for stay in stays:
        if stay.until is None or stay.until.last >= begun:
            yield replace(stay, since=When(begun, begun)) if stay.since.last < begun else stay


def _events(places: set[int], today: date) -> list[Event]:
    ends = HouseEventEnded.objects.filter(event=OuterRef("pk"), act__voided_by__isnull=True)
    end = ends.order_by(F("act__day_last").asc(nulls_last=True))
    told = HouseEvent.objects.filter(act__voided_by__isnull=True, act__thing__in=places).annotate(
        ended=Exists(ends), ended_on=Subquery(end.values("act__day_last")[:1])
    )
    return [_event(*row, today) for row in told.values_list(*_COLUMNS)]


_COLUMNS = (
    *("act__pk", "act__thing", "act__day_first", "act__day_last", "act__recorded_at"),
    *("over", "ended", "ended_on"),
)


def _event(
    act: UUID,
    place: int,
    first: date | None,
    last: date | None,
    recorded_at: datetime,
    over: bool,
    ended: bool,
    ended_on: date | None,
    today: date,
) -> Event:
    """It lasted to its end as told, to its own day if it was over by then, else to today."""
    own = last or timezone.localdate(recorded_at)
    last = max(ended_on or own, own) if over or ended else today
    return Event(act, place, first or date.min, last, over or ended)


def _sure_or_not(told: Iterable[tuple[UUID, int, date, date]], stays: Iterable[Stay]) -> dict[UUID, bool]:
    found = {}
    for act, place, first, last in told:
        there = [stay for stay in stays if stay.place == place and stay.covers(first, last)]
        if there:
            found[act] = any(stay.surely_covers(first, last) for stay in there)
    return found


def where_it_stood(found: Around, today: date) -> Listing | None:
    """Every place in which a plant or pot stood, the last first; None where nobody ever said."""
    if not found.stays:
        return None
    rows = [_row(stay, found.known, today) for stay in reversed(found.stays)]
    return listing("Where it stood", rows)


def _row(stay: Stay, known: Layout, today: date) -> Row:
    return Row(f"/places/{stay.place}/", text=known.words(stay.place), sub=stay_words(stay, today))


def stay_words(stay: Stay, today: date) -> str:
    """As far as it is known: "since 3 Mar", "since 2020", "3 Mar to 10 Apr"."""
    since = when_words(stay.since, today).removeprefix("in ")
    if stay.until is None:
        return f"since {since}"
    return f"{since} to {when_words(stay.until, today).removeprefix('in ')}"


def when_words(when: When, today: date) -> str:
    """A day as far as it is known: "3 Mar", "in March 2026", "a day not known, 20 Mar at the latest"."""
    last = Day.on(when.last).words(today)
    if when.is_exact:
        return last
    if when.first == date.min:
        return f"a day not known, {last} at the latest"
    day = when.first
    ways = (Day.about_week(day + HALF_A_WEEK), Day.month(day.year, day.month), Day.season(day), Day.year(day.year))
    told = next((said for said in ways if (said.first, said.last) == (when.first, when.last)), None)
    if told is not None:
        return told.words(today)
    return f"some day from {Day.on(when.first).words(today)} to {last}"
