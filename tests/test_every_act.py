"""What holds of every kind of act: sent twice it is one, other values are refused with both shown, nobody records
without the right, no day to come, and an undo takes it back without erasing it.
"""

import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection, models
from django.utils import timezone

from nursery.days import Day
from nursery.models import Act, LivingThing, Person, Tag, Thing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.telling import tell
from nursery.records.undo import undone
from tests.every_act import CASES
from tests.keeping import fresh, undone_at_the_end
from tests.making import Nursery, ago, today

pytestmark = pytest.mark.django_db


@dataclass(frozen=True)
class Told:
    """A kind of act, its record function, what it is told, and what it might be told instead."""

    kind: str
    record: Callable[..., Act]
    facts: dict[str, Any]
    otherwise: dict[str, Any]


@pytest.fixture(scope="module", params=sorted(CASES))
def _made(request: pytest.FixtureRequest, kept: Nursery) -> Iterator[Told]:
    case = CASES[request.param]
    with undone_at_the_end():
        nursery = kept.again()
        facts = case.facts(nursery)
        yield Told(request.param, case.record, facts, facts | case.other(nursery))


@pytest.fixture
def told(_made: Told) -> Told:
    """An act of every kind in turn; what it is told of was made before, and is whole."""
    return fresh(_made)


def _new(by: Person, **more: Any) -> NewAct:
    return NewAct(**{"id": uuid.uuid4(), "by": by} | more)


def _rows() -> dict[str, int]:
    """How many rows each table has that an act may write to; asked at once, for there are sixty of them."""
    counted = [Act, Thing, Tag, *(kind.detail for kind in registry.act_kinds().values() if kind.detail)]
    asked = (f"SELECT '{one._meta.db_table}', COUNT(*) FROM {one._meta.db_table}" for one in counted)
    with connection.cursor() as cursor:
        cursor.execute(" UNION ALL ".join(asked))
        return dict(cursor.fetchall())


def test_every_kind_of_act_has_a_case_here() -> None:
    assert set(CASES) == set(registry.act_kinds()) - {"void"}


def test_it_is_one_row_with_what_was_said(told: Told, owner: Person) -> None:
    before = Act.objects.count()
    act = told.record(act=_new(owner, day=ago(2), note="in the rain"), **told.facts)
    assert Act.objects.count() == before + 1
    stored = Act.objects.get(pk=act.pk)
    assert (stored.kind, stored.by, stored.note, stored.said) == (told.kind, owner, "in the rain", "exact")
    assert stored.day_first == stored.day_last == today() - timedelta(days=2)
    detail = registry.act_kind(told.kind).accessor
    assert detail is None or isinstance(getattr(stored, detail), models.Model)


def test_sent_twice_it_is_the_same_act(told: Told, owner: Person) -> None:
    new = _new(owner, day=ago(1))
    act = told.record(act=new, **told.facts)
    rows = _rows()
    assert told.record(act=new, **told.facts) == act
    assert _rows() == rows


def test_sent_again_with_other_values_it_shows_what_is_on_record(told: Told, owner: Person) -> None:
    new = _new(owner)
    act = told.record(act=new, **told.facts)
    rows = _rows()
    with pytest.raises(AlreadySent) as refusal:
        told.record(act=new, **told.otherwise)
    assert refusal.value.act == act
    assert str(refusal.value) == "This was already recorded, with other values."
    assert _rows() == rows


@pytest.mark.parametrize("change", [{"day": ago(1)}, {"note": "later thought"}], ids=["day", "note"])
def test_another_day_or_note_is_another_value(told: Told, change: dict[str, Any], owner: Person) -> None:
    id = uuid.uuid4()
    told.record(act=_new(owner, id=id), **told.facts)
    with pytest.raises(AlreadySent):
        told.record(act=_new(owner, id=id, **change), **told.facts)


def test_a_viewer_cannot_record_it(told: Told, viewer: Person) -> None:
    rows = _rows()
    with pytest.raises(Refused) as refusal:
        told.record(act=_new(viewer), **told.facts)
    assert refusal.value.sentence == "You may read here but not record. Ask an owner to make you a grower."
    assert _rows() == rows


def test_somebody_who_left_cannot_record_it(told: Told, grower: Person) -> None:
    grower.is_active = False
    with pytest.raises(Refused):
        told.record(act=_new(grower), **told.facts)


def test_a_day_to_come_is_refused(told: Told, owner: Person) -> None:
    rows = _rows()
    with pytest.raises(Refused) as refusal:
        told.record(act=_new(owner, day=Day.on(today() + timedelta(days=1))), **told.facts)
    assert refusal.value.sentence == "That day is still to come. Choose today or an earlier day."
    assert refusal.value.field == "day"
    assert _rows() == rows


def test_it_is_told_in_words(told: Told, owner: Person) -> None:
    words = tell(told.record(act=_new(owner), **told.facts))
    assert words.startswith(registry.act_kind(told.kind).words)
    assert words.endswith(f"({Day.on(today()).words(today())})")
    assert "None" not in words


def test_undone_it_counts_no_more_but_is_still_there(told: Told, owner: Person) -> None:
    before = _columns(told.facts)
    act = told.record(act=_new(owner), **told.facts)
    undo = undone(act=_new(owner), target=act)
    assert Act.objects.filter(pk=act.pk).exists()
    assert (undo.kind, undo.void.target) == ("void", act)
    assert _columns(told.facts) == before, "everything is as it was before"
    made = [registry.instance_of(thing) for thing in Thing.objects.filter(born_by=act)]
    assert all(thing.cancelled for thing in made)


def test_a_late_entry_is_dated_when_it_was_and_recorded_now(told: Told, owner: Person) -> None:
    earliest = timezone.now()
    act = told.record(act=_new(owner, day=Day.month(2024, 2)), **told.facts)
    act.refresh_from_db()
    assert (act.day_first.isoformat(), act.day_last.isoformat(), act.said) == ("2024-02-01", "2024-02-29", "month")
    assert act.recorded_at >= earliest


def _columns(facts: dict[str, Any]) -> list[dict[str, Any]]:
    """The stored columns of the things that an act is told of."""
    listed = [value if isinstance(value, list) else [value] for value in facts.values()]
    things = [value for values in listed for value in values if isinstance(value, LivingThing)]
    return [type(thing).objects.filter(pk=thing.pk).values().get() for thing in things]
