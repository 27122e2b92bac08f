"""Each awkward case of the demo is to be seen in the books."""

from collections.abc import Iterable

import pytest
from django.utils import timezone

from breeding.models import Cross, PollenReceived, PotTrouble
from breeding.rounds.tasks import tasks_for
from demo_fixtures.diary import Diary
from nursery.days import HOW_SAID
from nursery.models import Act, ActLink, Flag, LivingThing, Tag
from nursery.records.flags import open_flags
from tests.demo.conftest import LAST_DAY, must_have_a_full_round

DAY = LAST_DAY
pytestmark = pytest.mark.usefixtures("db")


@pytest.fixture(scope="module")
def db(books: Diary) -> None:
    """The loaded demo stands in for a database of each test's own."""


def test_even_on_the_last_day_of_a_year_there_is_a_full_round():
    must_have_a_full_round(LAST_DAY)


def test_contradictory_sex_is_still_to_sort_out(books):
    earlier, now = books.thing("a sanguinea"), books.thing("d sanguinea")
    assert (earlier.sex, now.sex) == ("male", "female")
    assert now.plant.clone.sex == "unclear"
    assert "clone_other_sex" in _codes(open_flags(), now)


def test_misread_buds_are_settled_by_the_flowers(books):
    spike = books.thing("c apron")
    assert (spike.sex, spike.sex_from) == ("male", "flowers")
    assert "buds_misread" in _codes(Flag.objects.filter(settled_by__isnull=False), spike)


def test_a_lost_tag_was_replaced_by_a_blank_one(books):
    first, second = books.thing("b corduroy/1"), books.thing("b corduroy/2")
    assert first.spike_id == second.spike_id
    assert first.cross_id != second.cross_id
    assert sorted(Tag.objects.filter(thing_id=second.pk).values_list("retired", flat=True)) == [False, True]
    assert Tag.objects.get(thing_id=second.pk, retired=False).number == books.blanks[0]


def test_mixed_pollen_gives_a_cross_with_two_possible_fathers(books):
    assert books.thing("a mixed pollen").clone is None
    cross = books.thing("a chisel/4").cross
    assert cross.pollen_parent is None
    assert _words(cross) == {"pliers", "rasp"}


def test_found_pods_have_no_father_and_a_vague_day(books):
    section = books.thing("found pods")
    assert section.cross.pollen_parent is None
    assert not section.cross.candidates.exists()
    assert (section.day0_last - section.day0_first).days > 60
    assert books.thing("found spike").closed_why == "over"


@pytest.mark.parametrize(
    ("name", "age"), [("b muslin/2 pot 1", 91), ("a chisel/2 pot 1", 182), ("a anvil/2 pot 1", 365)]
)
def test_silent_pots_stay_open(books, name, age):
    pot = books.thing(name)
    assert (pot.stage, pot.closed_on) == ("sown", None)
    assert (LAST_DAY - pot.sown_last).days >= age


def test_pods_split_early_and_were_found_fallen(books):
    section = books.thing("b oilcloth/3")
    assert (section.closed_why, section.bagged) == ("lost", False)
    assert not section.seed_lots.exists()


def test_seed_came_by_post_known_only_by_words(books):
    lot = books.thing("matchbox seed")
    assert (lot.cross.seed_parent, lot.cross.pollen_parent) == (None, None)
    assert "purple" in lot.words
    assert (lot.ripe_first, lot.storage) == (None, "unknown")
    letter = books.thing("letter seed")
    assert letter.cross.seed_parent.words_only
    assert 27 <= (letter.ripe_last - letter.ripe_first).days <= 30


def test_a_clone_is_thought_something_else_and_its_tags_were_printed_again(books):
    clone = books.thing("awl")
    assert (clone.taxon, clone.thought, str(clone)) == (
        None,
        "a hybrid of thorelii",
        "unknown awl (a hybrid of thorelii)",
    )
    brought = Flag.objects.filter(code="parent_redetermined")
    assert brought.count() > 10
    assert not open_flags().filter(code="parent_redetermined").exists()


def test_pollen_came_by_post_of_unknown_age(books):
    lot = books.thing("letter pollen")
    assert (lot.collected_first, lot.best_before) == (None, None)
    assert books.thing("c spatula/3").take == "none"
    assert PollenReceived.objects.filter(clone__isnull=True).exclude(words="").exists()


