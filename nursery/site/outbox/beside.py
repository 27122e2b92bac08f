"""What a phone may send beside the acts that have a form: walking past a place, and taking an act back."""

import uuid

from breeding.views.walk import listed_ids, walkable
from nursery.days import Day
from nursery.forms.base import Sending
from nursery.models import Act
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent
from nursery.records.undo import undone
from nursery.records.watching import walked_past
from nursery.site.outbox.reading import Tap, Unreadable


def walk(tap: Tap, sending: Sending) -> Act:
    """Nothing new at a place: a look for each thing that the page listed, and for nothing else.

    What was closed on the day of the tap or since was looked at all the same.
    """
    if tap.thing is None or tap.thing.kind != "place":
        raise Unreadable("It does not say which place was walked past.")
    listed = listed_ids(tap.values.getlist("things"))
    things = [one for one in walkable(listed) if one.is_open or one.closed_on >= tap.day]
    try:
        return walked_past(act=_new(tap, sending), place=tap.thing, things=things)
    except AlreadySent as error:
        links = set(error.act.links.values_list("thing_id", flat=True))
        if error.act.kind == "walked_past" and error.act.thing_id == tap.thing.pk and links <= listed:
            return error.act  # it came by the page before, when something listed was closed: it is the same walk
        raise


def undo(tap: Tap, sending: Sending) -> Act:
    """Take an act back. What was undone before stays so."""
    try:
        target = Act.objects.filter(pk=uuid.UUID(tap.values.get("target", ""))).first()
    except ValueError:
        target = None
    if target is None:
        raise Unreadable("The act that it takes back is not in the books.")
    return undone(act=NewAct(id=sending.id, by=sending.by, phone_of=sending.phone_of), target=target)


def _new(tap: Tap, sending: Sending) -> NewAct:
    return NewAct(sending.id, by=sending.by, day=Day.on(tap.day), at=tap.time, phone_of=sending.phone_of)
