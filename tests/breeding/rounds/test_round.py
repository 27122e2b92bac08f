"""The round of a day and the tasks of one thing, through the books."""

from datetime import timedelta

import pytest

from breeding.models import PollenLot, Section, SeedLot, SeedPot, Spike
from breeding.records import pods, pollen, pots, seed, spikes
from breeding.records.sections import section_dabbed
from breeding.rounds.tasks import Outlook, next_words, round_for, tasks_for
from breeding.words.names import FETCH, name_parts
from nursery.days import Day
from nursery.models import LivingThing, Person
from nursery.records import house, watching
from nursery.records.numbers import blank_tags_make
from nursery.records.plants import plant_gone
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from tests.making import Nursery, birth_of, tag_of, today

PLENTY = 10_000
WATCHED = (Spike, Section, PollenLot, SeedLot, SeedPot)


def _kinds(thing: LivingThing, on: int = 0) -> set[str]:
    """What the round asks of a thing, some days from today."""
    found = round_for(today() + timedelta(days=on), minutes=PLENTY)
    return {task.kind for task in found.today if task.thing_id == thing.pk}


def _again(thing: LivingThing) -> LivingThing:
    return type(thing).objects.get(pk=thing.pk)


def _asked(thing: LivingThing) -> Outlook:
    return tasks_for(_again(thing), today())


def _partners(spike: Spike) -> list[str]:
    """The pollen that the round offers for a spike, in words."""
    [task] = [task for task in round_for(today(), minutes=PLENTY).today if task.thing_id == spike.pk]
    return [partner.words for partner in task.partners]


def test_it_works(nursery: Nursery) -> None:
    place = nursery.bench("Bench 2", inside=nursery.house("Cool house"))
    spike = nursery.spike(nursery.plant(nursery.clone("hamata", "lantern"), place=place), days_ago=12)
    found = round_for(today())
    [group] = found.groups
    [task] = group.tasks
    assert (group.house, group.within) == ("Cool house", "Bench 2")
    assert (task.kind, task.title, task.thing_id, task.slug, task.url) == (
        "spikes",
        "Look at spike",
        spike.pk,
        "spikes",
        f"/spikes/{spike.pk}/",
    )
    assert (task.number, task.name, task.sub) == (tag_of(spike).number, "hamata lantern", "spike")
    assert (task.due, task.minutes, task.look) == (today() - timedelta(days=2), 1, True)
    assert found.minutes_needed == 1


def test_an_empty_nursery_has_an_empty_round(db: None) -> None:
    found = round_for(today())
    assert (found.groups, found.rest_groups, found.minutes_needed) == ([], [], 0)


def test_the_owners_minutes_cut_the_list_and_the_rest_rolls_over(nursery: Nursery, owner: Person) -> None:
    plant = nursery.plant()
    for _ in range(8):
        nursery.spike(plant, days_ago=20)
    house.house_changed(by=owner, name="Ours", public_address="", minutes_a_day=5)
    found = round_for(today())
    assert (found.minutes, len(found.today), len(found.rest)) == (5, 5, 3)
    assert len(round_for(today(), minutes=3).today) == 3


def test_one_kind_of_task_can_be_shown_alone(nursery: Nursery) -> None:
    spike, lot = nursery.spike(days_ago=12), nursery.seed_by_post(words="by post", day=Day.unknown())
    for kind, ids in (("spikes", {spike.pk}), ("sow", {lot.pk}), ("harvest", set())):
        found = round_for(today(), minutes=PLENTY, kind=kind)
        assert {task.thing_id for task in found.today} == ids
        assert found.counts == {"spikes": 1, "sow": 1}


def test_a_kind_is_cut_with_all_the_others(nursery: Nursery) -> None:
    nursery.spike(days_ago=20)
    nursery.seed_by_post(words="by post", day=Day.unknown())
    found = round_for(today(), minutes=5, kind="sow")
    assert (found.today, len(found.rest), found.counts) == ((), 1, {"spikes": 1})


def test_of_a_long_backlog_the_most_urgent_are_written_out(nursery: Nursery) -> None:
    plant = nursery.plant()
    spikes_found = [nursery.spike(plant, days_ago=days) for days in (11, 40, 12, 30)]
    found = round_for(today(), minutes=1, most_rest=2)
    assert [task.thing_id for task in (*found.today, *found.rest)] == [spikes_found[place].pk for place in (1, 3, 2)]
    assert (found.rest_count, found.rest_minutes) == (3, 3)


