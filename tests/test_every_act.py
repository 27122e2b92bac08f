"""What holds of every kind of act: sent twice it is one, other values are refused with both shown, nobody records
without the right, no day to come, and an undo takes it back without erasing it.
"""

import uuid
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.db import models
from django.utils import timezone

from nursery.days import Day
from nursery.models import Act, LivingThing, Person, Tag, Thing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.telling import tell
from nursery.records.undo import undone
from tests.every_act import CASES
from tests.making import Nursery, ago, today

pytestmark = pytest.mark.django_db

every_kind = pytest.mark.parametrize("kind", sorted(CASES))


def _new(by: Person, **more: Any) -> NewAct:
    return NewAct(**{"id": uuid.uuid4(), "by": by} | more)


def _rows() -> dict[str, int]:
    counted = [Act, Thing, Tag, *(kind.detail for kind in registry.act_kinds().values() if kind.detail)]
    return {model.__name__: model.objects.count() for model in counted}


def _told(kind: str, nursery: Nursery) -> tuple[Callable[..., Act], dict[str, Any]]:
    return CASES[kind].record, CASES[kind].facts(nursery)


def test_every_kind_of_act_has_a_case_here() -> None:
    assert set(CASES) == set(registry.act_kinds()) - {"void"}


@every_kind
def test_it_is_one_row_with_what_was_said(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    before = Act.objects.count()
    act = record(act=_new(owner, day=ago(2), note="in the rain"), **facts)
    assert Act.objects.count() == before + 1
    stored = Act.objects.get(pk=act.pk)
    assert (stored.kind, stored.by, stored.note, stored.said) == (kind, owner, "in the rain", "exact")
    assert stored.day_first == stored.day_last == today() - timedelta(days=2)
    detail = registry.act_kind(kind).accessor
    assert detail is None or isinstance(getattr(stored, detail), models.Model)


@every_kind
def test_sent_twice_it_is_the_same_act(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    new = _new(owner, day=ago(1))
    act = record(act=new, **facts)
    rows = _rows()
    assert record(act=new, **facts) == act
    assert _rows() == rows


@every_kind
def test_sent_again_with_other_values_it_shows_what_is_on_record(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    other = facts | CASES[kind].other(nursery)
    new = _new(owner)
    act = record(act=new, **facts)
    rows = _rows()
    with pytest.raises(AlreadySent) as refusal:
        record(act=new, **other)
    assert refusal.value.act == act
    assert str(refusal.value) == "This was already recorded, with other values."
    assert _rows() == rows


@every_kind
@pytest.mark.parametrize("change", [{"day": ago(1)}, {"note": "later thought"}], ids=["day", "note"])
def test_another_day_or_note_is_another_value(
    kind: str, change: dict[str, Any], nursery: Nursery, owner: Person
) -> None:
    record, facts = _told(kind, nursery)
    id = uuid.uuid4()
    record(act=_new(owner, id=id), **facts)
    with pytest.raises(AlreadySent):
        record(act=_new(owner, id=id, **change), **facts)


@every_kind
def test_a_viewer_cannot_record_it(kind: str, nursery: Nursery, viewer: Person) -> None:
    record, facts = _told(kind, nursery)
    rows = _rows()
    with pytest.raises(Refused) as refusal:
        record(act=_new(viewer), **facts)
    assert refusal.value.sentence == "You may read here but not record. Ask an owner to make you a grower."
    assert _rows() == rows


@every_kind
def test_somebody_who_left_cannot_record_it(kind: str, nursery: Nursery, grower: Person) -> None:
    record, facts = _told(kind, nursery)
    grower.is_active = False
    with pytest.raises(Refused):
        record(act=_new(grower), **facts)


@every_kind
def test_a_day_to_come_is_refused(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    rows = _rows()
    with pytest.raises(Refused) as refusal:
        record(act=_new(owner, day=Day.on(today() + timedelta(days=1))), **facts)
    assert refusal.value.sentence == "That day is still to come. Choose today or an earlier day."
    assert refusal.value.field == "day"
    assert _rows() == rows


@every_kind
def test_it_is_told_in_words(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    words = tell(record(act=_new(owner), **facts))
    assert words.startswith(registry.act_kind(kind).words)
    assert words.endswith(f"({Day.on(today()).words(today())})")
    assert "None" not in words


@every_kind
def test_undone_it_counts_no_more_but_is_still_there(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    before = _columns(facts)
    act = record(act=_new(owner), **facts)
    undo = undone(act=_new(owner), target=act)
    assert Act.objects.filter(pk=act.pk).exists()
    assert (undo.kind, undo.void.target) == ("void", act)
    assert _columns(facts) == before, "everything is as it was before"
    made = [registry.instance_of(thing) for thing in Thing.objects.filter(born_by=act)]
    assert all(thing.cancelled for thing in made)


@every_kind
def test_a_late_entry_is_dated_when_it_was_and_recorded_now(kind: str, nursery: Nursery, owner: Person) -> None:
    record, facts = _told(kind, nursery)
    earliest = timezone.now()
    act = record(act=_new(owner, day=Day.month(2024, 2)), **facts)
    act.refresh_from_db()
    assert (act.day_first.isoformat(), act.day_last.isoformat(), act.said) == ("2024-02-01", "2024-02-29", "month")
    assert act.recorded_at >= earliest


def _columns(facts: dict[str, Any]) -> list[dict[str, Any]]:
    """The stored columns of the things that an act is told of."""
    listed = [value if isinstance(value, list) else [value] for value in facts.values()]
    things = [value for values in listed for value in values if isinstance(value, LivingThing)]
    return [type(thing).objects.filter(pk=thing.pk).values().get() for thing in things]
