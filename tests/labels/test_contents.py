from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
import time_machine

from breeding.models import SeedPot
from breeding.records.pollen import pollen_received
from breeding.records.posted import pollen_split, seed_split
from breeding.records.pots import pot_split
from breeding.records.sowing import Line, pot_sown
from labels import contents
from labels.examples import EXAMPLES
from labels.layout import Leads
from nursery.days import Day
from nursery.models import Tag
from nursery.records import registry
from nursery.records.numbers import blank_tags_make
from nursery.records.plants import plant_gone
from nursery.records.undo import undone
from tests.making import Nursery, birth_of, tag_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def nursery(owner) -> Nursery:
    """Ida Fern's, on 25 November 2026."""
    with time_machine.travel(datetime(2026, 11, 25, 12, tzinfo=ZoneInfo("Europe/Berlin")), tick=False):
        yield Nursery(owner)


def told(thing) -> contents.Tagged:
    [one] = contents.tagged([tag_of(thing).number])
    return one


def name(one: contents.Tagged) -> str:
    return "".join(part.text for part in one.name)


@pytest.fixture
def section(nursery):
    """lowii kettle by hamata lantern, twelve days ago, with a red tie."""
    female = nursery.female(nursery.clone("lowii", "kettle"), days_ago=12)
    lot = nursery.pollen([nursery.male(nursery.clone("hamata", "lantern"), days_ago=12)], days_ago=12)
    return nursery.section(female, lot=lot, days_ago=12, tie="red", flowers=24)


def test_a_section_tells_mother_by_father_date_hand_and_which_flowers(section):
    one = told(section)
    assert (one.kind_words, name(one)) == ("Section", "lowii kettle × hamata lantern")
    assert one.lines == ("pollinated 13 Nov 2026 · IF", "section 1 · tie: red · 24 flowers")
    assert one.url == f"/sections/{section.pk}/"


def test_a_section_with_its_flowers_only_classed_tells_the_class(nursery):
    assert told(nursery.section(size="25")).lines[1] == "section 1 · 10 to 24 flowers"
    assert told(nursery.section(size="10")).lines[1] == "section 1 · under 10 flowers"
    assert told(nursery.section()).lines[1] == "section 1"


def test_a_pot_tells_cross_date_and_what_was_sown(nursery, section):
    lot = nursery.seed(section, days_ago=2)
    [pot] = nursery.pots(1, lot, seeds=40)
    assert name(told(pot)) == "lowii kettle × hamata lantern"
    assert told(pot).kind_words == "Seed pot"
    assert told(pot).text("https://tags.example").leads is Leads.NAME
    assert told(pot).lines == ("sown 25 Nov 2026 · IF", "40 seeds")


def test_a_pot_sown_by_pods_tells_pods(nursery):
    [pot] = nursery.pots(1, nursery.seed(), pods=1)
    assert told(pot).lines == ("sown 25 Nov 2026 · IF", "1 pod")


def test_seed_tells_cross_and_harvest(nursery, section):
    lot = nursery.seed(section, days_ago=2)
    one = told(lot)
    assert (one.kind_words, name(one)) == ("Seed", "lowii kettle × hamata lantern")
    assert one.lines == ("harvested 23 Nov 2026 · IF",)


def test_seed_by_post_tells_its_words_and_a_vague_day_as_told(nursery):
    day = Day.month(2025, 6)
    lot = nursery.seed_by_post(words="packet from Wilma", seed_parent=nursery.clone("lowii", "kettle"), day=day)
    assert name(told(lot)) == "lowii kettle × unknown"
    assert told(lot).lines == ("harvested in June 2025 · IF", "packet from Wilma")


def test_pollen_tells_clone_day_and_storage(nursery):
    lot = nursery.pollen([nursery.male(nursery.clone("hamata", "lantern"))], storage="refrigerator")
    one = told(lot)
    assert (one.kind_words, name(one)) == ("Pollen", "hamata lantern")
    assert one.lines == ("collected 25 Nov 2026 · IF", "refrigerator")


