"""Seed and pollen by post: sent in words, split into parts that stay as old as the whole, and what came of it."""

from datetime import timedelta

import pytest

from breeding.models import PollenLot, Section, SeedLot
from breeding.records.pods import harvested
from breeding.records.pollen import pollen_collected, pollen_received, pollen_stored
from breeding.records.posted import outcome_told, pollen_sent, pollen_split, seed_sent, seed_split
from breeding.records.pots import sown
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.seed import seed_received
from breeding.records.spikes import spike_found
from breeding.science.pollen import best_before
from nursery.days import Day
from nursery.models import Act, Tag
from nursery.records.errors import Refused
from nursery.records.flags import open_flags
from nursery.records.numbers import blank_tags_make
from nursery.records.undo import undone
from tests.making import Nursery, ago, birth_of, tag_of, today

pytestmark = pytest.mark.django_db

TO = "the friend who writes"


def _undo(nursery: Nursery, act: Act) -> None:
    undone(act=nursery.act(), target=act)


# --- sent ---


def test_part_of_a_packet_goes_and_the_rest_is_kept(nursery: Nursery) -> None:
    lot = nursery.pollen(days_ago=5)
    nursery.record(pollen_sent, lot=lot, to_whom=TO, extent="part")
    lot.refresh_from_db()
    assert lot.is_open


def test_when_all_of_it_is_sent_nothing_is_left(nursery: Nursery) -> None:
    lot, seed = nursery.pollen(days_ago=5), nursery.seed(days_ago=9)
    acts = [
        nursery.record(pollen_sent, lot=lot, to_whom=TO, extent="all", days_ago=1),
        nursery.record(seed_sent, lot=seed, to_whom=TO, extent="all", days_ago=1),
    ]
    for one in (lot, seed):
        one.refresh_from_db()
        assert (one.closed_why, one.closed_on) == ("sent", today() - timedelta(days=1))
    for act in acts:
        _undo(nursery, act)
    for one in (lot, seed):
        one.refresh_from_db()
        assert one.is_open


def test_nobody_is_asked_how_much_pollen_it_is() -> None:
    from inspect import signature

    told = {*signature(pollen_sent).parameters, *signature(pollen_split).parameters}
    assert told == {"act", "lot", "to_whom", "extent", "document", "storage", "tag"}


def test_it_says_to_whom(nursery: Nursery) -> None:
    for record, lot in ((pollen_sent, nursery.pollen()), (seed_sent, nursery.seed())):
        with pytest.raises(Refused) as refusal:
            nursery.record(record, lot=lot, to_whom=" ")
        assert (refusal.value.sentence, refusal.value.field) == ("Say to whom it went, in words.", "to_whom")


def test_what_is_left_follows_from_sowings_gifts_and_parts(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9, estimate=200)
    nursery.record(sown, lot=lot, pots=2, seeds=30)
    nursery.record(seed_sent, lot=lot, to_whom=TO, seeds=50)
    part = nursery.made(seed_split, lot=lot, storage="refrigerator", seeds=40)
    lot.refresh_from_db()
    # By hand: 200 estimated, less 2 pots of 30, less 50 sent, less 40 in a bag of their own.
    assert (lot.seeds_sown, lot.seeds_gone, lot.left) == (60, 90, 50)
    assert (part.estimate, part.estimate_from, part.left) == (40, "guessed", 40)
    _undo(nursery, birth_of(part))
    lot.refresh_from_db()
    assert lot.left == 90


def test_of_seed_that_nobody_estimated_nobody_knows_what_is_left(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9)
    nursery.record(seed_sent, lot=lot, to_whom=TO, seeds=50)
    lot.refresh_from_db()
    assert lot.left is None


def test_more_sent_than_estimated_is_taken_and_flagged(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9, estimate=60)
    nursery.record(seed_sent, lot=lot, to_whom=TO, seeds=50)
    lot.refresh_from_db()
    nursery.record(seed_split, lot=lot, seeds=20)
    assert (
        open_flags().get().sentence
        == "70 seeds sown or sent, but 60 were estimated. Was that too low, or is a number wrong?"
    )


# --- split ---


