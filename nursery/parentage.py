"""Who came from whom, as plain values: a tree of parents down to species, unknowns and "one of these".

Nothing here is stored or asks the database; names and compositions are written from it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

GENUS = "Nepenthes"


@dataclass(frozen=True)
class Species:
    """A plant of one taxon; ``designation`` is the clone's own word, ``cultivar`` an established epithet only.

    ``hybrid`` marks a published hybrid name, written with the sign directly before its epithet (ICN Rec. H.3A.1).
    """

    epithet: str
    genus: str = GENUS
    hybrid: bool = False
    designation: str = ""
    cultivar: str = ""


@dataclass(frozen=True)
class Cross:
    """Offspring of two parents, the female first."""

    seed: Parentage
    pollen: Parentage
    designation: str = ""
    cultivar: str = ""


@dataclass(frozen=True)
class Unknown:
    """A parent nobody knows. Written out, never left away; it may still carry a word of its own."""

    designation: str = ""
    cultivar: str = ""


@dataclass(frozen=True)
class OneOf:
    """One of several, not known which: mixed pollen, or a lost tag."""

    choices: tuple[Parentage, ...]
    designation: str = ""
    cultivar: str = ""

    def __post_init__(self) -> None:
        if not self.choices:
            raise ValueError("“One of these” needs at least one choice; for none, use Unknown.")


Parentage = Species | Cross | Unknown | OneOf


def parentage(value: object) -> Parentage:
    """A tree from nested pairs of epithets, for fixtures and tests; "unknown" and ready trees are taken as they are.

    >>> parentage(("lowii", "unknown"))  # doctest: +ELLIPSIS
    Cross(seed=Species(epithet='lowii', ...), pollen=Unknown(...), ...)
    """
    match value:
        case Species() | Cross() | Unknown() | OneOf():
            return value
        case "unknown":
            return Unknown()
        case str():
            return Species(value)
        case (seed, pollen):
            return Cross(parentage(seed), parentage(pollen))
    raise ValueError(f"A parentage is an epithet, a pair or “unknown”; got {value!r}.")


def one_of(*choices: object) -> OneOf:
    """Mixed pollen, each choice given as in ``parentage``."""
    return OneOf(tuple(parentage(choice) for choice in choices))


def single_species(tree: Parentage) -> Species | None:
    """The one species that all of this is, without words of its own; None when it is mixed or partly unknown."""
    bare = {leaf if isinstance(leaf, Unknown) else replace(leaf, designation="", cultivar="") for leaf in leaves(tree)}
    only = bare.pop()
    return only if not bare and isinstance(only, Species) else None


def leaves(tree: Parentage) -> Iterator[Species | Unknown]:
    match tree:
        case Cross():
            yield from (*leaves(tree.seed), *leaves(tree.pollen))
        case OneOf():
            for choice in tree.choices:
                yield from leaves(choice)
        case _:
            yield tree


def species_in(tree: Parentage) -> list[Species]:
    return [leaf for leaf in leaves(tree) if isinstance(leaf, Species)]


# --- what is typed -----------------------------------------------------------------------------------------------

_EPITHET = re.compile(r"[a-zäëïöü]+(-[a-zäëïöü]+)*( (subsp|var|f)\. [a-zäëïöü]+(-[a-zäëïöü]+)*)?")
_TYPED = re.compile(r"((?P<genus>[A-Z][a-z]+) +|(?P<initial>[A-Za-z])\. *)?(?P<sign>× *|[xX] +)?(?P<epithet>\S.*)")


def species(text: str, *, genus: str = GENUS) -> Species:
    """One taxon from what somebody typed: genus or initial may stand before it, capitals and spaces are forgiven.

    A letter x glued to a word is taken for its first letter; the sign, or an x with a space, marks a hybrid name.

    Raises:
        ValueError: nothing, a formula, or anything else that is no single epithet; the message says what to type.

    >>> species("N. Lowii").epithet, species("Nepenthes × hookeriana").hybrid
    ('lowii', True)
    """
    typed = " ".join(text.split())
    found = _TYPED.fullmatch(_with_capital_genus(typed, genus))
    epithet = found["epithet"].lower() if found else ""
    if not found or not _EPITHET.fullmatch(epithet) or epithet == genus.lower():
        raise ValueError(f"Write one species as a single word, such as lowii; got “{typed}”.")
    if found["initial"] and found["initial"].upper() != genus[0]:
        raise ValueError(f"Write the genus in full where it is not {genus}; got “{typed}”.")
    return Species(epithet, genus=found["genus"] or genus, hybrid=bool(found["sign"]))


def _with_capital_genus(typed: str, genus: str) -> str:
    """The usual genus typed small or large in the phone's way becomes a genus; an epithet in capitals stays one."""
    first, _, rest = typed.partition(" ")
    return f"{genus} {rest}" if rest and first.lower() == genus.lower() else typed
