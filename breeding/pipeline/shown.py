"""A line as it stands in the table: its words, and its picture in percent."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from breeding.pipeline.axis import Axis, Bar
from breeding.pipeline.lines import Line
from breeding.pipeline.parts import Window
from breeding.words.ages import day_words
from nursery.names import NamePart

_TAGS = {"taxon": "i", "clone": "b", "plain": "span"}


class Row(NamedTuple):
    """What one row of the table takes."""

    url: str
    name: SafeString
    sub: str
    stage: str
    late: str
    past: Bar | None
    windows: list[Bar]
    next: str
    window: str
    wanted: str


def rows(found: Iterable[Line], axis: Axis) -> list[Row]:
    """Each with its markup and its picture; an include for each part of two thousand names would cost most of it."""
    return [_row(line, axis) for line in found]


def _row(line: Line, axis: Axis) -> Row:
    return Row(
        url=line.url,
        name=name_html(line.name_parts),
        sub=line.sub,
        stage=line.stage_words,
        late=line.late,
        past=axis.past(line),
        windows=axis.windows(line),
        next=line.next_words,
        window="; ".join([window_words(one, axis.today) for one in line.windows]),
        wanted="" if line.wanted is None else f"{line.wanted:,}",
    )


@lru_cache(maxsize=1 << 13)
def name_html(parts: tuple[NamePart, ...]) -> SafeString:
    """The markup of templates/parts/_name.html.

    >>> name_html((NamePart("lowii", "taxon"),))
    '<span class="name"><i class="name__taxon">lowii</i></span>'
    """
    told = "".join(
        f'<{_TAGS[part.style]} class="name__{part.style}">{escape(part.text)}</{_TAGS[part.style]}>' for part in parts
    )
    return mark_safe(f'<span class="name">{told}</span>')  # noqa: S308 (every text is escaped)


@lru_cache(maxsize=1 << 13)
def window_words(window: Window, today: date) -> str:
    """
    >>> window_words(Window("ripe", date(2026, 12, 1), date(2027, 1, 5), date(2027, 2, 3)), date(2026, 11, 25))
    'ripe 1 Dec to 3 Feb 2027, middle 5 Jan 2027'
    """
    low, middle, high = (day_words(day, today) for day in (window.low, window.middle, window.high))
    return f"{window.what} {low} to {high}, middle {middle}"
