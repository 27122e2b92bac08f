"""Which plants are taken for one kind: a taxon, or hybrids of one formula whichever parent bore the seed."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any

from nursery.models import Clone, Taxon
from nursery.parentage import Cross, Parentage, Species, single_species
from nursery.stored_descent import from_stored

_FORMULAS = 1 << 62
"""Numbers of formulas lie above this, those of taxa far below."""


def kinds_of_clones() -> dict[int, int]:
    """By clone, the number of its kind, for clones that have parents and no taxon of their own. Two queries.

    Offspring within one species are of that species. Where a parent is not known, or is one of several, so is the kind.
    """
    taxa = {(genus, epithet): pk for pk, genus, epithet in Taxon.objects.values_list("pk", "genus", "epithet")}
    hybrids = Clone.objects.filter(taxon=None).order_by("pk").values_list("pk", "tree")
    found = ((pk, kind_of(from_stored(tree), taxa)) for pk, tree in hybrids)
    return {pk: kind for pk, kind in found if kind is not None}


def kind_of(tree: Parentage, taxa: Mapping[tuple[str, str], int]) -> int | None:
    """
    >>> lowii, hamata = Species("lowii"), Species("hamata")
    >>> kind_of(Cross(lowii, hamata), {}) == kind_of(Cross(hamata, lowii), {}) > _FORMULAS
    True
    >>> kind_of(Cross(lowii, Species("lowii", designation="A")), {("Nepenthes", "lowii"): 7})
    7
    """
    if single := single_species(tree):
        return taxa.get((single.genus, single.epithet))
    formula = canonical(tree)
    return None if formula is None else _FORMULAS + int(hashlib.sha256(formula.encode()).hexdigest()[:12], 16)


def canonical(tree: Parentage) -> str | None:
    """The formula of a hybrid without words of its own, its parents in alphabetical order; None if partly unknown."""
    if isinstance(tree, Species):
        return f"{tree.genus} {tree.epithet}"
    if not isinstance(tree, Cross):
        return None
    parents = [canonical(tree.seed), canonical(tree.pollen)]
    return None if None in parents else f"({' × '.join(sorted(map(str, parents)))})"


def is_formula(kind: int) -> bool:
    return kind > _FORMULAS


def formula_names() -> dict[int, Any]:
    """By the number of its kind, the descent of one clone of it, for writing its name. One query more."""
    trees = dict(Clone.objects.filter(taxon=None).values_list("pk", "tree"))
    return {kind: from_stored(trees[pk]) for pk, kind in kinds_of_clones().items() if is_formula(kind)}
