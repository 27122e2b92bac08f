"""A question built once answers as Django's own does, however many ids it is asked for."""

import uuid
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction
from django.db.models import Count, Q
from django.test.utils import CaptureQueriesContext

from breeding.models import PodLook, Pollinated, SeedPot
from nursery.models import Act, ActLink
from nursery.records.prepared import Asked, Prepared, by_id
from nursery.records.storing import insert, update
from tests.keeping import fresh
from tests.making import Nursery

LOOKS = Prepared(lambda ids: PodLook.objects.filter(pk__in=ids).values())
DABS = Prepared(lambda ids: Pollinated.objects.filter(pk__in=ids).values())
ACTS = Prepared(
    lambda ids: (
        Act.objects.filter(links__thing__in=ids, voided_by__isnull=True)
        .exclude(kind="void")
        .values("id", "day_first", "recorded_at", "by", "links__thing", "links__thing__born_by__kind")
    )
)
POTS = Prepared(
    lambda ids: SeedPot.objects.filter(cancelled=False, lot__in=ids, closed_on=None).values(
        "stage", "sown_first", "lot"
    )
)


def _in_order(rows):
    return sorted(rows, key=repr)


@pytest.fixture(scope="module")
def made_once(kept: Nursery) -> list[SeedPot]:
    return [pot for _ in range(3) for pot in kept.pots(2, days_ago=60)]


@pytest.fixture
def pots(db: None, made_once: list[SeedPot]) -> list[SeedPot]:
    """Some pots of three lots; each lot with all that comes before it."""
    return fresh(made_once)


@pytest.mark.parametrize("count", [1, 2, 3, 6])
def test_rows_are_those_of_the_queryset(nursery: Nursery, pots: list[SeedPot], count: int) -> None:
    lots = [pot.lot_id for pot in pots][:count]
    things = [*(pot.lot.section.spike_id for pot in pots), *(pot.pk for pot in pots)][:count]
    dabs = list(Pollinated.objects.values_list("pk", flat=True))[:count]
    for prepared, ids in ((POTS, lots), (ACTS, things), (DABS, dabs)):
        rows = prepared.rows(ids)
        assert _in_order(rows) == _in_order(prepared._build(ids))
        assert rows


def test_values_have_the_types_of_their_columns(nursery: Nursery, pots: list[SeedPot]) -> None:
    row = ACTS.rows([pots[0].lot.section.spike_id])[0]
    assert isinstance(row["id"], uuid.UUID)
    assert isinstance(row["recorded_at"], datetime) and row["recorded_at"].tzinfo == UTC


def test_the_same_id_twice_counts_once(pots: list[SeedPot]) -> None:
    assert len(POTS.rows([pots[0].lot_id] * 3)) == 2


def test_for_no_ids_nothing_is_asked(db: None, django_assert_num_queries) -> None:
    with django_assert_num_queries(0):
        assert LOOKS.rows([]) == []


def test_ids_that_look_like_other_parameters_are_told_apart(pots: list[SeedPot], nursery: Nursery) -> None:
    """The row with id 0 or 1 is not taken for False or True, which stand before it."""
    assert POTS.rows([0, 1]) == list(POTS._build([0, 1]))
    assert len(POTS.rows([0, pots[0].lot_id])) == 2


def test_asking_again_builds_nothing(pots: list[SeedPot]) -> None:
    asked = []

    def build(ids):
        asked.append(ids)
        return SeedPot.objects.filter(pk__in=ids).values("stage")

    prepared = Prepared(build)
    for pot in pots:
        assert prepared.rows([pot.pk]) == [{"stage": "sown"}]
    assert len(asked) == 1


def test_objects_come_with_what_is_selected_along(pots: list[SeedPot], django_assert_num_queries) -> None:
    prepared = Prepared(lambda ids: SeedPot.objects.filter(pk__in=ids).select_related("lot__cross"))
    with django_assert_num_queries(1):
        found = {pot.pk: pot.lot.cross.key for pot in prepared.objects(pot.pk for pot in pots)}
    assert found == {pot.pk: pot.lot.cross.key for pot in pots}


