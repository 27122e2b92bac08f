"""Writing the names of plants: hybrid formulas, short labels, and what a hybrid is made of.

Works on plain values, never on stored rows. Female first, always; a page that shows formulas says so once.
Source of the formal style: ICN (Shenzhen Code) Art. H.2.1 with Rec. H.2A.1, Art. H.3.1 and H.3.3; what labels leave
away, brackets, "or" and "unknown" are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from nursery.parentage import (
    GENUS,
    Cross,
    OneOf,
    Parentage,
    Species,
    Unknown,
    one_of,
    parentage,
    single_species,
    species,
    species_in,
)

__all__ = [
    "GENUS",
    "Cross",
    "NamePart",
    "OneOf",
    "Parentage",
    "Species",
    "Unknown",
    "composition",
    "either_way",
    "formal",
    "label",
    "label_parts",
    "one_of",
    "parentage",
    "species",
]

TIMES = "\u00d7"
JOINED = f" {TIMES} "
UNKNOWN = "unknown"

Style = Literal["taxon", "clone", "plain"]


@dataclass(frozen=True)
class NamePart:
    """A piece of a name and how it is set: taxon in italics, clone upright and bold, plain upright."""

    text: str
    style: Style = "plain"


def either_way(one: Parentage, other: Parentage) -> Cross:
    """A cross whose direction is not known, in the alphabetical order of ICN Rec. H.2A.1; say so beside it.

    >>> label(either_way(Species("veitchii"), Species("lowii")))
    'lowii × veitchii'
    """
    return Cross(*sorted((one, other), key=lambda parent: (_sorting(label(parent)), _as_parent(parent))))


def _as_parent(tree: Parentage) -> str:
    """As it stands in a cross, where brackets tell apart what looks alike by itself."""
    return "".join(part.text for part in _label(tree, words=True, inside=True))


# --- formal: the Code's own style --------------------------------------------------------------------------------


def formal(tree: Parentage, *, signs: bool = False) -> str:
    """The name in full, in the style of the Code, with the clone's own word or its cultivar epithet behind it.

    Every species keeps its genus or the initial, inside brackets too (ICN Art. H.2.1, Ex. 2); the genus is in full
    where it stands first. Offspring within one species bear the species name. ``signs`` adds ♀ and ♂ to the two
    parents (ICN Rec. H.2A.1).

    >>> formal(Cross(Species("lowii"), Species("veitchii"), cultivar="Canvas Apron"))
    "Nepenthes lowii × N. veitchii 'Canvas Apron'"
    """
    genera = _Genera(tree)
    if signs and isinstance(tree, Cross):
        name = f"{_formal(tree.seed, genera, inside=True)} ♀{JOINED}{_formal(tree.pollen, genera, inside=True)} ♂"
    else:
        name = _formal(tree, genera, inside=False)
    return name + _own_word(tree, quoted=True)


def _formal(tree: Parentage, genera: _Genera, *, inside: bool) -> str:
    single = single_species(tree)
    if single:
        return f"{genera.short(single.genus)} {_epithet(single)}"
    if isinstance(tree, Cross):
        text = f"{_formal(tree.seed, genera, inside=True)}{JOINED}{_formal(tree.pollen, genera, inside=True)}"
        return f"({text})" if inside else text
    if isinstance(tree, OneOf):
        different = {label(choice, designations=False): choice for choice in tree.choices}.values()
        names = " or ".join(_formal(choice, genera, inside=True) for choice in different)
        return f"({names})" if inside and len(different) > 1 else names
    return UNKNOWN


@dataclass
class _Genera:
    """Writes a genus in full where it stands first, and where its initial alone would not tell which is meant."""

    tree: Parentage
    seen: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        genera = {leaf.genus for leaf in species_in(self.tree)}
        initials = [genus[0] for genus in genera]
        self.unclear = {genus for genus in genera if initials.count(genus[0]) > 1}

    def short(self, genus: str) -> str:
        if genus in self.seen and genus not in self.unclear:
            return f"{genus[0]}."
        self.seen.add(genus)
        return genus


# --- label: short, as on tags ------------------------------------------------------------------------------------


def label(tree: Parentage, *, designations: bool = True) -> str:
    """The short name for tags and lists, without the genus (unless it is another one): ``lowii × veitchii``.

    >>> label(Cross(Species("hamata", designation="lantern"), Species("lowii")))
    'hamata lantern × lowii'
    """
    return "".join(part.text for part in label_parts(tree, designations=designations))


def label_parts(tree: Parentage, *, designations: bool = True) -> list[NamePart]:
    """The short name in pieces, whose texts put behind each other give ``label``; spaces are in plain pieces.

    A clone is named by its formula and its own word, so beneath a designation the words of its ancestors are left
    away. A cross within one species names the parents by their words: ``sanguinea (A × B)``.

    >>> label_parts(Cross(Species("hamata", designation="lantern"), Species("lowii")))[:3]
    [NamePart(text='hamata', style='taxon'), NamePart(text=' ', style='plain'), NamePart(text='lantern', style='clone')]
    """
    return _merged(_label(tree, words=designations, inside=False))


def _label(tree: Parentage, *, words: bool, inside: bool) -> Iterator[NamePart]:
    own = _own_word(tree, quoted=False) if words else ""
    single = single_species(tree) if own else None
    if single:
        yield from _taxon(single)
    else:
        # Brackets: "(lowii × veitchii) B × boschiana", where B is the clone and not a veitchii.
        yield from _label_of_kind(tree, words=words and not own, inside=inside)
    if own:
        yield NamePart(" ")
        yield NamePart(own.strip(), "clone")


def _label_of_kind(tree: Parentage, *, words: bool, inside: bool) -> Iterator[NamePart]:
    match tree:
        case Species():
            yield from _taxon(tree)
        case Cross():
            yield from _label_of_cross(tree, words=words, inside=inside)
        case OneOf():
            yield from _label_of_choice(tree, words=words, inside=inside)
        case _:
            yield NamePart(UNKNOWN)


def _label_of_cross(tree: Cross, *, words: bool, inside: bool) -> Iterator[NamePart]:
    single = single_species(tree)
    if single and words and _every_parent_has_a_word(tree):
        yield from _taxon(single)
        yield from (NamePart(" "), *_words_of_parents(tree))
        return
    pieces = (*_label(tree.seed, words=words, inside=True), NamePart(JOINED))
    yield from _bracketed((*pieces, *_label(tree.pollen, words=words, inside=True)), inside)


def _label_of_choice(tree: OneOf, *, words: bool, inside: bool) -> Iterator[NamePart]:
    choices = dict.fromkeys(tuple(_label(choice, words=words, inside=True)) for choice in tree.choices)
    first, *others = choices
    pieces = list(first)
    for choice in others:
        pieces += [NamePart(" or "), *choice]
    yield from _bracketed(pieces, inside and len(choices) > 1)


def _words_of_parents(tree: Parentage) -> Iterator[NamePart]:
    own = _own_word(tree, quoted=False)
    if own:
        yield NamePart(own.strip(), "clone")
    elif isinstance(tree, Cross):
        yield from (NamePart("("), *_words_of_parents(tree.seed), NamePart(JOINED))
        yield from (*_words_of_parents(tree.pollen), NamePart(")"))


def _every_parent_has_a_word(tree: Parentage) -> bool:
    if _own_word(tree, quoted=False):
        return True
    return isinstance(tree, Cross) and _every_parent_has_a_word(tree.seed) and _every_parent_has_a_word(tree.pollen)


def _taxon(leaf: Species) -> Iterator[NamePart]:
    """Italics for genus and epithet; the sign and "subsp.", "var.", "f." stay upright."""
    if leaf.genus != GENUS:
        yield from (NamePart(leaf.genus, "taxon"), NamePart(" "))
    if leaf.hybrid:
        yield NamePart(TIMES)
    for index, piece in enumerate(re.split(r"( (?:subsp|var|f)\. )", leaf.epithet)):
        yield NamePart(piece, "plain" if index % 2 else "taxon")


def _bracketed(parts: tuple[NamePart, ...] | list[NamePart], wanted: bool) -> Iterator[NamePart]:
    yield from (NamePart("("), *parts, NamePart(")")) if wanted else parts


def _merged(parts: Iterator[NamePart]) -> list[NamePart]:
    merged: list[NamePart] = []
    for part in parts:
        if merged and merged[-1].style == part.style == "plain":
            merged[-1] = NamePart(merged[-1].text + part.text)
        else:
            merged.append(part)
    return merged


# --- composition -------------------------------------------------------------------------------------------------


def composition(tree: Parentage) -> dict[str, Fraction]:
    """Share of each species, as exact fractions that add up to 1; the largest first, then alphabetical.

    What is not known has a share too: under "unknown", or under the choices ("veitchii or hamata").

    >>> composition(parentage((("lowii", "veitchii"), "lowii")))
    {'lowii': Fraction(3, 4), 'veitchii': Fraction(1, 4)}
    """
    shares = _shares(tree)
    return dict(sorted(shares.items(), key=lambda share: (-share[1], _sorting(share[0]))))


def _shares(tree: Parentage) -> dict[str, Fraction]:
    if isinstance(tree, Cross):
        seed, pollen = _shares(tree.seed), _shares(tree.pollen)
        return {name: (seed.get(name, 0) + pollen.get(name, 0)) * Fraction(1, 2) for name in seed | pollen}
    if isinstance(tree, OneOf):
        first, *others = [_shares(choice) for choice in tree.choices]
        if all(other == first for other in others):
            return first
    return {label(tree, designations=False): Fraction(1)}


# --- shared ------------------------------------------------------------------------------------------------------


def _epithet(leaf: Species) -> str:
    return f"{TIMES if leaf.hybrid else ''}{leaf.epithet}"


def _own_word(tree: Parentage, *, quoted: bool) -> str:
    """The words behind a name, with the space before them; a cultivar epithet wins where the name is ``quoted``.

    Only an established epithet stands in single quotes (ICNCP Art. 14); a designation has none.
    """
    cultivar = f"'{tree.cultivar}'" if tree.cultivar else ""
    word = cultivar or tree.designation if quoted else tree.designation or cultivar
    return f" {word}" if word else ""


def _sorting(name: str) -> str:
    """The sign is ignored in sorting (ICN Art. H.3.3)."""
    return name.replace(TIMES, "").replace("(", "").lower()
