"""Printers in words: how fine one prints, what its drawing is corrected by, and which codes a stock carries on it."""

from collections.abc import Sequence

from labels.carries import carries
from labels.models import Printer, Stock


def printer_words(printer: Printer | None, stock: Stock) -> str:
    """
    >>> printer_words(Printer(name="bench", dpi=203, across=1.5, down=-2), Stock()), printer_words(None, Stock(dpi=600))
    ('“bench”, 203 dots an inch, corrected by +1.5 mm across and -2 mm down', 'any printer of 600 dots an inch')
    """
    if printer is None:
        return f"any printer of {stock.dpi} dots an inch"
    off = f", corrected by {off_words(printer, ' and ')}" if printer.across or printer.down else ""
    return f"“{printer}”, {printer.dpi} dots an inch{off}"


def off_words(printer: Printer, between: str = ", ") -> str:
    """What it is off by, to the right and down."""
    return f"{float(printer.across):+g} mm across{between}{float(printer.down):+g} mm down"


def carried_on(stock: Stock, printers: Sequence[Printer], address: str) -> list[tuple[str, str]]:
    """The words of each printer, or of any where there is none, and what codes the stock carries printed by it.

    Printers that carry them alike stand together.

    Raises:
        AddressUnfit: the public address cannot stand in a code.
    """
    each: Sequence[Printer | None] = printers or [None]
    alike: dict[str, list[str]] = {}
    for one in each:
        alike.setdefault(carries(stock.measures_on(one), address), []).append(printer_words(one, stock))
    return [("; ".join(some), carried) for carried, some in alike.items()]
