"""What the breeding season stores: spikes, pollen, crosses, sections, pods, seed and seed pots."""

from breeding.models.calendars import CalendarAddress
from breeding.models.crosses import Cross, CrossPlanned
from breeding.models.expectations import Expectation, LeftOut
from breeding.models.pods import Harvested, PodLook, TakeLook
from breeding.models.pollen import PollenCollected, PollenLot, PollenReceived, PollenStored
from breeding.models.posted import OutcomeTold, PollenSent, PollenSplit, SeedSent, SeedSplit
from breeding.models.pots import PotGone, PotLook, PotLoss, PotSplit, PotTrouble, SeedPot, Sown
from breeding.models.routines import Routine, RoutineChanged, RoutineDone, RoutineMade
from breeding.models.sections import Pollinated, Section
from breeding.models.seed import SeedCleaned, SeedLot, SeedReceived, SeedStored
from breeding.models.sowing import PotCleared, PotSown, SowingChanged, SowingPlanned
from breeding.models.sowing_sessions import SowingSession, Sterilised
from breeding.models.spikes import Spike, SpikeFound, SpikeLook

__all__ = [
    "CalendarAddress",
    "Cross",
    "CrossPlanned",
    "Expectation",
    "Harvested",
    "LeftOut",
    "OutcomeTold",
    "PodLook",
    "PollenCollected",
    "PollenLot",
    "PollenReceived",
    "PollenSent",
    "PollenSplit",
    "PollenStored",
    "Pollinated",
    "PotCleared",
    "PotGone",
    "PotLook",
    "PotLoss",
    "PotSown",
    "PotSplit",
    "PotTrouble",
    "Routine",
    "RoutineChanged",
    "RoutineDone",
    "RoutineMade",
    "Section",
    "SeedCleaned",
    "SeedLot",
    "SeedPot",
    "SeedReceived",
    "SeedSent",
    "SeedSplit",
    "SeedStored",
    "SowingChanged",
    "SowingPlanned",
    "SowingSession",
    "Sown",
    "Spike",
    "SpikeFound",
    "SpikeLook",
    "Sterilised",
    "TakeLook",
]
