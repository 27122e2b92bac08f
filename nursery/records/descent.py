from django.db.models import Q

from nursery.models import Clone
from nursery.names import Cross, Parentage, Species, Unknown
from nursery.records import locks
from nursery.stored_descent import from_stored, to_stored


def settle_tree(clone: Clone) -> None:
    """Store a clone's descent, from its taxon or its parents' descents, so that its name needs no further query.

    Its offspring follow, so that a parent corrected later is right in every name.
    """
    tree = to_stored(descent(clone))
    if clone.tree != tree:
        clone.tree = tree
        clone.save(update_fields=["tree"])
        for child in Clone.objects.filter(Q(seed_parent=clone) | Q(pollen_parent=clone)):
            locks.lock([child])
            settle_tree(child)


def descends_from(clone: Clone | None, ancestor_pk: int) -> bool:
    """Whether a clone is, or comes from, the clone with this id."""
    if clone is None or clone.pk == ancestor_pk:
        return clone is not None
    return descends_from(clone.seed_parent, ancestor_pk) or descends_from(clone.pollen_parent, ancestor_pk)


def descent(clone: Clone) -> Parentage:
    if clone.taxon:
        taxon = clone.taxon
        hybrid = taxon.rank == taxon.Rank.HYBRID
        return Species(taxon.epithet, genus=taxon.genus, hybrid=hybrid, designation=clone.designation)
    if clone.seed_parent or clone.pollen_parent:
        return Cross(_of_parent(clone.seed_parent), _of_parent(clone.pollen_parent), designation=clone.designation)
    return Unknown(designation=clone.designation)


def _of_parent(parent: Clone | None) -> Parentage:
    return from_stored(parent.tree) if parent else Unknown()
