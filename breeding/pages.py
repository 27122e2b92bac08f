"""The pages on which the acts of the breeding season are recorded, one line each."""

from dataclasses import replace
from typing import Any

from django.urls import reverse

from breeding.care import CARE
from breeding.forms.clones import RedetermineForm
from breeding.forms.pods import BagForm, HarvestForm, PodLookForm, TakeForm
from breeding.forms.pollen import CollectForm, PollenFinishedForm, PollenReceivedForm, PollenStoredForm
from breeding.forms.posted import OutcomeForm, PollenSentForm, PollenSplitForm, SeedSentForm, SeedSplitForm
from breeding.forms.pots import PotGoneForm, PotLookForm, PotLossForm, PotSplitForm, PotTroubleForm
from breeding.forms.routines import RoutineChangeForm, RoutineDoneForm, RoutineForm
from breeding.forms.sections import DabForm, PollinateForm
from breeding.forms.seed import (
    CrossPlannedForm,
    SeedCleanedForm,
    SeedFinishedForm,
    SeedReceivedForm,
    SeedStoredForm,
    SowForm,
)
from breeding.forms.sowing import PotClearedForm, PotSownForm, SowingChangeForm, SowingPlannedForm
from breeding.forms.spikes import SpikeFoundForm, SpikeLookForm
from breeding.forms.stocktakes import StocktakeForm
from nursery.links import thing_url
from nursery.models import Act
from nursery.pages import ActPage, main_thing, nothing
from nursery.records import registry


def _with_care(page: ActPage) -> ActPage:
    """With the cautions of its kind of act, which are the same wherever else it is recorded."""
    return replace(page, caution=CARE.get(page.act_kind, ()))


def _first_touched(kind: str):
    """The thing of this kind that the act touched: the plant of a found spike, the spike of taken pollen."""

    def find(act: Act) -> Any:
        link = act.links.filter(thing__kind=kind).order_by("pk").select_related("thing").first()
        return registry.instance_of(link.thing)

    return find


def _spike_of_section(act: Act) -> Any:
    return main_thing(act).spike


def _back_to_the_bench(act: Act) -> str:
    """After a prepared pot is sown, the next one of its session; a pot of no session has only its own page."""
    pot = main_thing(act)
    if pot.session_id is None:
        return thing_url(pot)
    return f"{reverse('sowing-bench', kwargs={'pk': pot.session_id})}?after={pot.pk}"