def test_a_part_has_a_tag_and_a_storage_of_its_own(nursery: Nursery) -> None:
    lot = nursery.pollen(days_ago=5)
    [blank] = blank_tags_make(count=1)
    part = nursery.made(pollen_split, lot=lot, storage="freezer", tag=blank.number)
    assert tag_of(part).number == blank.number != tag_of(lot).number
    lot.refresh_from_db()
    assert (part.storage, lot.storage, lot.is_open) == ("freezer", "bench", True)
    assert (part.clone_id, part.collected_first, part.split_from) == (lot.clone_id, lot.collected_first, lot)


def test_a_part_is_good_for_as_long_as_both_storages_let_it(nursery: Nursery) -> None:
    lot = nursery.pollen(days_ago=10, storage="dry_bench")
    nursery.record(pollen_stored, lot=lot, storage="refrigerator", days_ago=8)
    part = nursery.made(pollen_split, lot=lot, storage="freezer", days_ago=4)
    nursery.record(pollen_stored, lot=lot, storage="bench", days_ago=2)
    day = {ago: today() - timedelta(days=ago) for ago in (10, 8, 4)}
    part.refresh_from_db()
    assert part.best_before == best_before(day[10], "dry_bench", [(day[8], "refrigerator"), (day[4], "freezer")])


def test_mixed_pollen_is_mixed_in_every_part(nursery: Nursery) -> None:
    spikes = [nursery.male(days_ago=5), nursery.male(days_ago=5)]
    lot = nursery.pollen(spikes, days_ago=4)
    part = nursery.made(pollen_split, lot=lot)
    assert part.clone is None
    assert set(part.candidates.all()) == {spike.plant.clone for spike in spikes}


def test_a_part_of_a_part_follows_when_the_packet_was_another_clones(nursery: Nursery) -> None:
    wrong, right = nursery.clone("hamata", "ladle"), nursery.clone("hamata", "tweed")
    lot = nursery.made(pollen_received, clone=wrong, day=Day.month(2026, 3))
    part = nursery.made(pollen_split, lot=nursery.made(pollen_split, lot=lot), storage="freezer")
    section = Section.objects.get(
        pk=nursery.record(section_pollinated, spike=nursery.female(days_ago=9), lot=part, days_ago=8).thing_id
    )
    nursery.record(pollen_received, clone=right, day=Day.month(2026, 5), replaces=birth_of(lot))
    part.refresh_from_db()
    section.refresh_from_db()
    assert (part.clone, section.cross.pollen_parent) == (right, right)
    assert part.collected_first.isoformat() == "2026-05-01"


def test_a_part_of_taken_pollen_follows_its_spike(nursery: Nursery) -> None:
    wrong, right = nursery.plant(nursery.clone("hamata")), nursery.plant(nursery.clone("maxima"))
    facts = {"seen": "open", "sex": "male", "sex_from": "flowers", "days_ago": 9}
    found = nursery.record(spike_found, plant=wrong, **facts)
    lot = nursery.made(pollen_collected, spikes=[found.thing.spike], days_ago=8)
    part = nursery.made(pollen_split, lot=lot, days_ago=7)
    section = nursery.section(nursery.female(days_ago=9), lot=part, days_ago=6)
    nursery.record(spike_found, plant=right, replaces=found, **facts)
    part.refresh_from_db()
    section.refresh_from_db()
    assert part.clone_id == section.cross.pollen_parent_id == right.clone_id


def test_a_part_of_seed_is_of_the_same_cross_whatever_is_found_out(nursery: Nursery) -> None:
    section = nursery.section(days_ago=200)
    part = nursery.made(seed_split, lot=nursery.seed(section, days_ago=20), storage="refrigerator")
    assert (part.section, part.storage, part.ripe_last) == (section, "refrigerator", ago(20).last)
    nursery.record(section_dabbed, section=section, lot=nursery.pollen(days_ago=199), days_ago=198)
    section.refresh_from_db()
    part.refresh_from_db()
    assert part.cross_id == section.cross_id


