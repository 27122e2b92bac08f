"""A row of plants: its clone, found or made, and so many plants of it."""

import re
from dataclasses import dataclass
from typing import Any

from nursery.models import Clone, Taxon
from nursery.parentage import species
from nursery.records.plants import plant_arrived
from nursery.site.moving.clones import name_of
from nursery.site.moving.making import refused, thing_of
from nursery.site.moving.places import path_words
from nursery.site.moving.rows.books import Books, how_many, one_blank_tag
from nursery.site.moving.tables.columns import Told
from nursery.site.moving.tables.errors import CellWrong, quoted
from nursery.site.moving.tables.names import Pair, key_of, name_told

HISTORY = ("origin", "source", "document")
_PAIRS = {"'": "'", '"': '"', "‘": "’", "“": "”"}
_HEAD = re.compile(r"((?:nepenthes|n\.) *)?((?:×|x) *)?([^\W\d_]{3,}(?:-[^\W\d_]+)*)\s+([\"'‘“]?\w.*)", re.IGNORECASE)


def bring(books: Books, told: Told) -> str:
    """Bring one row in; what it made, in words."""
    count = how_many(told, "plants", least=0)
    tag = one_blank_tag(told, count, "plants")
    clone, later_words = _clone(books, told)
    place = books.places.of(told.words("place"))
    facts = {"clone": clone, "place": place, "pot": told.words("pot")}
    made = [
        thing_of(books.record(plant_arrived, f"plant {number}", day=told.day("came"), tag=tag, **facts))
        for number in range(1, count + 1)
    ]
    books.remark(made[0] if made else clone, told.remark, later_words)
    where = f", {path_words(place)}" if place else ""
    return f"{_plants(count)} {name_of(clone)}{where}{books.told_day(told.day('came'), 'came')}"


def _plants(count: int) -> str:
    return {0: "no plant of", 1: "a plant of"}.get(count, f"{count} plants of")


@dataclass(frozen=True)
class Identity:
    """Which genotype a row is: a taxon or two parents, and a word."""

    taxon: Taxon | None = None
    seed: Clone | None = None
    pollen: Clone | None = None
    word: str = ""

    def is_of(self, clone: Clone) -> bool:
        mine = (self.taxon and self.taxon.pk, self.seed and self.seed.pk, self.pollen and self.pollen.pk)
        return mine == (clone.taxon_id, clone.seed_parent_id, clone.pollen_parent_id)


def _clone(books: Books, told: Told) -> tuple[Clone, str]:
    """The clone of a row, and what the row says of it beyond what its first row said."""
    ref = told.words("ref")
    identity = _identity(books, told)
    known = _known(books, identity, ref)
    if known is None:
        return _made(books, told, identity, ref), ""
    if ref and not identity.is_of(known) and identity != Identity():
        raise refused(
            "ref", f"Number {quoted(ref)} is {name_of(known)} in an earlier row. Give this row another number."
        )
    history = {name: told.words(name) for name in HISTORY if told.words(name)}
    differs = [f"{name}: {said}" for name, said in history.items() if said != getattr(known, name)]
    return known, f"Of this plant the table says {'; '.join(differs)}." if differs else ""


def _known(books: Books, identity: Identity, ref: str) -> Clone | None:
    """An earlier row's clone of this number, else one of this name; without a word every row is a clone of its own."""
    if ref:
        return books.clones.by_ref(ref)
    named = books.clones.named(identity.word) if identity.word else []
    same = [clone for clone in named if key_of(clone.designation) == key_of(identity.word) and identity.is_of(clone)]
    return same[0] if same else None


def _made(books: Books, told: Told, identity: Identity, ref: str) -> Clone:
    facts: dict[str, Any] = {
        "taxon": identity.taxon,
        "seed_parent": identity.seed,
        "pollen_parent": identity.pollen,
        "designation": identity.word,
        "origin": told.words("origin") or "unknown",
        "source": told.words("source"),
        "document": told.words("document"),
        "words_only": bool(told.value("words_only")),
    }
    clone = books.clones.make("clone", **facts)
    if ref:
        books.clones.remember_ref(ref, clone)
    return clone


def _identity(books: Books, told: Told) -> Identity:
    """From the species (or a formula written in its place), the parents and the word."""
    text, word = told.words("species"), _unquoted(told.words("word"))
    columns = {name: told.words(name) for name in ("seed_parent", "pollen_parent")}
    if _is_formula(text):
        if any(columns.values()):
            raise refused("species", "The parents are told twice, as a formula and one by one. Leave one of them out.")
        return Identity(None, *books.clones.pair(text, "species"), word=word)
    seed, pollen = [books.clones.parent(said, name) for name, said in columns.items()]
    if not text or text.lower() in {"unknown", "?"}:
        return Identity(None, seed, pollen, word)
    head, rest = _head_and_word(text, word)
    taxon = books.clones.taxon(head, "species")
    return Identity(taxon, seed, pollen, rest)


def _is_formula(text: str) -> bool:
    try:
        return isinstance(name_told(text), Pair)
    except CellWrong as wrong:
        raise refused("species", wrong) from wrong


def _head_and_word(text: str, word: str) -> tuple[str, str]:
    """The species, and the clone's word where it stands behind it: "N. hamata 'lantern'"."""
    try:
        species(text)
        return text, word
    except ValueError:
        found = _HEAD.fullmatch(text)
    if found is None or word:
        return text, word
    return "".join(one or "" for one in found.groups()[:3]), _unquoted(found[4])


def _unquoted(word: str) -> str:
    """Without the quotation marks that some put round a clone's word."""
    in_marks = len(word) > 2 and _PAIRS.get(word[0]) == word[-1]
    return word[1:-1].strip() if in_marks else word
