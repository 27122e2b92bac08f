"""The kinds of things and acts that the installed apps have told of.

Apps register theirs when they start (``nursery/kinds.py``, ``breeding/kinds.py``); the writing core reads them here, so
that it never imports an app above it.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Model

from nursery.records.prepared import by_id
from nursery.seen import Seen

Columns = dict[str, Any]


@dataclass(frozen=True)
class ThingKind:
    """A kind of thing.

    ``rank`` is its place in the one order in which rows are locked. ``milestones`` turns the thing's acts into its
    cached columns, by those of the kinds that it ``heeds`` (None: all), so that only these need to be read for it: a
    bench is named by thousands over the years. ``upstream`` names, as attribute paths, the things whose summaries
    follow from this one, and ``counted_by`` the columns that they follow from.
    ``settle`` runs after the columns are written, for what needs the database (finding the cross of a section), when
    an act of one of the kinds ``settled_by`` came or went;
    ``resettle`` runs only after the birth of this thing, or of one that it came from, was corrected.
    """

    model: type[Model]
    words: str
    slug: str
    rank: int
    milestones: Callable[[list[Seen]], Columns]
    heeds: frozenset[str] | None = None
    upstream: tuple[str, ...] = ()
    counted_by: tuple[str, ...] = ("cancelled", "stage")
    tagged: bool = True
    settle: Callable[[Any], None] | None = None
    settled_by: tuple[str, ...] = ()
    resettle: Callable[[Any], None] | None = None

    @property
    def code(self) -> str:
        return self.model._meta.model_name


@dataclass(frozen=True)
class Summary:
    """Columns of a thing that follow from other things below it: ``gather`` fetches, ``work_out`` is pure.

    ``own_acts``: they follow from what is told of the thing itself, too.
    """

    of: str
    gather: Callable[[Any], Any]
    work_out: Callable[[Any], Columns]
    own_acts: bool = False


@dataclass(frozen=True)
class Below:
    """Things whose own facts follow from those of a kind: another plant under a spike is another seed parent."""

    of: str
    gather: Callable[[Any], Iterable[Any]]


@dataclass(frozen=True)
class ActKind:
    """A kind of act: its details' table, and ``tell``, which says it in words for a story.

    ``aside`` acts (a remark, walking past) do not stop the undoing of a birth. ``take_back`` runs when the act is
    undone or corrected, for what is no milestone of a thing. ``offers_photo`` says of which acts a photo helps later.
    """

    code: str
    words: str
    tell: Callable[[Any], str]
    detail: type[Model] | None = None
    aside: bool = False
    take_back: Callable[[Any], None] | None = None
    offers_photo: Callable[[Any], bool] = lambda act: False

    @property
    def accessor(self) -> str | None:
        return self.detail._meta.get_field("act").remote_field.related_name if self.detail else None


@dataclass
class Registry:
    things: dict[str, ThingKind] = field(default_factory=dict)
    acts: dict[str, ActKind] = field(default_factory=dict)
    summaries: dict[str, list[Summary]] = field(default_factory=dict)
    below: dict[str, list[Below]] = field(default_factory=dict)
    again: dict[str, Callable[[Any], Any]] = field(default_factory=dict)
    only_back: dict[str, Callable[[Any], Any]] = field(default_factory=dict)


_registry = Registry()


def register(
    things: Iterable[ThingKind],
    acts: Iterable[ActKind],
    summaries: Iterable[Summary] = (),
    below: Iterable[Below] = (),
    again: Mapping[str, Callable[[Any], Any]] | None = None,
    only_back: Mapping[str, Callable[[Any], Any]] | None = None,
) -> None:
    for thing in things:
        _registry.things[thing.code] = thing
    for act in acts:
        _registry.acts[act.code] = act
    for summary in summaries:
        _registry.summaries.setdefault(summary.of, []).append(summary)
    for one in below:
        _registry.below.setdefault(one.of, []).append(one)
    _registry.again |= again or {}
    _registry.only_back |= only_back or {}


def thing_kind(code: str) -> ThingKind:
    return _registry.things[code]


def thing_kinds() -> Mapping[str, ThingKind]:
    return _registry.things


def act_kind(code: str) -> ActKind:
    return _registry.acts[code]


def act_kinds() -> Mapping[str, ActKind]:
    return _registry.acts


def again(code: str) -> Callable[[Any], Any] | None:
    """How acts of this kind are told again, of another thing too: gives the record function and its facts."""
    return _registry.again.get(code)


def back(code: str) -> Callable[[Any], Any] | None:
    """How an earlier version of an act of this kind is told once more, as ``again`` gives it."""
    return _registry.again.get(code) or _registry.only_back.get(code)


def summaries_of(code: str) -> list[Summary]:
    return _registry.summaries.get(code, [])


def below(thing: Any) -> list[Any]:
    """The things whose facts follow from this one's."""
    return [found for one in _registry.below.get(thing.kind, []) for found in one.gather(thing)]


def instance_of(thing) -> Any:
    """The row of its own kind that belongs to a Thing."""
    model = thing_kind(thing.kind).model
    found = by_id(model).first(thing.pk)
    if found is None:
        raise model.DoesNotExist(f"There is no {thing_kind(thing.kind).words} {thing.pk}.")
    return found


def all_detail_accessors() -> list[str]:
    return sorted({kind.accessor for kind in _registry.acts.values() if kind.accessor})
