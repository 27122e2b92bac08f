from typing import Any

from nursery.models import Act, Place, PlaceMade, PlaceRenamed, RoomTold
from nursery.records import milestones, rights
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def place_made(*, act: NewAct, name: str, size: str, inside: Place | None = None, order: int = 0) -> Act:
    """Enter a house, or a bench or tray inside another place."""
    entry = Entry(act, "place_made", on=[inside], said={"name": name, "size": size, "order": order})
    if sent := entry.sent_before():
        return sent
    facts = {"name": name.strip(), "size": size, "inside": inside, "order": order}
    if act.replaces is not None:
        _must_be_able_to_rename(act, facts)
    holds = facts | _told_since(act)
    _name_must_be_free(holds["name"], holds["inside"], besides=act.replaces and act.replaces.thing_id)
    place = entry.born(Place, **holds)
    return entry.keep(place, PlaceMade(**facts), touched=[inside])


def _name_must_be_free(name: str, inside: Place | None, *, besides: int | None) -> None:
    """Refuse a name that another place there has, before the database does, which has no sentence for it."""
    if Place.objects.filter(inside=inside, name=name, cancelled=False).exclude(pk=besides).exists():
        size = "house of this name" if inside is None else "place of this name here"
        raise Refused("name_taken", f"There is already a {size}.", field="name")


def _must_be_able_to_rename(act: NewAct, facts: dict[str, Any]) -> None:
    before = act.replaces.placemade
    if (facts["name"], facts["order"]) != (before.name, before.order):
        rights.must_be_owner(act.by)


def _told_since(act: NewAct) -> dict[str, Any]:
    """What a place whose entry is corrected was named, and where it was put, since: that holds."""
    if act.replaces is None:
        return {}
    place = Place.objects.get(pk=act.replaces.thing_id)
    since = set(milestones.counting_acts(place).filter(thing=place.pk).values_list("kind", flat=True))
    named = {"name": place.name, "order": place.order} if "place_renamed" in since else {}
    return named | ({"inside": place.inside} if "place_moved" in since else {})


@recorded
def place_renamed(*, act: NewAct, place: Place, name: str, order: int) -> Act:
    """Give a place another name, or another turn in the walk."""
    entry = Entry(act, "place_renamed", on=[place], said={"name": name, "order": order})
    if sent := entry.sent_before():
        return sent
    rights.must_be_owner(act.by)
    _name_must_be_free(name.strip(), place.inside, besides=place.pk)
    return entry.keep(place, PlaceRenamed(name=name.strip(), order=order))


@recorded
def room_told(*, act: NewAct, place: Place, pots: int | None) -> Act:
    """Tell how many seed pots a place takes when it is full; None: nobody knows any more."""
    entry = Entry(act, "room_told", on=[place], said={"pots": pots})
    return entry.sent_before() or entry.keep(place, RoomTold(pots=pots))
