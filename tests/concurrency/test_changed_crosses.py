"""A section goes over to another cross, or pollen turns out to be another clone's, while somebody else records."""

from collections.abc import Callable
from dataclasses import dataclass

from breeding.models import Cross, PollenLot, Section, Spike
from breeding.records.crosses import pairing_key
from breeding.records.sections import section_dabbed, section_pollinated
from nursery.models import Act, Clone
from nursery.records import locks
from nursery.records.plants import plant_arrived
from nursery.records.undo import undone
from tests.concurrency.together import Holder, together, waits_for
from tests.making import Nursery, ago, birth_of

Work = Callable[[], Act]
"""Something to be run on any connection: it fetches rows of its own."""


def _again(row):
    return type(row).objects.get(pk=row.pk)


def _dab(nursery: Nursery, section: Section, male: Spike) -> Work:
    return lambda: section_dabbed(act=nursery.act(), section=_again(section), from_spike=_again(male))


def _pollinate(nursery: Nursery, spike: Spike, lot: PollenLot) -> Work:
    return lambda: section_pollinated(act=nursery.act(), spike=_again(spike), lot=_again(lot))


def _correct_whose(nursery: Nursery, lot: PollenLot, clone: Clone) -> Work:
    """The plant that this pollen was taken from was another clone's all along."""
    plant = lot.thing.born_by.links.get(thing__kind="spike").thing.spike.plant
    old = birth_of(plant)
    return lambda: plant_arrived(act=nursery.act(days_ago=400, replaces=old), clone=_again(clone), place=plant.place)


def _correct_where(nursery: Nursery, section: Section, spike: Spike) -> Work:
    """The section was on another spike all along."""
    old = birth_of(section)
    facts = {"from_spike": old.pollinated.from_spike}
    return lambda: section_pollinated(act=nursery.act(days_ago=9, replaces=old), spike=_again(spike), **facts)


def _cross(mother: Clone, *fathers: Clone) -> Cross:
    return Cross.objects.get(key=pairing_key(mother, [father.pk for father in fathers]))


def _all_counts_are_right() -> bool:
    """A cross says how many sections it has, and no longer counts when it has none."""
    counted = {cross: Section.objects.filter(cross=cross, cancelled=False).count() for cross in Cross.objects.all()}
    return all((cross.sections, cross.cancelled) == (count, count == 0) for cross, count in counted.items())


@dataclass
class Family:
    """One mother with a section from each of two males, and one dabbed from both: three crosses."""

    mother: Clone
    one: Spike
    two: Spike
    first: Section
    second: Section
    both: Section

    @classmethod
    def of(cls, nursery: Nursery) -> "Family":
        mother, one, two = nursery.clone(), nursery.male(days_ago=20), nursery.male(days_ago=20)
        first, second, both = [
            nursery.section(nursery.female(mother, days_ago=10), from_spike=male, days_ago=9)
            for male in (one, two, one)
        ]
        _dab(nursery, both, two)()
        return cls(mother, one, two, first, second, _again(both))


def test_a_section_waits_for_whoever_holds_the_cross_that_it_goes_over_to(nursery: Nursery) -> None:
    family = Family.of(nursery)
    with Holder(lambda: locks.lock([_again(family.both.cross)])) as holder:
        [act] = waits_for(holder, _dab(nursery, family.first, family.two))
    assert isinstance(act, Act)
    assert _again(family.first).cross == family.both.cross
    assert _all_counts_are_right()


def test_two_sections_that_go_over_to_one_cross_are_both_counted_there(nursery: Nursery) -> None:
    family = Family.of(nursery)
    with Holder(_dab(nursery, family.first, family.two)) as holder:
        [act] = waits_for(holder, _dab(nursery, family.second, family.one))
    assert isinstance(act, Act)
    assert _again(family.both.cross).sections == 3
    assert _all_counts_are_right()


