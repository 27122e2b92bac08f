"""Sheets that are left over part used: where they go on, and what a last look says of them."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils import timezone

from labels.models import LaidOut, SheetLeft

Key = tuple[int, int | None]
"""Ids of a stock and of a printer; None for any that is not entered."""


@dataclass(frozen=True)
class Begin:
    """Another label to begin at."""

    words: str
    first: int


@dataclass(frozen=True)
class SheetNote:
    """What to know before labels go on a sheet: what is left of it, who else may have taken it, where else to begin."""

    left: str = ""
    taken: tuple[str, ...] = ()
    begins: tuple[Begin, ...] = ()


def sheets_left() -> dict[Key, SheetLeft]:
    """Every part-used sheet, by its stock and the printer that it lies by."""
    found = SheetLeft.objects.select_related("stock", "printer", "printing")
    return {(one.stock_id, one.printer_id): one for one in found}


def left_words(left: SheetLeft) -> str:
    """
    >>> from datetime import datetime, UTC; from labels.models import Printing, Stock
    >>> stock, printing = Stock(columns=3, rows=8), Printing(at=datetime(2026, 11, 24, 12, tzinfo=UTC))
    >>> left_words(SheetLeft(stock=stock, printing=printing, first=8))
    '7 of 24 used on the sheet left over from 24 Nov 2026.'
    """
    day = timezone.localdate(left.printing.at)
    printer = f", printed with “{left.printer}”" if left.printer else ""
    return f"{left.first - 1} of {left.stock.places} used on the sheet left over from {day:%-d %b %Y}{printer}."


def taken_words(other: LaidOut) -> str:
    """What somebody else laid out on the same labels, of which nobody knows yet whether it was printed."""
    labels = f"labels {other.first} to {other.last}" if other.last > other.first else f"label {other.first}"
    return (
        f"{other.by} laid out {labels} of this sheet at {timezone.localtime(other.at):%H:%M} and has not said yet "
        "how they came out. Ask, or begin elsewhere."
    )


def sheet_note(*, first: int, places: int, left: SheetLeft | None, others: Sequence[LaidOut]) -> SheetNote:
    """For labels that begin at ``first`` on a sheet of ``places``, with what ``others`` laid out on the same labels."""
    after = max((other.last + 1 for other in others), default=0)
    elsewhere = {left.first if left else 0, after} - {0, 1, first}
    begins = [Begin(f"From label {one} on", one) for one in sorted(elsewhere) if one <= places]
    if first > 1:
        begins.append(Begin("On a fresh sheet", 1))
    words = left_words(left) if left else ""
    if left and left.first != first:
        words += f" These begin at label {first}."
    return SheetNote(words, tuple(taken_words(other) for other in others), tuple(begins))
