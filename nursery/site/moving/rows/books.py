"""What the rows of one run share: its acts, the places and the clones."""

from dataclasses import dataclass, field
from typing import Any

from django.utils import timezone

from breeding.models import Spike
from nursery.days import Day
from nursery.models import Clone, LivingThing, Plant
from nursery.records.remarks import remarked
from nursery.site.moving.clones import Clones, name_of
from nursery.site.moving.making import Making, refused
from nursery.site.moving.places import Places
from nursery.site.moving.tables.columns import Told
from nursery.site.moving.tables.names import may_be_several

MOST_OF_A_ROW = 100


@dataclass
class Books:
    making: Making
    places: Places
    clones: Clones
    plants: dict[tuple[int, int | None], Plant] = field(default_factory=dict)
    spikes: dict[tuple[int, str], Spike] = field(default_factory=dict)

    @classmethod
    def of(cls, making: Making) -> "Books":
        return cls(making, Places(making), Clones(making))

    def record(self, *args: Any, **facts: Any) -> Any:
        return self.making.record(*args, **facts)

    def remark(self, thing: LivingThing, *words: str, part: str = "remark") -> None:
        """Keep words about a thing, if there are any."""
        told = "\n".join(one for one in words if one)
        if told:
            self.record(remarked, part, thing=thing, words=told)

    def told_day(self, day: Day, words: str) -> str:
        """A day in words behind ``words``, as it was read; nothing where it is not known."""
        return f", {words} {day.words(timezone.localdate())}" if day.is_known else ""


def how_many(told: Told, name: str, *, least: int = 1) -> int:
    """How many of a row are wanted, one where nothing is told.

    Raises:
        Refused: more than one row may say.
    """
    number = told.value(name)
    if number is None:
        return 1
    if not least <= number <= MOST_OF_A_ROW:
        raise refused(name, f"One row brings in {least} to {MOST_OF_A_ROW}; this one says {number:,}. Use more rows.")
    return number


def one_blank_tag(told: Told, count: int, name: str) -> int | None:
    """The blank tag of a row, which can hang on one thing only."""
    tag = told.value("tag")
    if tag is not None and count != 1:
        raise refused("tag", f"One tag cannot hang on {count} {name}. Give each a row of its own.")
    return tag


@dataclass(frozen=True)
class Parents:
    """The two parents of a row, and in words what no clone can say."""

    seed: Clone | None
    pollen: Clone | None
    words: str

    def __str__(self) -> str:
        names = [name_of(clone) if clone else "unknown" for clone in (self.seed, self.pollen)]
        return " × ".join(names)


def parents(books: Books, told: Told) -> Parents:
    """From a formula, or from a column for each parent; "one of these" stays in words."""
    columns = [told.words("seed_parent"), told.words("pollen_parent")]
    if told.words("cross") and any(columns):
        raise refused("cross", "The parents are told twice, as a formula and one by one. Leave one of them out.")
    if told.words("cross"):
        return Parents(*books.clones.pair(told.words("cross"), "cross"), words=told.words("words"))
    open_ones = [
        f"{title} {text}" if "one of" in text.lower() else f"{title} one of: {text}"
        for title, text in zip(("seed parent", "pollen parent"), columns, strict=True)
        if may_be_several(text)
    ]
    seed, pollen = [
        None if may_be_several(text) else books.clones.parent(text, column)
        for column, text in zip(("seed_parent", "pollen_parent"), columns, strict=True)
    ]
    return Parents(seed, pollen, words="; ".join(one for one in (told.words("words"), *open_ones) if one))
