"""A formula that is too long, made shorter so that every parent is still seen. Pure."""

import re
from collections.abc import Callable

JOIN = " × "
ELLIPSIS = "…"

EXACT = r"\d{1,2} \w+ \d{4}"
WAYS = (
    rf"(?:about )?{EXACT}",
    rf"between {EXACT} and {EXACT}",
    r"in (?:\w+ )?\d{4}",
    r"\w+(?: \d{4})?–\w+ \d{4}",
    "day not known",
)
"""How a day stands in a line, exact or vague, with its year (``nursery.days``)."""
DAY = re.compile(rf"[a-z]+ (?P<day>{'|'.join(WAYS)})(?P<rest>.*)")

Run = tuple[str, str]
Runs = tuple[Run, ...]


def parents(formula: Runs) -> list[Runs]:
    """The formula cut at its outermost crosses; one piece where it is no cross.

    >>> parents((("lowii", "taxon"), (" × ", "plain"), ("hamata", "taxon")))
    [(('lowii', 'taxon'),), (('hamata', 'taxon'),)]
    """
    signs = [(sign, style) for text, style in formula for sign in text]
    words = "".join(sign for sign, _ in signs)
    found, start, depth = [], 0, 0
    for index, sign in enumerate(words):
        depth += (sign == "(") - (sign == ")")
        if depth == 0 and words.startswith(JOIN, index):
            found.append(signs[start:index])
            start = index + len(JOIN)
    return [_runs(part) for part in (*found, signs[start:])]


def shortened(formula: Runs, fits: Callable[[Runs], bool]) -> Runs | None:
    """The longest form that fits, in which all parents keep as much of their beginning, the mother first.

    Returns:
        None where there is only one parent, or where not even one letter of each fits.

    >>> shortened((("lowii", "taxon"), (" × ", "plain"), ("hamata", "taxon")), lambda runs: len(_words(runs)) < 12)
    (('low', 'taxon'), ('… × ', 'plain'), ('ham', 'taxon'), ('…', 'plain'))
    """
    parts = parents(formula)
    if len(parts) < 2:
        return None
    least, most = 0, max(len(_words(part)) for part in parts)
    while least < most:
        kept = (least + most + 1) // 2
        if fits(_joined(parts, kept)):
            least = kept
        else:
            most = kept - 1
    return _joined(parts, least) if least else None


def days_kept(line: str) -> list[str]:
    """Shorter forms of a line that tells what was done on which day, the longest first; the whole day is in each.

    >>> days_kept("harvested 12 Nov 2026 · MB")
    ['…12 Nov 2026 · MB', '…12 Nov 2026…']
    >>> days_kept("sown about 12 Nov 2026")
    ['…about 12 Nov 2026']
    """
    told = DAY.fullmatch(line)
    if not told:
        return []
    day, rest = told["day"], told["rest"]
    return [f"{ELLIPSIS}{day}{rest}", *([f"{ELLIPSIS}{day}{ELLIPSIS}"] if rest else [])]


def _joined(parts: list[Runs], kept: int) -> Runs:
    signs: list[Run] = []
    for index, part in enumerate(parts):
        signs += [(JOIN, "plain")] * (index > 0) + _beginning(part, kept)
    return _runs(signs)


def _beginning(part: Runs, kept: int) -> list[Run]:
    """So many letters of a parent; what is cut ends in an ellipsis, and its brackets are closed."""
    signs = [(sign, style) for text, style in part for sign in text]
    if len(signs) <= kept:
        return signs
    begun = signs[:kept]
    while len(begun) > 1 and begun[-1][0] == " ":
        begun.pop()
    words = "".join(sign for sign, _ in begun)
    return [*begun, (ELLIPSIS + ")" * max(0, words.count("(") - words.count(")")), "plain")]


def _runs(signs: list[Run]) -> Runs:
    """Neighbours of one style made one."""
    joined: list[Run] = []
    for text, style in signs:
        if joined and joined[-1][1] == style:
            text = joined.pop()[0] + text
        joined.append((text, style))
    return tuple(joined)


def _words(runs: Runs) -> str:
    return "".join(text for text, _ in runs)
