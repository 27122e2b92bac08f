"""What came of a clone that is thought to be something else: on its page, in its trace, to sort out, to print."""

import uuid

import pytest
from django.test import Client

from breeding.records.redetermined import clone_redetermined
from nursery.days import Day
from nursery.models import Act
from nursery.records.flags import open_flags
from tests.making import Nursery, tag_of

PAGE = "/office/to-sort-out/"


@pytest.fixture
def thought(nursery: Nursery) -> Act:
    """Bought as lowii hammer, which has a plant and an open seed pot; thought truncata since March 2026."""
    clone = nursery.clone("lowii", "hammer", origin="bought")
    section = nursery.section(nursery.female(clone, days_ago=200), days_ago=200)
    nursery.pot(nursery.seed(section, days_ago=50), days_ago=50)
    facts = {"taxon": nursery.taxon("truncata"), "why": "its flowers", "day": Day.month(2026, 3)}
    return nursery.record(clone_redetermined, clone=clone, **facts)


def test_the_clones_page_says_what_it_came_as(as_viewer: Client, thought: Act) -> None:
    page = as_viewer.get(f"/clones/{thought.thing_id}/")
    row = next(one for one in page.context["details"] if one.label == "Redetermined")
    assert row.value.startswith("Bought as lowii hammer, thought truncata since March 2026")
    assert row.value.endswith(", because its flowers.")


def test_a_clone_that_nobody_thought_again_says_nothing_of_it(as_viewer: Client, nursery: Nursery) -> None:
    page = as_viewer.get(f"/clones/{nursery.clone().pk}/")
    assert "Redetermined" not in [one.label for one in page.context["details"]]


def test_its_trace_lists_each_kind(as_viewer: Client, thought: Act) -> None:
    page = as_viewer.get(f"/clones/{thought.thing_id}/downstream/")
    titles = [one.title for one in page.context["lists"]]
    assert titles == ["Plants: 1", "Spikes: 1", "Crosses: 1", "Sections: 1", "Seed: 1", "Seed pots: 1"]
    assert "truncata" in page.content.decode()


def test_a_clone_of_which_nothing_came_says_so(as_viewer: Client, nursery: Nursery) -> None:
    page = as_viewer.get(f"/clones/{nursery.clone().pk}/downstream/").content.decode()
    assert "Nothing came of it yet: no plant, no pollen, no cross." in page


def test_a_trace_of_no_clone_is_not_there(as_viewer: Client, stranger: Client, nursery: Nursery) -> None:
    plant = nursery.plant()
    assert as_viewer.get(f"/clones/{plant.pk}/downstream/").status_code == 404
    assert stranger.get(f"/clones/{plant.clone_id}/downstream/").status_code == 302


def test_it_stands_to_sort_out_as_one_row(as_owner: Client, thought: Act) -> None:
    [row] = as_owner.get(PAGE).context["rows"]
    assert row.sentence == "Redetermined: 6 things that came of it may need a new tag."
    assert [link.label for link in row.links] == ["What came of it", "Print their tags"]


def test_a_flagged_thing_tells_so_on_its_page(as_owner: Client, thought: Act) -> None:
    pot = thought.flags.get(thing__kind="seedpot").thing
    [flag] = as_owner.get(f"/pots/{pot.pk}/").context["flags"]
    assert flag.sentence.startswith("Parent redetermined: lowii hammer is now thought truncata.")


def test_a_parent_that_it_is_thought_to_come_of_is_not_flagged(as_owner: Client, nursery: Nursery) -> None:
    parent, plant = nursery.clone("hamata"), nursery.plant()
    nursery.record(clone_redetermined, clone=plant.clone, seed_parent=parent, why="its flowers")
    assert as_owner.get(f"/clones/{parent.pk}/").context["flags"] == []


def test_all_is_settled_at_once_and_opened_by_one_undo(as_grower: Client, thought: Act) -> None:
    [row] = as_grower.get(PAGE).context["rows"]
    for _ in range(2):
        answer = as_grower.post(row.settle_url, {"act_id": str(row.settle_id), "next": PAGE})
        assert answer["Location"] == PAGE
    assert not open_flags().exists()
    assert as_grower.get(PAGE).context["rows"] == []
    as_grower.post(f"/acts/{row.settle_id}/undo/", {"act_id": str(uuid.uuid4())})
    assert open_flags().count() == 6


def test_settling_what_no_act_brought_is_not_there(as_grower: Client, as_viewer: Client, thought: Act) -> None:
    assert as_grower.post(f"/acts/{thought.pk}/settle/nothing-like-it/").status_code == 404
    assert as_grower.post(f"/acts/{uuid.uuid4()}/settle/parent_redetermined/").status_code == 404
    assert as_viewer.post(f"/acts/{thought.pk}/settle/parent_redetermined/").status_code == 403


def test_the_tags_of_what_is_still_watched_can_be_printed(as_grower: Client, thought: Act, nursery: Nursery) -> None:
    page = as_grower.get(f"/labels/redetermined/{thought.pk}/")
    numbers = {tick.tag.number for place in page.context["standing"] for tick in place.ticks}
    open_things = [
        flag.thing for flag in thought.flags.filter(thing__kind__in=["plant", "seedpot", "seedlot", "spike"])
    ]
    assert numbers == {tag_of(thing).number for thing in open_things}, "not the section, which was harvested"
