"""Tags whose print says something else than the books do by now."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.models import Section
from breeding.records.redetermined import clone_redetermined
from breeding.records.sections import section_pollinated
from breeding.records.sowing import pot_sown
from labels.misprinted import misprint_of, misprinted
from labels.models import PrintedTag
from nursery.links import thing_url
from nursery.models import Person
from nursery.records.moves import moved
from nursery.records.undo import undone
from tests.labels.views.test_printed import print_of
from tests.making import Nursery, tag_of

LISTED = "/labels/other-words/"


@pytest.fixture
def section(nursery: Nursery) -> Section:
    return nursery.section(days_ago=3, tie="red wool")


def _wrong() -> list[int]:
    return [one.tag.number for one in misprinted()]


def test_a_corrected_father_calls_the_printed_tag_in(
    section: Section, nursery: Nursery, owner: Person, as_grower: Client
):
    number = tag_of(section).number
    other = nursery.pollen([nursery.male(nursery.clone("veitchii", "pliers"))])
    print_of(owner, number)
    assert "printed with other words" not in as_grower.get(thing_url(section)).text
    facts = {"spike": section.spike, "lot": other, "tie": "red wool"}
    nursery.record(section_pollinated, **facts, days_ago=3, replaces=section.thing.born_by)
    page = as_grower.get(thing_url(section)).text
    assert "Its tag was printed with other words" in page and f"/labels/print/{number}/" in page
    listed = as_grower.get(LISTED).text
    assert f'value="{number}"' in listed and "Printed as: lowii" in listed and "veitchii" in listed
    print_of(owner, number)
    assert _wrong() == []
    page = as_grower.get(LISTED).text
    assert "Every tag in use says what the books say" in page and "waits here until it is printed" not in page


def test_so_does_a_corrected_day_and_undoing_the_correction_calms_it(section: Section, nursery: Nursery, owner: Person):
    print_of(owner, tag_of(section).number)
    first = section.thing.born_by
    facts = {"spike": section.spike, "lot": first.pollinated.lot, "tie": "red wool"}
    again = nursery.record(section_pollinated, **facts, days_ago=4, replaces=first)
    assert _wrong() == [tag_of(section).number]
    nursery.record(undone, target=again)
    assert _wrong() == []


def test_a_clone_that_is_something_else_calls_in_the_tags_of_its_plants(nursery: Nursery, owner: Person):
    plant, other = nursery.plant(), nursery.plant()
    print_of(owner, tag_of(plant).number, tag_of(other).number)
    said = str(plant.clone)
    nursery.record(clone_redetermined, clone=plant.clone, taxon=nursery.taxon("truncata"), why="its flowers")
    assert _wrong() == [tag_of(plant).number]
    assert misprint_of(tag_of(plant).number).said == said
    assert misprint_of(tag_of(other).number) is None


def test_what_a_tag_does_not_tell_changes_nothing(nursery: Nursery, owner: Person):
    plant, pot = nursery.plant(), nursery.prepared_pot(days_ago=2)
    print_of(owner, tag_of(plant).number, tag_of(pot).number)
    nursery.record(moved, thing=plant, place=nursery.bench())
    nursery.record(pot_sown, pot=pot, seeds=25)
    assert _wrong() == []


def test_a_print_of_which_the_words_are_not_known_is_left_alone(section: Section, nursery: Nursery, owner: Person):
    print_of(owner, tag_of(section).number)
    PrintedTag.objects.update(said="")
    nursery.record(undone, target=section.thing.born_by)
    assert _wrong() == []


def test_many_prints_cost_no_more_questions(nursery: Nursery, owner: Person):
    counts = []
    for _ in range(2):
        print_of(owner, *(tag_of(nursery.plant()).number for _ in range(3)))
        with CaptureQueriesContext(
            connection,
        ) as captured:
            misprinted()
        counts.append(len(captured))
    assert counts[0] == counts[1]