def test_an_estimate_was_too_low_and_corrected(books):
    lot = books.thing("b corduroy/1 seed")
    assert (lot.estimate, lot.estimate_from) == (310, "weighed")
    assert 120 < lot.seeds_sown <= 310
    assert "sown_more_than_estimated" in _codes(Flag.objects.all(), lot)


def test_seed_was_sent_and_what_came_of_it_was_told(books):
    lot = books.thing("b corduroy/1 seed")
    assert lot.closed_why == "sent"
    sent = Act.objects.get(pk=books.act_id("to the friend"))
    assert "carpet" in sent.outcomes.get().words


def test_an_act_was_undone(books):
    look = Act.objects.get(pk=books.act_id("the wrong pot"))
    assert look.voided_by.act.by == look.by
    assert books.thing("b muslin/1 pot 2").stage == "up"


def test_an_act_was_corrected(books):
    section = books.thing("d gingham/2")
    assert (section.tie, section.flowers) == ("yellow wool", 14)
    corrected = section.thing.born_by.replaces
    assert corrected.pollinated.tie == "blue wool"
    assert corrected.voided_by is not None


def test_days_are_told_in_every_way(books):
    assert set(Act.objects.values_list("said", flat=True)) == set(HOW_SAID)


def test_something_was_written_down_late(books):
    late = Act.objects.get(kind="pollinated", note__contains="paper in my apron")
    assert (timezone.localdate(late.recorded_at) - late.day_last).days == 11
    assert late.at is not None


def test_two_pollens_on_one_section(books):
    section, lot = books.thing("b gingham/2"), books.thing("b gingham/2 seed")
    assert _words(section.cross) == {"rasp", "awl"}
    assert lot.cross_id == section.cross_id


def test_seedlings_were_lost(books):
    pot = books.thing("a teapot/1 pot 1")
    assert (pot.lost, pot.counted) == (23, 41)


def test_a_pot_was_split_and_goes_on(books):
    pot = books.thing("a anvil/2 pot 2")
    parts = [books.thing(f"a anvil/2 pot 2 split {number}") for number in (1, 2, 3)]
    assert pot.is_open and {(part.split_from_id, part.counted, part.sown_first) for part in parts} == {
        (pot.pk, 12, pot.sown_first)
    }


def test_one_seedling_drifted_in(books):
    assert set(PotTrouble.objects.values_list("what", flat=True)) >= {"drift", "algae", "moss", "mould", "gnats"}


def test_watching_was_stopped_and_taken_up_again(books):
    kinds = list(Act.objects.filter(thing_id=books.thing("a teapot/3 pot 2").pk).values_list("kind", flat=True))
    assert {"stopped", "resumed"} <= set(kinds)
    assert books.thing("matchbox pot 2").closed_why == "stopped"


def test_something_was_put_off(books):
    spike = books.thing("d tweed")
    assert (spike.later_until - LAST_DAY).days == 6
    assert not tasks_for(spike, LAST_DAY).due(LAST_DAY)


def test_somebody_walked_past(books):
    walks = Act.objects.filter(kind="walked_past")
    assert walks.count() >= 3
    assert ActLink.objects.filter(act__in=walks, thing_id=books.thing("b muslin/1 again pot 1").pk).exists()


def test_a_plant_died_with_a_spike_on_it(books):
    spike = books.thing("lost whisk")
    assert spike.plant.closed_why == "died"
    assert spike.closed_why == "stopped"


def test_more_pods_than_flowers_is_still_to_sort_out(books):
    assert "more_pods_than_flowers" in _codes(open_flags(), books.thing("c skillet/1"))


def test_a_section_given_up_was_harvested_all_the_same(books):
    lot = books.thing("a kettle/3 seed")
    assert "harvest_without_take" in _codes(Flag.objects.filter(settled_by__isnull=False), lot)
    assert lot.pots_sown == 1


def test_an_honest_cannot_tell(books):
    assert books.thing("d whisk").last_seen == "cant_tell"
    assert books.thing("c felt").closed_why == "aborted"


def test_few_flags_are_left_to_sort_out(books):
    assert 2 <= open_flags().count() <= 5


def _codes(flags: Iterable[Flag], thing: LivingThing) -> set[str]:
    return {flag.code for flag in flags if flag.thing_id == thing.pk}


def _words(cross: Cross) -> set[str]:
    return set(cross.candidates.values_list("designation", flat=True))