def test_pollen_known_by_words_is_named_by_them_once(nursery):
    lot = nursery.made(pollen_received, words="yellow packet, unlabelled", day=Day.unknown())
    assert name(told(lot)) == "yellow packet, unlabelled"
    assert told(lot).lines == ("collected day not known · IF",)


def test_mixed_pollen_names_all_who_it_may_be(nursery):
    males = [nursery.male(nursery.clone("hamata", "lantern")), nursery.male(nursery.clone("lowii", "anvil"))]
    lot = nursery.pollen(males)
    assert name(told(lot)) == "hamata lantern or lowii anvil"
    section = nursery.section(nursery.female(nursery.clone("veitchii", "kettle")), lot=lot)
    assert name(told(section)) == "veitchii kettle × (hamata lantern or lowii anvil)"


def test_a_plant_tells_its_name_alone(nursery):
    one = told(nursery.plant(nursery.clone("lowii", "kettle")))
    assert (one.kind_words, one.lines) == ("Plant", ())
    assert [(part.text, part.style) for part in one.name] == [("lowii", "taxon"), (" ", "plain"), ("kettle", "clone")]


def test_a_spike_tells_its_plant_and_when_it_was_found(nursery):
    one = told(nursery.spike(nursery.plant(nursery.clone("lowii", "kettle")), position="second crown", days_ago=3))
    assert (name(one), one.lines) == ("lowii kettle", ("found 22 Nov 2026 · IF", "second crown"))


def test_a_place_tells_what_it_is_in(nursery):
    bench = nursery.bench("Bench 4", inside=nursery.house("Long house"))
    assert (name(told(bench)), told(bench).lines) == ("Bench 4", ("in Long house",))
    assert told(bench.inside).lines == ()


VAGUE = {
    "about 20 Nov 2026": Day.about_week(date(2026, 11, 20)),
    "in October 2026": Day.month(2026, 10),
    "Jun–Aug 2026": Day.season(date(2026, 7, 8)),
    "in 2025": Day.year(2025),
    "day not known": Day.unknown(),
}


@pytest.mark.parametrize(("words", "day"), VAGUE.items(), ids=VAGUE)
def test_a_vague_day_is_vague_on_every_label_that_tells_one(nursery, words, day):
    female, male = nursery.female(days_ago=400), nursery.male(days_ago=400)
    pollen = nursery.pollen([nursery.male(days_ago=400)], day=day)
    lot = nursery.seed(nursery.section(days_ago=400), day=day)
    prepared = nursery.prepared_pot(lot)
    nursery.record(pot_sown, pot=prepared, seeds=30, day=day)
    prepared.refresh_from_db()
    things = {
        "found": nursery.spike(day=day),
        "pollinated": nursery.section(female, lot=nursery.pollen([male], days_ago=399), day=day),
        "collected": pollen,
        "harvested": lot,
        "sown": nursery.pots(1, lot, seeds=40, day=day)[0],
        "sown ": prepared,
    }
    for verb, thing in things.items():
        assert told(thing).lines[0] == f"{verb.strip()} {words} · IF", thing
    parts = [nursery.made(pollen_split, lot=pollen), nursery.made(seed_split, lot=lot)]
    assert [told(part).lines[0] for part in parts] == [f"collected {words} · IF", f"harvested {words} · IF"]
    nursery.record(pot_split, pot=things["sown"], day=day)
    split, sown = told(SeedPot.objects.get(split_from=things["sown"])).lines
    assert split == f"split off {words} · IF"
    assert sown.startswith("sown between ") if day.is_known else sown == "sown day not known"


