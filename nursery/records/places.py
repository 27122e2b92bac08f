from nursery.models import Act, Place, PlaceMade, PlaceRenamed
from nursery.records import rights
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def place_made(*, act: NewAct, name: str, size: str, inside: Place | None = None, order: int = 0) -> Act:
    """Enter a house, or a bench or tray inside another place."""
    entry = Entry(act, "place_made", on=[inside], said={"name": name, "size": size, "order": order})
    if sent := entry.sent_before():
        return sent
    facts = {"name": name.strip(), "size": size, "inside": inside, "order": order}
    place = entry.born(Place, **facts)
    return entry.keep(place, PlaceMade(**facts), touched=[inside])


@recorded
def place_renamed(*, act: NewAct, place: Place, name: str, order: int) -> Act:
    """Give a place another name, or another turn in the walk."""
    entry = Entry(act, "place_renamed", on=[place], said={"name": name, "order": order})
    if sent := entry.sent_before():
        return sent
    rights.must_be_owner(act.by)
    if Place.objects.filter(inside=place.inside, name=name.strip(), cancelled=False).exclude(pk=place.pk).exists():
        raise Refused("name_taken", "There is already a place of this name here.", field="name")
    return entry.keep(place, PlaceRenamed(name=name.strip(), order=order))