def test_an_undone_dab_waits_for_the_cross_that_its_section_goes_back_to(nursery: Nursery) -> None:
    family = Family.of(nursery)
    dab = _dab(nursery, family.first, family.two)()
    before = _cross(family.mother, family.one.plant.clone)
    with Holder(lambda: locks.lock([_again(before)])) as holder:
        [act] = waits_for(holder, lambda: undone(act=nursery.act(), target=dab))
    assert isinstance(act, Act)
    assert _again(family.first).cross == before
    assert _all_counts_are_right()


def test_sections_that_come_and_go_at_once_end_right_even_after_a_deadlock(nursery: Nursery) -> None:
    """Each locks late the cross that another one has."""
    family = Family.of(nursery)
    for _ in range(3):
        there = [_dab(nursery, family.first, family.two)(), _dab(nursery, family.second, family.one)()]
        back = [lambda dab=dab: undone(act=nursery.act(), target=dab) for dab in there]
        results = together(*back, _dab(nursery, family.both, family.one))
        assert all(isinstance(one, Act) for one in results), results
        assert _all_counts_are_right()
    assert _cross(family.mother, family.one.plant.clone).sections == 1


def test_pollen_corrected_while_somebody_waits_to_use_it_is_used_as_corrected(nursery: Nursery) -> None:
    spike, lot, other = nursery.female(days_ago=9), nursery.pollen(days_ago=2), nursery.clone("hamata")
    with Holder(_correct_whose(nursery, lot, other)) as holder:
        [act] = waits_for(holder, _pollinate(nursery, spike, lot))
    assert isinstance(act, Act)
    assert Section.objects.get().cross == _cross(spike.plant.clone, other)
    assert _all_counts_are_right()


def test_a_section_made_while_a_correction_of_its_pollen_waits_follows_it(nursery: Nursery) -> None:
    spike, lot, other = nursery.female(days_ago=9), nursery.pollen(days_ago=2), nursery.clone("hamata")
    with Holder(_pollinate(nursery, spike, lot)) as holder:
        [act] = waits_for(holder, _correct_whose(nursery, lot, other))
    assert isinstance(act, Act)
    assert Section.objects.get().cross == _cross(spike.plant.clone, other)
    assert _all_counts_are_right()


def test_a_dab_that_waits_while_its_section_goes_to_another_spike_is_of_that_one(nursery: Nursery) -> None:
    family, right = Family.of(nursery), nursery.spike(days_ago=20)
    with Holder(_correct_where(nursery, family.first, right)) as holder:
        [dab] = waits_for(holder, _dab(nursery, family.first, family.two))
    assert set(dab.links.filter(thing__kind="spike").values_list("thing", flat=True)) == {right.pk, family.two.pk}
    assert _again(right).last_look == ago(0).first


def test_a_dab_undone_while_its_section_goes_to_another_spike_says_nothing_of_that_one(nursery: Nursery) -> None:
    family, right = Family.of(nursery), nursery.spike(days_ago=20)
    dab = _dab(nursery, family.first, family.two)()
    with Holder(_correct_where(nursery, family.first, right)) as holder:
        [void] = waits_for(holder, lambda: undone(act=nursery.act(), target=Act.objects.get(pk=dab.pk)))
    assert void.kind == "void"
    assert _again(right).last_look == ago(9).first


def test_a_cutting_told_while_its_mother_turns_out_to_be_another_clones_is_of_that_one(nursery: Nursery) -> None:
    mother, other = nursery.plant(), nursery.clone("hamata")
    cutting = nursery.act()

    def struck() -> Act:
        plant = _again(mother)
        return plant_arrived(act=cutting, clone=plant.clone, struck_from=plant)

    correction = nursery.act(days_ago=400, replaces=birth_of(mother))
    with Holder(lambda: plant_arrived(act=correction, clone=_again(other), place=mother.place)) as holder:
        [act] = waits_for(holder, struck)
    assert (act.thing.plant.clone, act.plantarrived.clone) == (other, other)