# --- from spike to seedlings: what is asked when ---


def test_a_spike_leads_from_looking_to_pollinating_to_nothing(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=12)
    assert _kinds(spike) == {"spikes"}
    nursery.record(spikes.spike_looked, spike=spike, seen="open", sex="female", sex_from="flowers")
    assert _kinds(spike) == {"pollinate"}
    assert _kinds(spike, on=7) == {"pollinate", "spikes"}
    nursery.record(spikes.spike_looked, spike=spike, seen="over")
    assert _kinds(spike, on=60) == set()


def test_a_male_spike_is_asked_for_pollen_until_it_was_taken(nursery: Nursery) -> None:
    spike = nursery.male(days_ago=3)
    assert _kinds(spike) == {"pollen"}
    lot = nursery.pollen([spike], storage="bench")
    assert _kinds(spike) == set()
    assert _kinds(spike, on=7) == {"pollen", "spikes"}
    assert _kinds(lot, on=4) == set()
    assert _kinds(lot, on=5) == {"old_pollen"}
    nursery.record(pollen.pollen_finished, lot=lot)
    assert _kinds(lot, on=100) == set()


def test_a_dabbed_spike_is_pollinated_again_after_four_days(nursery: Nursery) -> None:
    spike = nursery.female(days_ago=2)
    section = nursery.section(spike)
    assert "pollinate" not in _kinds(spike, on=3)
    assert "pollinate" in _kinds(spike, on=4)
    assert _kinds(section, on=34) == set()
    assert _kinds(section, on=35) == {"take"}


def test_a_section_leads_from_take_to_pods_to_bag_to_harvest_to_seed(nursery: Nursery) -> None:
    section = nursery.section(days_ago=131)
    assert _kinds(section) == {"pods"}, "the take was never read"
    nursery.record(pods.take_read, section=section, swelling="most")
    assert _kinds(section) == set()
    nursery.record(pods.pods_looked_at, section=section, seen="turning")
    assert _kinds(section) == {"bag"}
    nursery.record(pods.bagged, section=section)
    assert _kinds(section) == set()
    assert _kinds(section, on=21) == {"pods"}
    nursery.record(pods.pods_looked_at, section=section, seen="opening")
    assert _kinds(section) == {"harvest"}
    lot = nursery.made(pods.harvested, section=section)
    assert _kinds(section, on=300) == set()
    assert _kinds(lot) == {"sow"}
    nursery.record(seed.seed_stored, lot=lot, storage="refrigerator")
    assert _kinds(lot) == set()
    nursery.record(pots.sown, lot=lot, pots=2, all_of_it=True)
    assert _kinds(lot, on=300) == set()


def test_some_pods_cut_leave_the_others_to_be_looked_at(nursery: Nursery) -> None:
    section = nursery.section(days_ago=140)
    nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=2)
    nursery.record(pods.harvested, section=section, what="pods", pods=3, days_ago=1)
    assert _kinds(section, on=4) == set()
    assert _kinds(section, on=5) == {"pods"}, "six days of grace after the cut"


def test_walking_past_a_partly_cut_section_sees_no_new_pods_open(nursery: Nursery) -> None:
    section = nursery.section(days_ago=150)
    nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=9)
    nursery.record(pods.harvested, section=section, what="pods", pods=4, days_ago=5)
    walk = {"place": section.spike.plant.place, "things": [section]}
    nursery.record(watching.walked_past, **walk)
    assert _kinds(section, on=7) == {"pods"}
    look = nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=3)
    [task] = [task for task in _asked(section).tasks if task.kind == "harvest"]
    assert (task.due, "seen opening 3 days ago" in task.reason) == (today() - timedelta(days=3), True)
    undone(act=nursery.act(), target=look)
    assert _kinds(section, on=7) == {"pods"}


def test_pods_seen_open_on_an_unknown_day_were_open_by_the_day_of_writing(nursery: Nursery) -> None:
    section = nursery.section(days_ago=150)
    nursery.record(pods.pods_looked_at, section=section, seen="opening", day=Day.unknown())
    [task] = [task for task in _asked(section).tasks if task.kind == "harvest"]
    assert task.due == today()


