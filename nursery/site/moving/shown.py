"""An import in words: how it was read, what it would make or made, and where it stands."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.urls import reverse
from django.utils import timezone

from nursery.site.models import Import
from nursery.site.moving.tables.parse import parsed
from nursery.site.moving.untagged import to_tag

MOST_PROBLEMS = 200
FIRST_ROWS = 12


@dataclass(frozen=True)
class RowWords:
    """Something said of one row of the table."""

    row: int
    words: str
    heading: str = ""


@dataclass(frozen=True)
class Look:
    """What a table would make, and what stands in the way."""

    read: str
    facts: list[dict[str, str]]
    problems: list[RowWords]
    more_problems: int
    rows_with_problems: int
    notes: list[RowWords]
    before: list[RowWords]
    again: bool
    places: list[str]
    taxa: list[str]
    first_rows: list[RowWords]
    other_rows: list[RowWords]
    count: int

    @property
    def button(self) -> str:
        return "Bring in this row" if self.count == 1 else f"Bring in these {self.count:,} rows"


def look(moving: Import) -> Look:
    told = moving.preview
    problems = [RowWords(row, sentence, heading) for row, heading, sentence in told["problems"]]
    rows = [RowWords(row, words) for row, words in told["rows"]]
    return Look(
        read=read_words(moving),
        facts=made_facts(told["made"]),
        problems=problems[:MOST_PROBLEMS],
        more_problems=max(len(problems) - MOST_PROBLEMS, 0),
        rows_with_problems=len({one.row for one in problems}),
        notes=_once([RowWords(row, sentence) for row, sentence in told["notes"]]),
        before=[RowWords(row, words) for row, words in told.get("before", [])],
        again=moving.again,
        places=told["places"],
        taxa=told["taxa"],
        first_rows=rows[:FIRST_ROWS],
        other_rows=rows[FIRST_ROWS:],
        count=len(rows),
    )


def brought(moving: Import, today: date) -> dict[str, Any]:
    """For the page of an import that was brought in: what it made, and what still lacks a tag."""
    is_in = moving.state == Import.State.BROUGHT
    return {
        "facts": made_facts(moving.preview["made"]),
        "lead": state_words(moving),
        "left_out": len({row for row, _, _ in moving.preview["problems"]}),
        "taxa": moving.preview["taxa"],
        "to_tag": to_tag(moving, today) if is_in else None,
    }


def table_row(moving: Import) -> dict[str, str]:
    return {
        "url": reverse("import", args=[moving.pk]),
        "text": moving.name,
        "sub": f"{moving.get_kind_display()}, {state_words(moving)}",
    }


def read_words(moving: Import) -> str:
    """How a table was read: "300 rows, separated by commas; the encoding was guessed: Windows-1252"."""
    table = parsed(moving.table)
    rows = "1 row" if len(table.rows) == 1 else f"{len(table.rows):,} rows"
    how = f"{moving.name}: {rows} of {moving.get_kind_display()}, separated by {table.separated_by}"
    if moving.encoding_guessed:
        guess = f"its encoding was guessed to be {moving.encoding}: if letters look wrong below, save it again as UTF-8"
        return f"{how}; {guess}."
    return f"{how}." if moving.encoding == "pasted" else f"{how}, written in {moving.encoding}."


def state_words(moving: Import) -> str:
    if moving.state == Import.State.DRAFT:
        return "not brought in yet"
    words = f"brought in on {_moment(moving.brought_at)} by {moving.brought_by}"
    return f"{words}; undone on {_moment(moving.undone_at)}" if moving.undone_at else words


def known_words(moving: Import) -> str:
    """Said when the same table comes again."""
    if moving.state == Import.State.DRAFT:
        return "This very table was read before. Here it is, as you left it."
    return f"This very table was {state_words(moving)}. Nothing was changed."


def done_words(moving: Import) -> str:
    count = len(moving.preview["rows"])
    return "1 row was brought in." if count == 1 else f"{count:,} rows were brought in."


def made_facts(made: dict[str, int]) -> list[dict[str, str]]:
    """Counts with their words, for the row of facts."""
    return [{"value": f"{count:,}", "label": words if count == 1 else f"{words}s"} for words, count in made.items()]


def _once(notes: list[RowWords]) -> list[RowWords]:
    """The same sentence of several rows is said once, at the first, with how many there are."""
    rows: dict[str, list[int]] = defaultdict(list)
    for note in notes:
        rows[note.words].append(note.row)
    return [
        RowWords(of[0], words if len(of) == 1 else f"{words} (and in {len(of) - 1} more rows)")
        for words, of in rows.items()
    ]


def _moment(at: datetime) -> str:
    local = timezone.localtime(at)
    return f"{local.day} {local:%b %Y, %H:%M}"