def test_a_pot_of_a_sowing_tells_what_is_meant_until_it_tells_what_was_done_and_by_whom(nursery, grower):
    lot = nursery.seed(days_ago=9)
    session = nursery.sowing(Line(lot, 1, pods=2), planned_for=date(2026, 11, 28))
    [pot] = SeedPot.objects.filter(session=session)
    assert told(pot).lines == ("sowing 28 Nov 2026 · IF", "2 pods")
    mistaken = nursery.record(pot_sown, pot=pot, pods=3, day=Day.on(date(2026, 11, 20)))
    nursery.record(undone, target=mistaken)
    nursery.record(pot_sown, pot=pot, pods=1, day=Day.on(date(2026, 11, 24)), by=grower)
    nursery.record(pot_sown, pot=pot, pods=2, day=Day.on(date(2026, 11, 25)))
    assert told(pot).lines == ("sown 24 Nov 2026 · TR", "1 pod")


def test_every_kind_that_carries_a_tag_has_something_to_say():
    with_tag = {code for code, kind in registry.thing_kinds().items() if kind.tagged}
    assert set(contents._TOLD) == with_tag


def test_the_name_leads_on_every_kind_and_the_examples_on_the_page_of_a_stock_lead_alike():
    leads = {kind: told.leads for kind, told in contents._TOLD.items()}
    assert {kind for kind, what in leads.items() if what is Leads.NAME_AND_DAY} == {"pollenlot", "seedlot"}
    assert Leads.NUMBER not in leads.values()
    assert {kind: what for kind, (_, _, _, what) in EXAMPLES.items() if kind != "blank"}.items() <= leads.items()


def test_the_text_of_a_label_is_the_same_as_on_the_page(section):
    text = told(section).text("https://tags.example")
    assert "".join(words for words, _ in text.name_parts) == "lowii kettle × hamata lantern"
    assert (text.number, text.kind_words, text.is_formula) == (tag_of(section).number, "Section", True)


def test_a_blank_tag_says_its_number_alone():
    [tag] = blank_tags_make(count=1)
    [one] = contents.tagged([tag.number])
    assert one.text("https://tags.example").lines == ()
    assert (one.kind_words, one.name, one.url) == ("", (), "")


def test_numbers_come_in_the_order_asked_for_and_unknown_ones_are_left_out(nursery):
    first, second = tag_of(nursery.house()).number, tag_of(nursery.house()).number
    assert [one.number for one in contents.tagged([second, 999, first])] == [second, first]


def test_waiting_are_open_things_never_printed_then_blanks(nursery):
    [blank] = blank_tags_make(count=1)
    printed, plant, gone, mistaken = (nursery.plant(place=None, days_ago=1) for _ in range(4))
    Tag.objects.filter(thing_id=printed.pk).update(printed_at=datetime(2026, 11, 1, tzinfo=ZoneInfo("UTC")))
    nursery.record(plant_gone, plant=gone, why="died")
    nursery.record(undone, target=birth_of(mistaken))
    numbers = [one.number for one in contents.waiting()]
    assert tag_of(plant).number in numbers
    assert numbers[-1] == blank.number
    assert not {tag_of(one).number for one in (printed, gone, mistaken)} & set(numbers)
    assert contents.blanks_waiting() == 1


def test_as_many_queries_for_many_as_for_few(nursery, django_assert_num_queries):
    few = [nursery.section(), nursery.pot(), nursery.plant()]
    many = few + [make() for make in (nursery.section, nursery.pot, nursery.plant) for _ in range(3)]
    numbers = {amount: [tag_of(one).number for one in things] for amount, things in (("few", few), ("many", many))}
    for amount in ("few", "many"):
        with django_assert_num_queries(7):
            assert len(contents.tagged(numbers[amount])) == len(numbers[amount])


def test_years_are_always_told():
    assert Day.on(date(2026, 11, 25)).words(contents.ANOTHER_YEAR) == "25 Nov 2026"


def test_a_number_longer_than_any_tag_is_left_out():
    assert contents.tagged([10**30]) == []
