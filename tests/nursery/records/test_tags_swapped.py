"""Two tags that hung on each other's thing: the numbers change places, and what came through them goes along."""

from typing import Any

import pytest

from breeding.models import PollenLot, Spike
from breeding.records.pods import harvested, pods_looked_at, take_read
from breeding.records.pollen import pollen_collected
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.spikes import spike_found, spike_looked
from nursery.days import Day
from nursery.models import Act, LivingThing, Plant, Repair
from nursery.records.errors import AlreadySent, Refused
from nursery.records.moves import moved
from nursery.records.numbers import blank_tags_make
from nursery.records.photos import photo_taken
from nursery.records.plants import plant_arrived
from nursery.records.quarantine import quarantined, sample_result, sample_sent
from nursery.records.remarks import remarked
from nursery.records.stocktakes import stocktake_taken
from nursery.records.swapped import recorded_through, tags_swapped
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.watching import walked_past
from tests.drawing import kept
from tests.keeping import fresh
from tests.making import Nursery, ago, birth_of, tag_of

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def made_once(kept: Nursery) -> tuple[Plant, Plant]:
    return kept.plant(), kept.plant()


@pytest.fixture
def two(made_once: tuple[Plant, Plant]) -> tuple[Plant, Plant]:
    return fresh(made_once)


def _swapped(nursery: Nursery, thing: LivingThing, other: LivingThing, *moved: Act, **more: Any) -> Act:
    return nursery.record(tags_swapped, thing=thing, other=other, moved=list(moved), **more)


def _undo(nursery: Nursery, act: Act) -> Act:
    return undone(act=nursery.act(), target=act)


def _numbers(*things: LivingThing) -> list[int]:
    return [tag_of(one).number for one in things]


def _counting(thing: LivingThing) -> list[tuple[str, Any, str]]:
    acts = Act.objects.filter(thing=thing.pk, voided_by__isnull=True).exclude(kind__in=["void", "tags_swapped"])
    return sorted(acts.values_list("kind", "day_last", "note"))


