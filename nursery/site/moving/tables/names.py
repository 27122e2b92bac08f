"""Names as people write them in tables: a clone, a formula, somebody's words, "unknown", or several that it may be."""

import re
from dataclasses import dataclass

from nursery.site.moving.tables.errors import CellWrong, quoted

_UNKNOWN = frozenset({"", "?", "??", "-", "–", "unknown", "not known", "unnamed", "n/a", "open pollinated"})
_TIMES = re.compile(r"\s*×\s*|\s+[xX*]\s+")
_REF = re.compile(r"^(.*?)\s*\[([^\[\]]+)\]$", re.DOTALL)
_GENUS = re.compile(r"^(nepenthes|n\.)\s+")


@dataclass(frozen=True)
class Leaf:
    """One name as written; ``ref`` is what stood behind it in square brackets: which row is meant."""

    text: str
    ref: str = ""


@dataclass(frozen=True)
class Pair:
    """A formula: seed parent and pollen parent, the female first; None where a parent is not known."""

    seed: "Name"
    pollen: "Name"


Name = Leaf | Pair | None


def name_told(text: str) -> Name:
    """What a cell names.

    Raises:
        CellWrong: brackets that do not close, or a formula of three without brackets.

    >>> name_told("(lowii x veitchii) × hamata lantern")
    Pair(seed=Pair(seed=Leaf(text='lowii', ref=''), pollen=Leaf(text='veitchii', ref='')), \
pollen=Leaf(text='hamata lantern', ref=''))
    """
    text = " ".join(text.split())
    if text.lower() in _UNKNOWN:
        return None
    parts = _split(text)
    if len(parts) > 2:
        raise CellWrong(
            f"{quoted(text)} has more than two parents. Put brackets round the pair that was crossed first."
        )
    if len(parts) == 2:
        return Pair(name_told(parts[0]), name_told(parts[1]))
    if text.startswith("(") and text.endswith(")") and _closes_at_end(text):
        return name_told(text[1:-1])
    ref = _REF.match(text)
    return Leaf(ref[1], ref[2]) if ref else Leaf(text)


def may_be_several(text: str) -> bool:
    """Whether a parent is told as one of these.

    >>> may_be_several("hamata A or hamata B"), may_be_several("Orwell's best")
    (True, False)
    """
    return bool(re.search(r"\bone of\b|\s(or|oder)\s|\s\|\s", text, flags=re.IGNORECASE))


def key_of(text: str) -> str:
    """The same for two ways of writing one name: capitals, spaces, the sign of a cross and the genus do not count.

    >>> key_of("N. Lowii  X veitchii") == key_of("lowii × veitchii")
    True
    """
    lowered = _TIMES.sub(" × ", " ".join(text.casefold().split()))
    return _GENUS.sub("", lowered.replace("( ", "(").replace(" )", ")")).strip()


def _split(text: str) -> list[str]:
    """The parts of a formula, at the signs that stand outside of brackets."""
    depth, start, parts, at = 0, 0, [], 0
    while at < len(text):
        depth += {"(": 1, ")": -1}.get(text[at], 0)
        if depth < 0:
            break
        sign = _TIMES.match(text, at) if depth == 0 else None
        if sign and at > start and sign.end() < len(text):
            parts.append(text[start:at])
            start = at = sign.end()
        else:
            at += 1
    if depth != 0:
        raise CellWrong(f"{quoted(text)} has a bracket that does not close. Look at it again.")
    return [*parts, text[start:]]


def _closes_at_end(text: str) -> bool:
    depth = 0
    for at, sign in enumerate(text):
        depth += {"(": 1, ")": -1}.get(sign, 0)
        if depth == 0:
            return at == len(text) - 1
    return False
