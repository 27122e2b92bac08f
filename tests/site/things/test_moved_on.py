"""What a tag means now when its thing has moved on: a sentence, and one tap to what it is now."""

import pytest
from django.test import Client

from breeding.models import SeedLot
from breeding.records import pods, pollen, seed
from breeding.rounds.tasks import tasks_for
from nursery.links import thing_url
from nursery.records import plants
from nursery.records.numbers import blank_tags_make
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.watching import stopped
from nursery.templatetags.tepal import plate
from tests.making import Nursery, birth_of, tag_of, today

pytestmark = pytest.mark.django_db


def scanned(client: Client, thing) -> tuple[str, list[str]]:
    """The sentences on what has become of it, and where its links lead."""
    now = client.get(f"/t/{tag_of(thing).number}/").context["moved_on"]
    return (now.words, [link.url for link in now.links]) if now else ("", [])


def test_a_section_leads_to_its_seed_and_used_up_seed_to_its_pots(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=80)
    assert scanned(as_grower, section) == ("", [])
    lot = nursery.seed(section, days_ago=10)
    words, links = scanned(as_grower, section)
    assert words == "What was cut from it is here:" and links == [thing_url(lot)]
    page = as_grower.get(f"/t/{tag_of(section).number}/").text
    assert f'href="{thing_url(lot)}">Seed {plate(tag_of(lot).number)}: ' in page
    pots = nursery.pots(2, lot, seeds=10)
    nursery.record(seed.seed_finished, lot=lot)
    words, links = scanned(as_grower, lot)
    assert words == "It is in these now:" and links == [thing_url(pot) for pot in pots]


def test_seed_cut_while_pods_were_left_says_what_is_asked_of_these(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=140, tie="red")
    nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=1)
    cut = nursery.record(pods.harvested, section=section, what="pods", pods=2)
    lot = SeedLot.objects.get(thing__born_by=cut)
    [task] = tasks_for(section, today()).tasks
    words, links = scanned(as_grower, lot)
    assert words == (
        f"Pods still hang on section 1, red tie {plate(tag_of(section).number)}. Look at pods: {task.due_words}."
    )
    assert links == [thing_url(section)]
    rest = nursery.seed(section)
    assert scanned(as_grower, rest) == ("", []), "now all of it is cut"
    assert scanned(as_grower, lot) == ("", [])


def test_seed_from_a_plant_that_is_gone_says_nothing_of_pods(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=140)
    cut = nursery.record(pods.harvested, section=section, what="pods")
    nursery.record(plants.plant_gone, plant=section.spike.plant, why="died")
    assert scanned(as_grower, SeedLot.objects.get(thing__born_by=cut)) == ("", [])


def test_a_plant_that_is_gone_leads_to_its_cuttings_and_its_clone(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    spike = nursery.spike(plant)
    cutting = nursery.plant(plant.clone, struck_from=plant)
    nursery.record(plants.plant_gone, plant=plant, why="died")
    words, links = scanned(as_grower, plant)
    assert words == "The same clone is still here:"
    assert links == [thing_url(cutting), thing_url(plant.clone)]
    words, links = scanned(as_grower, spike)
    assert words == "Its plant is gone. Nothing was pollinated on it." and links == [thing_url(plant)]
    nursery.record(plants.plant_gone, plant=cutting, why="sold")
    assert scanned(as_grower, plant)[0].endswith("No other plant of its clone is here.")


def test_pollen_that_is_finished_leads_to_what_it_went_on(nursery: Nursery, as_grower: Client):
    lot = nursery.pollen()
    section = nursery.section(lot=lot)
    nursery.record(pollen.pollen_finished, lot=lot)
    words, links = scanned(as_grower, lot)
    assert words.endswith("It went on these:") and links == [thing_url(section)]
    spare = nursery.pollen()
    nursery.record(pollen.pollen_finished, lot=spare)
    assert scanned(as_grower, spare)[0].endswith("It went on no section here.")


def test_what_is_no_longer_watched_or_was_undone_has_become_nothing_else(nursery: Nursery, as_grower: Client):
    pot, spike = nursery.pot(), nursery.spike()
    nursery.record(stopped, thing=pot)
    assert scanned(as_grower, pot) == ("", [])
    number = tag_of(spike).number
    undone(act=nursery.act(), target=birth_of(spike))
    page = as_grower.get(f"/t/{number}/").text
    assert "What entered this was undone" in page and "Its tag may be put on something else" in page


def test_a_replaced_tag_says_which_holds_now_and_the_new_one_which_was_before(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    old, [new] = tag_of(plant).number, blank_tags_make(count=1)
    nursery.record(tag_bound, thing=plant, number=new.number)
    page = as_grower.get(f"/t/{old}/").text
    assert f"Tag {plate(old)} was replaced by another. It carries {plate(new.number)} now." in page
    assert f"take this one off and leave {plate(new.number)}" in page
    assert f"{plate(old)} (replaced)" in as_grower.get(f"/t/{new.number}/").text
    assert "Also opened by" not in as_grower.get(thing_url(plant)).text


def test_a_tag_from_the_floor_says_where_it_should_hang(nursery: Nursery, as_grower: Client, as_viewer: Client):
    bench = nursery.bench("Long bench", inside=nursery.house("Warm house"))
    plant, lot = nursery.plant(place=bench), nursery.seed_by_post(words="seed of a friend")
    page = as_grower.get(f"/t/{tag_of(plant).number}/")
    assert "This tag lay on the floor" in page.text
    assert "It belongs on this plant in Warm house, Long bench." in page.text
    urls = [link.url for link in page.context["fallen"].links]
    assert urls[:2] == [thing_url(bench), f"/tag/lost/?kind=plant&place={bench.pk}"]
    assert as_grower.get(urls[1]).status_code == 200
    packet = as_grower.get(f"/t/{tag_of(lot).number}/").context["fallen"]
    assert packet.words.startswith("It belongs on this seed lot. ") and len(packet.links) == 2
    assert "This tag lay on the floor" not in as_grower.get(thing_url(plant)).text
    assert "This tag lay on the floor" not in as_viewer.get(f"/t/{tag_of(plant).number}/").text
