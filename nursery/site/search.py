"""Finding things by number, by name, by parent. Every word typed must occur; capitals do not matter."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import Q, QuerySet

from nursery.damm import number_is_valid, number_with_digit, read_number
from nursery.models import Tag
from nursery.records import registry
from nursery.site import fetch

MOST_FOUND = 12
"""Rows of each kind; more words narrow it down."""
MOST_WORDS = 8
_SIGNS = frozenset({"×", "x", "*"})
_CLONE = ("designation", "thought", "taxon__epithet", "taxon__genus", "source")


@dataclass(frozen=True)
class Found:
    """What was found of one kind, open things first; ``more`` when there was more than is shown."""

    code: str
    title: str
    things: tuple[Any, ...]
    more: bool = False


@dataclass(frozen=True)
class ByNumber:
    """What a typed number means: tags of that number, or what is wrong with it (empty when it is no number)."""

    tags: tuple[Tag, ...] = ()
    typed: int | None = None
    fits: bool = False


def words_in(q: str) -> list[str]:
    """The words to look for: without signs of a cross and brackets, without characters that no database takes.

    >>> words_in("(hamata Lantern × lowii)\\x00"), words_in("  x ")
    (['hamata', 'Lantern', 'lowii'], [])
    """
    plain = "".join(" " if sign in "()[]" else sign for sign in q if sign.isprintable())
    return [word for word in plain.split() if word.lower() not in _SIGNS][:MOST_WORDS]


def by_number(q: str) -> ByNumber:
    """Tags by what was typed: the whole number, or all of it but its check digit."""
    number = read_number(q)
    if not number:
        return ByNumber()
    wanted = [number, number_with_digit(number)]
    tags = Tag.objects.filter(number__in=wanted, thing__isnull=False).select_related("thing").order_by("number")
    return ByNumber(tuple(tags), number, number_is_valid(number))


def tagged_things(found: ByNumber) -> list[Any]:
    """The things that carry or carried these tags."""
    return [fetch.thing_or_404(tag.thing.kind, tag.thing_id) for tag in found.tags]


def by_words(q: str, codes: Iterable[str] = ()) -> list[Found]:
    """Things of these kinds, or of all, in whose name or parents every word occurs. Two queries a kind at the most."""
    words = words_in(q)
    wanted = [kind for kind in KINDS if not codes or kind.code in codes]
    found = [_of_kind(kind, words) for kind in wanted] if words else []
    return [one for one in found if one.things]


@dataclass(frozen=True)
class Kind:
    """Where the names of a kind are written, as columns to look into."""

    code: str
    title: str
    columns: tuple[str, ...]


def _of_kind(kind: Kind, words: list[str]) -> Found:
    named = _named(kind, words)
    # Not the joined rows themselves: of mixed pollen, each possible father would give the thing once more.
    rows = fetch.things(kind.code).filter(pk__in=named.values("pk"))
    found = list(rows.order_by(fetch.OPEN_FIRST, "-pk")[: MOST_FOUND + 1])
    return Found(kind.code, kind.title, tuple(found[:MOST_FOUND]), more=len(found) > MOST_FOUND)


def _named(kind: Kind, words: list[str]) -> QuerySet[Any]:
    named = registry.thing_kind(kind.code).model.objects.filter(cancelled=False)
    for word in words:
        named = named.filter(_any_of(kind.columns, word))
    return named


def narrowed(code: str, q: str) -> QuerySet[Any]:
    """Things of a kind in whose name or parents every word typed occurs; all of them where nothing was typed."""
    return _named(next(kind for kind in KINDS if kind.code == code), words_in(q))


def _any_of(columns: tuple[str, ...], word: str) -> Q:
    # SQLite's LIKE knows capitals of English letters only; its regular expressions are Python's and know all.
    lookup, sought = ("icontains", word) if word.isascii() else ("iregex", re.escape(word))
    asked = Q()
    for column in columns:
        asked |= Q(**{f"{column}__{lookup}": sought})
    return asked


def _beneath(*paths: str) -> tuple[str, ...]:
    """The columns that name a clone, beneath each of these paths."""
    return tuple(f"{path}__{column}" for path in paths for column in _CLONE)


_PARENTS = _beneath("seed_parent", "pollen_parent")
_PARENTS_OF_CROSS = _beneath("seed_parent", "pollen_parent", "candidates")


def _of_cross(path: str) -> tuple[str, ...]:
    under = f"{path}__" if path else ""
    return (*(f"{under}{column}" for column in _PARENTS_OF_CROSS), f"{under}family", f"{under}aim")


KINDS = (
    Kind("plant", "Plants", (*_beneath("clone", "clone__seed_parent", "clone__pollen_parent"), "place__name", "pot")),
    Kind("clone", "Clones", (*_CLONE, *_PARENTS)),
    Kind("spike", "Spikes", (*_beneath("plant__clone"), "plant__place__name", "position")),
    Kind("cross", "Crosses", _of_cross("")),
    Kind("section", "Sections", (*_of_cross("cross"), "tie")),
    Kind("pollenlot", "Pollen", (*_beneath("clone", "candidates"), "words")),
    Kind("seedlot", "Seed", (*_of_cross("cross"), "words")),
    Kind("seedpot", "Seed pots", (*_of_cross("lot__cross"), "lot__words", "place__name")),
    Kind("sowingsession", "Sowings", ("medium", "place__name")),
    Kind("routine", "Routines", ("words", "place__name")),
    Kind("place", "Places", ("name", "inside__name")),
)
