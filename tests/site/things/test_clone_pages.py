"""The pages of a clone and of its plants: evidence for its sex, flowering, descent, offspring, CITES."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.records import spikes
from nursery.links import thing_url
from nursery.models import Clone, Taxon
from nursery.records.undo import undone
from nursery.site.cards.descent import Ancestor
from tests.making import Nursery, tag_of

pytestmark = pytest.mark.django_db


def _lists(client: Client, clone: Clone) -> dict[str, list]:
    return {one.title: list(one.rows) for one in client.get(thing_url(clone)).context["lists"]}


# --- sex ---


def test_its_sex_rests_on_readings_with_their_day_and_hand(nursery: Nursery, as_viewer: Client):
    spike = nursery.spike(seen="buds", days_ago=40)
    clone = spike.plant.clone
    nursery.record(spikes.spike_looked, spike=spike, seen="buds", sex="female", sex_from="buds", days_ago=30)
    nursery.record(spikes.spike_looked, spike=spike, seen="open", sex="female", sex_from="flowers", days_ago=9)
    rows = _lists(as_viewer, clone)["What its sex rests on"]
    assert [row.text for row in rows] == ["female by its open flowers", "female by its buds"]
    assert all(row.sub.endswith(", Ida Fern") and row.number == tag_of(spike).number for row in rows)


def test_a_reading_that_was_undone_is_no_evidence(nursery: Nursery, as_viewer: Client):
    spike = nursery.spike(seen="buds", days_ago=40)
    nursery.record(spikes.spike_looked, spike=spike, seen="buds", sex="male", sex_from="buds", days_ago=30)
    wrong = nursery.record(spikes.spike_looked, spike=spike, seen="buds", sex="female", sex_from="buds", days_ago=20)
    undone(act=nursery.act(), target=wrong)
    rows = _lists(as_viewer, spike.plant.clone)["What its sex rests on"]
    assert [row.text for row in rows] == ["male by its buds"]


def test_a_sex_told_when_the_spike_was_found_is_evidence_too(nursery: Nursery, as_viewer: Client):
    spike = nursery.male(days_ago=3)
    for thing in (spike.plant.clone, spike.plant):
        assert [row.text for row in _lists(as_viewer, thing)["What its sex rests on"]] == ["male by its open flowers"]


def test_without_a_reading_it_says_so(nursery: Nursery, as_viewer: Client):
    assert "No spike of it was read yet." in as_viewer.get(thing_url(nursery.clone())).text


def test_a_plant_whose_clone_was_read_on_another_plant_says_so_and_leads_there(nursery: Nursery, as_viewer: Client):
    clone = nursery.female().plant.clone
    bare = nursery.plant(clone)
    nursery.spike(bare)
    [row] = _lists(as_viewer, bare)["What its sex rests on"]
    assert (row.url, row.sub) == (thing_url(clone), "read on spikes of its other plants")
    assert "No spike of it was read yet." not in as_viewer.get(thing_url(bare)).text


# --- flowering ---


def test_flowering_is_shown_as_a_picture_with_a_table_beside(nursery: Nursery, as_viewer: Client):
    spike = nursery.female(days_ago=30)
    nursery.record(spikes.spike_looked, spike=spike, seen="over", days_ago=11)
    response = as_viewer.get(thing_url(spike.plant.clone))
    [row] = response.context["history"].rows
    assert (row.sex, row.days, row.number) == ("female", 20, tag_of(spike).number)
    assert '<svg class="blooms"' in response.text and "<caption" in response.text
    assert as_viewer.get(thing_url(spike.plant)).context["history"].rows == (row,)


def test_one_that_flowers_still_reaches_to_its_last_look(nursery: Nursery, as_viewer: Client):
    spike = nursery.female(days_ago=30)
    nursery.record(spikes.spike_looked, spike=spike, seen="open", days_ago=25)
    [row] = as_viewer.get(thing_url(spike.plant.clone)).context["history"].rows
    assert row.days == 6 and row.last.endswith(", not seen over yet")


def test_what_never_flowered_has_no_picture(nursery: Nursery, as_viewer: Client):
    clone = nursery.spike(days_ago=3).plant.clone
    response = as_viewer.get(thing_url(clone))
    assert response.context["history"] is None and "blooms" not in response.text


# --- descent and offspring ---


def _named(tree: tuple[Ancestor, ...]) -> list:
    return [("".join(part.text for part in one.name_parts), one.sub, _named(one.parents)) for one in tree]


def test_descent_goes_up_to_the_founders(nursery: Nursery, as_viewer: Client):
    lowii = nursery.clone("lowii", "hammer", origin="bought", source="a fair")
    hamata = nursery.clone("hamata", "lantern")
    first = nursery.clone(word="kettle", seed_parent=lowii, pollen_parent=hamata)
    second = nursery.clone(word="anvil", seed_parent=first)
    response = as_viewer.get(thing_url(second))
    assert _named(response.context["ancestors"]) == [
        (
            "lowii × hamata kettle",
            "",
            [("lowii hammer", "founder, bought, a fair", []), ("hamata lantern", "founder, origin not known", [])],
        ),
        ("not known", "", []),
    ]
    assert thing_url(lowii) in response.text


def test_an_ancestor_on_both_sides_is_written_out_once(nursery: Nursery, as_viewer: Client):
    lowii, hamata = nursery.clone("lowii", "hammer"), nursery.clone("hamata", "lantern")
    first = nursery.clone(word="kettle", seed_parent=lowii, pollen_parent=hamata)
    inbred = nursery.clone(word="anvil", seed_parent=first, pollen_parent=first)
    seed, pollen = as_viewer.get(thing_url(inbred)).context["ancestors"]
    assert len(seed.parents) == 2
    assert (pollen.parents, pollen.sub) == ((), "its parents stand above")


def test_a_founder_has_no_descent(nursery: Nursery, as_viewer: Client):
    assert as_viewer.get(thing_url(nursery.clone())).context["ancestors"] == ()


def test_its_offspring_are_listed(nursery: Nursery, as_viewer: Client):
    mother, father = nursery.clone(), nursery.clone("hamata")
    child = nursery.clone(word="kettle", seed_parent=mother, pollen_parent=father)
    cross = nursery.cross(mother, father)
    for parent in (mother, father):
        lists = _lists(as_viewer, parent)
        assert [row.url for row in lists["Clones raised from it"]] == [thing_url(child)]
        assert [row.url for row in lists["Crosses with it"]] == [thing_url(cross)]


def test_a_plant_leads_to_the_parents_of_its_clone(nursery: Nursery, as_viewer: Client):
    mother = nursery.clone()
    plant = nursery.plant(nursery.clone(word="kettle", seed_parent=mother))
    assert thing_url(mother) in as_viewer.get(thing_url(plant)).text


# --- CITES: N. rajah is in Appendix I, most of the genus in II (the CITES appendices) ---


def test_the_strictest_appendix_among_its_ancestors_is_shown(nursery: Nursery, as_viewer: Client):
    Taxon.objects.create(epithet="rajah", cites="I")
    mixed = nursery.clone(word="kettle", seed_parent=nursery.clone("lowii"), pollen_parent=nursery.clone("rajah"))
    for thing in (mixed, nursery.plant(mixed)):
        page = as_viewer.get(thing_url(thing)).text
        assert "Its ancestors include N. rajah: Appendix I; shown, nothing concluded." in page
    assert "Appendix II" in as_viewer.get(thing_url(nursery.clone("lowii"))).text


def test_a_corrected_taxon_is_followed(nursery: Nursery, as_owner: Client):
    clone = nursery.clone("lowii")
    taxon = clone.taxon
    facts = {"epithet": "lowii", "genus": "Nepenthes", "rank": "species", "cites": "I", "note": "Looked up anew."}
    as_owner.post(f"/office/taxa/{taxon.pk}/", facts)
    taxon.refresh_from_db()
    assert (taxon.cites, taxon.note) == ("I", "Looked up anew.")
    assert "Appendix I<" in as_owner.get(thing_url(clone)).text


# --- queries ---


def test_a_clone_with_a_long_history_costs_no_more_questions(nursery: Nursery, as_viewer: Client):
    few, many = _clone_with(nursery, 1), _clone_with(nursery, 6)
    as_viewer.get("/more/")  # the first page of all makes the house
    assert _queries(as_viewer, few) == _queries(as_viewer, many)


def _clone_with(nursery: Nursery, times: int) -> Clone:
    parent = nursery.clone(word="", seed_parent=nursery.clone("hamata"), pollen_parent=nursery.clone("veitchii"))
    clone = nursery.clone(seed_parent=parent, pollen_parent=nursery.clone())
    for _ in range(times):
        nursery.female(clone, days_ago=20)
        nursery.clone(seed_parent=clone)
    return clone


def _queries(client: Client, clone: Clone) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(thing_url(clone)).status_code == 200
    return len(asked)


def test_readings_that_contradict_lead_to_what_puts_them_right(nursery: Nursery, as_grower: Client, as_viewer: Client):
    plant = nursery.plant()
    female, male = nursery.spike(plant, sex="female", days_ago=300), nursery.spike(plant, sex="male")
    url = f"/clones/{plant.clone_id}/"
    [listed] = [one for one in as_grower.get(url).context["lists"] if one.title == "What its sex rests on"]
    assert [[link.label for link in row.links] for row in listed.rows] == [
        ["Correct this reading", "Its tag was swapped"]
    ] * 2
    assert [row.links[0].url for row in listed.rows] == [
        f"/acts/{one.thing.born_by_id}/correct/?next={url}" for one in (male, female)
    ]
    assert as_grower.get(f"/spikes/{male.pk}/swapped/").status_code == 200
    [read] = [one for one in as_viewer.get(url).context["lists"] if one.title == "What its sex rests on"]
    assert [row.links for row in read.rows] == [(), ()]


def test_readings_that_agree_lead_to_no_repair(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    for days_ago in (300, 5):
        nursery.spike(plant, sex="female", days_ago=days_ago)
    page = as_grower.get(f"/clones/{plant.clone_id}/")
    [listed] = [one for one in page.context["lists"] if one.title == "What its sex rests on"]
    assert [row.links for row in listed.rows] == [(), ()]