def test_the_numbers_change_places(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    before = _numbers(one, other)
    act = _swapped(nursery, one, other, day=Day.month(2026, 3))
    assert _numbers(one, other) == before[::-1]
    assert act.said == "month"
    _undo(nursery, act)
    assert _numbers(one, other) == before


def test_what_came_through_the_wrong_tag_goes_over_on_the_same_day(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    bench = nursery.bench()
    move = nursery.record(moved, thing=one, place=bench, days_ago=8, note="all of tray 2")
    words = nursery.record(remarked, thing=other, words="leans over", day=Day.month(2026, 5))
    act = _swapped(nursery, one, other, move, words, days_ago=10)
    for plant in (one, other):
        plant.refresh_from_db()
    assert (one.place_id != bench.pk, other.place_id) == (True, bench.pk)
    again = Act.objects.get(replaces=move)
    assert (again.thing_id, again.day_last, again.note, again.by) == (
        other.pk,
        ago(8).last,
        "all of tray 2",
        nursery.by,
    )
    said = Act.objects.get(replaces=words)
    assert (said.thing_id, said.said, said.remark.words) == (one.pk, "month", "leans over")
    assert Act.objects.filter(pk__in=[move.pk, words.pk], voided_by__isnull=True).count() == 0
    assert Repair.objects.filter(swap__act=act).count() == 2


def test_one_undo_brings_everything_back(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    move = nursery.record(moved, thing=one, place=nursery.bench(), days_ago=8)
    words = nursery.record(remarked, thing=other, words="leans over", days_ago=7)
    rows = [Plant.objects.filter(pk=plant.pk).values().get() for plant in (one, other)]
    told, numbers = [_counting(one), _counting(other)], _numbers(one, other)
    one.refresh_from_db()
    act = _swapped(nursery, one, other, move, words, days_ago=10)
    assert [_counting(one), _counting(other)] != told
    _undo(nursery, act)
    assert [Plant.objects.filter(pk=plant.pk).values().get() for plant in (one, other)] == rows
    assert [_counting(one), _counting(other)] == told
    assert _numbers(one, other) == numbers


def test_sent_twice_it_is_done_once(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    move = nursery.record(moved, thing=one, place=nursery.bench())
    new, before = nursery.act(), _numbers(one, other)
    acts = [tags_swapped(act=new, thing=one, other=other, moved=[move]) for _ in range(2)]
    assert acts[0] == acts[1]
    assert _numbers(one, other) == before[::-1]
    with pytest.raises(AlreadySent):
        tags_swapped(act=new, thing=one, other=other, moved=[])


def test_undone_twice_it_is_undone_once(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    move = nursery.record(moved, thing=one, place=nursery.bench())
    act, before = _swapped(nursery, one, other, move), _numbers(one, other)
    undo = nursery.act()
    acts = Act.objects.count()
    assert undone(act=undo, target=act) == undone(act=undo, target=act)
    assert _numbers(one, other) == before[::-1]
    assert Act.objects.count() == acts + 3, "the undo, the move told again and the undo of what it replaced"


def test_a_spike_found_through_the_wrong_tag_goes_over_with_all_that_came_of_it(nursery: Nursery) -> None:
    one, other = nursery.plant(nursery.clone(word="anvil")), nursery.plant(nursery.clone("hamata", "ladle"))
    found = nursery.record(spike_found, plant=one, seen="open", sex="male", sex_from="flowers", days_ago=9)
    spike = Spike.objects.get(pk=found.thing_id)
    look = nursery.record(spike_looked, spike=spike, seen="showing", days_ago=8)
    lot = nursery.record(pollen_collected, spikes=[spike], days_ago=8)
    assert recorded_through(one, other, None) == [found], "a look at the spike came through the spike's own tag"
    act = _swapped(nursery, one, other, found)
    spike.refresh_from_db()
    assert (spike.plant_id, spike.stage) == (other.pk, "showing")
    assert Act.objects.filter(pk__in=[look.pk, lot.pk], voided_by__isnull=True).count() == 2
    assert PollenLot.objects.get(pk=lot.thing_id).clone_id == other.clone_id
    _undo(nursery, act)
    spike.refresh_from_db()
    assert (spike.plant_id, spike.cancelled) == (one.pk, False)


def test_sections_change_their_looks_and_their_harvest(nursery: Nursery) -> None:
    spike = nursery.female(days_ago=200)
    one, other = [nursery.section(spike, days_ago=200, flowers=40) for _ in range(2)]
    looks = [
        nursery.record(take_read, section=one, swelling="most", pods=20, days_ago=160),
        nursery.record(pods_looked_at, section=other, seen="turning", days_ago=100),
        nursery.record(harvested, section=other, what="section", pods=11, days_ago=90),
    ]
    assert recorded_through(one, other, None) == looks
    _swapped(nursery, one, other, *looks)
    for section in (one, other):
        section.refresh_from_db()
    assert (one.stage, one.take, other.take) == ("harvested", "", "most")
    assert one.seed_lots.get().cross_id == one.cross_id


def test_packets_change_the_sections_they_went_on(nursery: Nursery) -> None:
    one, other = nursery.pollen(days_ago=5), nursery.pollen(days_ago=5)
    act = nursery.record(section_pollinated, spike=nursery.female(days_ago=4), lot=one, days_ago=4)
    dab = nursery.record(section_dabbed, section=act.thing.section, lot=one, days_ago=2)
    assert recorded_through(one, other, None) == [act, dab]
    swap = _swapped(nursery, one, other, act, dab)
    section = type(act.thing.section).objects.get(pk=act.thing_id)
    assert section.cross.pollen_parent_id == other.clone_id
    _undo(nursery, swap)
    assert type(section).objects.get(pk=section.pk).cross.pollen_parent_id == one.clone_id


def test_only_what_was_written_down_since_is_listed(nursery: Nursery) -> None:
    plant, other = nursery.plant(), nursery.plant()
    nursery.record(moved, thing=plant, place=nursery.bench())
    assert recorded_through(plant, other, ago(0).first) != []
    assert recorded_through(plant, other, ago(-1).first) == []


def test_walking_past_both_says_the_same_of_both_and_one_only_goes_over(nursery: Nursery) -> None:
    bench = nursery.bench()
    one, other, third = (nursery.spike(nursery.plant(place=bench), days_ago=9) for _ in range(3))
    nursery.record(walked_past, place=bench, things=[one, other], days_ago=3)
    walk = nursery.record(walked_past, place=bench, things=[one, third], days_ago=2)
    assert recorded_through(one, other, None) == [walk], "its own birth came by no tag"
    _swapped(nursery, one, other, walk)
    for spike in (one, other, third):
        spike.refresh_from_db()
    assert [spike.last_look for spike in (one, other, third)] == [ago(3).last, ago(2).last, ago(2).last]


def test_what_is_told_of_the_plant_itself_goes_over(nursery: Nursery) -> None:
    """Its quarantine above all, for else the sick plant goes on under the other number; photos, samples, cuttings."""
    one, other = nursery.plant(nursery.clone(word="anvil")), nursery.plant(nursery.clone("hamata", "ladle"))
    sent = nursery.record(sample_sent, plant=one, to_whom="the plant clinic")
    acts = [
        nursery.record(quarantined, plant=one, reason="mosaic"),
        sent,
        nursery.record(sample_result, plant=one, sample=sent.samplesent, found="yes"),
        nursery.record(photo_taken, thing=one, photo=kept()),
        nursery.record(plant_arrived, clone=one.clone, struck_from=one),
    ]
    assert {act.pk for act in recorded_through(one, other, None)} == {act.pk for act in acts}
    lent = nursery.person()
    swap = _swapped(nursery, one, other, *acts)
    for plant in (one, other):
        plant.refresh_from_db()
    assert (one.quarantine, other.quarantine) == ("", "mosaic")
    told = {act.kind: act for act in Act.objects.filter(repairs__swap__act=swap)}
    assert {kind for kind, act in told.items() if act.thing_id == other.pk} == {act.kind for act in acts[:4]}
    assert told["sample_result"].sampleresult.sample.act == told["sample_sent"]
    assert Plant.objects.get(pk=acts[4].thing_id).clone == other.clone
    _undo(nursery, swap)
    one.refresh_from_db()
    assert one.quarantine == "mosaic"
    assert Plant.objects.get(pk=acts[4].thing_id).clone == one.clone
    again = nursery.act(phone_of=lent)
    move = nursery.record(moved, thing=one, place=nursery.bench())
    tags_swapped(act=again, thing=one, other=other, moved=[move])
    assert Act.objects.get(replaces=move).phone_of == lent, "whose phone it was is kept"


def test_what_came_another_way_is_refused(nursery: Nursery) -> None:
    one, other, third = nursery.plant(), nursery.plant(), nursery.plant()
    move = nursery.record(moved, thing=third, place=nursery.bench())
    for wrong in (move, birth_of(one)):
        with pytest.raises(Refused) as refusal:
            _swapped(nursery, one, other, wrong)
        assert refusal.value.sentence == "One of these records came by another way. Look at the list again."


def test_between_things_of_two_kinds_only_the_tags_change(nursery: Nursery) -> None:
    plant, pot = nursery.plant(), nursery.pot()
    move, before = nursery.record(moved, thing=plant, place=nursery.bench()), _numbers(plant, pot)
    with pytest.raises(Refused) as refusal:
        _swapped(nursery, plant, pot, move)
    assert refusal.value.sentence == "What was recorded can only go over to a thing of the same kind."
    _swapped(nursery, plant, pot)
    assert _numbers(plant, pot) == before[::-1]


def test_a_thing_and_itself_or_without_a_tag_is_refused(nursery: Nursery) -> None:
    plant = nursery.plant()
    for other, sentence in (
        (plant, "That is the same thing. Give the number of the other one."),
        (plant.clone, "One of them carries no tag, so there is nothing to exchange."),
    ):
        with pytest.raises(Refused) as refusal:
            _swapped(nursery, plant, other)
        assert refusal.value.sentence == sentence


def test_a_grower_moves_only_what_they_may_undo(nursery: Nursery) -> None:
    one, other, grower = nursery.plant(), nursery.plant(), nursery.person("grower")
    move = nursery.record(moved, thing=one, place=nursery.bench())
    Act.objects.filter(pk=move.pk).update(recorded_at="2026-01-05T08:00:00Z")
    before = _numbers(one, other)
    with pytest.raises(Refused) as refusal:
        _swapped(nursery, one, other, Act.objects.get(pk=move.pk), by=grower)
    assert refusal.value.sentence == "Somebody else recorded this on another day. Ask them or an owner."
    assert _numbers(one, other) == before, "nothing is half done"


def test_the_latest_exchange_is_undone_first(nursery: Nursery) -> None:
    one, other, third = nursery.plant(), nursery.plant(), nursery.plant()
    first = _swapped(nursery, one, other)
    second = _swapped(nursery, one, third)
    before = _numbers(one, other, third)
    with pytest.raises(Refused) as refusal:
        _undo(nursery, first)
    assert refusal.value.sentence == "This tag was exchanged with another since. Undo that first."
    assert _numbers(one, other, third) == before
    _undo(nursery, second)
    _undo(nursery, first)


def test_a_tag_put_on_before_is_not_taken_off_after_an_exchange(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    [blank] = blank_tags_make(count=1)
    bound = nursery.record(tag_bound, thing=one, number=blank.number)
    act = _swapped(nursery, one, other)
    with pytest.raises(Refused):
        _undo(nursery, bound)
    _undo(nursery, act)
    _undo(nursery, bound)
    assert _numbers(one, other)[0] != blank.number


def test_a_new_tag_after_an_exchange_comes_off_and_the_exchanged_one_holds(
    nursery: Nursery, two: tuple[Plant, Plant]
) -> None:
    one, other = two
    old, new = blank_tags_make(count=2)
    nursery.record(tag_bound, thing=one, number=old.number)
    _swapped(nursery, one, other)
    after = _numbers(one, other)
    _undo(nursery, nursery.record(tag_bound, thing=one, number=new.number))
    assert _numbers(one, other) == after


def test_an_exchange_undone_after_a_new_tag_leaves_each_with_one(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    before = _numbers(one, other)
    act = _swapped(nursery, one, other)
    [new] = blank_tags_make(count=1)
    nursery.record(tag_bound, thing=one, number=new.number)
    _undo(nursery, act)
    assert _numbers(one, other) == [new.number, before[1]]


def test_what_was_undone_since_stays_undone(nursery: Nursery, two: tuple[Plant, Plant]) -> None:
    one, other = two
    words = nursery.record(remarked, thing=one, words="leans over")
    act = _swapped(nursery, one, other, words)
    _undo(nursery, Act.objects.get(replaces=words))
    back = Act.objects.filter(kind="remarked", voided_by__isnull=True).get()
    assert back.thing_id == one.pk, "undoing what was moved brings it back"
    _undo(nursery, act)
    assert Act.objects.filter(kind="remarked", voided_by__isnull=True).get() == back


def test_a_stocktake_goes_over_with_what_was_seen_and_what_was_missed(nursery: Nursery) -> None:
    bench, one, other, third = nursery.bench(), nursery.plant(), nursery.plant(), nursery.plant()
    taken = nursery.record(stocktake_taken, place=bench, seen=[one, third], missed=[other])
    missed = nursery.record(stocktake_taken, place=bench, seen=[third], missed=[other])
    both = nursery.record(stocktake_taken, place=bench, seen=[one, other])
    assert recorded_through(one, other, None) == [taken, missed], "of both seen it says the same"
    assert both.links.count() == 2
    act = _swapped(nursery, one, other, taken, missed)
    again = Act.objects.get(replaces=taken)
    assert set(again.links.values_list("thing", flat=True)) == {other.pk, third.pk}
    assert [thing.pk for thing in again.stocktake.missed.all()] == [one.pk]
    _undo(nursery, act)
    [back] = Act.objects.filter(kind="stocktake", voided_by__isnull=True, thing=bench.pk, stocktake__missed=other.pk)[
        :1
    ]
    assert {one.pk, third.pk} >= set(back.links.values_list("thing", flat=True))
