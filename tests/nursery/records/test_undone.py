"""Undo: an act of its own that takes another back. What was recorded stays on record."""

from datetime import timedelta

import pytest
from django.utils import timezone

from breeding.models import SeedPot
from breeding.records.pods import pods_looked_at
from breeding.records.pots import pot_looked_at, sown
from breeding.records.sections import section_pollinated
from breeding.records.spikes import spike_looked
from nursery.days import Day
from nursery.models import Act, Person, Tag
from nursery.records import milestones
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.moves import moved
from nursery.records.numbers import blank_tags_make
from nursery.records.plants import plant_arrived
from nursery.records.remarks import remarked
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.watching import walked_past
from tests.making import Nursery, birth_of, tag_of

NOT_YOURS = "Somebody else recorded this on another day. Ask them or an owner."


def _yesterday(nursery: Nursery, by: Person) -> Act:
    """A look recorded yesterday."""
    new = nursery.act(by=by, recorded_at=timezone.now() - timedelta(days=1), day=None)
    return spike_looked(act=NewAct(id=new.id, by=by, recorded_at=new.recorded_at), spike=nursery.spike(), seen="buds")


def _undo(nursery: Nursery, target: Act, by: Person | None = None) -> Act:
    return undone(act=nursery.act(by=by or nursery.by), target=target)


# --- whose ---


def test_a_grower_undoes_their_own_act_of_another_day(nursery: Nursery, grower: Person) -> None:
    act = _yesterday(nursery, grower)
    assert _undo(nursery, act, by=grower).void.target == act


def test_a_grower_undoes_another_persons_act_of_the_same_day(nursery: Nursery, grower: Person) -> None:
    act = nursery.record(spike_looked, spike=nursery.spike(), seen="buds", days_ago=30)
    assert _undo(nursery, act, by=grower).void.target == act


def test_a_grower_cannot_undo_another_persons_act_of_another_day(nursery: Nursery, grower: Person) -> None:
    act = _yesterday(nursery, nursery.person("grower"))
    with pytest.raises(Refused) as refusal:
        _undo(nursery, act, by=grower)
    assert refusal.value.sentence == NOT_YOURS
    assert not Act.objects.filter(kind="void").exists()


def test_an_owner_undoes_anybodys_act_of_any_day(nursery: Nursery, grower: Person) -> None:
    act = _yesterday(nursery, grower)
    assert _undo(nursery, act).void.target == act


def test_a_viewer_undoes_nothing(nursery: Nursery, viewer: Person) -> None:
    act = nursery.record(spike_looked, spike=nursery.spike(), seen="buds")
    with pytest.raises(Refused) as refusal:
        _undo(nursery, act, by=viewer)
    assert refusal.value.sentence == "You may read here but not record. Ask an owner to make you a grower."


# --- twice ---


def test_an_undo_cannot_be_undone(nursery: Nursery) -> None:
    undo = _undo(nursery, nursery.record(spike_looked, spike=nursery.spike(), seen="buds"))
    with pytest.raises(Refused) as refusal:
        _undo(nursery, undo)
    assert refusal.value.sentence == "An undo cannot be undone. Record it again instead."


def test_undoing_what_is_undone_is_the_same_undo(nursery: Nursery) -> None:
    act = nursery.record(spike_looked, spike=nursery.spike(), seen="buds")
    first = _undo(nursery, act)
    assert _undo(nursery, act) == first
    assert Act.objects.filter(kind="void").count() == 1


def test_the_same_undo_sent_twice_is_one(nursery: Nursery) -> None:
    act = nursery.record(spike_looked, spike=nursery.spike(), seen="buds")
    new = nursery.act()
    assert undone(act=new, target=act) == undone(act=new, target=act)


def test_an_undo_sent_again_for_another_act_shows_what_is_on_record(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=3)
    first, second = [nursery.record(spike_looked, spike=spike, seen=seen) for seen in ("buds", "open")]
    new = nursery.act()
    undo = undone(act=new, target=first)
    with pytest.raises(AlreadySent) as refusal:
        undone(act=new, target=second)
    assert refusal.value.act == undo


# --- births ---


def test_a_birth_that_others_depend_on_is_refused_with_the_list_newest_first(nursery: Nursery) -> None:
    section = nursery.section(days_ago=0)
    nursery.record(pods_looked_at, section=section, seen="green")
    nursery.record(pods_looked_at, section=section, seen="turning")
    with pytest.raises(Refused) as refusal:
        _undo(nursery, birth_of(section))
    today = timezone.localdate()
    day = f"{today.day} {today:%b}"
    assert refusal.value.sentence == "More was recorded about this section. Undo that first, newest first."
    assert refusal.value.reasons == [
        f"pods looked at: firm, turning ({day})",
        f"pods looked at: firm, green ({day})",
    ]
    section.refresh_from_db()
    assert not section.cancelled


