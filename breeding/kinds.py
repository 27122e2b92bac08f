"""The kinds of things and acts that breeding adds, one line each, and which caches follow from which.

A new kind of observation is one more line in ACTS.
"""

from django.db.models import Count, QuerySet

from breeding.milestones.clones import clone_sex
from breeding.milestones.crosses import Progress, cross, progress
from breeding.milestones.pollen import pollen_lot
from breeding.milestones.pots import seed_pot
from breeding.milestones.routines import routine
from breeding.milestones.sections import section
from breeding.milestones.seed import seed_lot
from breeding.milestones.sowing import sowing_session
from breeding.milestones.spikes import spike
from breeding.models import (
    Cross,
    CrossPlanned,
    Harvested,
    OutcomeTold,
    PodLook,
    PollenCollected,
    PollenLot,
    PollenReceived,
    PollenSent,
    PollenSplit,
    PollenStored,
    Pollinated,
    PotCleared,
    PotGone,
    PotLook,
    PotLoss,
    PotSown,
    PotSplit,
    PotTrouble,
    Routine,
    RoutineChanged,
    RoutineDone,
    RoutineMade,
    Section,
    SeedCleaned,
    SeedLot,
    SeedPot,
    SeedReceived,
    SeedSent,
    SeedSplit,
    SeedStored,
    SowingChanged,
    SowingPlanned,
    SowingSession,
    Sown,
    Spike,
    SpikeFound,
    SpikeLook,
    TakeLook,
)
from breeding.records.corrected import (
    below_plant,
    below_pollen,
    below_pot,
    below_section,
    below_seed,
    below_spike,
    resettle_pollen,
    resettle_pot,
    resettle_seed,
)
from breeding.records.crosses import settle_cross
from breeding.records.parts import settle_pollen, settle_pot, settle_seed
from breeding.words import acts as words
from nursery.models import Act, Clone
from nursery.records.prepared import Prepared
from nursery.records.registry import ActKind, Below, Summary, ThingKind

THINGS = (
    ThingKind(Cross, "cross", "crosses", rank=3, milestones=cross, tagged=False),
    ThingKind(
        Spike,
        "spike",
        "spikes",
        rank=4,
        milestones=spike,
        upstream=("plant.clone",),
        counted_by=("cancelled", "sex", "sex_from"),
    ),
    ThingKind(
        Section,
        "section",
        "sections",
        rank=5,
        milestones=section,
        upstream=("cross",),
        settle=settle_cross,
        settled_by=("pollinated",),
    ),
    ThingKind(
        PollenLot,
        "pollen lot",
        "pollen",
        rank=6,
        milestones=pollen_lot,
        settle=settle_pollen,
        settled_by=("pollen_collected", "pollen_received", "pollen_stored", "pollen_split"),
        resettle=resettle_pollen,
    ),
    ThingKind(
        SeedLot,
        "seed lot",
        "seed",
        rank=7,
        milestones=seed_lot,
        upstream=("cross",),
        settle=settle_seed,
        settled_by=("harvested", "seed_received", "seed_split"),
        resettle=resettle_seed,
    ),
    ThingKind(
        SeedPot,
        "seed pot",
        "pots",
        rank=8,
        milestones=seed_pot,
        upstream=("lot",),
        settle=settle_pot,
        settled_by=("sown", "pot_sown", "pot_split"),
        resettle=resettle_pot,
    ),
    ThingKind(SowingSession, "sowing session", "sowings", rank=9, milestones=sowing_session, tagged=False),
    ThingKind(Routine, "routine", "routines", rank=20, milestones=routine, tagged=False),
)

