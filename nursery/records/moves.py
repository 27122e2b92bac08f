from nursery.models import Act, LivingThing, Moved, Place
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def moved(*, act: NewAct, thing: LivingThing, place: Place) -> Act:
    """A plant or pot stands elsewhere from now on."""
    entry = Entry(act, "moved", on=[thing, place], said={"place": place})
    if sent := entry.sent_before():
        return sent
    if not hasattr(thing, "place_id"):
        raise Refused("does_not_stand", "Only plants and pots stand somewhere and can be moved.")
    return entry.keep(thing, Moved(place=place), touched=[place])
