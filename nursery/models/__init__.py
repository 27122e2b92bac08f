"""What every part of Tepal stores: people, things, acts, tags, and the nursery's places and plants."""

from nursery.models.acts import Act, ActLink, Flag, Settled, SettledTogether, Void
from nursery.models.clones import Clone, CloneMade, Redetermined
from nursery.models.house import House
from nursery.models.house_log import HouseEvent, HouseEventEnded
from nursery.models.outbox import NeedsALook
from nursery.models.people import Person, SignedIn, SignInCode
from nursery.models.photos import Photo
from nursery.models.places import Moved, Place, PlaceMade, PlaceMoved, PlaceRenamed, RoomTold
from nursery.models.plants import Plant, PlantArrived, PlantGone
from nursery.models.quarantine import Quarantined, SampleResult, SampleSent
from nursery.models.remarks import Remark
from nursery.models.repairs import Repair
from nursery.models.stocktakes import NotFound, Stocktake
from nursery.models.tags import Tag, TagBound, TagSequence, TagsSwapped
from nursery.models.taxa import Taxon
from nursery.models.things import LivingThing, Thing
from nursery.models.together import Together
from nursery.models.watching import Later

__all__ = [
    "ActLink",
    "Clone",
    "CloneMade",
    "Flag",
    "House",
    "HouseEvent",
    "HouseEventEnded",
    "Later",
    "LivingThing",
    "Moved",
    "NeedsALook",
    "NotFound",
    "Person",
    "Photo",
    "Place",
    "PlaceMade",
    "PlaceMoved",
    "PlaceRenamed",
    "Plant",
    "PlantArrived",
    "PlantGone",
    "Redetermined",
    "Quarantined",
    "Remark",
    "RoomTold",
    "SampleResult",
    "SampleSent",
    "Repair",
    "Settled",
    "SettledTogether",
    "SignInCode",
    "SignedIn",
    "Stocktake",
    "Tag",
    "TagBound",
    "TagSequence",
    "TagsSwapped",
    "Taxon",
    "Thing",
    "Together",
    "Void",
    "Act",
]