_PAGES = (
    ActPage(
        "clone", "redetermine", "redetermined", "It is something else", "Record what it is thought", RedetermineForm
    ),
    ActPage(
        "plant",
        "spike",
        "spike_found",
        "A spike was found",
        "Record the spike",
        SpikeFoundForm,
        births="spike",
        stands_on=_first_touched("plant"),
    ),
    ActPage("spike", "look", "spike_look", "Look at the spike", "Record the look", SpikeLookForm),
    ActPage(
        "spike",
        "collect",
        "pollen_collected",
        "Collect pollen",
        "Record the pollen",
        CollectForm,
        births="pollenlot",
        stands_on=_first_touched("spike"),
    ),
    ActPage(
        "spike",
        "pollinate",
        "pollinated",
        "Pollinate a section",
        "Record the pollination",
        PollinateForm,
        births="section",
        stands_on=_spike_of_section,
    ),
    ActPage("section", "dab", "pollinated", "Dab it again", "Record the dabbing", DabForm),
    ActPage("section", "take", "take_look", "Read take", "Record the take", TakeForm),
    ActPage("section", "pods", "pod_look", "Look at the pods", "Record the look", PodLookForm),
    ActPage("section", "bag", "bagged", "Bag it", "Record the bag", BagForm),
    ActPage(
        "section",
        "harvest",
        "harvested",
        "Harvest",
        "Record the harvest",
        HarvestForm,
        births="seedlot",
        stands_on=_first_touched("section"),
    ),
    ActPage("pollenlot", "store", "pollen_stored", "Store it elsewhere", "Record it", PollenStoredForm),
    ActPage("pollenlot", "finish", "pollen_finished", "Finished", "Record that it is finished", PollenFinishedForm),
    ActPage("pollenlot", "send", "pollen_sent", "Send pollen", "Record that it went", PollenSentForm),
    ActPage(
        "pollenlot",
        "split",
        "pollen_split",
        "Split off a part",
        "Make the new packet",
        PollenSplitForm,
        births="pollenlot",
        stands_on=_first_touched("pollenlot"),
    ),
    ActPage("pollenlot", "outcome", "outcome_told", "What came of it", "Record what was told", OutcomeForm),
    ActPage("seedlot", "send", "seed_sent", "Send seed", "Record that it went", SeedSentForm),
    ActPage(
        "seedlot",
        "split",
        "seed_split",
        "Split off a part",
        "Make the new lot",
        SeedSplitForm,
        births="seedlot",
        stands_on=_first_touched("seedlot"),
    ),
    ActPage("seedlot", "outcome", "outcome_told", "What came of it", "Record what was told", OutcomeForm),
    ActPage("seedlot", "clean", "seed_cleaned", "Clean and estimate", "Record it", SeedCleanedForm),
    ActPage("seedlot", "sow", "sown", "Sow", "Record the sowing", SowForm, births="seedpot"),
    ActPage("seedlot", "store", "seed_stored", "Store it elsewhere", "Record it", SeedStoredForm),
    ActPage("seedlot", "finish", "seed_finished", "Finished", "Record that it is finished", SeedFinishedForm),
    ActPage("seedpot", "look", "pot_look", "Look for seedlings", "Record the look", PotLookForm),
    ActPage("seedpot", "loss", "pot_loss", "Seedlings lost", "Record the loss", PotLossForm),
    ActPage("seedpot", "gone", "pot_gone", "Gone", "Record that it is gone", PotGoneForm),
    ActPage("seedpot", "trouble", "pot_trouble", "Trouble", "Record the trouble", PotTroubleForm),
    ActPage(
        "seedpot",
        "split",
        "pot_split",
        "Pot split",
        "Record the split",
        PotSplitForm,
        births="seedpot",
    ),
    ActPage(
        "seedpot",
        "sown",
        "pot_sown",
        "Sown now",
        "Record the sowing",
        PotSownForm,
        after=_back_to_the_bench,
    ),
    ActPage("seedpot", "clear", "pot_cleared", "Never sown", "Clear this pot", PotClearedForm),
    ActPage("sowingsession", "change", "sowing_changed", "Change the sowing", "Change it", SowingChangeForm),
    ActPage(
        None,
        "pollen",
        "pollen_received",
        "Pollen from elsewhere",
        "Enter the pollen",
        PollenReceivedForm,
        births="pollenlot",
        stands_on=nothing,
    ),
    ActPage(
        None,
        "seed",
        "seed_received",
        "Seed from elsewhere",
        "Enter the seed",
        SeedReceivedForm,
        births="seedlot",
        stands_on=nothing,
    ),
    ActPage(
        None,
        "crosses",
        "cross_planned",
        "A cross to make",
        "Record the wish",
        CrossPlannedForm,
        births="cross",
        stands_on=nothing,
    ),
    ActPage(
        None,
        "routines",
        "routine_made",
        "New routine",
        "Keep this routine",
        RoutineForm,
        births="routine",
        stands_on=nothing,
    ),
    ActPage("routine", "change", "routine_changed", "Change the routine", "Change it", RoutineChangeForm),
    ActPage("routine", "done", "routine_done", "Done or not", "Record it", RoutineDoneForm),
    ActPage(
        "place",
        "stocktake",
        "stocktake",
        "Stocktake",
        "Record the stocktake",
        StocktakeForm,
        after=lambda act: reverse("stocktake", kwargs={"pk": act.pk}),
    ),
)
PAGES = tuple(_with_care(page) for page in _PAGES)

CORRECTING = (
    _with_care(
        ActPage(
            "sowingsession",
            "planned",
            "sowing_planned",
            "Sowing planned",
            "Keep it so",
            SowingPlannedForm,
            lead="Its pots stay as they are: clear those that are too many, and plan those that are missing. Where all "
            "of it is wrong, undo it. What was changed later still holds.",
        )
    ),
)
"""Pages that only correct: what they tell is told first on a screen of its own."""
