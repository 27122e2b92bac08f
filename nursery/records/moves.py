from nursery.models import Act, LivingThing, Moved, Place, PlaceMoved
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused
from nursery.records.house import held_house


@recorded
def moved(*, act: NewAct, thing: LivingThing, place: Place) -> Act:
    """A plant or pot stands elsewhere from now on."""
    entry = Entry(act, "moved", on=[thing, place], said={"place": place})
    if sent := entry.sent_before():
        return sent
    if not hasattr(thing, "place_id"):
        raise Refused("does_not_stand", "Only plants and pots stand somewhere and can be moved.")
    return entry.keep(thing, Moved(place=place), touched=[place])


@recorded
def place_moved(*, act: NewAct, place: Place, inside: Place) -> Act:
    """A tray or bench went to another place, with all that stands on it. A house stays where it is."""
    entry = Entry(act, "place_moved", on=[place, inside], said={"inside": inside})
    if sent := entry.sent_before():
        return sent
    if place.size == Place.Size.HOUSE:
        raise Refused("house_stays", "A house stays where it is. Move what is in it.")
    if place.pk == inside.pk:
        raise _inside_itself()
    if Place.objects.filter(inside=inside, name=place.name, cancelled=False).exclude(pk=place.pk).exists():
        raise Refused("name_taken", f"There is already a {place.name} there. Rename one of them first.", field="inside")
    return entry.keep(place, PlaceMoved(inside=inside), touched=[inside])


def no_place_in_itself(place: Place) -> None:
    """Refuse moves, and undoing of moves, after which a place would stand inside itself.

    Asked when the columns are written, because a move told late or taken back may close a circle too. Two moves at
    the same moment wait for each other here. A house stands in nothing.
    """
    if place.inside_id is None:
        return
    held_house()
    inside = dict(Place.objects.values_list("pk", "inside_id"))
    above = inside.get(place.pk)
    for _ in inside:
        if above == place.pk:
            raise _inside_itself()
        above = inside.get(above)


def _inside_itself() -> Refused:
    return Refused("place_in_itself", "A place cannot stand inside itself. Choose another place.", field="inside")
