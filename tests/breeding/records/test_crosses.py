"""Which cross a section belongs to: one row for each pairing, followed through mixed pollen, dabs and undoing."""

import pytest

from breeding.models import Cross, Section
from breeding.records.crosses import cross_planned
from breeding.records.pods import harvested
from breeding.records.pollen import pollen_received
from breeding.records.pots import sown
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.seed import seed_received
from breeding.records.spikes import spike_looked
from nursery.models import Act, Clone
from nursery.records.errors import Refused
from nursery.records.undo import undone
from tests.making import Nursery, birth_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def hammer(nursery: Nursery) -> Clone:
    return nursery.clone("lowii", "hammer")


@pytest.fixture
def lantern(nursery: Nursery) -> Clone:
    return nursery.clone("hamata", "lantern")


@pytest.fixture
def velvet(nursery: Nursery) -> Clone:
    return nursery.clone("veitchii", "velvet")


def _section(nursery: Nursery, mother: Clone, father: Clone, **facts) -> Section:
    return nursery.section(nursery.female(mother), lot=nursery.pollen([nursery.male(father)]), **facts)


def _undo(nursery: Nursery, act: Act) -> Act:
    return undone(act=nursery.act(), target=act)


def _refreshed(section: Section) -> Section:
    return Section.objects.get(pk=section.pk)


# --- one row for a pairing ---


