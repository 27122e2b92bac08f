"""The story of a cross: its chapters in order, and numbers that are counted, each beside how much was seen."""

import pytest
from django.test import Client

from breeding.records import pods, pots, seed
from breeding.records.sections import section_dabbed
from nursery.links import thing_url
from nursery.models import Act
from nursery.records.plants import plant_gone
from nursery.records.remarks import remarked
from nursery.records.undo import undone
from tests.making import Nursery, tag_of


@pytest.fixture
def cross(nursery: Nursery, grower):
    """One cross, counted by hand: 3 sections (one took, one did not, one is new), 1 harvest, 3 pots, 1 of them up."""
    mother, father = nursery.clone("lowii", "anvil"), nursery.clone("veitchii", "trowel")
    female, male = nursery.female(mother, days_ago=320), nursery.male(father, days_ago=322)
    lot = nursery.pollen([male], days_ago=321)
    taken = nursery.section(female, lot=lot, days_ago=300, flowers=20, tie="red wool")
    empty = nursery.section(female, lot=lot, days_ago=300)
    nursery.section(nursery.female(mother, days_ago=40), lot=lot, days_ago=30)
    nursery.record(pods.take_read, section=taken, swelling="most", days_ago=260, by=grower)
    nursery.record(pods.take_read, section=empty, swelling="none", days_ago=260)
    bag = nursery.made(pods.harvested, section=taken, pods=15, pods_open=1, days_ago=180)
    nursery.record(seed.seed_cleaned, lot=bag, seeds=300, estimate_from="weighed", days_ago=178)
    first, second, _ = nursery.pots(3, bag, seeds=100, days_ago=170)
    nursery.record(pots.pot_looked_at, pot=first, seen="nothing", days_ago=120)
    nursery.record(pots.pot_looked_at, pot=first, seen="few", counted=30, days_ago=110)
    nursery.record(pots.seedlings_lost, pot=first, lost=4, days_ago=100)
    nursery.record(pots.pot_looked_at, pot=second, seen="nothing", days_ago=110)
    return taken.cross


def _numbers(client: Client, cross) -> dict[str, str]:
    return {row.label: row.value for row in client.get(thing_url(cross)).context["details"]}


def test_the_numbers_are_right_and_say_how_much_was_seen(as_viewer: Client, cross):
    assert _numbers(as_viewer, cross) == {
        "Take": "1 of 2 sections read had pods swelling",
        "Pods": "15 pods cut in 1 counted harvest; 15 from 20 flowers (1 section counted whole)",
        "Pollination to harvest": "120 days, from 1 section",
        "Seed": "300 seeds in 1 lot, weighed; about 20 a pod, from 15 pods",
        "Pots up": "1 of 3 pots",
        "Sown to first seedling": "60 days, from 1 pot",
        "Seedlings": "30 counted in 1 of 3 pots; 30% of 100 seeds sown in 1 pot",
        "Lost": "4 seedlings",
    }
    facts = as_viewer.get(thing_url(cross)).context["facts"]
    assert [(fact.value, fact.label) for fact in facts] == [("3", "sections"), ("3", "pots"), ("1 of 3", "pots up")]


def test_the_chapters_follow_the_year_after_what_is_under_way(as_viewer: Client, cross):
    """The second section of the first spike is still open, and so is that of the second spike."""
    titles = [chapter.title for chapter in as_viewer.get(thing_url(cross)).context["chapters"]]
    assert titles == ["Seed parent", "Pollen parent", "Section 2", "Section 1", "Section 1, red wool", "Seed"]


def test_what_grew_on_a_plant_that_is_gone_keeps_its_turn(nursery: Nursery, as_viewer: Client, cross):
    first = cross.section_set.order_by("pk").first()
    nursery.record(plant_gone, plant=first.spike.plant, why="died")
    titles = [chapter.title for chapter in as_viewer.get(thing_url(cross)).context["chapters"]]
    assert titles[2:] == ["Section 1", "Section 1, red wool", "Seed", "Section 2"]


def test_female_first_is_said_once(as_viewer: Client, cross):
    html = as_viewer.get(thing_url(cross)).text
    assert html.count("Female parent first.") == 1
    assert "".join(part.text for part in as_viewer.get(thing_url(cross)).context["name_parts"]) == (
        "lowii anvil × veitchii trowel"
    )


