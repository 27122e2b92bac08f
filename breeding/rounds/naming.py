"""The names and numbers of the things that are due, and of no others, in four queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from breeding.models import Cross as StoredCross
from breeding.models import PollenLot
from breeding.rounds.rows import FadingRow, PollenRow, RoutineRow, Row, SowingRow, SpikeRow
from breeding.words.names import name_parts
from nursery.models import Clone, LivingThing, Tag
from nursery.names import Cross, NamePart, OneOf, Parentage, Unknown, label_parts
from nursery.stored_descent import from_stored

NameParts = tuple[NamePart, ...]
NameKey = tuple[str, int | None]
"""The same for all that share a name: of one cross, or spikes of one clone."""
_NAMELESS = frozenset(row.kind for row in (RoutineRow, SowingRow, FadingRow))
"""The titles of their tasks say what they are."""


@dataclass
class Names:
    """Looks names up in what was fetched; each cross is written once, however many pots it has, and so is each clone
    for its spikes."""

    trees: dict[int, Parentage] = field(default_factory=dict)
    of_cross: dict[int, list[int]] = field(default_factory=dict)
    of_lot: dict[int, list[int]] = field(default_factory=dict)
    numbers: dict[int, int | None] = field(default_factory=dict)
    _written: dict[NameKey, NameParts] = field(default_factory=dict)

    def parts(self, row: Row) -> NameParts:
        """The name as ``breeding.words.names`` gives it for the thing itself."""
        key = _of_one_name(row)
        if key not in self._written:
            self._written[key] = tuple(self._write(row))
        return self._written[key]

    def text(self, row: Row) -> str:
        return "".join(part.text for part in self.parts(row))

    def _write(self, row: Row) -> Sequence[NamePart]:
        if isinstance(row, RoutineRow | SowingRow | FadingRow):
            return []  # the title of its task says what it is
        if isinstance(row, SpikeRow):
            return label_parts(self._tree(row.clone_id))
        if isinstance(row, PollenRow):
            if row.clone_id is None and row.words:
                return [NamePart(row.words)]
            return label_parts(self._father(row.clone_id, self.of_lot.get(row.pk, [])))
        father = self._father(row.pollen_parent_id, self.of_cross.get(row.cross_id, []))
        return _cross_parts(Cross(self._tree(row.seed_parent_id), father))

    def _father(self, clone_id: int | None, candidates: list[int]) -> Parentage:
        if clone_id is not None:
            return self._tree(clone_id)
        trees = tuple(self._tree(candidate) for candidate in candidates)
        return OneOf(trees) if trees else Unknown()

    def _tree(self, clone_id: int | None) -> Parentage:
        return self.trees.get(clone_id, Unknown())


@lru_cache(maxsize=1 << 13)
def _cross_parts(tree: Cross) -> NameParts:
    """Written once while the process runs: a name follows from its tree, and thousands are shown again and again."""
    return tuple(label_parts(tree))


def names_of(rows: Iterable[Row], *, numbers: bool = True, known: Names | None = None) -> Names:
    """Fetch what the names of these rows need, and the numbers of their tags unless these are not wanted; of what is
    ``known``, nothing."""
    rows, known = list(rows), known or Names()
    unnamed = [row for row in rows if _of_one_name(row) not in known._written]
    mixed_crosses = {row.cross_id for row in unnamed if hasattr(row, "cross_id") and row.pollen_parent_id is None}
    mixed_lots = {row.pk for row in unnamed if isinstance(row, PollenRow) and row.clone_id is None}
    of_cross = _candidates(StoredCross, "cross_id", mixed_crosses)
    of_lot = _candidates(PollenLot, "pollenlot_id", mixed_lots)
    clones = {clone for row in unnamed for clone in _clones(row)}
    clones.update(clone for found in (of_cross, of_lot) for ids in found.values() for clone in ids)
    trees = Clone.objects.filter(pk__in=clones - {None}).values_list("pk", "tree")
    tagged = {row.pk for row in rows if not isinstance(row, FadingRow)} if numbers else ()
    tags = Tag.objects.filter(thing_id__in=set(tagged) - known.numbers.keys(), retired=False)
    return Names(
        trees={pk: from_stored(tree) for pk, tree in trees},
        of_cross=of_cross,
        of_lot=of_lot,
        numbers=known.numbers | dict(tags.order_by("made_at", "number").values_list("thing_id", "number")),
        _written=dict(known._written),
    )


def known_of(thing: LivingThing, rows: Iterable[Row]) -> Names:
    """What a thing tells itself of its rows: their name, and its number where it was fetched with one."""
    name = () if thing.kind in _NAMELESS else tuple(name_parts(thing))
    numbers = {thing.pk: thing.number} if hasattr(thing, "number") else {}
    return Names(numbers=numbers, _written={_of_one_name(row): name for row in rows})


def _of_one_name(row: Row) -> NameKey:
    cross_id = getattr(row, "cross_id", None)
    if cross_id is not None:
        return "cross", cross_id
    return row.kind, row.clone_id if isinstance(row, SpikeRow) else row.pk


def _clones(row: Row) -> tuple[int | None, ...]:
    if isinstance(row, RoutineRow | SowingRow | FadingRow):
        return ()
    if isinstance(row, SpikeRow | PollenRow):
        return (row.clone_id,)
    return (row.seed_parent_id, row.pollen_parent_id)


def _candidates(model: type, column: str, ids: set[int]) -> dict[int, list[int]]:
    found: dict[int, list[int]] = defaultdict(list)
    rows = model.candidates.through.objects.filter(**{f"{column}__in": ids})
    for of, clone in rows.order_by("clone_id").values_list(column, "clone_id"):
        found[of].append(clone)
    return dict(found)


def sub_words(row: Row | LivingThing) -> str:
    """What tells this thing from others of its name, and that its plant is kept apart; of a thing itself or its row."""
    told = _apart(row)
    return f"{told}, in quarantine" if getattr(row, "quarantine", "") else told


def _apart(row: Row | LivingThing) -> str:
    match row.kind:
        case "spike":
            return f"spike, {row.position}" if row.position else "spike"
        case "section":
            tie = f"{row.tie} tie" if row.tie and " " not in row.tie else row.tie
            return f"section {row.order}, {tie}" if tie else f"section {row.order}"
        case "pollenlot":
            return "pollen"
        case "seedlot":
            return f"seed, {row.words}" if row.words else "seed"
        case "seedpot":
            return "seed pot"
        case "routine":
            return "routine"
        case "sowingsession":
            return "sowing session"
    return ""
