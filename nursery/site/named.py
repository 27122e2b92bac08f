"""Names and addresses for things of any kind, fetched in a few queries for a whole page of them."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from breeding.words.names import name_parts
from nursery.links import thing_url
from nursery.models import Thing
from nursery.names import NamePart
from nursery.records import registry
from nursery.site import fetch


@dataclass(frozen=True)
class Named:
    """A thing as a list shows it."""

    kind_words: str
    parts: list[NamePart]
    number: int | None
    url: str


def named(things: Iterable[Thing]) -> dict[int, Named]:
    """By a thing's id, what it is called; the queries grow with the kinds among them, not with the things."""
    by_kind: dict[str, set[int]] = defaultdict(set)
    for thing in things:
        by_kind[thing.kind].add(thing.pk)
    found = {}
    for code, ids in by_kind.items():
        words = registry.thing_kind(code).words
        for one in fetch.things(code).filter(pk__in=ids):
            found[one.pk] = Named(words, name_parts(one), one.number, thing_url(one))
    return found
