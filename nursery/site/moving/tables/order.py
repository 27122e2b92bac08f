"""The order in which rows are brought in: those that name a clone after the row that brings it."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

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
    waits = {row.number: _waits_for(row, defining) for row in rows}
    ordered: list[Told] = []
    pending, done = list(rows), set()
    while pending:
        first_ready = next((at for at, row in enumerate(pending) if waits[row.number] <= done), 0)
        ordered.append(pending.pop(first_ready))
        done.add(ordered[-1].number)
    return ordered


def _defined(row: Told) -> Iterator[str]:
    species, word, ref = row.words("species"), row.words("word"), row.words("ref")
    yield from (f"[{ref.casefold()}]" for _ in [ref] if ref)
    yield from (key_of(one) for one in (f"{species} {word}", word or species) if one.strip())


def _waits_for(row: Told, defining: Mapping[str, set[int]]) -> set[int]:
    """The rows that bring what this one names; a number that some row bears tells more than the name before it."""
    found: set[int] = set()
    for column in NAMING:
        name = _name(row.words(column))
        if column != "species" or isinstance(name, Pair):
            for leaf in _leaves(name):
                by_number = defining.get(f"[{leaf.ref.casefold()}]", set()) if leaf.ref else set()
                found |= by_number or defining.get(key_of(leaf.text), set())
    return found - {row.number}


def _name(text: str) -> Name:
    try:
        return name_told(text)
    except CellWrong:
        return None


def _leaves(name: Name) -> Iterator[Leaf]:
    match name:
        case Pair():
            yield from _leaves(name.seed)
            yield from _leaves(name.pollen)
        case Leaf():
            yield name