def test_objects_are_those_of_the_queryset_to_the_last_column(pots: list[SeedPot]) -> None:
    prepared = Prepared(lambda ids: SeedPot.objects.filter(pk__in=ids).select_related("lot__section"))
    for pot in prepared.objects(pot.pk for pot in pots):
        stored = SeedPot.objects.select_related("lot__section").get(pk=pot.pk)
        for mine, its in ((pot, stored), (pot.lot, stored.lot), (pot.lot.section, stored.lot.section)):
            assert {name: value for name, value in vars(mine).items() if name != "_state"} == {
                name: value for name, value in vars(its).items() if name != "_state"
            }
            assert (mine._state.db, mine._state.adding) == (its._state.db, its._state.adding)


def test_a_row_is_stored_as_its_own_save_would(nursery: Nursery, pots: list[SeedPot]) -> None:
    pot = SeedPot.objects.get(pk=pots[0].pk)
    pot.stage, pot.place, pot.last_look = "up", None, date(2026, 3, 1)
    with CaptureQueriesContext(connection) as asked:
        update(pot, {"last_look", "place"})
    assert len(asked) == 1
    stored = SeedPot.objects.get(pk=pot.pk)
    assert (stored.last_look, stored.place_id, stored.stage) == (date(2026, 3, 1), None, pots[0].stage)


def test_a_new_row_counts_as_stored_from_then_on(nursery: Nursery, pots: list[SeedPot]) -> None:
    old = PodLook(act=_an_act(pots), seen="green")
    insert(old)
    assert not old._state.adding
    assert PodLook.objects.get(pk=old.pk).seen == "green"
    with pytest.raises(IntegrityError), transaction.atomic():
        insert(PodLook(act=_an_act(pots), seen="split"))


def test_what_is_not_stored_cannot_be_changed(pots: list[SeedPot]) -> None:
    with pytest.raises(DatabaseError, match="is not stored"):
        update(SeedPot(pk=999_999, stage="up"), {"stage"})


def _an_act(pots: list[SeedPot]) -> Act:
    return pots[0].thing.born_by


def test_ids_may_be_used_twice(nursery: Nursery, pots: list[SeedPot]) -> None:
    about = Prepared(
        lambda ids: Act.objects.filter(
            Q(thing__in=ids) | Q(pk__in=ActLink.objects.filter(thing__in=ids).values("act"))
        ).values("id")
    )
    ids = [pots[0].pk, pots[0].lot_id]
    assert _in_order(about.rows(ids)) == _in_order(about._build(ids))
    assert len(about.rows(ids)) > len(about.rows(ids[:1])) > 0


def test_what_is_annotated_comes_along(pots: list[SeedPot]) -> None:
    prepared = Prepared(lambda ids: SeedPot.objects.filter(pk__in=ids).annotate(of_lot=Count("lot__pots") + 0.5))
    assert prepared.first(pots[0].pk).of_lot == SeedPot.objects.annotate(found=Count("lot__pots")).first().found + 0.5


def test_the_first_of_one_id(pots: list[SeedPot]) -> None:
    assert by_id(SeedPot).first(pots[0].pk) == pots[0]
    assert by_id(SeedPot).first(pots[-1].pk + 1) is None


def test_an_id_larger_than_any_database_has_is_no_rows(pots: list[SeedPot]) -> None:
    assert [by_id(SeedPot).first(sign * 10**30) for sign in (1, -1)] == [None, None]


def test_a_queryset_that_uses_ids_one_by_one_is_refused(pots: list[SeedPot]) -> None:
    prepared = Prepared(lambda ids: SeedPot.objects.filter(Q(pk=ids[-1]) | Q(pk=ids[0])))
    with pytest.raises(ValueError, match="does not use all of the ids together"):
        prepared.objects([pots[0].pk, pots[1].pk])


def test_what_is_asked_over_a_day_is_built_anew_on_another(pots: list[SeedPot]) -> None:
    asked = []

    def build(day):
        asked.append(day)
        return SeedPot.objects.filter(sown_first__lte=day).values("pk", "sown_first")

    over, day = Asked(build), pots[0].sown_first
    for wanted in (day, day, day - timedelta(days=1), day):
        found = SeedPot.objects.filter(sown_first__lte=wanted).values_list("pk", "sown_first")
        assert sorted(map(tuple, over.rows(wanted))) == sorted(found)
    assert asked == [day, day - timedelta(days=1), day]
