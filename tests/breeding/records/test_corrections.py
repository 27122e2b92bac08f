"""A correction is an undo and a new act in one: the thing, its tag and what was told of it later stay."""

from datetime import timedelta

import pytest

from breeding.models import Cross, PollenLot, Section, SeedLot, SeedPot, Spike
from breeding.records.pods import harvested, pods_looked_at
from breeding.records.pollen import pollen_collected
from breeding.records.posted import pollen_split
from breeding.records.pots import pot_looked_at, sown
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.spikes import spike_found, spike_looked
from nursery.days import Day
from nursery.models import Act, Clone, Person, Plant, Tag, Thing
from nursery.records.clones import clone_made
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.plants import plant_arrived
from nursery.records.undo import undone
from nursery.templatetags.tepal import plate
from tests.making import Nursery, ago, birth_of, tag_of

pytestmark = pytest.mark.django_db


def test_a_look_corrected_counts_in_place_of_the_first(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    wrong = nursery.record(pods_looked_at, section=section, seen="opening", days_ago=5)
    right = nursery.record(pods_looked_at, section=section, seen="turning", days_ago=4, replaces=wrong)
    section.refresh_from_db()
    assert (section.stage, section.open_by, section.turning_by) == ("turning", None, ago(4).first)
    assert (right.replaces, wrong.voided_by.act.kind) == (wrong, "void")


def test_the_same_correction_sent_twice_is_one(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    wrong = nursery.record(pods_looked_at, section=section, seen="opening")
    new = nursery.act(replaces=wrong)
    facts = {"section": section, "seen": "turning"}
    assert pods_looked_at(act=new, **facts) == pods_looked_at(act=new, **facts)
    assert Act.objects.filter(kind="void").count() == 1


def test_an_act_is_corrected_once_and_then_its_correction(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    first = nursery.record(pods_looked_at, section=section, seen="opening")
    second = nursery.record(pods_looked_at, section=section, seen="turning", replaces=first)
    with pytest.raises(Refused) as refusal:
        nursery.record(pods_looked_at, section=section, seen="green", replaces=first)
    assert refusal.value.sentence == "This record was undone or corrected before. Open it again to see how."
    third = nursery.record(pods_looked_at, section=section, seen="green", replaces=second)
    section.refresh_from_db()
    assert (section.stage, third.replaces) == ("swelling", second)


def test_an_act_is_corrected_by_one_of_its_kind_only(nursery: Nursery) -> None:
    spike = nursery.spike()
    with pytest.raises(Refused) as refusal:
        nursery.record(spike_looked, spike=spike, seen="buds", replaces=birth_of(spike))
    assert refusal.value.sentence == "A record can only be corrected by one of its own kind."


def test_a_grower_corrects_nobody_elses_act_of_another_day(nursery: Nursery, grower: Person) -> None:
    spike = nursery.spike()
    earlier = nursery.act().day.first
    wrong = nursery.record(spike_looked, spike=spike, seen="buds")
    Act.objects.filter(pk=wrong.pk).update(recorded_at=f"{earlier - timedelta(days=365)}T12:00Z")
    wrong.refresh_from_db()
    with pytest.raises(Refused) as refusal:
        nursery.record(spike_looked, spike=spike, seen="open", by=grower, replaces=wrong)
    assert refusal.value.sentence == "Somebody else recorded this on another day. Ask them or an owner."


# --- births ---


def test_a_birth_corrected_keeps_the_thing_its_tag_and_its_later_acts(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100, tie="red", flowers=20)
    tag = tag_of(section)
    look = nursery.record(pods_looked_at, section=section, seen="turning", days_ago=5)
    act = nursery.record(
        section_pollinated,
        spike=section.spike,
        lot=PollenLot.objects.get(),
        tie="blue",
        flowers=24,
        days_ago=98,
        replaces=birth_of(section),
    )
    section.refresh_from_db()
    assert Section.objects.get() == section
    assert (section.tie, section.flowers, section.day0_first, section.order) == ("blue", 24, ago(98).first, 1)
    assert (birth_of(section), tag_of(section), section.cancelled) == (act, tag, False)
    assert (section.stage, section.last_look) == ("turning", ago(5).first)
    assert not hasattr(look, "voided_by")


def test_four_pots_corrected_to_three_take_the_last_one_out(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=400, days_ago=9)
    four = nursery.record(sown, lot=lot, pots=4, seeds=50, days_ago=9)
    kept = list(SeedPot.objects.order_by("pk"))[:3]
    tags = {tag_of(pot) for pot in kept}
    nursery.record(pot_looked_at, pot=kept[0], seen="first")
    nursery.record(sown, lot=lot, pots=3, seeds=50, days_ago=9, replaces=four)
    lot.refresh_from_db()
    assert list(SeedPot.objects.filter(cancelled=False).order_by("pk")) == kept
    assert {tag_of(pot) for pot in kept} == tags
    assert (lot.pots_sown, lot.seeds_sown, lot.cross.pots, lot.cross.pots_up) == (3, 150, 3, 1)


def test_a_pot_that_was_looked_at_cannot_be_corrected_away(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9)
    four = nursery.record(sown, lot=lot, pots=4, days_ago=9)
    last = SeedPot.objects.latest("pk")
    nursery.record(pot_looked_at, pot=last, seen="first")
    with pytest.raises(Refused) as refusal:
        nursery.record(sown, lot=lot, pots=3, days_ago=9, replaces=four)
    number = plate(tag_of(last).number)
    assert refusal.value.sentence == f"More was recorded about the seed pot {number}. Undo that first, newest first."
    assert len(refusal.value.reasons) == 1
    assert SeedPot.objects.filter(cancelled=False).count() == 4


def test_three_pots_corrected_to_four_make_one_more(nursery: Nursery) -> None:
    lot = nursery.seed()
    three = nursery.record(sown, lot=lot, pots=3)
    tags = Tag.objects.count()
    nursery.record(sown, lot=lot, pots=4, replaces=three)
    assert SeedPot.objects.filter(cancelled=False).count() == 4
    assert Tag.objects.count() == tags + 1


def test_a_corrected_birth_can_be_undone_itself(nursery: Nursery) -> None:
    spike = nursery.spike()
    act = nursery.record(spike_found, plant=spike.plant, seen="buds", replaces=birth_of(spike))
    undone(act=nursery.act(), target=act)
    spike.refresh_from_db()
    assert (spike.stage, spike.cancelled) == ("growing", False), "the first version stands again"
    undone(act=nursery.act(), target=birth_of(spike))
    spike.refresh_from_db()
    assert spike.cancelled
    assert Thing.objects.filter(kind="spike").count() == 1


def test_a_harvest_of_the_wrong_section_moves_the_bag_to_the_right_one(nursery: Nursery) -> None:
    wrong, right = nursery.section(days_ago=90), nursery.section(days_ago=90)
    act = nursery.record(harvested, section=wrong, days_ago=1)
    lot = SeedLot.objects.get()
    nursery.record(harvested, section=right, days_ago=1, replaces=act)
    for one in (wrong, right, lot, wrong.cross, right.cross):
        one.refresh_from_db()
    assert (wrong.cross.stage, right.cross.stage) == ("pollinated", "seed")
    assert (lot.section, lot.cross) == (right, right.cross)
    assert (wrong.stage, wrong.closed_on, right.stage) == ("pollinated", None, "harvested")


# --- what comes from a corrected thing follows ---


def test_a_spike_that_stood_on_another_plant_gives_its_sections_another_seed_parent(nursery: Nursery) -> None:
    section = nursery.section(nursery.female(nursery.clone("lowii", "hammer")), lot=None)
    wrong = section.spike.plant
    right = nursery.plant(nursery.clone("veitchii", "velvet"))
    facts = {"seen": "open", "sex": "female", "sex_from": "flowers"}
    nursery.record(spike_found, plant=right, replaces=birth_of(section.spike), **facts)
    section.refresh_from_db()
    assert str(section.cross).startswith("veitchii velvet × ")
    for plant, sex in ((wrong, ""), (right, "female")):
        plant.clone.refresh_from_db()
        assert plant.clone.sex == sex


def test_later_dabs_count_for_the_spike_that_the_section_is_on(nursery: Nursery) -> None:
    """A dab says that a spike was open; so it does not of the one on which the section never was."""
    wrong, right, lot = nursery.spike(days_ago=60), nursery.spike(days_ago=60), nursery.pollen(days_ago=40)
    section = nursery.section(wrong, lot=lot, days_ago=30)
    dab = nursery.record(section_dabbed, section=section, lot=lot, days_ago=28)
    correction = nursery.record(section_pollinated, spike=right, lot=lot, days_ago=30, replaces=birth_of(section))

    def stages() -> list[str]:
        return [Spike.objects.get(pk=spike.pk).stage for spike in (wrong, right)]

    assert stages() == ["growing", "open"]
    assert set(dab.links.filter(thing__kind="spike").values_list("thing", flat=True)) == {right.pk}
    undone(act=nursery.act(), target=correction)
    assert stages() == ["open", "growing"]


def _touched(act: Act, kind: str) -> set[int]:
    return set(act.links.filter(thing__kind=kind).values_list("thing", flat=True))


def test_a_later_dab_may_be_of_pollen_from_the_spike_that_was_told_first(nursery: Nursery) -> None:
    """Then it says of both that they were open."""
    wrong, right, lot = nursery.spike(days_ago=60), nursery.spike(days_ago=60), nursery.pollen(days_ago=40)
    section = nursery.section(wrong, lot=lot, days_ago=30)
    dab = nursery.record(section_dabbed, section=section, from_spike=wrong, days_ago=28)
    nursery.record(section_pollinated, spike=right, lot=lot, days_ago=30, replaces=birth_of(section))
    assert list(dab.links.order_by("pk").values_list("thing", flat=True)) == [right.pk, wrong.pk]
    assert Spike.objects.get(pk=right.pk).last_look == ago(28).first


def test_a_dab_is_of_the_spike_that_its_section_is_on_when_it_is_held(nursery: Nursery) -> None:
    """Who reads the section before another connection corrects it, and dabs it after, knows the wrong spike."""
    wrong, right, lot = nursery.spike(days_ago=60), nursery.spike(days_ago=60), nursery.pollen(days_ago=40)
    section = nursery.section(wrong, lot=lot, days_ago=30)
    known = Section.objects.select_related("spike").get(pk=section.pk)
    correction = nursery.record(section_pollinated, spike=right, lot=lot, days_ago=30, replaces=birth_of(section))
    new = nursery.act(days_ago=28)
    dab = section_dabbed(act=new, section=known, lot=lot)
    assert _touched(dab, "spike") == {right.pk}
    undone(act=nursery.act(), target=correction)
    assert section_dabbed(act=new, section=Section.objects.get(pk=section.pk), lot=lot) == dab


def test_what_is_of_another_clone_names_the_wrong_one_no_more(nursery: Nursery) -> None:
    """Else what was entered by mistake could not be undone: pollen, cuttings and parts of them would depend on it."""
    wrong, right = nursery.clone("hamata", "lantern"), nursery.clone("hamata", "kettle")
    mother = nursery.plant(wrong)
    cutting = nursery.plant(wrong, struck_from=mother)
    lot = nursery.pollen([nursery.spike(cutting)])
    part = nursery.made(pollen_split, lot=lot)
    nursery.record(plant_arrived, clone=right, place=mother.place, replaces=birth_of(mother))
    for thing in (mother, cutting, lot, part):
        assert _touched(birth_of(thing), "clone") == {right.pk}
    undone(act=nursery.act(), target=birth_of(wrong))
    wrong.refresh_from_db()
    assert wrong.cancelled


def test_a_pollination_names_the_cross_that_its_section_is_of(nursery: Nursery) -> None:
    """So a page shows no contradictions of sections that are of another cross by now."""
    males = [nursery.male() for _ in range(3)]
    lot, other = (nursery.pollen([male]) for male in males[:2])
    section = nursery.section(lot=lot)
    nursery.record(pollen_collected, spikes=[males[2]], replaces=birth_of(lot))

    def named() -> Cross:
        [cross] = _touched(birth_of(section), "cross")
        assert cross == Section.objects.get(pk=section.pk).cross_id
        return Cross.objects.get(pk=cross)

    assert named().pollen_parent == males[2].plant.clone
    dab = nursery.record(section_dabbed, section=section, lot=other)
    assert named().candidates.count() == 2
    undone(act=nursery.act(), target=dab)
    assert named().pollen_parent == males[2].plant.clone


def test_a_cutting_is_of_the_clone_that_its_mother_is(nursery: Nursery) -> None:
    """At any remove, with all that grew on it; nobody told the clone of a cutting."""
    wrong, right = nursery.clone("hamata", "lantern"), nursery.clone("hamata", "kettle")
    mother = nursery.plant(wrong)
    cutting = nursery.plant(wrong, struck_from=mother)
    second = nursery.plant(wrong, struck_from=cutting)
    lot = nursery.pollen([nursery.male(days_ago=9), nursery.spike(second, sex="male")])
    section = nursery.section(from_spike=nursery.spike(cutting, sex="male"))
    correction = nursery.record(plant_arrived, clone=right, place=mother.place, replaces=birth_of(mother))

    def clones() -> list[Clone]:
        rows = Plant.objects.filter(pk__in=[mother.pk, cutting.pk, second.pk]).order_by("pk")
        return [*(row.clone for row in rows), Section.objects.get(pk=section.pk).cross.pollen_parent]

    assert clones() == [right] * 4
    assert right in lot.candidates.all() and wrong not in lot.candidates.all()
    assert [Clone.objects.get(pk=clone.pk).sex for clone in (wrong, right)] == ["", "male"]
    nursery.record(plant_arrived, clone=wrong, struck_from=mother, pot="9 cm", replaces=birth_of(cutting))
    assert clones() == [right] * 4
    undone(act=nursery.act(), target=birth_of(cutting))
    assert clones() == [right] * 4
    undone(act=nursery.act(), target=correction)
    assert clones() == [wrong] * 4


def test_a_father_on_another_plant_gives_pollen_and_sections_another_father(nursery: Nursery) -> None:
    male = nursery.male(nursery.clone("hamata", "lantern"))
    lot = nursery.pollen([male])
    packet = nursery.section(nursery.female(nursery.clone("lowii", "hammer")), lot=lot)
    fresh = nursery.section(nursery.female(nursery.clone("lowii", "whisk")), from_spike=male)
    right = nursery.plant(nursery.clone("veitchii", "velvet"))
    facts = {"seen": "open", "sex": "male", "sex_from": "flowers"}
    nursery.record(spike_found, plant=right, replaces=birth_of(male), **facts)
    for one in (lot, packet, fresh):
        one.refresh_from_db()
    assert lot.clone == right.clone
    assert str(packet.cross) == "lowii hammer × veitchii velvet"
    assert str(fresh.cross) == "lowii whisk × veitchii velvet"
    assert Cross.objects.filter(cancelled=False).count() == 2


def test_pollen_of_another_spike_gives_its_sections_another_father(nursery: Nursery) -> None:
    lot = nursery.pollen([nursery.male(nursery.clone("hamata", "lantern"))])
    section = nursery.section(nursery.female(nursery.clone("lowii", "hammer")), lot=lot)
    right = nursery.male(nursery.clone("veitchii", "velvet"))
    nursery.record(pollen_collected, spikes=[right], replaces=birth_of(lot))
    section.refresh_from_db()
    assert str(section.cross) == "lowii hammer × veitchii velvet"


def test_seed_follows_when_its_section_was_pollinated_by_another_father(nursery: Nursery) -> None:
    section = nursery.section(nursery.female(nursery.clone("lowii", "hammer")))
    before = section.cross
    lot = nursery.made(harvested, section=section)
    nursery.record(sown, lot=lot, pots=2)
    right = nursery.male(nursery.clone("veitchii", "velvet"))
    nursery.record(section_pollinated, spike=section.spike, from_spike=right, replaces=birth_of(section))
    lot.refresh_from_db(), before.refresh_from_db()
    assert (str(lot.cross), lot.cross.pots) == ("lowii hammer × veitchii velvet", 2)
    assert (before.cancelled, before.pots) == (True, 0)


def test_a_plant_of_another_clone_changes_every_cross_it_is_in(nursery: Nursery) -> None:
    section = nursery.section(nursery.female(nursery.clone("lowii", "hammer")))
    plant = section.spike.plant
    right = nursery.clone("veitchii", "velvet")
    nursery.record(plant_arrived, clone=right, place=plant.place, replaces=birth_of(plant))
    section.refresh_from_db()
    assert str(section.cross).startswith("veitchii velvet × ")
    right.refresh_from_db()
    assert right.sex == "female"


def test_a_clone_with_another_taxon_changes_the_names_of_its_offspring(nursery: Nursery) -> None:
    mother = nursery.clone("lowii", "hammer")
    child = nursery.clone(seed_parent=mother, word="B")
    grandchild = nursery.clone(seed_parent=child, word="C")
    nursery.record(clone_made, taxon=nursery.taxon("veitchii"), designation="hammer", replaces=birth_of(mother))
    for one in (child, grandchild):
        one.refresh_from_db()
    assert (str(child), str(grandchild)) == (
        "veitchii × unknown B",
        "(veitchii × unknown) × unknown C",
    )


def test_a_clone_cannot_be_corrected_into_its_own_ancestor(nursery: Nursery) -> None:
    mother = nursery.clone("lowii", "hammer")
    child = nursery.clone(seed_parent=mother, word="B")
    grandchild = nursery.clone(pollen_parent=child, word="C")
    for parent in (mother, child, grandchild):
        with pytest.raises(Refused) as refusal:
            nursery.record(clone_made, seed_parent=parent, designation="hammer", replaces=birth_of(mother))
        assert refusal.value.sentence == "That parent comes from this clone itself. Choose another parent."


def test_the_dab_that_brought_the_wrong_father_corrected(nursery: Nursery) -> None:
    section = nursery.section(nursery.female(nursery.clone("lowii", "hammer")), from_spike=nursery.male())
    father = section.cross.pollen_parent
    dab = nursery.record(section_dabbed, section=section, from_spike=nursery.male())
    own = Spike.objects.get(plant__clone=father)
    nursery.record(section_dabbed, section=section, from_spike=own, replaces=dab)
    section.refresh_from_db()
    assert section.cross.pollen_parent == father


def test_a_correction_may_be_vaguer_than_what_it_corrects(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=3)
    new = NewAct(**{**vars(nursery.act()), "day": Day.unknown(), "replaces": birth_of(spike)})
    spike_found(act=new, plant=spike.plant)
    spike.refresh_from_db()
    assert (spike.found_first, spike.found_last, spike.cancelled) == (None, None, False)