def test_a_part_follows_a_lot_that_was_harvested_after_it(nursery: Nursery) -> None:
    """It was told to be of the first lot; the second, of which it is, has the later number."""
    spike, other = nursery.female(days_ago=90), nursery.female(days_ago=90)
    told = {"lot": nursery.pollen(days_ago=80), "days_ago": 80}
    section = nursery.made(section_pollinated, spike=spike, **told)
    first = nursery.seed(section, days_ago=9)
    part = nursery.made(seed_split, lot=first, storage="refrigerator")
    second = nursery.seed(section, days_ago=8)
    nursery.record(seed_split, lot=second, storage="refrigerator", replaces=birth_of(part))
    nursery.record(section_pollinated, spike=other, replaces=birth_of(section), **told)
    section.refresh_from_db()
    assert section.cross.seed_parent == other.plant.clone
    assert {lot.cross for lot in SeedLot.objects.filter(section=section)} == {section.cross}


def test_a_part_of_received_seed_follows_its_parents_and_its_day(nursery: Nursery) -> None:
    lot = nursery.made(seed_received, words="blue", day=Day.unknown())
    part = nursery.made(seed_split, lot=lot)
    mother = nursery.clone("veitchii")
    nursery.record(seed_received, seed_parent=mother, words="purple", day=ago(60), replaces=birth_of(lot))
    part.refresh_from_db()
    assert (part.cross.seed_parent, part.ripe_first, part.words) == (mother, ago(60).first, "purple")


def test_a_split_that_others_depend_on_is_not_undone(nursery: Nursery) -> None:
    part = nursery.made(seed_split, lot=nursery.seed(days_ago=9))
    nursery.record(sown, lot=part, pots=1)
    with pytest.raises(Refused):
        _undo(nursery, birth_of(part))


def test_a_packet_is_no_part_of_its_own_part(nursery: Nursery) -> None:
    lot = nursery.pollen(days_ago=5)
    part = nursery.made(pollen_split, lot=lot)
    for wrong in (part, nursery.made(pollen_split, lot=part)):
        with pytest.raises(Refused) as refusal:
            nursery.record(pollen_split, lot=wrong, replaces=birth_of(part))
        assert refusal.value.sentence == "That came out of this one. Choose the one that was split."


def test_sent_twice_it_is_split_once(nursery: Nursery) -> None:
    lot, new = nursery.seed(days_ago=9), nursery.act()
    assert seed_split(act=new, lot=lot, seeds=5) == seed_split(act=new, lot=lot, seeds=5)
    assert SeedLot.objects.filter(split_from=lot).count() == 1
    assert Tag.objects.filter(thing__seedlot__split_from=lot).count() == 1


def test_a_harvest_corrected_to_another_day_is_the_parts_day_too(nursery: Nursery) -> None:
    section = nursery.section(days_ago=200)
    lot = nursery.seed(section, days_ago=20)
    part = nursery.made(seed_split, lot=lot)
    nursery.record(harvested, section=section, what="section", days_ago=30, replaces=birth_of(lot))
    part.refresh_from_db()
    assert part.ripe_last == ago(30).last


# --- what came of it ---


def test_what_came_of_it_is_told_when_and_by_whom(nursery: Nursery) -> None:
    sent = nursery.record(seed_sent, lot=nursery.seed(days_ago=400), to_whom=TO, days_ago=390)
    told = nursery.record(outcome_told, sent=sent, words="Twelve up.", told_by="a letter", day=Day.month(2026, 6))
    assert (told.thing_id, told.said, told.outcometold.told_by) == (sent.thing_id, "month", "a letter")


def test_only_of_what_was_sent_can_anything_have_come(nursery: Nursery) -> None:
    lot: PollenLot = nursery.pollen()
    with pytest.raises(Refused) as refusal:
        nursery.record(outcome_told, sent=birth_of(lot), words="Two pods.")
    assert refusal.value.sentence == "That was not sent anywhere. Choose what was sent."


def test_what_came_of_a_sending_stays_with_it_when_it_is_corrected(nursery: Nursery) -> None:
    lot, seed = nursery.pollen(days_ago=5), nursery.seed(days_ago=9)
    for record, thing in ((pollen_sent, lot), (seed_sent, seed)):
        sent = nursery.record(record, lot=thing, to_whom="the frend who writes", days_ago=4)
        told = nursery.record(outcome_told, sent=sent, words="six sections took")
        right = nursery.record(record, lot=thing, to_whom=TO, days_ago=4, replaces=sent)
        assert [one.act for one in right.outcomes.all()] == [told]
        undone(act=nursery.act(), target=right)
        assert told.outcometold.act == Act.objects.get(replaces=right).outcomes.get().act
