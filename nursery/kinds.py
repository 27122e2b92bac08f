"""The kinds of things and acts of the nursery itself: one line each. Breeding has its own (``breeding/kinds.py``)."""

from nursery import milestones, words
from nursery.identity_words import redetermined, swapped
from nursery.models import (
    Act,
    Clone,
    CloneMade,
    HouseEvent,
    HouseEventEnded,
    Later,
    Moved,
    NotFound,
    Photo,
    Place,
    PlaceMade,
    PlaceMoved,
    PlaceRenamed,
    Plant,
    PlantArrived,
    PlantGone,
    Quarantined,
    Redetermined,
    Remark,
    RoomTold,
    SampleResult,
    SampleSent,
    Settled,
    SettledTogether,
    Stocktake,
    TagBound,
    TagsSwapped,
    Void,
)
from nursery.records.descent import settle_tree
from nursery.records.moves import no_place_in_itself
from nursery.records.plants import cuttings_of, resettle_plant
from nursery.records.registry import ActKind, Below, ThingKind
from nursery.records.swapped import exchanged_back
from nursery.records.tags import tag_taken_off
from nursery.templatetags.tepal import plate


def _nothing(act: Act) -> str:
    return ""


THINGS = (
    ThingKind(
        Place,
        "place",
        "places",
        rank=0,
        milestones=milestones.place,
        heeds=milestones.HEEDED_BY_PLACES,
        settle=no_place_in_itself,
        settled_by=("place_made", "place_moved"),
    ),
    ThingKind(
        Clone,
        "clone",
        "clones",
        rank=1,
        milestones=milestones.clone,
        tagged=False,
        settle=settle_tree,
        settled_by=("clone_made", "redetermined"),
    ),
    ThingKind(
        Plant,
        "plant",
        "plants",
        rank=2,
        milestones=milestones.plant,
        upstream=("clone",),
        resettle=resettle_plant,
    ),
)

ACTS = (
    ActKind("void", "undone", lambda act: "", Void, aside=True),
    ActKind("flag_settled", "looked into", lambda act: act.settled.flag.sentence, Settled, aside=True),
    ActKind("flags_settled", "looked into", lambda act: "all that it brought", SettledTogether, aside=True),
    ActKind("place_made", "place entered", lambda act: act.placemade.name, PlaceMade),
    ActKind("place_renamed", "renamed", lambda act: act.placerenamed.name, PlaceRenamed, aside=True),
    ActKind("room_told", "room told", lambda act: str(act.roomtold), RoomTold, aside=True),
    ActKind("place_moved", "place moved", lambda act: f"to {act.placemoved.inside.name}", PlaceMoved),
    ActKind("house_event", "house log", words.house_event, HouseEvent),
    ActKind("house_event_ended", "house log, over", words.house_event_ended, HouseEventEnded),
    ActKind("stocktake", "stocktake", words.stocktake, Stocktake, aside=True),
    ActKind("not_found", "not found", words.not_found, NotFound, aside=True),
    ActKind("quarantined", "put in quarantine", lambda act: act.quarantined.reason, Quarantined),
    ActKind("released", "out of quarantine", _nothing),
    ActKind("sample_sent", "sample sent", words.sample_sent, SampleSent),
    ActKind("sample_result", "sample result", words.sample_result, SampleResult),
    ActKind("clone_made", "clone entered", lambda act: act.clonemade.get_origin_display(), CloneMade),
    ActKind("redetermined", "redetermined", redetermined, Redetermined),
    ActKind("plant_arrived", "plant entered", words.plant_entered, PlantArrived),
    ActKind("plant_gone", "plant gone", lambda act: act.plantgone.get_why_display(), PlantGone),
    ActKind("moved", "moved", lambda act: f"to {act.moved.place.name}", Moved, aside=True),
    ActKind("remarked", "remark", lambda act: act.remark.words, Remark, aside=True),
    ActKind("photo_taken", "photo taken", _nothing, Photo, aside=True),
    ActKind("walked_past", "walked past", lambda act: "nothing new", aside=True),
    ActKind("postponed", "later", words.asked_again, Later, aside=True),
    ActKind("stopped", "stopped watching", _nothing, aside=True),
    ActKind("resumed", "watching again", _nothing, aside=True),
    ActKind("tag_bound", "tag put on", lambda act: plate(act.tagbound.tag_id), TagBound, take_back=tag_taken_off),
    ActKind("tags_swapped", "tags exchanged", swapped, TagsSwapped, take_back=exchanged_back),
)

BELOW = (Below("plant", cuttings_of),)
"""Told before breeding's: what grew on a cutting is looked at once the cutting is of its clone."""