def test_a_chapter_tells_what_was_done_when_and_by_whom(as_viewer: Client, cross):
    chapters = as_viewer.get(thing_url(cross)).context["chapters"]
    section = next(chapter for chapter in chapters if chapter.title == "Section 1, red wool")
    assert [row.words for row in section.rows] == [
        "pollinated: pollen of veitchii trowel, red wool, 20 flowers",
        "take read: most swelling",
        "harvested: the whole section, 15 pods, 1 of them open",
    ]
    assert [row.who for row in section.rows] == ["Ida Fern", "Tom Reed", "Ida Fern"]
    assert section.number is not None and section.rows[2].url.startswith("/seed/")


def test_the_seed_is_followed_by_each_of_its_pots(as_viewer: Client, cross):
    chapters = as_viewer.get(thing_url(cross)).context["chapters"]
    lot = next(chapter for chapter in chapters if chapter.title == "Seed")
    assert "1 of 3 pots up" in lot.sub and len(lot.things) == 3
    assert [row.words for row in lot.rows] == ["seed cleaned: 300 seeds weighed", "sown: 3 pots, 100 seeds each"]
    assert all(row.number for row in lot.things)


def test_what_is_undone_does_not_count(nursery: Nursery, as_viewer: Client, cross):
    sowing = Act.objects.get(kind="sown")
    for look in Act.objects.filter(kind__in=["pot_look", "pot_loss"], voided_by__isnull=True):
        undone(act=nursery.act(), target=look)
    undone(act=nursery.act(), target=sowing)
    numbers = _numbers(as_viewer, cross)
    assert not numbers.keys() & {"Pots up", "Sown to first seedling", "Seedlings", "Lost"}
    lot = next(one for one in as_viewer.get(thing_url(cross)).context["chapters"] if one.title == "Seed")
    assert lot.rows[-1].void and not lot.things


def test_a_second_dab_stands_in_the_chapter_of_its_section(nursery: Nursery, as_viewer: Client):
    section = nursery.section(days_ago=20)
    nursery.record(section_dabbed, section=section, lot=section.thing.acts.get().pollinated.lot, days_ago=15)
    chapters = as_viewer.get(thing_url(section.cross)).context["chapters"]
    assert [len(chapter.rows) for chapter in chapters if chapter.title == "Section 1"] == [2]


def test_a_wish_and_remarks_have_their_chapter(nursery: Nursery, as_viewer: Client):
    cross = nursery.cross(wanted=40, aim="big lids", family="Lids")
    nursery.record(remarked, thing=cross, words="Ask for more pollen.")
    wish = as_viewer.get(thing_url(cross)).context["chapters"][2]
    assert wish.title == "Wished for" and wish.sub == "40 plants wanted, big lids, Lids"
    assert [row.words for row in wish.rows][1] == "Ask for more pollen."


def test_an_unknown_father_and_several_possible_ones_are_said(nursery: Nursery, as_viewer: Client):
    unknown = nursery.section(from_spike=None)
    fathers = [nursery.male(nursery.clone("hamata", word)) for word in ("tweed", "ladle")]
    mixed = nursery.section(lot=nursery.pollen(fathers))
    assert "Nobody knows." in as_viewer.get(thing_url(unknown.cross)).text
    titles = [chapter.title for chapter in as_viewer.get(thing_url(mixed.cross)).context["chapters"]]
    assert titles.count("Pollen parent, one of these") == 2


def test_seed_from_elsewhere_has_a_chapter_without_a_section(nursery: Nursery, as_viewer: Client):
    lot = nursery.seed_by_post(seed_parent=nursery.clone(), words="from the fair")
    chapters = as_viewer.get(thing_url(lot.cross)).context["chapters"]
    assert chapters[-1].title == "Seed, from the fair" and chapters[-1].number == tag_of(lot).number


def test_a_cross_only_wished_for_has_no_numbers(nursery: Nursery, as_viewer: Client):
    assert _numbers(as_viewer, nursery.cross()) == {}


def test_flags_from_its_sections_stand_on_top(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=50, flowers=5)
    nursery.record(pods.take_read, section=section, swelling="most", pods=9)
    assert "9 pods, but 5 flowers were counted at pollination." in as_grower.get(thing_url(section.cross)).text
