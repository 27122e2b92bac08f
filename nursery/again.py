"""How the nursery's own acts are told again, by kind; kinds that are not listed can only be undone."""

from dataclasses import fields

from nursery.models import Act, SampleResult
from nursery.photo_files import KeptPhoto
from nursery.records import registry, voiding
from nursery.records.again import Told, entered, of
from nursery.records.clones import clone_made
from nursery.records.house_log import house_event, house_event_ended
from nursery.records.moves import moved, place_moved
from nursery.records.photos import photo_taken
from nursery.records.places import place_made, place_renamed, room_told
from nursery.records.plants import plant_arrived, plant_gone
from nursery.records.quarantine import quarantined, released, sample_result, sample_sent
from nursery.records.remarks import remarked
from nursery.records.stocktakes import not_found, stocktake_taken
from nursery.records.tags import tag_bound
from nursery.records.watching import postponed, resumed, stopped, walked_past


def _tag_bound(act: Act) -> Told:
    return tag_bound, {"thing": registry.instance_of(act.thing), "number": act.tagbound.tag_id}


def _photo_taken(act: Act) -> Told:
    photo = KeptPhoto(**{one.name: getattr(act.photo, one.name) for one in fields(KeptPhoto)})
    return photo_taken, {"thing": registry.instance_of(act.thing), "photo": photo}


def _sample_result(act: Act) -> Told:
    """Read afresh: its sample may have been told again a moment ago, of the other plant."""
    result = SampleResult.objects.select_related("sample").get(act=act)
    facts = {name: getattr(result, name) for name in ("sample", "found", "words")}
    return sample_result, {"plant": registry.instance_of(act.thing)} | facts


def _walked_past(act: Act) -> Told:
    place, *things = voiding.things_of(act)
    return walked_past, {"place": place, "things": things}


def _stocktake(act: Act) -> Told:
    place, *seen = voiding.things_of(act)
    missed = [registry.instance_of(thing) for thing in act.stocktake.missed.order_by("pk")]
    return stocktake_taken, {"place": place, "seen": seen, "missed": missed}


def _remarked(act: Act) -> Told:
    thing, *also = voiding.things_of(act)
    return remarked, {"thing": thing, "words": act.remark.words, "also": also}


AGAIN = {
    "moved": of(moved, "thing"),
    "remarked": _remarked,
    "stopped": of(stopped, "thing"),
    "resumed": of(resumed, "thing"),
    "plant_gone": of(plant_gone, "plant"),
    "plant_arrived": entered(plant_arrived),
    "quarantined": of(quarantined, "plant"),
    "released": of(released, "plant"),
    "sample_sent": of(sample_sent, "plant"),
    "sample_result": _sample_result,
    "not_found": of(not_found, "thing"),
    "photo_taken": _photo_taken,
    "walked_past": _walked_past,
    "stocktake": _stocktake,
    "postponed": of(postponed, "thing"),
}

ONLY_BACK = {
    "place_made": entered(place_made),
    "place_renamed": of(place_renamed, "place"),
    "room_told": of(room_told, "place"),
    "place_moved": of(place_moved, "place"),
    "house_event": of(house_event, "place"),
    "house_event_ended": entered(house_event_ended),
    "clone_made": entered(clone_made),
    "tag_bound": _tag_bound,
}
"""Acts that are told again only when an undo brings an earlier version back, never of another thing."""
