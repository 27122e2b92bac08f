"""Walking past, asking later, stopping and starting to watch: what a person may say of anything that is due."""

from collections.abc import Sequence
from datetime import date

from nursery.models import Act, Later, LivingThing, Place
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused
from nursery.where import UP_TO_THE_HOUSE, place_words


@recorded
def walked_past(*, act: NewAct, place: Place, things: Sequence[LivingThing]) -> Act:
    """Nothing new on this bench: one look for each thing listed, and for nothing else.

    The act's links are the looks; they say "as before" of whatever was awaited, and never count anything.
    """
    things = sorted(things, key=lambda thing: thing.pk)
    entry = Entry(act, "walked_past", on=[place, *things], said={})
    if sent := entry.sent_before():
        return sent
    if not things:
        raise Refused("nothing_listed", "Nothing was listed here, so there is nothing to record.")
    return entry.keep(place, touched=things)


def walked_words(act: Act) -> str:
    """Over how many things somebody walked, and where: "3 things on Warm house, Tray 2"."""
    place = Place.objects.select_related(UP_TO_THE_HOUSE).get(pk=act.thing_id)
    count = act.links.exclude(thing_id=place.pk).count()
    return f"{count} thing{'' if count == 1 else 's'} on {place_words(place)}"


@recorded
def postponed(*, act: NewAct, thing: LivingThing, until: date) -> Act:
    """Ask about this thing again on a later day; says nothing of what was seen.

    Later is later than the day on which it was said: what a phone sends days afterwards is no mistake.
    """
    entry = Entry(act, "postponed", on=[thing], said={"until": until})
    if sent := entry.sent_before():
        return sent
    said_on = entry.day.last or entry.today
    if until <= said_on:
        raise Refused("not_later", "Choose a day after today.", field="until")
    if (until - entry.today).days > 366:
        raise Refused("too_late", "That is more than a year away. Stop watching it instead.", field="until")
    return entry.keep(thing, Later(until=until))


@recorded
def stopped(*, act: NewAct, thing: LivingThing) -> Act:
    """Stop watching this thing; no reason is needed."""
    entry = Entry(act, "stopped", on=[thing], said={})
    return entry.sent_before() or entry.keep(thing)


@recorded
def resumed(*, act: NewAct, thing: LivingThing) -> Act:
    """Watch it again."""
    entry = Entry(act, "resumed", on=[thing], said={})
    return entry.sent_before() or entry.keep(thing)
