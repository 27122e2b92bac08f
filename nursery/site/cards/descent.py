"""Whom a clone comes from, up to founders, and what came of it."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Q

from breeding.words.names import name_parts
from nursery.cites import cites_words
from nursery.links import thing_url
from nursery.models import Clone, Taxon
from nursery.names import NamePart, species_in
from nursery.site.cards.parts import MOST_ROWS, Listing, listing, row_of
from nursery.site.fetch import listed, things
from nursery.stored_descent import from_stored

MOST_GENERATIONS = 8


@dataclass(frozen=True)
class Ancestor:
    """A parent in the tree, with what it is by (seed or pollen), where it came from, and its own parents."""

    role: str
    name_parts: tuple[NamePart, ...]
    url: str = ""
    sub: str = ""
    parents: tuple["Ancestor", ...] = ()


def ancestors(clone: Clone) -> tuple[Ancestor, ...]:
    """The parents of a clone, each with theirs, in one query a generation; empty for a founder."""
    known = _with_ancestors(clone)
    return _parents(clone, known, set(), MOST_GENERATIONS)


def _with_ancestors(clone: Clone) -> dict[int, Clone]:
    known: dict[int, Clone] = {clone.pk: clone}
    wanted = _parent_ids(clone)
    for _ in range(MOST_GENERATIONS):
        if not wanted:
            break
        found = Clone.objects.filter(pk__in=wanted).select_related("taxon")
        known |= {one.pk: one for one in found}
        wanted = {pk for one in found for pk in _parent_ids(one)} - known.keys()
    return known


def _parent_ids(clone: Clone) -> set[int]:
    return {clone.seed_parent_id, clone.pollen_parent_id} - {None}


def _parents(clone: Clone, known: dict[int, Clone], shown: set[int], left: int) -> tuple[Ancestor, ...]:
    if not _parent_ids(clone) or left == 0:
        return ()
    both = (("seed parent", clone.seed_parent_id), ("pollen parent", clone.pollen_parent_id))
    return tuple(_ancestor(role, known.get(pk), known, shown, left) for role, pk in both)


def _ancestor(role: str, clone: Clone | None, known: dict[int, Clone], shown: set[int], left: int) -> Ancestor:
    if clone is None:
        return Ancestor(role, (NamePart("not known"),))
    names, url = tuple(name_parts(clone)), thing_url(clone)
    if clone.pk in shown and _parent_ids(clone):
        return Ancestor(role, names, url, "its parents stand above")
    shown.add(clone.pk)
    return Ancestor(role, names, url, _founder(clone), _parents(clone, known, shown, left - 1))


def _founder(clone: Clone) -> str:
    """Of a founder, where it came from."""
    if _parent_ids(clone):
        return ""
    origin = "origin not known" if clone.origin == Clone.Origin.UNKNOWN else clone.get_origin_display()
    return ", ".join(part for part in (f"founder, {origin}", clone.source) if part)


def raised_from(clone: Clone, today: date) -> Listing:
    """The clones that have it as a parent."""
    mine = Q(seed_parent=clone) | Q(pollen_parent=clone)
    rows = listed(things("clone").filter(mine, cancelled=False).order_by("-pk")[: MOST_ROWS + 1])
    return listing("Clones raised from it", [row_of(one, today) for one in rows])


def appendix(clone: Clone) -> str:
    """The CITES appendix of its taxon, or the strictest among its ancestors."""
    tree = from_stored(clone.tree)
    names = {leaf.epithet for leaf in species_in(tree)}
    taxa = Taxon.objects.filter(epithet__in=names).values_list("genus", "epithet", "cites") if names else ()
    return cites_words(tree, {(genus, epithet): cites for genus, epithet, cites in taxa})
