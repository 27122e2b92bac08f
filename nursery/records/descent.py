from typing import Protocol

from django.db.models import Q

from nursery.models import Clone, Taxon
from nursery.names import Cross, Parentage, Species, Unknown
from nursery.records import locks
from nursery.records.errors import Refused
from nursery.records.rows import save_columns
from nursery.stored_descent import from_stored, to_stored


class Identity(Protocol):
    """What says which genotype something is: a clone as it stands, as it was entered, or as it is thought to be."""

    taxon: Taxon | None
    seed_parent: Clone | None
    pollen_parent: Clone | None


def settle_tree(clone: Clone) -> None:
    """Store a clone's descent, from its taxon or its parents' descents, so that its name needs no further query.

    Its offspring follow, so that a parent corrected or redetermined later is right in every name.

    Raises:
        Refused: it would descend from itself; undoing a redetermination may bring back such parents.
    """
    tree = to_stored(descent(clone))
    if clone.tree == tree:
        return
    # A clone that had no descent yet is new: nothing comes from it.
    children = list(Clone.objects.filter(Q(seed_parent=clone) | Q(pollen_parent=clone))) if clone.tree else []
    if children and any(descends_from(parent, clone.pk) for parent in (clone.seed_parent, clone.pollen_parent)):
        raise Refused("parent_is_offspring", "A parent of this clone would come from the clone itself.")
    clone.tree = tree
    save_columns(clone, ["tree"])
    for child in children:
        locks.lock([child])
        settle_tree(child)


def descends_from(clone: Clone | None, ancestor_pk: int) -> bool:
    """Whether a clone is, or comes from, the clone with this id."""
    if clone is None or clone.pk == ancestor_pk:
        return clone is not None
    return descends_from(clone.seed_parent, ancestor_pk) or descends_from(clone.pollen_parent, ancestor_pk)


def descent(told: Identity) -> Parentage:
    """The tree of a clone, of how it was entered, or of what it is thought to be."""
    designation = _own_words(told)
    if told.taxon:
        taxon = told.taxon
        hybrid = taxon.rank == taxon.Rank.HYBRID
        return Species(taxon.epithet, genus=taxon.genus, hybrid=hybrid, designation=designation)
    if told.seed_parent or told.pollen_parent:
        return Cross(_of_parent(told.seed_parent), _of_parent(told.pollen_parent), designation=designation)
    return Unknown(designation=designation)


def _own_words(told: Identity) -> str:
    """The designation; behind it in brackets what a clone is thought to be, where that was told in words."""
    thought = getattr(told, "thought", "")
    parts = (getattr(told, "designation", ""), f"({thought})" if thought else "")
    return " ".join(part for part in parts if part)


def _of_parent(parent: Clone | None) -> Parentage:
    return from_stored(parent.tree) if parent else Unknown()
