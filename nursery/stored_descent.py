"""A clone's descent as stored with it: plain lists and words that JSON can hold, to and from ``nursery.parentage``."""

from typing import Any

from nursery.parentage import Cross, Parentage, Species, Unknown


def to_stored(tree: Parentage) -> dict[str, Any]:
    """
    >>> to_stored(Cross(Species("lowii"), Unknown(), designation="B"))["seed"]["species"]
    'lowii'
    """
    if isinstance(tree, Species):
        row = {"species": tree.epithet, "genus": tree.genus, "hybrid": tree.hybrid}
    elif isinstance(tree, Cross):
        row = {"seed": to_stored(tree.seed), "pollen": to_stored(tree.pollen)}
    else:
        row = {}
    return row | {"designation": tree.designation}


def from_stored(row: dict[str, Any]) -> Parentage:
    """The tree of a stored descent; an empty one is unknown.

    >>> from_stored({})
    Unknown(designation='', cultivar='')
    """
    own = row.get("designation", "")
    if "species" in row:
        return Species(row["species"], genus=row["genus"], hybrid=row["hybrid"], designation=own)
    if "seed" in row:
        return Cross(from_stored(row["seed"]), from_stored(row["pollen"]), designation=own)
    return Unknown(designation=own)