def test_what_others_tell_of_a_day_not_known_is_the_oldest_of_them(nursery: Nursery) -> None:
    section = nursery.section(days_ago=9)
    nursery.record(pods_looked_at, section=section, seen="green")
    nursery.record(pods_looked_at, section=section, seen="turning", day=Day.unknown())
    with pytest.raises(Refused) as refusal:
        _undo(nursery, birth_of(section))
    assert ["green" in reason for reason in refusal.value.reasons] == [True, False]


def test_once_the_others_are_undone_the_birth_can_be(nursery: Nursery) -> None:
    section = nursery.section()
    _undo(nursery, nursery.record(pods_looked_at, section=section, seen="green"))
    _undo(nursery, birth_of(section))
    section.refresh_from_db()
    assert section.cancelled


def test_remarks_and_walking_past_do_not_stop_it(nursery: Nursery) -> None:
    spike = nursery.spike()
    nursery.record(remarked, thing=spike, words="leaning over")
    nursery.record(walked_past, place=spike.plant.place, things=[spike])
    _undo(nursery, birth_of(spike))
    spike.refresh_from_db()
    assert spike.cancelled


def test_a_plant_that_moved_can_be_undone(nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.record(moved, thing=plant, place=nursery.bench())
    _undo(nursery, birth_of(plant))
    plant.refresh_from_db()
    assert plant.cancelled


def test_a_place_where_a_plant_was_put_cannot_be_undone(nursery: Nursery) -> None:
    bench = nursery.bench()
    nursery.plant(place=bench)
    with pytest.raises(Refused) as refusal:
        _undo(nursery, birth_of(bench))
    assert refusal.value.sentence == "More was recorded about this place. Undo that first, newest first."


def test_a_place_that_a_pot_moved_to_cannot_be_undone(nursery: Nursery) -> None:
    bench = nursery.bench()
    nursery.record(moved, thing=nursery.pot(), place=bench)
    with pytest.raises(Refused) as refusal:
        _undo(nursery, birth_of(bench))
    assert refusal.value.code == "others_depend"


def test_one_pot_that_was_looked_at_keeps_the_whole_sowing(nursery: Nursery) -> None:
    first, second = nursery.pots(2)
    nursery.record(pot_looked_at, pot=second, seen="first")
    with pytest.raises(Refused) as refusal:
        _undo(nursery, birth_of(first))
    assert refusal.value.code == "others_depend"
    assert not SeedPot.objects.filter(cancelled=True).exists()


def test_a_sowing_undone_gives_the_seed_back(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=100, days_ago=5)
    act = nursery.record(sown, lot=lot, pots=3, seeds=30, all_of_it=True)
    lot.refresh_from_db()
    assert (lot.seeds_sown, lot.closed_why) == (90, "sown")
    _undo(nursery, act)
    lot.refresh_from_db()
    assert (lot.seeds_sown, lot.pots_sown, lot.closed_on, lot.cross.pots) == (0, 0, None, 0)
    assert SeedPot.objects.filter(cancelled=True).count() == 3


def test_an_undone_thing_keeps_its_tag_so_that_the_label_still_tells(nursery: Nursery) -> None:
    spike = nursery.spike()
    tag = tag_of(spike)
    _undo(nursery, birth_of(spike))
    assert Tag.objects.get(pk=tag.pk).thing_id == spike.pk


def test_what_is_told_of_an_undone_thing_is_kept_and_flagged(nursery: Nursery) -> None:
    spike = nursery.spike()
    _undo(nursery, birth_of(spike))
    act = nursery.record(spike_looked, spike=spike, seen="buds")
    assert [flag.sentence for flag in act.flags.all()] == ["The spike was taken out of the books before."]


def test_the_plant_behind_an_undone_arrival_is_out_of_its_clone(nursery: Nursery) -> None:
    clone = nursery.clone()
    act = nursery.record(plant_arrived, clone=clone)
    _undo(nursery, act)
    assert not milestones.counting_acts(clone).filter(kind="plant_arrived").exists()


# --- tags ---


def test_a_tag_taken_off_again_is_blank_and_the_one_before_holds(nursery: Nursery) -> None:
    spike = nursery.spike()
    first = tag_of(spike)
    [blank] = blank_tags_make(count=1)
    act = nursery.record(tag_bound, thing=spike, number=blank.number)
    assert tag_of(spike) == blank
    _undo(nursery, act)
    blank.refresh_from_db()
    assert blank.thing is None
    assert tag_of(spike) == first


def test_the_father_of_an_undone_pollination_is_free_again(nursery: Nursery) -> None:
    lot = nursery.pollen()
    act = nursery.record(section_pollinated, spike=nursery.female(), lot=lot)
    _undo(nursery, act)
    _undo(nursery, birth_of(lot))
    lot.refresh_from_db()
    assert lot.cancelled
