"""How much the round asks at some places."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from datetime import date

from breeding.rounds.gather import gather
from breeding.rounds.rules import nexts_for


def due_within(places: Collection[int], day: date) -> Counter[str]:
    """By kind of task, how many are due by a day in these places; those that the minutes leave for later count too."""
    books = gather()
    here = (row for row in books.rows if row.place_id in places)
    return Counter(one.kind for row in here for one in nexts_for(row, books, day) if one.due <= day)
