"""What a column of days tells of itself, and what has to be asked once for the whole table."""

from collections.abc import Iterable

from nursery.site.moving.tables.days import NUMBERS, SEASONS, Order


def order_told(cells: Iterable[str]) -> Order:
    """Whether the day or the month comes first, where some cell (such as 25/3/2026) shows it; else nothing.

    >>> order_told(["3/4/2026", "25/3/2026"]), order_told(["3/4/2026"]), order_told(["25/3/2026", "3/25/2026"])
    ('day', '', '')
    """
    shown: set[Order] = set()
    for one, other in _pairs(cells):
        if one > 12 >= other:
            shown.add("day")
        elif other > 12 >= one:
            shown.add("month")
    return shown.pop() if len(shown) == 1 else ""


def order_must_be_asked(cells: Iterable[str]) -> bool:
    """Whether some cell may be two days, and no other shows which."""
    cells = list(cells)
    return any(one != other for one, other in _pairs(cells)) and not order_told(cells)


def names_seasons(cells: Iterable[str]) -> bool:
    """Whether some cell names a season, which falls into other months south of the equator."""
    return any(word in SEASONS for cell in cells for word in cell.lower().split())


def _pairs(cells: Iterable[str]) -> list[tuple[int, int]]:
    found = [NUMBERS.fullmatch(" ".join(cell.lower().split())) for cell in cells]
    return [(int(one[1]), int(one[3])) for one in found if one]
