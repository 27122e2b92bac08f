"""Acts kept in mind while very many are written give the same books as acts read afresh for each."""

import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from breeding.models import Section, SeedPot
from breeding.records.pods import pods_looked_at
from breeding.records.pots import pot_looked_at
from nursery.models import Act, LivingThing
from nursery.records import milestones
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused
from nursery.records.mind import keeping_in_mind, thing_in_mind
from nursery.records.remarks import remarked
from nursery.records.undo import undone
from nursery.records.watching import stopped, walked_past
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def in_mind():
    with keeping_in_mind():
        yield


def must_be_as_worked_out(thing: LivingThing) -> LivingThing:
    stored = type(thing).objects.get(pk=thing.pk)
    worked_out = milestones.worked_out(stored)
    assert {name: getattr(stored, name) for name in worked_out} == worked_out
    return stored


def look(nursery: Nursery, pot: SeedPot, seen: str, days_ago: int, **more) -> Act:
    return nursery.record(pot_looked_at, pot=pot, seen=seen, days_ago=days_ago, **more)


def test_looks_in_any_order_undone_and_corrected(nursery):
    pot = nursery.pot(days_ago=90)
    look(nursery, pot, "nothing", 40)
    first = look(nursery, pot, "first", 20)
    look(nursery, pot, "nothing", 60)  # told late
    assert must_be_as_worked_out(pot).stage == "up"
    nursery.record(undone, target=first)
    assert must_be_as_worked_out(pot).stage == "sown"
    wrong = look(nursery, pot, "few", 10)
    look(nursery, pot, "nothing", 12, replaces=wrong)
    stored = must_be_as_worked_out(pot)
    assert (stored.stage, (today() - stored.last_look).days) == ("sown", 12)


def test_one_act_that_touches_several(nursery):
    pots = nursery.pots(3, days_ago=90)
    for pot in pots[:2]:
        look(nursery, pot, "nothing", 30)
    nursery.record(walked_past, place=nursery.bench(), things=pots, days_ago=5)
    assert [(today() - must_be_as_worked_out(pot).last_look).days for pot in pots] == [5, 5, 5]


def test_what_was_refused_after_it_was_told_is_forgotten(nursery, monkeypatch):
    pot = nursery.pot(days_ago=90)
    look(nursery, pot, "nothing", 40)

    @recorded
    def told_and_refused(*, act: NewAct, pot: SeedPot) -> Act:
        entry = Entry(act, "stopped", on=[pot], said={})
        entry.sent_before()
        entry.keep(pot)
        raise Refused("no", "Not like this.")

    with pytest.raises(Refused):
        told_and_refused(act=NewAct(id=uuid.uuid4(), by=nursery.by), pot=SeedPot.objects.get(pk=pot.pk))
    nursery.record(remarked, thing=SeedPot.objects.get(pk=pot.pk), words="Still here.")
    assert must_be_as_worked_out(pot).closed_on is None


def test_objects_in_mind_are_as_stored_though_another_object_of_the_row_is_written(nursery):
    section = nursery.section(days_ago=60)
    for days_ago in (12, 9):  # the first look is written through another object than the one that was born
        nursery.record(pods_looked_at, section=section, seen="green", days_ago=days_ago)
    assert thing_in_mind(section.pk) is section and thing_in_mind(section.cross_id) is section.cross
    other = Section.objects.get(pk=section.pk)
    nursery.record(stopped, thing=other, days_ago=3)
    assert thing_in_mind(section.pk) is None
    nursery.record(remarked, thing=section, words="What is left of it.")
    assert section.closed_on == must_be_as_worked_out(section).closed_on == today() - timedelta(days=3)
    must_be_as_worked_out(section.cross)


def test_with_all_or_nothing_no_act_has_a_savepoint(nursery):
    pot = nursery.pot(days_ago=90)
    with keeping_in_mind(all_or_nothing=True), CaptureQueriesContext(connection) as asked:
        look(nursery, pot, "nothing", 40)
        look(nursery, pot, "nothing", 30)
    assert not [one for one in asked.captured_queries if "SAVEPOINT" in one["sql"]]
    assert must_be_as_worked_out(pot).last_look == today() - timedelta(days=30)
