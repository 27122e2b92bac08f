"""What a page tells of one step: its fits, its groups by name, and what was observed against what was predicted."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from breeding.learning import keeping
from breeding.learning.calibration import Calibration, Stretch, calibrated, stretches
from breeding.learning.fits import Prior, fitted_now, key_of
from breeding.learning.kinds import formula_names, is_formula
from breeding.learning.waits import LEVELS, Wait
from breeding.models import Spike
from breeding.science.fitted import Fit, Learned
from nursery.models import Clone, Tag, Taxon
from nursery.names import NamePart, label_parts
from nursery.parentage import Species
from nursery.stored_descent import from_stored


class ShownGroup(NamedTuple):
    """A kind of plant, a mother or a spike: by which factor its days differ from the nursery's, with an 80% interval,
    and what is predicted for it."""

    level: str
    name: tuple[NamePart, ...]
    number: int | None
    shift: float
    low: float
    high: float
    n: int
    learned: Learned


def groups_of(fit: Fit, waits: Sequence[Wait]) -> list[ShownGroup]:
    """Every group that something was seen of, the widest level first, in it those with the most to tell."""
    above = {level: {getattr(wait, level): wait for wait in waits} for level in LEVELS}
    names = {"taxon": _kinds, "clone": _clones, "spike": _spikes}
    found = []
    for level in LEVELS:
        groups = [group for group in fit.groups(level) if group.n and group.id in above[level]]
        named = names[level]({group.id for group in groups})
        for group in sorted(groups, key=lambda group: (-group.n, group.id)):
            wait = above[level][group.id]
            ids = {name: getattr(wait, name) for name in LEVELS[: LEVELS.index(level) + 1]}
            name, number = named.get(group.id, ((NamePart("no longer named"),), None))
            told = (group.shift, group.low, group.high, group.n, fit.predicted(**ids))
            found.append(ShownGroup(level, name, number, *told))
    return found


Named = dict[int, tuple[tuple[NamePart, ...], int | None]]


def _kinds(ids: set[int]) -> Named:
    taxa = Taxon.objects.filter(pk__in=[one for one in ids if not is_formula(one)])
    found: Named = {one.pk: (_parts(Species(one.epithet, one.genus, one.rank == "hybrid")), None) for one in taxa}
    if any(map(is_formula, ids)):
        trees = formula_names()
        found |= {one: (tuple(label_parts(trees[one], designations=False)), None) for one in ids if one in trees}
    return found


def _clones(ids: set[int]) -> Named:
    return {
        pk: (_parts(from_stored(tree)), None) for pk, tree in Clone.objects.filter(pk__in=ids).values_list("pk", "tree")
    }


def _spikes(ids: set[int]) -> Named:
    rows = Spike.objects.filter(pk__in=ids, thing__tags__retired=False)
    told = rows.values_list("pk", "plant__clone__tree", "thing__tags__number")
    return {pk: (tuple(label_parts(from_stored(tree))), number) for pk, tree, number in told}


def _parts(tree) -> tuple[NamePart, ...]:
    return tuple(label_parts(tree))


class LeftOutside(NamedTuple):
    """A wait that was left out: the number on its thing's tag, the days that it took or waits at most, and whether it
    came."""

    number: int | None
    days: int
    came: bool


def outside(fit: Fit, waits: Sequence[Wait]) -> list[LeftOutside]:
    """The waits that the fit left out as slips, the longest first. One query, or none."""
    left = [wait for wait in waits if wait.thing in fit.outside]
    if not left:
        return []
    tags = Tag.objects.filter(thing__in=[wait.thing for wait in left], retired=False).order_by("-number")
    numbers = dict(tags.values_list("thing_id", "number"))
    found = [LeftOutside(numbers.get(one.thing), _most_days(one), one.seen_by is not None) for one in left]
    return sorted(found, key=lambda one: -one.days)


def _most_days(wait: Wait) -> int:
    return ((wait.seen_by or wait.not_yet) - wait.start_first).days


def observed(prior: Prior, waits: Sequence[Wait]) -> Calibration | None:
    """Held against what was known before; worked out once for the same waits. None of too few."""
    name, key = f"observed-{prior.name}", key_of(prior, waits)
    found = _read(keeping.kept(name), key)
    if found is None:
        found = stretches(waits, lambda known: fitted_now(prior, known)) or (date.min, [])
        keeping.keep(name, key, [str(found[0]), found[1]])
    return calibrated(*found) if found[1] else None


def _read(before: keeping.Kept | None, key: str) -> tuple[date, list[Stretch]] | None:
    """What was kept for the same waits; None where that is something else."""
    if before is None or before.key != key:
        return None
    try:
        since, found = before.told
        return date.fromisoformat(since), [Stretch(*one) for one in found]
    except (TypeError, ValueError):
        return None
