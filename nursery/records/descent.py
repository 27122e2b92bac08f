from nursery.models import Clone
from nursery.names import Cross, Parentage, Species, Unknown
from nursery.stored_descent import from_stored, to_stored


def settle_tree(clone: Clone) -> None:
    """Store a clone's descent, from its taxon or its parents' descents, so that its name needs no further query."""
    tree = to_stored(_descent(clone))
    if clone.tree != tree:
        clone.tree = tree
        clone.save(update_fields=["tree"])


def _descent(clone: Clone) -> Parentage:
    if clone.taxon:
        taxon = clone.taxon
        hybrid = taxon.rank == taxon.Rank.HYBRID
        return Species(taxon.epithet, genus=taxon.genus, hybrid=hybrid, designation=clone.designation)
    if clone.seed_parent or clone.pollen_parent:
        return Cross(_of_parent(clone.seed_parent), _of_parent(clone.pollen_parent), designation=clone.designation)
    return Unknown(designation=clone.designation)


def _of_parent(parent: Clone | None) -> Parentage:
    return from_stored(parent.tree) if parent else Unknown()
