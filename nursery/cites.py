"""CITES appendices of a clone's ancestors: shown as they are listed, nothing concluded from them.

Source: N. rajah and N. khasiana stand in Appendix I, the rest of the genus in Appendix II (CITES appendices; the
annotations are unchecked). That a hybrid usually follows its strictest ancestor is from memory, so it is not said.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from nursery.parentage import Parentage, Species, Unknown, leaves

STRICTEST_FIRST = ("I", "II")
IN_APPENDIX_I = frozenset({("Nepenthes", "rajah"), ("Nepenthes", "khasiana")})
Listed = Mapping[tuple[str, str], str]
"""The appendix of each taxon that is listed here, by genus and epithet."""


@dataclass(frozen=True)
class Strictest:
    """The strictest appendix among the ancestors, and which stand in it; ``partly`` when not all of them are known."""

    appendix: str
    names: tuple[str, ...]
    partly: bool


def appendix_of(genus: str, epithet: str) -> str:
    """The appendix in which a taxon of the genus that is grown here stands, until somebody looks it up.

    >>> appendix_of("Nepenthes", "rajah"), appendix_of("Nepenthes", "lowii")
    ('I', 'II')
    """
    return "I" if (genus, epithet) in IN_APPENDIX_I else "II"


def strictest(tree: Parentage, listed: Listed) -> Strictest | None:
    """The strictest appendix in a descent; None where no ancestor is a taxon that is listed here.

    >>> from nursery.parentage import parentage
    >>> listed = {("Nepenthes", "rajah"): "I", ("Nepenthes", "lowii"): "II"}
    >>> strictest(parentage((("lowii", "rajah"), "unknown")), listed)
    Strictest(appendix='I', names=('N. rajah',), partly=True)
    """
    ancestors = list(dict.fromkeys(_bare(leaf) for leaf in leaves(tree)))
    appendices = {leaf: listed.get(leaf[:2]) for leaf in ancestors if leaf is not None}
    for appendix in STRICTEST_FIRST:
        names = tuple(_short(leaf) for leaf, stands_in in appendices.items() if stands_in == appendix)
        if names:
            return Strictest(appendix, names, partly=None in ancestors or None in appendices.values())
    return None


def cites_words(tree: Parentage, listed: Listed) -> str:
    """What to show of a clone: its own taxon's appendix, or the strictest among its ancestors.

    >>> from nursery.parentage import parentage
    >>> listed = {("Nepenthes", "rajah"): "I", ("Nepenthes", "lowii"): "II"}
    >>> cites_words(parentage("lowii"), listed), cites_words(parentage(("lowii", "rajah")), listed)
    ('Appendix II', 'Its ancestors include N. rajah: Appendix I; shown, nothing concluded.')
    """
    found = strictest(tree, listed)
    if found is None:
        return ""
    if isinstance(tree, Species):
        return f"Appendix {found.appendix}"
    names = found.names[0] if len(found.names) == 1 else f"{', '.join(found.names[:-1])} and {found.names[-1]}"
    partly = " Not all of its ancestors are known." if found.partly else ""
    return f"Its ancestors include {names}: Appendix {found.appendix}; shown, nothing concluded.{partly}"


def _bare(leaf: Species | Unknown) -> tuple[str, str, bool] | None:
    return (leaf.genus, leaf.epithet, leaf.hybrid) if isinstance(leaf, Species) else None


def _short(leaf: tuple[str, str, bool]) -> str:
    genus, epithet, hybrid = leaf
    return f"{genus[0]}. {'×' if hybrid else ''}{epithet}"