def test_a_section_dabbed_again_after_its_take_was_read_is_looked_at(nursery: Nursery) -> None:
    section = nursery.section(days_ago=60)
    nursery.record(pods.take_read, section=section, swelling="half", days_ago=15)
    nursery.record(section_dabbed, section=section, lot=nursery.pollen(), days_ago=5)
    assert _kinds(section, on=7) == {"pods"}


def test_what_grew_on_a_plant_that_is_gone_is_not_asked_about(nursery: Nursery) -> None:
    spike = nursery.female(days_ago=60)
    section = nursery.section(spike, days_ago=50)
    assert {spike.pk, section.pk} <= {task.thing_id for task in round_for(today(), minutes=PLENTY).today}
    gone = nursery.record(plant_gone, plant=spike.plant, why="died")
    assert not {spike.pk, section.pk} & {task.thing_id for task in round_for(today(), minutes=PLENTY).today}
    for thing in (spike, section):
        assert _asked(thing) == Outlook((), "Its plant is gone.")
        assert next_words(_again(thing), today()) == "Its plant is gone."
    nursery.record(pods.harvested, section=section)
    assert _asked(section).why_not.startswith("All of it was harvested, since ")
    undone(act=nursery.act(), target=gone)
    assert "spikes" in _kinds(spike)


def test_a_plant_that_is_not_watched_any_more_takes_its_spikes_along(nursery: Nursery) -> None:
    spike = nursery.female()
    nursery.record(watching.stopped, thing=spike.plant)
    assert _asked(spike) == Outlook((), "Its plant is not watched any more.")


def test_pollen_of_a_plant_that_is_gone_is_not_fresh(nursery: Nursery) -> None:
    female, male = nursery.female(), nursery.spike(nursery.plant(nursery.clone("hamata")), sex="male", seen="showing")
    assert _partners(female) == ["fresh"]
    nursery.record(plant_gone, plant=male.plant, why="sold")
    assert _partners(female) == []
    assert [task.partners for task in _asked(female).tasks if task.kind == "pollinate"] == [()]


def test_two_readings_of_none_are_counted_from_the_acts(nursery: Nursery) -> None:
    section = nursery.section(days_ago=80)
    nursery.record(pods.take_read, section=section, swelling="none", days_ago=40)
    [task] = tasks_for(_again(section), today()).tasks
    assert task.due == today() - timedelta(days=40 - 14)
    assert "none swelling once, so it is read again" in task.reason
    nursery.record(pods.take_read, section=section, swelling="none", days_ago=20)
    [task] = tasks_for(_again(section), today()).tasks
    assert task.due == today() - timedelta(days=20 - 28)
    assert "none swelling at 2 readings, so it is asked seldom now" in task.reason


def test_a_pot_leads_from_nothing_to_seedlings(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=28)
    assert _kinds(pot) == {"pots"}
    nursery.record(pots.pot_looked_at, pot=pot, seen="cant_tell")
    assert (_kinds(pot, on=1), _kinds(pot, on=2)) == (set(), {"pots"})
    nursery.record(pots.pot_looked_at, pot=pot, seen="few")
    assert (_kinds(pot, on=89), _kinds(pot, on=90)) == (set(), {"pots"})


def test_walking_past_counts_as_a_look_at_what_was_listed(nursery: Nursery) -> None:
    place = nursery.bench()
    listed = nursery.spike(nursery.plant(place=place), days_ago=12)
    other = nursery.spike(nursery.plant(place=place), days_ago=12)
    nursery.record(watching.walked_past, place=place, things=[listed])
    assert (_kinds(listed), _kinds(other)) == (set(), {"spikes"})


def test_pollen_good_that_day_is_listed_with_age_and_storage(nursery: Nursery) -> None:
    male = nursery.male(nursery.clone("veitchii", "anvil"), days_ago=9)
    nursery.pollen([male], days_ago=9, storage="refrigerator")
    female = nursery.female(days_ago=1)
    [task] = [task for task in round_for(today()).today if task.kind == "pollinate"]
    assert task.thing_id == female.pk
    assert [(good.name, good.words) for good in task.partners] == [
        ("veitchii anvil", "fresh"),
        ("veitchii anvil", "refrigerator, 9 days"),
    ]