def test_two_sections_of_a_pairing_share_one_cross(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    first, second = [_section(nursery, hammer, lantern) for _ in range(2)]
    assert first.cross == second.cross == Cross.objects.get()
    assert (str(first.cross), Cross.objects.get().sections) == ("lowii hammer × hamata lantern", 2)


def test_two_sections_of_one_spike_have_two_crosses(
    nursery: Nursery, hammer: Clone, lantern: Clone, velvet: Clone
) -> None:
    spike = nursery.female(hammer)
    lower, upper = [nursery.section(spike, lot=nursery.pollen([nursery.male(one)])) for one in (lantern, velvet)]
    assert [(one.order, str(one.cross)) for one in (lower, upper)] == [
        (1, "lowii hammer × hamata lantern"),
        (2, "lowii hammer × veitchii velvet"),
    ]


def test_the_other_way_round_is_another_cross(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    forth = nursery.cross(hammer, lantern)
    back = nursery.cross(lantern, hammer)
    assert [str(cross) for cross in (forth, back)] == [
        "lowii hammer × hamata lantern",
        "hamata lantern × lowii hammer",
    ]


def test_a_cross_wished_for_is_the_one_made_later(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    wished = nursery.cross(hammer, lantern, wanted=40, aim="red pitchers")
    assert (wished.stage, wished.cancelled) == ("planned", False)
    section = _section(nursery, hammer, lantern)
    assert section.cross == wished
    assert (section.cross.stage, section.cross.wanted) == ("pollinated", 40)


def test_wishing_again_changes_the_wish(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    wished = nursery.cross(hammer, lantern, wanted=40)
    again = nursery.cross(hammer, lantern, wanted=12, aim="for the windowsill")
    assert again == wished
    assert (again.wanted, again.aim) == (12, "for the windowsill")


def test_a_clone_cannot_be_crossed_with_itself(nursery: Nursery, hammer: Clone) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(cross_planned, seed_parent=hammer, pollen_parent=hammer)
    assert refusal.value.sentence == "A plant is male or female, so a clone cannot be crossed with itself."


def test_a_cross_goes_with_its_last_section_and_comes_back_with_the_next(
    nursery: Nursery, hammer: Clone, lantern: Clone
) -> None:
    section = _section(nursery, hammer, lantern)
    _undo(nursery, birth_of(section))
    assert Cross.objects.get().cancelled
    again = _section(nursery, hammer, lantern)
    assert (again.cross, again.cross.cancelled, again.cross.sections) == (section.cross, False, 1)


def test_a_wish_undone_leaves_a_cross_that_has_sections(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    act = nursery.record(cross_planned, seed_parent=hammer, pollen_parent=lantern, wanted=9)
    _section(nursery, hammer, lantern)
    _undo(nursery, act)
    cross = Cross.objects.get()
    assert (cross.cancelled, cross.wanted, cross.stage) == (False, None, "pollinated")


# --- who the father is ---


def test_mixed_pollen_makes_a_cross_with_one_of_several(
    nursery: Nursery, hammer: Clone, lantern: Clone, velvet: Clone
) -> None:
    lot = nursery.pollen([nursery.male(lantern), nursery.male(velvet)])
    cross = nursery.section(nursery.female(hammer), lot=lot).cross
    assert cross.pollen_parent is None
    assert set(cross.candidates.all()) == {lantern, velvet}
    assert str(cross) == "lowii hammer × (hamata lantern or veitchii velvet)"


def test_two_packets_of_the_same_mix_are_one_cross(
    nursery: Nursery, hammer: Clone, lantern: Clone, velvet: Clone
) -> None:
    males = [nursery.male(lantern), nursery.male(velvet)]
    crosses = {nursery.section(nursery.female(hammer), lot=nursery.pollen(way)).cross for way in (males, males[::-1])}
    assert len(crosses) == 1


def test_pollen_known_by_words_has_an_unknown_father(nursery: Nursery, hammer: Clone) -> None:
    lot = nursery.made(pollen_received, words="an envelope from the autumn fair")
    assert str(nursery.section(nursery.female(hammer), lot=lot).cross) == "lowii hammer × unknown"


def test_fresh_pollen_names_the_father_by_its_spike(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    section = nursery.section(nursery.female(hammer), from_spike=nursery.male(lantern))
    assert str(section.cross) == "lowii hammer × hamata lantern"


def test_a_lot_and_a_spike_at_once_are_refused(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(section_pollinated, spike=nursery.female(), lot=nursery.pollen(), from_spike=nursery.male())
    assert refusal.value.sentence == "Choose a pollen lot or a spike in flower, not both."
    assert not Section.objects.exists()


def test_a_second_dab_with_the_same_father_changes_nothing(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    section = _section(nursery, hammer, lantern, days_ago=0)
    nursery.record(section_dabbed, section=section, lot=nursery.pollen([nursery.male(lantern)]))
    assert _refreshed(section).cross == section.cross
    assert Cross.objects.count() == 1


def test_a_second_dab_with_another_father_makes_it_one_of_these(
    nursery: Nursery, hammer: Clone, lantern: Clone, velvet: Clone
) -> None:
    section = _section(nursery, hammer, lantern)
    before = section.cross
    nursery.record(section_dabbed, section=section, lot=nursery.pollen([nursery.male(velvet)]))
    after = _refreshed(section).cross
    assert str(after) == "lowii hammer × (hamata lantern or veitchii velvet)"
    before.refresh_from_db()
    assert (before.cancelled, before.sections, after.cancelled, after.sections) == (True, 0, False, 1)


def test_a_second_dab_of_unknown_pollen_leaves_no_certain_father(
    nursery: Nursery, hammer: Clone, lantern: Clone
) -> None:
    section = _section(nursery, hammer, lantern)
    before = section.cross
    dab = nursery.record(section_dabbed, section=section)
    assert str(_refreshed(section).cross) == "lowii hammer × unknown"
    _undo(nursery, dab)
    assert _refreshed(section).cross == before


def test_undoing_the_second_dab_gives_the_first_cross_back(
    nursery: Nursery, hammer: Clone, lantern: Clone, velvet: Clone
) -> None:
    section = _section(nursery, hammer, lantern)
    before = section.cross
    dab = nursery.record(section_dabbed, section=section, lot=nursery.pollen([nursery.male(velvet)]))
    assert _refreshed(section).cross != before
    _undo(nursery, dab)
    cross = _refreshed(section).cross
    assert (cross, cross.cancelled, cross.sections) == (before, False, 1)


def test_seed_and_pots_follow_when_the_cross_of_their_section_changes(
    nursery: Nursery, hammer: Clone, lantern: Clone, velvet: Clone
) -> None:
    section = _section(nursery, hammer, lantern, days_ago=0)
    before = section.cross
    lot = nursery.made(harvested, section=section)
    nursery.record(sown, lot=lot, pots=2)
    nursery.record(section_dabbed, section=section, lot=nursery.pollen([nursery.male(velvet)]))
    lot.refresh_from_db()
    assert str(lot.cross) == "lowii hammer × (hamata lantern or veitchii velvet)"
    assert (lot.cross.pots, lot.cross.stage) == (2, "sown")
    before.refresh_from_db()
    assert (before.pots, before.cancelled) == (0, True)


def test_seed_by_post_joins_the_cross_of_its_parents(nursery: Nursery, hammer: Clone, lantern: Clone) -> None:
    section = _section(nursery, hammer, lantern)
    lot = nursery.made(seed_received, seed_parent=hammer, pollen_parent=lantern, seeds=30)
    assert (lot.cross, lot.estimate, lot.estimate_from) == (section.cross, 30, "guessed")


def test_seed_known_by_words_has_unknown_parents(nursery: Nursery) -> None:
    lot = nursery.seed_by_post(words="Lowland mix from a swap")
    assert (str(lot.cross), lot.words) == ("unknown × unknown", "Lowland mix from a swap")


def test_a_parent_known_by_words_is_a_clone_without_a_plant(nursery: Nursery, hammer: Clone) -> None:
    friend = nursery.clone("hamata", "the big dark one", words_only=True, origin="gift", source="a friend in the north")
    lot = nursery.made(pollen_received, clone=friend)
    section = nursery.section(nursery.female(hammer), lot=lot)
    assert str(section.cross) == "lowii hammer × hamata the big dark one"
    assert (friend.plants.count(), friend.words_only) == (0, True)


# --- the sex of a clone ---


def test_flowers_decide_over_buds_for_the_whole_clone(nursery: Nursery, hammer: Clone) -> None:
    plant = nursery.plant(hammer)
    spike = nursery.spike(plant)
    nursery.record(spike_looked, spike=spike, seen="buds", sex="male", sex_from="buds")
    hammer.refresh_from_db()
    assert hammer.sex == "male"
    look = nursery.record(spike_looked, spike=spike, seen="open", sex="female", sex_from="flowers")
    hammer.refresh_from_db()
    assert hammer.sex == "female"
    _undo(nursery, look)
    hammer.refresh_from_db()
    assert hammer.sex == "male"


def test_two_plants_that_disagree_make_their_clone_contradictory(nursery: Nursery, hammer: Clone) -> None:
    nursery.female(hammer), nursery.male(hammer)
    hammer.refresh_from_db()
    assert hammer.sex == "unclear"


def test_a_section_above_one_that_was_undone_takes_no_turn_twice(nursery: Nursery) -> None:
    spike = nursery.female()
    lower, middle = [nursery.section(spike) for _ in range(2)]
    undone(act=nursery.act(), target=birth_of(lower))
    assert nursery.section(spike).order > middle.order
