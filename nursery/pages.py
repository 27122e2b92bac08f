"""The pages on which acts are recorded: for which kind of thing, under which address, with which form.

One explicit tuple an app (``PAGES`` here and in ``breeding/pages.py``); addresses, links, corrections follow from it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from nursery.forms.acts import LaterForm, MoveForm, PlaceMoveForm, RemarkForm, ResumeForm, StopForm, TagForm
from nursery.forms.base import ActForm
from nursery.forms.clones import CloneForm
from nursery.forms.house_log import HouseEventEndedForm, HouseEventForm
from nursery.forms.photos import PhotoForm
from nursery.forms.places import PlaceForm, PlaceRenameForm, RoomForm
from nursery.forms.plants import CuttingForm, GoneForm, PlantForm, PlantOfCloneForm
from nursery.forms.quarantine import QuarantineForm, ReleaseForm, SampleResultForm, SampleSentForm
from nursery.forms.stocktakes import NotFoundForm
from nursery.models import Act
from nursery.records import registry


def main_thing(act: Act) -> Any:
    """What a page stands on when it corrects an act: for most, the thing the act is about."""
    return registry.instance_of(act.thing)


def nothing(act: Act) -> None:
    """For acts that enter something from a page of its own."""


def every(act: Act) -> bool:
    """For pages that can say every act of their kind."""
    return True


def _is_cutting(act: Act) -> bool:
    return act.plantarrived.struck_from_id is not None


@dataclass(frozen=True)
class ActPage:
    """One page that records acts of ``act_kind`` on things of kind ``on`` (None: it enters something new).

    ``on`` may be "any". ``button`` is the word on the one filled button; ``caution`` names the steps whose cautions
    stand on it. ``births`` is the kind of thing that it makes, if any. ``stands_on`` finds, for an act
    to be corrected, the thing that the page is about; ``tells`` whether the form can say this act of its kind.
    ``after`` is where a person goes on from here, where it is not the thing's page; ``lead`` stands under the title.
    """

    on: str | None
    slug: str
    act_kind: str
    title: str
    button: str
    form: type[ActForm]
    caution: tuple[str, ...] = ()
    births: str = ""
    stands_on: Callable[[Act], Any] = main_thing
    tells: Callable[[Act], bool] = every
    after: Callable[[Act], str] | None = None
    lead: str = ""

    def fits(self, kind: str) -> bool:
        return self.on in {kind, "any"}


PAGES = (
    ActPage("any", "remark", "remarked", "Remark", "Keep this remark", RemarkForm),
    ActPage("any", "photo", "photo_taken", "Take a photo", "Keep this photo", PhotoForm),
    ActPage("any", "later", "postponed", "Ask later", "Ask later", LaterForm),
    ActPage(
        "any",
        "stop",
        "stopped",
        "Stop watching",
        "Stop watching",
        StopForm,
        lead="Nothing is asked of it any more, and lists leave it out. Its story stays, and you can watch it again.",
    ),
    ActPage("any", "resume", "resumed", "Watch again", "Watch again", ResumeForm),
    ActPage("any", "tag", "tag_bound", "Put a tag on it", "Put this tag on it", TagForm),
    ActPage("plant", "move", "moved", "Move", "Record the move", MoveForm),
    ActPage("seedpot", "move", "moved", "Move", "Record the move", MoveForm),
    ActPage("plant", "gone", "plant_gone", "Gone", "Record that it is gone", GoneForm, ("permits",)),
    ActPage("plant", "missing", "not_found", "Not found", "Record that it was not found", NotFoundForm),
    ActPage("seedpot", "missing", "not_found", "Not found", "Record that it was not found", NotFoundForm),
    ActPage("plant", "quarantine", "quarantined", "Put it in quarantine", "Record the quarantine", QuarantineForm),
    ActPage("plant", "release", "released", "Out of quarantine", "Record that it is out", ReleaseForm),
    ActPage("plant", "sample", "sample_sent", "A sample was sent", "Record the sample", SampleSentForm, ("cuttings",)),
    ActPage("plant", "result", "sample_result", "Result of a sample", "Record the result", SampleResultForm),
    ActPage(
        "plant",
        "cutting",
        "plant_arrived",
        "A cutting of it",
        "Enter the cutting",
        CuttingForm,
        births="plant",
        caution=("cuttings",),
        stands_on=lambda act: act.plantarrived.struck_from,
        tells=_is_cutting,
    ),
    ActPage(
        "clone",
        "plant",
        "plant_arrived",
        "A plant of this clone",
        "Enter the plant",
        PlantOfCloneForm,
        births="plant",
        caution=("cuttings",),
        stands_on=lambda act: act.plantarrived.clone,
    ),
    ActPage(
        None,
        "plants",
        "plant_arrived",
        "New plant",
        "Enter the plant",
        PlantForm,
        ("permits",),
        births="plant",
        stands_on=nothing,
    ),
    ActPage(
        None,
        "clones",
        "clone_made",
        "New clone",
        "Enter the clone",
        CloneForm,
        ("permits",),
        births="clone",
        stands_on=nothing,
    ),
    ActPage(None, "places", "place_made", "New place", "Enter the place", PlaceForm, births="place", stands_on=nothing),
    ActPage("place", "move", "place_moved", "Move it with all that stands on it", "Record the move", PlaceMoveForm),
    ActPage(
        "place",
        "event",
        "house_event",
        "House log",
        "Write it in the log",
        HouseEventForm,
        caution=("sprays", "house"),
    ),
    ActPage("place", "ended", "house_event_ended", "It is over", "Record that it is over", HouseEventEndedForm),
    ActPage("place", "room", "room_told", "Room for pots", "Record the room", RoomForm),
    ActPage("place", "rename", "place_renamed", "Rename", "Rename it", PlaceRenameForm),
)
