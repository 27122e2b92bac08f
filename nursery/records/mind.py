"""What is kept in mind while very many acts are written in one transaction and nobody else writes.

``seen`` are the acts of things, as the milestones read them; ``things`` are the objects of things as they are stored.
Each row has one object there, which everybody writes through; as soon as another object of that row is written, all
objects are forgotten and read again, so that nobody goes by what is no longer so.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Model
from django.db.models.signals import post_save

from nursery.models import LivingThing
from nursery.records import registry
from nursery.seen import Seen


@dataclass
class Mind:
    """``all_or_nothing``: an act that fails ends the whole transaction, so no act needs a savepoint of its own."""

    all_or_nothing: bool = False
    seen: dict[int, list[Seen]] = field(default_factory=dict)
    things: dict[int, LivingThing] = field(default_factory=dict)

    def forget(self) -> None:
        self.seen.clear()
        self.things.clear()


_MIND: ContextVar[Mind | None] = ContextVar("mind", default=None)


def mind() -> Mind | None:
    """What is kept in mind just now; None outside of ``keeping_in_mind``."""
    return _MIND.get()


@contextmanager
def keeping_in_mind(*, all_or_nothing: bool = False) -> Iterator[None]:
    """Keep what was read of things and their acts, for a transaction that writes very many while nobody else writes.

    Each act is added to what is in mind as it is told; what a correction or an undo touches is read afresh.
    With ``all_or_nothing`` a refused act must end the transaction.
    """
    token = _MIND.set(Mind(all_or_nothing))
    post_save.connect(_saved, weak=False, dispatch_uid=_MIND)
    try:
        yield
    finally:
        post_save.disconnect(dispatch_uid=_MIND)
        _MIND.reset(token)


def written(row: Model) -> None:
    """A row was stored: what else is in mind of it is no longer so."""
    kept = _MIND.get()
    if kept and isinstance(row, LivingThing) and kept.things.get(row.pk, row) is not row:
        kept.things.clear()


def thing_in_mind(pk: int) -> LivingThing | None:
    kept = _MIND.get()
    return kept.things.get(pk) if kept else None


def all_in_mind(things: Iterable[LivingThing]) -> bool:
    """Whether these very objects are the ones in mind, and so as they are stored; what else they knew is dropped."""
    kept = _MIND.get()
    if kept is None or not all(kept.things.get(thing.pk) is thing for thing in things):
        return False
    for thing in things:
        _drop_others(thing)
    return True


def keep_things(things: Iterable[LivingThing]) -> None:
    """Keep these objects, which were just read, and those that follow from them."""
    if kept := _MIND.get():
        for thing in things:
            if kept.things.setdefault(thing.pk, thing) is thing:
                _join(thing, kept.things)


def _join(thing: LivingThing, known: dict[int, LivingThing]) -> None:
    """Let what a thing leads to be the objects in mind."""
    for path in registry.thing_kind(thing.kind).upstream:
        below = thing
        for name in path.split("."):
            above = getattr(below, name)
            if above is None:
                break
            if known.setdefault(above.pk, above) is above:
                _join(above, known)
            else:
                setattr(below, name, known[above.pk])
            below = known[above.pk]


def _drop_others(thing: LivingThing) -> None:
    """Forget the objects that a thing was led to by the way: they may have been written since."""
    kept = {path.split(".")[0] for path in registry.thing_kind(thing.kind).upstream}
    known = thing._state.fields_cache
    thing._state.fields_cache = {name: known[name] for name in known if name in kept}


def _saved(sender: Any, instance: Model, **more: Any) -> None:
    written(instance)
