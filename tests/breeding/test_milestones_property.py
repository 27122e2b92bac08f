"""Whatever is told, in whatever order, twice, late, vaguely, corrected or undone: the books agree with the acts."""

import pytest
from django.db import transaction
from django.db.models import Q
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from breeding.models import (
    PollenLot,
    Pollinated,
    PotSown,
    PotSplit,
    Section,
    SeedLot,
    SeedPot,
    SowingPlanned,
    Sown,
    Spike,
)
from breeding.records.crosses import fathers_of, pairing_key
from nursery.models import Act, ActLink, Clone, LivingThing, Person, Tag, Thing, Void
from nursery.records import milestones, registry
from nursery.records.descent import descent
from nursery.stored_descent import to_stored
from tests.breeding.acting import Story, every_thing
from tests.making import Nursery

STEPS = st.integers(20, 40)

EVIDENCE = {
    "spike": {
        "growing": {"spike_found", "spike_look"},
        "buds": {"spike_found", "spike_look"},
        "open": {"spike_found", "spike_look", "pollinated", "pollen_collected"},
        "showing": {"spike_found", "spike_look"},
        "over": {"spike_found", "spike_look"},
        "aborted": {"spike_found", "spike_look"},
    },
    "section": {
        "pollinated": {"pollinated"},
        "no_take": {"take_look"},
        "swelling": {"take_look", "pod_look"},
        "turning": {"pod_look"},
        "opening": {"pod_look"},
        "split": {"pod_look"},
        "lost": {"pod_look"},
        "harvested": {"harvested"},
    },
    "pollenlot": {"kept": {"pollen_collected", "pollen_received", "pollen_split"}},
    "seedlot": {
        "waiting": {"harvested", "seed_received", "seed_split"},
        "cleaned": {"seed_cleaned"},
        "part_sown": {"sown", "pot_sown"},
    },
    "seedpot": {"prepared": {"sowing_planned"}, "sown": {"sown", "pot_sown"}, "up": {"pot_look", "pot_split"}},
    "sowingsession": {"planned": {"sowing_planned"}, "part_sown": {"pot_sown"}, "sown": {"pot_sown"}},
}
"""For each stage, the kinds of acts of which at least one must count; what is not listed may not occur."""


@pytest.fixture
def people(nursery: Nursery, owner: Person) -> list[Person]:
    """A nursery with one of everything, so that every kind of act can come first."""
    nursery.pot(nursery.seed(nursery.section(days_ago=200), days_ago=60), days_ago=50)
    nursery.male(days_ago=20)
    return [owner, nursery.person("owner")]


