"""What a list of things is made of, and how its rows are written."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.db.models import QuerySet

from breeding.words.names import name_parts
from breeding.words.stages import stage_words
from nursery.links import thing_url
from nursery.names import NamePart
from nursery.records import registry
from nursery.site import fetch
from nursery.where import place_words


@dataclass(frozen=True)
class Column:
    label: str
    numeric: bool = False


@dataclass(frozen=True)
class Cell:
    """One cell; ``label`` and ``numeric`` are its column's, for phones, which show no heads."""

    text: str = ""
    name_parts: tuple[NamePart, ...] = ()
    number: int | None = None
    sub: str = ""
    label: str = ""
    numeric: bool = False


@dataclass(frozen=True)
class Row:
    url: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class Empty:
    """What a list says while nothing is in it: what will be here, and the first step."""

    icon: str
    words: str
    url: str = ""
    label: str = ""


@dataclass(frozen=True)
class ThingList:
    """One list. ``cells`` writes the middle cells of a row; name and number stand before them, the stage behind
    (under the head ``last``).

    ``add`` is (label, slug of the form that enters a new one), where such things are entered without a page to stand
    on; ``also`` is (label, slug) of another that starts from these things.
    ``under_way`` names what is open among them, ``order`` is how they are sorted and ``lead`` says so. ``with_more``
    gives the rows what cells and order need beside their own columns.
    """

    slug: str
    code: str
    title: str
    section: str
    under_way: str
    empty: Empty
    columns: tuple[Column, ...]
    cells: Callable[[Any, date], list[str]]
    add: tuple[str, str] | None = None
    also: tuple[str, str] | None = None
    order: tuple[Any, ...] = ("-pk",)
    last: str = "How far"
    lead: str = ""
    with_more: Callable[[QuerySet[Any]], QuerySet[Any]] = lambda rows: rows

    def rows(self, *, everything: bool) -> QuerySet[Any]:
        """What is under way only, or all with the open ones first; what was undone is in neither."""
        if everything:
            rows = fetch.things(self.code).filter(cancelled=False)
            return self.with_more(rows).order_by(fetch.OPEN_FIRST, *self.order)
        return self.with_more(fetch.under_way(self.code)).order_by(*self.order)

    @property
    def heads(self) -> tuple[Column, ...]:
        number = (Column("Number"),) if self._numbered else ()
        return (Column("Name"), *number, *self.columns, Column(self.last))

    @property
    def _numbered(self) -> bool:
        """Clones and crosses carry no tag."""
        return registry.thing_kind(self.code).tagged

    def row(self, thing: Any, today: date) -> Row:
        first = [Cell(name_parts=tuple(name_parts(thing)))]
        number = [Cell(number=thing.number)] if self._numbered else []
        middle = [Cell(text=text) for text in self.cells(thing, today)]
        cells = (*first, *number, *middle, Cell(text=stage_words(thing, today)))
        with_heads = zip(self.heads, cells, strict=True)
        told = tuple(replace(cell, label=head.label, numeric=head.numeric) for head, cell in with_heads)
        return Row(thing_url(thing), told)


def standing(thing: Any) -> str:
    return place_words(fetch.place_of(thing))
