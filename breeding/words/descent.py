from nursery.names import Cross, OneOf, Parentage, Unknown
from nursery.stored_descent import from_stored


def cross_tree(cross) -> Parentage:
    """Female first; a father that may be one of several is written out as such, an unknown one too."""
    return Cross(_parent(cross.seed_parent), _father(cross))


def pollen_tree(lot) -> Parentage:
    """Whose pollen a lot is: a clone, one of several, or unknown (then its words say more)."""
    if lot.clone is not None:
        return from_stored(lot.clone.tree)
    return _one_of(lot.candidates.all())


def _father(cross) -> Parentage:
    if cross.pollen_parent is not None:
        return from_stored(cross.pollen_parent.tree)
    return _one_of(cross.candidates.all())


def _parent(clone) -> Parentage:
    return from_stored(clone.tree) if clone is not None else Unknown()


def _one_of(clones) -> Parentage:
    """In the order in which they were entered, as everywhere: a database gives them in any."""
    trees = tuple(from_stored(clone.tree) for clone in sorted(clones, key=lambda clone: clone.pk))
    return OneOf(trees) if trees else Unknown()