# --- later, stopped, undone ---


def test_a_postponed_thing_waits_and_says_so(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=12)
    nursery.record(watching.postponed, thing=spike, until=today() + timedelta(days=3))
    assert (_kinds(spike), _kinds(spike, on=2), _kinds(spike, on=3)) == (set(), set(), {"spikes"})
    outlook = tasks_for(_again(spike), today())
    assert outlook.tasks[0].due == today() + timedelta(days=3)
    assert outlook.why_not.startswith("It was put off until ")


def test_a_look_ends_a_postponement(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=12)
    nursery.record(watching.postponed, thing=spike, until=today() + timedelta(days=30))
    nursery.record(spikes.spike_looked, spike=spike, seen="growing")
    assert _kinds(spike, on=10) == {"spikes"}


def test_what_is_not_watched_any_more_says_so_and_comes_back_when_asked(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=60)
    nursery.record(watching.stopped, thing=pot)
    assert _kinds(pot) == set()
    assert tasks_for(_again(pot), today()).why_not.startswith("It is not watched any more, since ")
    nursery.record(watching.resumed, thing=pot)
    assert _kinds(pot) == {"pots"}


def test_what_was_undone_says_so(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=12)
    nursery.record(undone, target=birth_of(spike))
    assert _kinds(spike) == set()
    assert tasks_for(_again(spike), today()) == Outlook((), "It was entered by mistake, and that was undone.")


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda nursery: nursery.clone(), "Nothing is asked of a clone; its plants' spikes are looked at."),
        (lambda nursery: nursery.house(), "Nothing is asked of a place; what stands there is in the round."),
        (lambda nursery: nursery.plant(), "Nothing is asked of a plant without an open spike."),
        (lambda nursery: nursery.cross(), "Nothing is asked of a cross; its sections, seed and pots are looked at."),
    ],
)
def test_what_is_never_asked_about_says_so(nursery: Nursery, make, words: str) -> None:
    thing = make(nursery)
    assert tasks_for(thing, today()) == Outlook((), words)
    assert next_words(thing, today()) == words


def test_a_plant_shows_the_tasks_of_its_open_spikes(nursery: Nursery) -> None:
    plant = nursery.plant()
    spike = nursery.spike(plant, days_ago=3)
    nursery.spike(plant, days_ago=90, seen="over")
    assert [task.thing_id for task in tasks_for(plant, today()).tasks] == [spike.pk]


def test_what_comes_next_is_told_in_a_few_words(nursery: Nursery) -> None:
    section = nursery.section(days_ago=131)
    nursery.record(pods.pods_looked_at, section=section, seen="turning")
    assert next_words(_again(section), today()) == "then: bag it"
    nursery.record(pods.harvested, section=section)
    assert next_words(_again(section), today()).startswith("All of it was harvested, since ")


# --- both ways to ask agree ---


def _make_one_of_each(nursery: Nursery) -> None:
    nursery.spike(days_ago=12)
    nursery.male(days_ago=8)
    nursery.female(days_ago=8)
    nursery.section(days_ago=40)
    ripe = nursery.section(days_ago=131, tie="red")
    nursery.record(pods.pods_looked_at, section=ripe, seen="turning", days_ago=2)
    opened = nursery.section(days_ago=140)
    nursery.record(pods.pods_looked_at, section=opened, seen="opening", days_ago=1)
    lot = nursery.seed(days_ago=40, estimate=100)
    nursery.pots(2, lot, days_ago=35)
    nursery.pollen(days_ago=20, storage="bench")
    mixed = nursery.pollen([nursery.male(days_ago=5), nursery.male(nursery.clone("lowii"), days_ago=5)], days_ago=5)
    nursery.section(lot=mixed, days_ago=4)
    nursery.seed_by_post(words="from a friend", day=Day.unknown())


@pytest.fixture(scope="module")
def one_of_each(kept: Nursery) -> None:
    _make_one_of_each(kept)