ACTS = (
    ActKind("spike_found", "spike found", words.spike_found, SpikeFound, offers_photo=words.sexed),
    ActKind("spike_look", "spike looked at", words.spike_look, SpikeLook, offers_photo=words.sexed),
    ActKind("pollen_collected", "pollen taken", words.pollen_collected, PollenCollected),
    ActKind("pollen_received", "pollen received", words.pollen_received, PollenReceived),
    ActKind("pollen_stored", "pollen moved", words.pollen_stored, PollenStored),
    ActKind("pollen_sent", "pollen sent", words.pollen_sent, PollenSent),
    ActKind("pollen_split", "pollen split off", words.pollen_split, PollenSplit),
    ActKind("pollen_finished", "pollen finished", words.nothing),
    ActKind("cross_planned", "cross wished for", words.cross_planned, CrossPlanned),
    ActKind("pollinated", "pollinated", words.pollinated, Pollinated),
    ActKind("take_look", "take read", words.take_look, TakeLook),
    ActKind("pod_look", "pods looked at", words.pod_look, PodLook),
    ActKind("bagged", "bagged", words.nothing),
    ActKind("harvested", "harvested", words.harvested, Harvested),
    ActKind("seed_received", "seed received", words.seed_received, SeedReceived),
    ActKind("seed_cleaned", "seed cleaned", words.seed_cleaned, SeedCleaned),
    ActKind("seed_stored", "seed moved", words.seed_stored, SeedStored),
    ActKind("seed_sent", "seed sent", words.seed_sent, SeedSent),
    ActKind("seed_split", "seed split off", words.seed_split, SeedSplit),
    ActKind("outcome_told", "what came of it", words.outcome_told, OutcomeTold),
    ActKind("seed_finished", "seed finished", words.nothing),
    ActKind("sown", "sown", words.sown, Sown),
    ActKind("sowing_planned", "sowing planned", words.sowing_planned, SowingPlanned),
    ActKind("sowing_changed", "sowing changed", words.sowing_changed, SowingChanged, aside=True),
    ActKind("pot_sown", "pot sown", words.pot_sown, PotSown),
    ActKind("pot_cleared", "pot cleared", words.pot_cleared, PotCleared),
    ActKind("pot_look", "seedlings looked for", words.pot_look, PotLook),
    ActKind("pot_loss", "seedlings lost", words.pot_loss, PotLoss),
    ActKind("pot_split", "pot split", words.pot_split, PotSplit),
    ActKind("pot_gone", "pot gone", words.pot_gone, PotGone),
    ActKind("pot_trouble", "trouble seen", words.pot_trouble, PotTrouble),
    ActKind("routine_made", "routine entered", words.routine_made, RoutineMade),
    ActKind("routine_changed", "routine changed", words.routine_changed, RoutineChanged, aside=True),
    ActKind("routine_done", "routine", words.routine_done, RoutineDone),
)


SPIKES = Prepared(lambda ids: Spike.objects.filter(plant__clone__in=ids, cancelled=False).values("sex", "sex_from"))
SECTIONS = Prepared(lambda ids: _by_stage(Section.objects.filter(cross__in=ids)))
LOTS = Prepared(lambda ids: _by_stage(SeedLot.objects.filter(cross__in=ids)))
POTS = Prepared(lambda ids: _by_stage(SeedPot.objects.filter(lot__cross__in=ids, split_from=None)))
WISHES = Prepared(
    lambda ids: Act.objects.filter(thing__in=ids, kind="cross_planned", voided_by__isnull=True).values("kind")
)


def _spikes_of(clone: Clone) -> list[tuple[str, str]]:
    return [(row["sex"], row["sex_from"]) for row in SPIKES.rows([clone.pk])]


def _by_stage(things: QuerySet) -> QuerySet:
    """The stages of those that count, with how many are at each."""
    return things.filter(cancelled=False).values("stage").annotate(count=Count("pk"))


def _below(row: Cross) -> Progress:
    sections, lots, pots = [
        {below["stage"]: below["count"] for below in kind.rows([row.pk])} for kind in (SECTIONS, LOTS, POTS)
    ]
    pots.pop("prepared", None)
    return Progress(
        planned=bool(WISHES.rows([row.pk])),
        sections=sections,
        lots=lots,
        pots=sum(pots.values()),
        pots_up=pots.get("up", 0),
    )


SUMMARIES = (Summary("clone", _spikes_of, clone_sex), Summary("cross", _below, progress, own_acts=True))

BELOW = (
    Below("plant", below_plant),
    Below("spike", below_spike),
    Below("pollenlot", below_pollen),
    Below("section", below_section),
    Below("seedlot", below_seed),
    Below("seedpot", below_pot),
)
