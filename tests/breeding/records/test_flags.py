"""What contradicts the books is taken all the same and flagged, with a sentence that tells why. One test a reason."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from breeding.models import PollenLot, SeedPot, SowingSession, Spike
from breeding.records import sowing
from breeding.records.crosses import cross_planned
from breeding.records.pods import bagged, harvested, pods_looked_at, take_read
from breeding.records.pollen import pollen_collected, pollen_finished, pollen_received
from breeding.records.pots import pot_looked_at, sown
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.spikes import spike_found, spike_looked
from nursery.days import Day
from nursery.models import Act
from nursery.records.flags import flag_settled, open_flags
from nursery.records.plants import plant_gone
from nursery.records.undo import undone
from tests.making import Nursery, ago, birth_of

pytestmark = pytest.mark.django_db


def _told(act: Act) -> list[tuple[str, str]]:
    return [(flag.code, flag.sentence) for flag in act.flags.order_by("pk")]


def _not_before(days: int) -> str:
    return f"not before {ago(days).words(date(1950, 1, 1))}"


# --- plants and spikes ---


def test_a_plant_gone_twice(nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.record(plant_gone, plant=plant, why="died")
    act = nursery.record(plant_gone, plant=plant, why="sold")
    assert _told(act) == [("gone_twice", "This plant was already gone. Was the tag on another plant?")]


def test_a_spike_on_a_plant_that_is_gone(nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.record(plant_gone, plant=plant, why="died")
    act = nursery.record(spike_found, plant=plant)
    assert _told(act) == [("plant_was_gone", "This plant was gone before. Was the tag on another plant?")]


def test_a_spike_found_with_another_sex_than_its_clone(nursery: Nursery) -> None:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.spike(plant, sex="female")
    act = nursery.record(spike_found, plant=plant, seen="open", sex="male", sex_from="flowers")
    assert _told(act) == [("clone_other_sex", "Other spikes of lowii hammer were female, this one is male.")]


def test_a_look_that_shows_another_sex_than_other_spikes_of_the_clone(nursery: Nursery) -> None:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.spike(plant, sex="female")
    act = nursery.record(spike_looked, spike=nursery.spike(plant), seen="buds", sex="male", sex_from="buds")
    sentence = "Other spikes of lowii hammer were female, this one is male. Buds misread, or a swapped tag?"
    assert _told(act) == [("clone_other_sex", sentence)]


def test_only_buds_are_called_misread(nursery: Nursery) -> None:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.spike(plant, sex="female")
    act = nursery.record(spike_looked, spike=nursery.spike(plant), seen="open", sex="male", sex_from="flowers")
    sentence = "Other spikes of lowii hammer were female, this one is male. A swapped tag?"
    assert _told(act) == [("clone_other_sex", sentence)]
    by_buds = {"seen": "buds", "sex": "female", "sex_from": "buds"}
    spike = nursery.made(spike_found, plant=nursery.plant(), days_ago=20, **by_buds)
    [(_, told)] = _told(nursery.record(pollen_collected, spikes=[spike]))
    assert told.endswith("was read as female. Buds misread, or a swapped tag?")


def test_buds_that_were_misread(nursery: Nursery) -> None:
    spike = nursery.spike(seen="buds")
    nursery.record(spike_looked, spike=spike, seen="buds", sex="female", sex_from="buds")
    act = nursery.record(spike_looked, spike=spike, seen="open", sex="male", sex_from="flowers")
    assert _told(act) == [("buds_misread", "Its buds were read as female, its flowers are male.")]
    spike.refresh_from_db()
    assert spike.sex == "male"


def test_flowers_of_both_sexes(nursery: Nursery) -> None:
    spike = nursery.spike(sex="female")
    act = nursery.record(spike_looked, spike=spike, seen="open", sex="male", sex_from="flowers")
    assert _told(act) == [("sex_contradicts", "This spike was read as female before, now as male.")]
    spike.refresh_from_db()
    assert (spike.sex, spike.plant.clone.sex) == ("unclear", "unclear")


def test_a_look_older_than_the_spike(nursery: Nursery) -> None:
    act = nursery.record(spike_looked, spike=nursery.spike(days_ago=5), seen="buds", days_ago=6)
    assert _told(act) == [
        ("spike_before_found", f"This look is older than the day the spike was found: {_not_before(5)}.")
    ]


def test_a_vague_day_that_may_fit_is_no_contradiction(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=5)
    week_before = nursery.act(days_ago=7).day.first
    assert _told(nursery.record(spike_looked, spike=spike, seen="buds", day=Day.about_week(week_before))) == []


def test_a_spike_that_was_over_and_flowers_again(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=9)
    nursery.record(spike_looked, spike=spike, seen="over", days_ago=2)
    act = nursery.record(spike_looked, spike=spike, seen="open")
    assert _told(act) == [("spike_was_closed", "This spike was over, stopped or aborted before.")]


# --- pollen and pollination ---


def test_pollen_from_a_female(nursery: Nursery) -> None:
    act = nursery.record(pollen_collected, spikes=[nursery.female(nursery.clone("lowii", "hammer"))])
    assert _told(act) == [("pollen_from_female", "spike of lowii hammer was read as female. A swapped tag?")]


def test_pollen_of_two_clones(nursery: Nursery) -> None:
    act = nursery.record(pollen_collected, spikes=[nursery.male(), nursery.male()])
    assert _told(act) == [("pollen_mixed", "This pollen comes from more than one clone: mixed pollen.")]


def test_a_male_spike_pollinated(nursery: Nursery) -> None:
    act = nursery.record(section_pollinated, spike=nursery.male(), lot=nursery.pollen())
    assert _told(act) == [("male_pollinated", "This spike was read as male. A swapped tag?")]


def test_a_male_spike_pollinated_with_pollen_of_a_female_clone(nursery: Nursery) -> None:
    father = nursery.clone("hamata", "lantern")
    nursery.female(father)
    lot = nursery.made(pollen_received, clone=father)
    act = nursery.record(section_pollinated, spike=nursery.male(), lot=lot)
    assert _told(act) == [
        ("male_pollinated", "This spike was read as male. A swapped tag?"),
        ("pollen_parent_female", "hamata lantern is the pollen parent, but its spikes were female."),
    ]


def test_pollen_of_a_female_clone(nursery: Nursery) -> None:
    father = nursery.clone("hamata", "lantern")
    nursery.female(father)
    lot = nursery.made(pollen_received, clone=father)
    act = nursery.record(section_pollinated, spike=nursery.female(), lot=lot)
    sentence = "hamata lantern is the pollen parent, but its spikes were female."
    assert _told(act) == [("pollen_parent_female", sentence)]


def test_an_unread_spike_of_a_male_clone_pollinated(nursery: Nursery) -> None:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.spike(plant, sex="male")
    act = nursery.record(section_pollinated, spike=nursery.spike(plant), lot=nursery.pollen())
    assert _told(act) == [("seed_parent_male", "lowii hammer is the seed parent, but its spikes were male.")]


def test_pollen_that_nobody_knows(nursery: Nursery) -> None:
    lot = nursery.made(pollen_received, words="an envelope without a name")
    act = nursery.record(section_pollinated, spike=nursery.female(), lot=lot)
    assert _told(act) == [("father_unknown", "Nobody knows whose pollen this was.")]


def test_pollen_used_before_it_was_collected(nursery: Nursery) -> None:
    spike, lot = nursery.female(days_ago=9), nursery.pollen(days_ago=2)
    act = nursery.record(section_pollinated, spike=spike, lot=lot, days_ago=3)
    assert _told(act) == [("pollen_not_yet", f"This pollen was collected later than that day: {_not_before(2)}.")]


def test_pollen_used_after_it_was_finished(nursery: Nursery) -> None:
    lot = nursery.pollen(days_ago=5)
    nursery.record(pollen_finished, lot=lot, days_ago=3)
    act = nursery.record(section_pollinated, spike=nursery.female(), lot=lot)
    assert _told(act) == [("pollen_was_finished", "This pollen was finished before that day.")]


def test_a_spike_pollinated_before_it_was_found(nursery: Nursery) -> None:
    act = nursery.record(section_pollinated, spike=nursery.female(days_ago=1), lot=None, days_ago=2)
    assert _told(act) == [
        ("pollinated_before_found", f"This is older than the day the spike was found: {_not_before(1)}.")
    ]


def test_a_second_dab_is_held_against_the_books_too(nursery: Nursery) -> None:
    section = nursery.section(days_ago=3)
    lot = nursery.pollen([nursery.male(section.cross.pollen_parent, days_ago=1)], days_ago=1)
    act = nursery.record(section_dabbed, section=section, lot=lot, days_ago=2)
    assert _told(act) == [("pollen_not_yet", f"This pollen was collected later than that day: {_not_before(1)}.")]


def test_a_spike_as_its_own_pollen(nursery: Nursery) -> None:
    """Also where the sex of its clone is in doubt, and for a packet of it."""
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.spike(plant, sex="male", days_ago=30)
    spike = nursery.spike(plant, sex="female", days_ago=9)
    sentence = "Pollen of lowii hammer on lowii hammer itself: a plant is male or female. Another packet, or spike?"
    for facts in ({"from_spike": spike}, {"lot": nursery.pollen([spike])}):
        act = nursery.record(section_pollinated, spike=spike, **facts)
        assert _told(act) == [("own_pollen", sentence)]


def test_pollen_straight_from_a_female_spike(nursery: Nursery) -> None:
    """Said of the spike, also where the sex of its clone is in doubt."""
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    female = nursery.spike(plant, sex="female", days_ago=9)
    flag = ("pollen_from_female", "spike of lowii hammer was read as female. A swapped tag?")
    assert _told(nursery.record(section_pollinated, spike=nursery.female(), from_spike=female)) == [flag]
    nursery.spike(plant, sex="male", days_ago=30)
    section = nursery.section(from_spike=None)
    assert _told(nursery.record(section_dabbed, section=section, from_spike=female)) == [flag]


def test_two_sections_of_a_spike_with_one_tie(nursery: Nursery) -> None:
    first = nursery.section(tie="red wool", days_ago=9)
    act = nursery.record(section_pollinated, spike=first.spike, from_spike=None, tie=" Red  wool", days_ago=3)
    sentence = "Another section of this spike has the tie “Red wool”, too: nobody can tell them apart."
    assert _told(act) == [("same_tie", sentence)]
    other = {"spike": first.spike, "from_spike": None, "replaces": act, "days_ago": 3}
    right = nursery.record(section_pollinated, tie="blue wool", **other)
    assert _told(right) == []
    assert _told(nursery.record(section_pollinated, tie="blue wool", **other | {"replaces": right})) == []


def test_one_tie_where_the_sections_are_told_apart(nursery: Nursery) -> None:
    """On another spike, without any, or once the first is harvested, or was never there."""
    first = nursery.section(tie="red wool", days_ago=150)
    assert _told(nursery.record(section_pollinated, spike=nursery.female(), from_spike=None, tie="red wool")) == []
    on = {"spike": first.spike, "from_spike": None}
    undo = nursery.record(section_pollinated, tie="blue wool", **on)
    nursery.record(undone, target=undo)
    assert _told(nursery.record(section_pollinated, tie="blue wool", **on)) == []
    for _ in range(2):
        assert _told(nursery.record(section_pollinated, tie="", **on)) == []
    nursery.record(harvested, section=first, what="section", pods=2)
    assert _told(nursery.record(section_pollinated, tie="red wool", **on)) == []


def _mixed(*epithets: str, nursery: Nursery) -> PollenLot:
    return nursery.pollen([nursery.male(nursery.clone(one, "pliers"), days_ago=20) for one in epithets], days_ago=9)


def test_pollen_of_another_father_on_the_same_section(nursery: Nursery) -> None:
    section = nursery.section(lot=_mixed("hamata", nursery=nursery), days_ago=6)
    act = nursery.record(section_dabbed, section=section, lot=_mixed("lowii", nursery=nursery), days_ago=3)
    sentence = (
        "The pollen on this section was of hamata pliers, now it is of lowii pliers. "
        "The wrong packet, or another section?"
    )
    assert _told(act) == [("another_father", sentence)]


def test_unknown_pollen_on_a_section_whose_father_was_known(nursery: Nursery) -> None:
    section = nursery.section(lot=_mixed("hamata", nursery=nursery), days_ago=6)
    act = nursery.record(section_dabbed, section=section, lot=None, days_ago=3)
    sentence = (
        "The pollen on this section was of hamata pliers, now nobody knows whose. The wrong packet, or another section?"
    )
    assert _told(act) == [("another_father", sentence)]


def test_no_other_father(nursery: Nursery) -> None:
    """Another packet of the same male, one of several possible ones, or whatever comes where it is unknown anyway."""
    mixed, one = _mixed("hamata", "lowii", nursery=nursery), _mixed("sanguinea", nursery=nursery)
    fresh = nursery.male(one.clone, days_ago=9)
    known, unknown = nursery.section(lot=one, days_ago=6), nursery.section(from_spike=None, days_ago=6)
    several = nursery.section(lot=mixed, days_ago=6)
    of_them = nursery.male(mixed.candidates.order_by("pk")[0], days_ago=9)
    for section, spike in ((known, fresh), (unknown, fresh), (several, of_them)):
        act = nursery.record(section_dabbed, section=section, from_spike=spike, days_ago=3)
        assert "another_father" not in dict(_told(act))


def test_a_corrected_dab_is_held_against_the_other_dabs_only(nursery: Nursery) -> None:
    first, other = _mixed("hamata", nursery=nursery), _mixed("lowii", nursery=nursery)
    section = nursery.section(lot=first, days_ago=6)
    old = birth_of(section)
    right = nursery.record(section_pollinated, spike=section.spike, lot=other, replaces=old, days_ago=6)
    assert _told(right) == []
    dab = nursery.record(section_dabbed, section=section, lot=other, days_ago=3)
    wrong = nursery.record(section_pollinated, spike=section.spike, lot=first, replaces=right, days_ago=6)
    assert [code for code, _ in _told(wrong)] == ["another_father"]
    unknown = nursery.record(section_dabbed, section=section, lot=None, replaces=dab, days_ago=3)
    assert _told(unknown) == []


def test_a_cross_wished_for_between_the_wrong_sexes(nursery: Nursery) -> None:
    mother, father = nursery.clone("lowii", "hammer"), nursery.clone("hamata", "lantern")
    nursery.male(mother), nursery.female(father)
    act = nursery.record(cross_planned, seed_parent=mother, pollen_parent=father)
    assert [code for code, _ in _told(act)] == ["seed_parent_male", "pollen_parent_female"]


# --- sections, seed, pots ---

LOOKS: list[tuple[Callable[..., Act], dict[str, Any]]] = [
    (take_read, {"swelling": "half"}),
    (pods_looked_at, {"seen": "green"}),
    (bagged, {}),
    (harvested, {"what": "pods"}),
]


@pytest.mark.parametrize(("record", "facts"), LOOKS, ids=lambda one: getattr(one, "__name__", ""))
def test_anything_older_than_the_pollination(
    record: Callable[..., Act], facts: dict[str, Any], nursery: Nursery
) -> None:
    act = nursery.record(record, section=nursery.section(days_ago=20), days_ago=21, **facts)
    assert _told(act) == [("before_pollination", f"This is older than the pollination: {_not_before(20)}.")]


@pytest.mark.parametrize(("record", "facts"), LOOKS, ids=lambda one: getattr(one, "__name__", ""))
def test_anything_on_a_section_that_is_closed(
    record: Callable[..., Act], facts: dict[str, Any], nursery: Nursery
) -> None:
    section = nursery.section(days_ago=20)
    nursery.record(harvested, section=section, days_ago=1)
    act = nursery.record(record, section=section, **facts)
    [(code, sentence)] = _told(act)
    assert code == "section_was_closed" and sentence.startswith("This section was harvested before, as Ida Fern has")


@pytest.mark.parametrize(
    ("record", "facts"),
    [
        (take_read, {"swelling": "all", "pods": 21}),
        (pods_looked_at, {"seen": "green", "pods_left": 21}),
        (harvested, {"pods": 21}),
    ],
    ids=["take", "pods", "harvest"],
)
def test_more_pods_than_flowers(record: Callable[..., Act], facts: dict[str, Any], nursery: Nursery) -> None:
    act = nursery.record(record, section=nursery.section(days_ago=20, flowers=20), **facts)
    sentence = "21 pods, but 20 flowers were counted at pollination."
    assert _told(act) == [("more_pods_than_flowers", sentence)]


def test_more_pods_than_flowers_by_two_harvests(nursery: Nursery) -> None:
    section = nursery.section(days_ago=20, flowers=10)
    first = nursery.record(harvested, section=section, what="pods", pods=8, days_ago=2)
    second = nursery.record(harvested, section=section, what="pods", pods=8, days_ago=1)
    sentence = "16 pods cut in all, but 10 flowers were counted at pollination."
    assert (_told(first), _told(second)) == ([], [("more_pods_than_flowers", sentence)])


def test_pods_that_were_not_cut_after_all_do_not_count(nursery: Nursery) -> None:
    section = nursery.section(days_ago=20, flowers=10)
    cut = {"section": section, "what": "pods", "pods": 8}
    undone(act=nursery.act(), target=nursery.record(harvested, **cut, days_ago=3))
    first = nursery.record(harvested, **cut, days_ago=2)
    corrected = nursery.record(harvested, **cut | {"pods": 7}, days_ago=2, replaces=first)
    assert (_told(first), _told(corrected)) == ([], [])
    assert _told(nursery.record(harvested, **cut | {"pods": 3}, days_ago=1)) == []
    nursery.record(harvested, section=nursery.section(days_ago=20), pods=8)  # of another section
    assert _told(nursery.record(harvested, section=section, what="pods", days_ago=1)) == [], "nobody counted"


@pytest.mark.parametrize(
    ("size", "pods", "sentence"),
    [
        ("10", 9, ""),
        ("10", 10, "10 pods, but under 10 flowers were told at pollination."),
        ("25", 24, ""),
        ("25", 25, "25 pods, but 10 to 24 flowers were told at pollination."),
        ("more", 2000, ""),
        ("", 2000, ""),
    ],
)
def test_more_pods_than_flowers_were_guessed(nursery: Nursery, size: str, pods: int, sentence: str) -> None:
    section = nursery.section(days_ago=20, size=size)
    told = [("more_pods_than_flowers", sentence)] if sentence else []
    assert _told(nursery.record(take_read, section=section, swelling="all", pods=pods)) == told
    assert _told(nursery.record(harvested, section=section, pods=pods)) == told


def test_a_harvest_where_nothing_was_swelling(nursery: Nursery) -> None:
    section = nursery.section(days_ago=60)
    nursery.record(take_read, section=section, swelling="none", days_ago=20)
    act = nursery.record(harvested, section=section)
    sentence = "Nothing was swelling at the last look. Another section's tag?"
    assert _told(act) == [("harvest_without_take", sentence)]


def test_more_sown_than_was_estimated(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=100, days_ago=1)
    act = nursery.record(sown, lot=lot, pots=3, seeds=40)
    sentence = "120 seeds sown, but 100 were estimated. Was that too low, or is a number wrong?"
    assert _told(act) == [("sown_more_than_estimated", sentence)]


def test_sown_from_a_lot_that_was_finished(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=2)
    nursery.record(sown, lot=lot, all_of_it=True, days_ago=1)
    act = nursery.record(sown, lot=lot)
    assert _told(act) == [("lot_was_finished", "This lot was finished before, so its estimate was low.")]


def test_sown_before_the_harvest(nursery: Nursery) -> None:
    act = nursery.record(sown, lot=nursery.seed(days_ago=2), days_ago=3)
    assert _told(act) == [("sown_before_harvest", f"This is older than the harvest: {_not_before(2)}.")]


def test_a_pot_looked_at_before_it_was_sown(nursery: Nursery) -> None:
    act = nursery.record(pot_looked_at, pot=nursery.pot(days_ago=2), seen="nothing", days_ago=3)
    assert _told(act) == [("before_sowing", f"This look is older than the sowing: {_not_before(2)}.")]


def test_nothing_where_seedlings_were_seen_before(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=60)
    nursery.record(pot_looked_at, pot=pot, seen="few", days_ago=5)
    act = nursery.record(pot_looked_at, pot=pot, seen="nothing")
    sentence = "Seedlings were seen here before. All lost, or another pot's tag?"
    assert _told(act) == [("seedlings_gone", sentence)]


def test_more_seedlings_than_seeds(nursery: Nursery) -> None:
    pot = nursery.pot(nursery.seed(days_ago=70), seeds=30, days_ago=60)
    act = nursery.record(pot_looked_at, pot=pot, seen="plenty", counted=31)
    assert _told(act) == [("more_seedlings_than_seeds", "31 seedlings from 30 seeds.")]


# --- to sort out ---


def _flagged(nursery: Nursery) -> Act:
    return nursery.record(section_pollinated, spike=nursery.male(), lot=nursery.pollen())


def test_flags_wait_until_somebody_settles_them(nursery: Nursery) -> None:
    flag = _flagged(nursery).flags.get()
    assert list(open_flags()) == [flag]
    nursery.record(flag_settled, flag=flag)
    assert list(open_flags()) == []


def test_settled_by_two_people_it_is_settled_once(nursery: Nursery) -> None:
    flag = _flagged(nursery).flags.get()
    assert nursery.record(flag_settled, flag=flag) == nursery.record(flag_settled, flag=flag)


def test_a_flag_goes_with_the_act_that_was_undone(nursery: Nursery) -> None:
    undone(act=nursery.act(), target=_flagged(nursery))
    assert list(open_flags()) == []


def test_settling_that_was_undone_lets_the_flag_wait_again(nursery: Nursery) -> None:
    flag = _flagged(nursery).flags.get()
    undone(act=nursery.act(), target=nursery.record(flag_settled, flag=flag))
    assert list(open_flags()) == [flag]
    nursery.record(flag_settled, flag=flag)
    assert list(open_flags()) == []


def test_the_right_thing_carries_no_flag(nursery: Nursery) -> None:
    assert _told(nursery.record(section_pollinated, spike=nursery.female(), lot=nursery.pollen())) == []
    assert Spike.objects.count() == 2


# --- sowing more pods than were cut, and plans ---


def test_more_pods_sown_than_were_cut(nursery: Nursery) -> None:
    lot = nursery.made(harvested, section=nursery.section(days_ago=150), what="section", pods=6, days_ago=5)
    assert _told(nursery.record(sown, lot=lot, pots=1, pods=4, days_ago=3)) == []
    act = nursery.record(sown, lot=lot, pots=3, pods=1, days_ago=2)
    assert _told(act) == [("more_pods_than_cut", "7 pods sown in all, but 6 cut for this lot.")]
    assert _told(nursery.record(sown, lot=lot, pots=2, pods=1, replaces=act, days_ago=2)) == []
    session = nursery.sowing(sowing.Line(lot, 1, pods=1))
    pot = SeedPot.objects.get(session=session)
    act = nursery.record(sowing.pot_sown, pot=pot, pods=1)
    assert _told(act) == [("more_pods_than_cut", "7 pods sown in all, but 6 cut for this lot.")]
    assert act.flags.get().thing_id == lot.pk
    again = nursery.record(sowing.pot_sown, pot=pot, pods=1)
    assert ("more_pods_than_cut", "8 pods sown in all, but 6 cut for this lot.") not in _told(again), "one pot of it"


def test_pods_that_nobody_counted_are_not_held_against_any(nursery: Nursery) -> None:
    lot = nursery.made(harvested, section=nursery.section(days_ago=150), what="section", days_ago=5)
    for one in (lot, nursery.seed_by_post(words="a packet", days_ago=9)):
        assert _told(nursery.record(sown, lot=one, pots=20, pods=9, days_ago=3)) == []


def test_a_sowing_planned_for_a_day_that_was_over(nursery: Nursery) -> None:
    lines = {"lines": [sowing.Line(nursery.seed(days_ago=30), 1, seeds=9)], "days_ago": 5}
    assert _told(nursery.record(sowing.sowing_planned, planned_for=ago(5).first, **lines)) == []
    act = nursery.record(sowing.sowing_planned, planned_for=date(2020, 1, 1), **lines)
    sentence = "It is planned for 1 Jan 2020, a day that was over. A slip?"
    assert _told(act) == [("planned_for_past", sentence)]
    session = SowingSession.objects.get(pk=act.thing_id)
    assert _told(nursery.record(sowing.sowing_changed, session=session, medium="moss")) == [], "it stays on its day"
    act = nursery.record(sowing.sowing_changed, session=session, planned_for=date(2020, 1, 2))
    assert [code for code, _ in _told(act)] == ["planned_for_past"]
