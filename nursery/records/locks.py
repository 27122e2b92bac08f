"""Rows are locked in one statement and in one order, so that two writers never wait for each other in a circle."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cache
from operator import attrgetter

from django.db import connection
from django.db.models import Case, IntegerField, Value, When

from nursery.models import LivingThing, Thing
from nursery.records import registry
from nursery.records.mind import all_in_mind, keep_things
from nursery.records.prepared import Prepared


def with_upstream(things: Iterable[LivingThing]) -> list[LivingThing]:
    """The things and all whose caches follow from theirs, each once, lowest rank first."""
    found: dict[int, LivingThing] = {}
    waiting = [thing for thing in things if thing is not None]
    while waiting:
        thing = waiting.pop()
        if thing.pk in found:
            continue
        found[thing.pk] = thing
        waiting.extend(_upstream_of(thing))
    return sorted(found.values(), key=rank)


def rank(thing: LivingThing) -> tuple[int, int]:
    """Sort key: the one order in which rows are locked."""
    return registry.thing_kind(thing.kind).rank, thing.pk


def _upstream_of(thing: LivingThing) -> list[LivingThing]:
    paths = registry.thing_kind(thing.kind).upstream
    return [above for path in paths if (above := attrgetter(path)(thing)) is not None]


def lock(things: Iterable[LivingThing | None]) -> None:
    """Hold these things and what follows from them until the transaction ends, and read them afresh.

    What follows is asked again after waiting, for a section may have got another cross meanwhile. On SQLite the
    immediate transaction is the lock. What is in mind is held and read already.
    """
    things = [thing for thing in things if thing is not None]
    if all_in_mind(things):
        return None
    if not connection.features.has_select_for_update:
        return _read_afresh(things)
    held: set[int] = set()
    while missing := {thing.pk for thing in with_upstream(things)} - held:
        _hold(missing)
        held |= missing
        _read_afresh(things)


def _read_afresh(things: Sequence[LivingThing]) -> None:
    by_kind = defaultdict(list)
    for thing in things:
        by_kind[type(thing)].append(thing)
    for model, of_kind in by_kind.items():
        fresh = {one.pk: one for one in _with_what_follows(model).objects(thing.pk for thing in of_kind)}
        for thing in of_kind:
            _take_over(thing, fresh[thing.pk])
    keep_things(things)


@cache
def _with_what_follows(model: type[LivingThing]) -> Prepared:
    upstream = registry.thing_kind(model._meta.model_name).upstream
    above = [path.replace(".", "__") for path in upstream]
    things = model.objects.select_related(*above) if above else model.objects.all()
    return Prepared(lambda ids: things.filter(pk__in=ids))


def _take_over(thing: LivingThing, fresh: LivingThing) -> None:
    """As refresh_from_db: every column, and the objects that were read along."""
    for column in thing._meta.concrete_fields:
        setattr(thing, column.attname, getattr(fresh, column.attname))
    thing._state.fields_cache = dict(fresh._state.fields_cache)


def _hold(ids: Iterable[int]) -> None:
    # Without no_key, writing a link to a thing would wait for whoever holds it, outside of the order.
    rows = Thing.objects.select_for_update(no_key=True).filter(pk__in=ids).order_by(_rank(), "pk")
    list(rows.values_list("pk", flat=True))  # evaluated here: an unevaluated queryset locks nothing


def _rank() -> Case:
    ranks = [When(kind=code, then=Value(kind.rank)) for code, kind in registry.thing_kinds().items()]
    return Case(*ranks, default=Value(99), output_field=IntegerField())
