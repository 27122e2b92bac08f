"""Telling an act again, with the same values on the same day: of another thing, or with one fact put right."""

import inspect
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from nursery.days import Day
from nursery.models import Act, LivingThing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import Refused

Facts = dict[str, Any]
Told = tuple[Callable[..., Act], Facts]


def can_be_told_again(act: Act) -> bool:
    return registry.again(act.kind) is not None


def facts_of(act: Act) -> Facts:
    """What an act told, as its record function takes it."""
    return _told(act)[1]


def things_told_of(act: Act) -> set[int]:
    """Ids of the things that were named when it was told; not of what it made."""
    return {pk for value in facts_of(act).values() for pk in _ids(value)}


def told_again(act: Act, *, new: NewAct, instead: Mapping[int, LivingThing] | None = None, **changes: Any) -> Act:
    """The same act once more in its place, under the id and signature of ``new``.

    ``instead`` gives, by id, the things that were meant.

    Raises:
        Refused: such acts cannot be told again, or not by this person.
    """
    record, facts = _told(act)
    facts = {name: _meant(value, instead or {}) for name, value in facts.items()} | changes
    day = Day(act.day_first, act.day_last, act.said)
    return record(act=replace(new, day=day, at=act.at, note=act.note, replaces=act), **facts)


def changes_by(act: Act, instead: Mapping[int, LivingThing]) -> bool:
    """Whether it would say something else of these things; of a walk past both of two, it would not."""
    return any(_ids(value) != _ids(_meant(value, instead)) for value in facts_of(act).values())


def _ids(value: Any) -> set[int]:
    return {one.pk for one in (value if isinstance(value, list) else [value]) if isinstance(one, LivingThing)}


def _told(act: Act) -> Told:
    again = registry.again(act.kind)
    if again is None:
        raise Refused("not_again", "This record can be undone, but not told of something else.")
    return again(act)


def _meant(value: Any, instead: Mapping[int, LivingThing]) -> Any:
    if isinstance(value, list):
        return [_meant(one, instead) for one in value]
    return instead.get(value.pk, value) if isinstance(value, LivingThing) else value


# --- for the tables that say how each kind of act is told ---


def of(record: Callable[..., Act], on: str, *, born_on: str = "") -> Callable[[Act], Told]:
    """How acts are told whose record function takes their thing as ``on`` and their details by the same names.

    ``born_on`` is the kind of thing that an act which makes something stands on: the plant of a found spike.
    """

    def told(act: Act) -> Told:
        thing = first_touched(act, born_on) if born_on else registry.instance_of(act.thing)
        return record, details_for(record, act) | {on: thing}

    return told


def entered(record: Callable[..., Act]) -> Callable[[Act], Told]:
    """How acts are told that enter something, and whose details name all that was said."""
    return lambda act: (record, details_for(record, act))


def details_for(record: Callable[..., Act], act: Act) -> Facts:
    """The details of an act, by those names that its record function takes."""
    accessor = registry.act_kind(act.kind).accessor
    detail = getattr(act, accessor) if accessor else None
    names = inspect.signature(record).parameters.keys() - {"act"}
    return {name: getattr(detail, name) for name in sorted(names) if hasattr(detail, name)}


def touched(act: Act, kind: str) -> list[LivingThing]:
    """The things of a kind that an act touched, in the order in which they were told."""
    links = act.links.filter(thing__kind=kind, role="touched").order_by("pk").select_related("thing")
    return [registry.instance_of(link.thing) for link in links]


def first_touched(act: Act, kind: str) -> LivingThing:
    return touched(act, kind)[0]