@settings(
    max_examples=15,
    deadline=None,
    derandomize=True,
    phases=[Phase.generate],  # shrinking takes minutes; the acts of a failure are few enough to read
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(data=st.data(), steps=STEPS)
def test_whatever_is_told_the_books_agree_with_the_acts(people: list[Person], data: st.DataObject, steps: int) -> None:
    with transaction.atomic():
        before = Act.objects.count()
        story = Story(data, people)
        for _ in range(steps):
            story.step()
        told = len(story.sent) + len(story.told_again) + story.others + story.voids
        assert Act.objects.count() == before + told, "every act is one row"
        for thing in every_thing():
            stored_is_worked_out(thing)
            stage_has_evidence(thing)
            is_cancelled_only_with_its_birth(thing)
        crosses_follow_the_dabs()
        pollen_is_of_the_clones_of_its_spikes()
        names_follow_descent()
        parts_are_as_their_wholes()
        acts_touch_what_their_things_belong_to()
        counts_are_conserved()
        transaction.set_rollback(True)


def stored_is_worked_out(thing: LivingThing) -> None:
    fresh = milestones.worked_out(thing)
    assert fresh == {name: getattr(thing, name) for name in fresh}, f"{thing.kind} {thing.pk}"


def stage_has_evidence(thing: LivingThing) -> None:
    if thing.kind in EVIDENCE and thing.stage:
        kinds = set(_counting(thing).values_list("kind", flat=True))
        assert kinds & EVIDENCE[thing.kind][thing.stage], f"{thing.kind} is {thing.stage} by nothing but {kinds}"


def is_cancelled_only_with_its_birth(thing: LivingThing) -> None:
    if thing.kind != "cross":
        assert thing.cancelled == Void.objects.filter(target=thing.thing.born_by_id).exists()


def crosses_follow_the_dabs() -> None:
    for section in Section.objects.filter(cancelled=False).select_related("cross", "spike__plant__clone"):
        fathers = fathers_of(section)
        assert fathers is not None, "a section that counts has a dab that counts"
        assert section.cross.key == pairing_key(section.spike.plant.clone, fathers)
        assert not section.cross.cancelled
    for lot in SeedLot.objects.filter(section__isnull=False).select_related("section"):
        assert lot.cross_id == lot.section.cross_id


def pollen_is_of_the_clones_of_its_spikes() -> None:
    for lot in PollenLot.objects.filter(cancelled=False, thing__born_by__kind="pollen_collected"):
        touched = ActLink.objects.filter(act__births=lot.pk).values("thing_id")
        clones = set(Spike.objects.filter(pk__in=touched).values_list("plant__clone_id", flat=True))
        own = {lot.clone_id} if lot.clone_id else set(lot.candidates.values_list("pk", flat=True))
        assert own == clones


def names_follow_descent() -> None:
    for clone in Clone.objects.select_related("taxon", "seed_parent", "pollen_parent"):
        assert clone.tree == to_stored(descent(clone))


def parts_are_as_their_wholes() -> None:
    for lot in PollenLot.objects.filter(split_from__isnull=False, cancelled=False).select_related("split_from"):
        whole = lot.split_from
        assert (lot.clone_id, lot.collected_first) == (whole.clone_id, whole.collected_first)
        assert set(lot.candidates.values_list("pk")) == set(whole.candidates.values_list("pk"))
    for lot in SeedLot.objects.filter(split_from__isnull=False, cancelled=False).select_related("split_from"):
        whole = lot.split_from
        assert (lot.cross_id, lot.section_id, lot.ripe_last) == (whole.cross_id, whole.section_id, whole.ripe_last)
    for pot in SeedPot.objects.filter(split_from__isnull=False, cancelled=False).select_related("split_from"):
        whole = pot.split_from
        assert (pot.lot_id, pot.sown_first, pot.sown_last) == (whole.lot_id, whole.sown_first, whole.sown_last)


def acts_touch_what_their_things_belong_to() -> None:
    counts = {"act__voided_by__isnull": True}
    sowings = PotSown.objects.filter(**counts).values_list("act", "pot__lot")
    dabs = Pollinated.objects.filter(**counts).values_list("act", "act__thing__section__spike")
    links = set(ActLink.objects.values_list("act", "thing"))
    assert {*sowings, *dabs} <= links
    pollinations = ActLink.objects.filter(thing__kind="cross", act__kind="pollinated", **counts)
    crosses = Section.objects.filter(cancelled=False).values_list("thing__born_by", "cross")
    assert set(pollinations.values_list("act", "thing")) == set(crosses)
    packets = ActLink.objects.filter(thing__kind="clone", act__kind__startswith="pollen_", **counts)
    lots = PollenLot.objects.filter(cancelled=False)
    whose = {*lots.exclude(clone=None).values_list("thing__born_by", "clone")}
    mixed = lots.filter(thing__born_by__kind="pollen_collected").exclude(candidates=None)
    whose |= {*mixed.values_list("thing__born_by", "candidates")}
    assert set(packets.values_list("act", "thing")) == whose


def counts_are_conserved() -> None:
    counts = {"act__voided_by__isnull": True}
    told = [kind.objects.filter(**counts).values_list("pots", flat=True) for kind in (Sown, SowingPlanned, PotSplit)]
    assert SeedPot.objects.filter(cancelled=False).count() == sum(map(sum, told))
    told_sown = Q(session=None, split_from=None, cancelled=False) | Q(
        pk__in=PotSown.objects.filter(**counts).values("pot")
    )
    for lot in SeedLot.objects.all():
        assert lot.pots_sown == lot.pots.filter(told_sown).count()
    kinds = [kind for kind in registry.thing_kinds().values() if kind.tagged]
    tagged = Thing.objects.filter(kind__in=[kind.code for kind in kinds]).count()
    assert Tag.objects.filter(thing__isnull=False, retired=False).count() == tagged, "each has one tag that holds"
    assert Thing.objects.count() == len(every_thing())


def _counting(thing: LivingThing):
    linked = ActLink.objects.filter(thing=thing.pk).values("act")
    return Act.objects.filter(thing=thing.pk, voided_by__isnull=True) | Act.objects.filter(
        pk__in=linked, voided_by__isnull=True
    )