def test_the_round_and_the_tasks_of_each_thing_agree(one_of_each: None, nursery: Nursery) -> None:
    for ahead in (0, 1, 30, 365):
        day = today() + timedelta(days=ahead)
        found = round_for(day, minutes=PLENTY)
        in_round = {(task.thing_id, task.kind): task for task in [*found.today, *found.rest]}
        due = [task for thing in _things() for task in tasks_for(thing, day).due(day)]
        assert in_round == {(task.thing_id, task.kind): task for task in due}
        assert len({kind for _, kind in in_round}) >= 5


def _things() -> list[LivingThing]:
    return [thing for model in WATCHED for thing in model.objects.all()]


def test_things_are_named_as_on_their_own_pages(one_of_each: None, nursery: Nursery) -> None:
    things = {thing.pk: thing for thing in _things()}
    found = round_for(today() + timedelta(days=60), minutes=PLENTY)
    assert found.today
    for task in found.today:
        assert list(task.name_parts) == name_parts(things[task.thing_id])
        assert task.number == tag_of(things[task.thing_id]).number


def test_a_replaced_tag_is_not_shown(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=12)
    [blank] = blank_tags_make(count=1)
    nursery.record(tag_bound, thing=spike, number=blank.number)
    assert [task.number for task in round_for(today()).today] == [blank.number]


# --- the number of queries ---


def _queries(django_assert_max_num_queries, ask) -> int:
    with django_assert_max_num_queries(40) as counted:
        ask()
    return len(counted)


def test_the_round_asks_the_database_as_often_for_few_rows_as_for_many(
    one_of_each: None, nursery: Nursery, django_assert_max_num_queries
) -> None:
    day = today() + timedelta(days=60)
    house.house()
    few = _queries(django_assert_max_num_queries, lambda: round_for(day))
    open_before = Spike.objects.filter(closed_on=None).count()
    for _ in range(2):
        _make_one_of_each(nursery)
    assert Spike.objects.filter(closed_on=None).count() >= 3 * open_before
    assert _queries(django_assert_max_num_queries, lambda: round_for(day)) == few <= 21


MOST = {Spike: 5, Section: 3, SeedPot: 3}
"""Queries for the tasks of one thing: its row, what its stage asks of other tables, the timings, and any partners."""


@pytest.mark.parametrize("model", MOST)
def test_the_tasks_of_one_thing_take_few_queries_however_many_others_there_are(
    one_of_each: None, nursery: Nursery, django_assert_max_num_queries, model: type[LivingThing]
) -> None:
    pk = model.objects.filter(closed_on=None).first().pk
    thing = _fetched(model, pk)
    few = _queries(django_assert_max_num_queries, lambda: tasks_for(thing, today()))
    _make_one_of_each(nursery)
    thing = _fetched(model, pk)
    assert _queries(django_assert_max_num_queries, lambda: tasks_for(thing, today())) == few <= MOST[model]


def _fetched(model: type[LivingThing], pk: int) -> LivingThing:
    """As the page of a thing has it: with what names it, and its number."""
    found = model.objects.select_related("thing", *FETCH[model._meta.model_name]).get(pk=pk)
    found.number = tag_of(found).number
    return found


def test_what_comes_after_open_knows_of_a_dab_before_the_spike_was_seen_in_bud(nursery: Nursery) -> None:
    spike = nursery.spike(seen="buds", days_ago=20)
    nursery.section(spike, days_ago=2)
    nursery.record(spikes.spike_looked, spike=spike, seen="buds", days_ago=1)
    [task] = [task for task in _asked(spike).tasks if task.kind == "spikes"]
    [hint] = [answer.hint for answer in task.answers if answer.label == "Open, female"]
    nursery.record(spikes.spike_looked, spike=spike, seen="open", sex="female", sex_from="flowers")
    assert hint == next_words(_again(spike), today()) != "then: pollinate"


def test_a_thing_that_was_fetched_with_its_name_and_number_has_tasks_of_that_name_and_number(
    one_of_each: None, nursery: Nursery
) -> None:
    for model in MOST:
        pk = model.objects.filter(closed_on=None).first().pk
        known, plain = _fetched(model, pk), model.objects.get(pk=pk)
        asked = tasks_for(known, today()).tasks
        assert asked and asked == tasks_for(plain, today()).tasks
        [in_round] = {
            (task.name_parts, task.number)
            for task in round_for(asked[0].due, minutes=PLENTY).today
            if task.thing_id == pk
        }
        assert {(task.name_parts, task.number) for task in asked} == {in_round}
