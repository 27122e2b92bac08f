"""What is set in place, not by acts: the record functions refuse whoever may not, whatever page called them."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from breeding.models import Expectation
from breeding.records.expectations import (
    expectation_added,
    expectation_changed,
    expectation_reset,
    risk_accepted,
    shipped_facts,
)
from nursery.models import Person, Taxon
from nursery.records.errors import Refused
from nursery.records.house import house, house_changed, round_changed
from nursery.records.people import code_shown, person_added, person_changed, signed_out_everywhere
from nursery.records.taxa import taxon_added, taxon_changed
from nursery.records.walk import turn_changed
from tests.making import Nursery

FACTS = {"genus": "Nepenthes", "epithet": "glabrata", "rank": "species", "cites": "II", "note": ""}

Write = Callable[[Nursery, Person], object]


def _take() -> Expectation:
    return Expectation.objects.get(step="take", taxon=None)


OWNERS_ONLY: dict[str, Write] = {
    "person_added": lambda nursery, by: person_added(by=by, name="Eve Sedge", role="owner"),
    "person_changed": lambda nursery, by: person_changed(by=by, person=by, name="x", role="owner", is_active=True),
    "signed_out_everywhere": lambda nursery, by: signed_out_everywhere(by=by, person=nursery.by),
    "code_shown": lambda nursery, by: code_shown(by=by, person=nursery.by),
    "house_changed": lambda nursery, by: house_changed(by=by, name="x", public_address="", minutes_a_day=30),
    "round_changed": lambda nursery, by: round_changed(by=by, minutes_a_day=30, tasks_off=["take"]),
    "risk_accepted": lambda nursery, by: risk_accepted(by=by, steps=["ripe"], risk=0.01),
    "taxon_changed": lambda nursery, by: taxon_changed(by=by, taxon=nursery.taxon(), **FACTS),
    "turn_changed": lambda nursery, by: turn_changed(act=nursery.act(by=by), place=nursery.bench(), earlier=True),
    "expectation_added": lambda nursery, by: expectation_added(
        by=by, step="take", taxon=nursery.taxon(), facts=shipped_facts("take")
    ),
    "expectation_changed": lambda nursery, by: expectation_changed(
        by=by, expectation=_take(), facts=shipped_facts("ripe")
    ),
    "expectation_reset": lambda nursery, by: expectation_reset(by=by, expectation=_take()),
}


@pytest.mark.parametrize("role", ["grower", "viewer"])
@pytest.mark.parametrize("write", OWNERS_ONLY)
def test_only_owners_may(nursery: Nursery, write: str, role: str) -> None:
    with pytest.raises(Refused, match="Only an owner may do this."):
        OWNERS_ONLY[write](nursery, nursery.person(role))


@pytest.mark.parametrize("write", OWNERS_ONLY)
def test_an_owner_who_left_may_not(nursery: Nursery, write: str) -> None:
    left = nursery.person("owner")
    left.is_active = False
    with pytest.raises(Refused, match="Only an owner may do this."):
        OWNERS_ONLY[write](nursery, left)


def test_growers_list_taxa_and_viewers_do_not(nursery: Nursery) -> None:
    taxon_added(by=nursery.person("grower"), **FACTS)
    with pytest.raises(Refused, match="You may read here but not record."):
        taxon_added(by=nursery.person("viewer"), **FACTS | {"epithet": "hamata"})
    assert [taxon.epithet for taxon in Taxon.objects.all()] == ["glabrata"]


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"minutes_a_day": 4}, "minutes_a_day", "Give 5 or more."),
        ({"minutes_a_day": 961}, "minutes_a_day", "Give 960 or less."),
        ({"name": "n" * 81}, "name", "Write at most 80 characters; these are 81."),
    ],
)
def test_a_house_that_cannot_be_is_refused_with_its_field(
    nursery: Nursery, changes: dict[str, object], field: str, sentence: str
) -> None:
    told = {"name": "Drizzle Lane", "public_address": "", "minutes_a_day": 30} | changes
    with pytest.raises(Refused) as refused:
        house_changed(by=nursery.by, **told)
    assert (refused.value.field, refused.value.sentence) == (field, sentence)
    assert house().minutes_a_day == 45


def test_a_window_that_closes_before_it_opens_is_refused(nursery: Nursery) -> None:
    wrong = replace(shipped_facts("take"), low=60, high=50)
    with pytest.raises(Refused, match="The window must open before it closes."):
        expectation_changed(by=nursery.by, expectation=_take(), facts=wrong)
    assert _take().low == shipped_facts("take").low


def test_a_step_that_is_not_known_gets_no_timing(nursery: Nursery) -> None:
    with pytest.raises(ValueError, match="No timing is shipped for “moon”"):
        expectation_added(by=nursery.by, step="moon", taxon=nursery.taxon(), facts=shipped_facts("take"))


def test_the_common_timing_holds_again_after_a_taxons_own_is_taken_out(nursery: Nursery) -> None:
    own = expectation_added(by=nursery.by, step="take", taxon=nursery.taxon(), facts=shipped_facts("ripe"))
    assert expectation_reset(by=nursery.by, expectation=own) == _take()
    assert Expectation.objects.filter(step="take").count() == 1
