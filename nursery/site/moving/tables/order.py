"""The order in which rows are brought in: those that name a clone after the row that brings it."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from nursery.site.moving.tables.columns import Told
from nursery.site.moving.tables.errors import CellWrong
from nursery.site.moving.tables.names import Leaf, Name, Pair, key_of, name_told

NAMING = ("seed_parent", "pollen_parent", "species")


def parents_first(rows: Sequence[Told]) -> list[Told]:
    """The rows in their own order, but each after those whose clones it names; circles are left as they came."""
    defining: dict[str, set[int]] = defaultdict(set)
    for row in rows:
        for key in _defined(row):
            defining[key].add(row.number)
    waits = {
        row.number: set().union(*(defining.get(key, set()) for key in _needed(row))) - {row.number} for row in rows
    }
    ordered: list[Told] = []
    pending, done = list(rows), set()
    while pending:
        ready = [row for row in pending if waits[row.number] <= done] or pending[:1]
        ordered += ready
        done |= {row.number for row in ready}
        pending = [row for row in pending if row.number not in done]
    return ordered


def _defined(row: Told) -> Iterator[str]:
    species, word, ref = row.words("species"), row.words("word"), row.words("ref")
    yield from (f"[{ref.casefold()}]" for _ in [ref] if ref)
    yield from (key_of(one) for one in (f"{species} {word}", word or species) if one.strip())


def _needed(row: Told) -> set[str]:
    needed: set[str] = set()
    for column in NAMING:
        name = _name(row.words(column))
        if column != "species" or isinstance(name, Pair):
            needed |= set(_leaves(name))
    return needed


def _name(text: str) -> Name:
    try:
        return name_told(text)
    except CellWrong:
        return None


def _leaves(name: Name) -> Iterator[str]:
    match name:
        case Pair():
            yield from _leaves(name.seed)
            yield from _leaves(name.pollen)
        case Leaf():
            yield from (key_of(name.text), f"[{name.ref.casefold()}]")
