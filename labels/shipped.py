"""The stocks that Tepal comes with, by their measures. Owners change them or add others.

Dimensions of common sheets and rolls: common practice, no source; outlines on plain paper tell whether yours are these.
"""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

A4 = {"kind": "sheet", "page_width": Decimal("210"), "page_height": Decimal("297"), "dpi": 600, "process": "paper"}
LETTER = A4 | {"page_width": Decimal("215.9"), "page_height": Decimal("279.4")}


def _roll(width: str, height: str, *, dpi: int, process: str, **more: Any) -> dict[str, Any]:
    """A roll with one label to a page, whose backing is as wide as the label unless told otherwise."""
    label = {"label_width": Decimal(width), "label_height": Decimal(height)}
    page = {"page_width": Decimal(width), "page_height": Decimal(height), "columns": 1, "rows": 1}
    return {"kind": "roll", "dpi": dpi, "process": process} | page | label | more


FIRST: list[dict[str, Any]] = [
    A4
    | {
        "name": "A4 sheet of 24, 63.5 × 33.9 mm",
        "columns": 3,
        "rows": 8,
        "label_width": Decimal("63.5"),
        "label_height": Decimal("33.9"),
        "left": Decimal("7.25"),
        "top": Decimal("12.9"),
        "gap_across": Decimal("2.5"),
        "gap_down": Decimal("0"),
    },
    _roll("54", "25", dpi=203, process="thermal") | {"name": "Roll, 54 × 25 mm"},
]

MORE: list[dict[str, Any]] = [
    A4
    | {
        "name": "A4 sheet of 65 packet labels, 38.1 × 21.2 mm",
        "columns": 5,
        "rows": 13,
        "label_width": Decimal("38.1"),
        "label_height": Decimal("21.2"),
        "left": Decimal("4.75"),
        "top": Decimal("10.7"),
        "gap_across": Decimal("2.5"),
    },
    LETTER
    | {
        "name": "US Letter sheet of 30, 66.7 × 25.4 mm",
        "columns": 3,
        "rows": 10,
        "label_width": Decimal("66.67"),
        "label_height": Decimal("25.4"),
        "left": Decimal("4.76"),
        "top": Decimal("12.7"),
        "gap_across": Decimal("3.18"),
    },
    _roll("38", "19", dpi=203, process="thermal") | {"name": "Roll of packet labels, 38 × 19 mm"},
    _roll("60", "40", dpi=203, process="ribbon") | {"name": "Roll of pot labels, 60 × 40 mm"},
    _roll("25", "76", dpi=300, process="ribbon", free=Decimal("12"))
    | {"name": "Roll of hang tags with a hole, 25 × 76 mm", "material": "plastic"},
    _roll("16", "125", dpi=300, process="ribbon", free=Decimal("45"), free_end="last")
    | {"name": "Roll of stakes, 16 × 125 mm", "material": "plastic"},
    _roll("13", "100", dpi=300, process="ribbon", free=Decimal("35"), free_end="last")
    | {"name": "Roll of stakes, 13 × 100 mm", "material": "plastic"},
    _roll("70", "18", dpi=180, process="laminated", page_height=Decimal("24"), top=Decimal("3"))
    | {"name": "Tape 24 mm wide, 70 mm long"},
]

SHIPPED = FIRST + MORE
"""The free ends of stakes, 45 and 35 mm for the part in the ground, are our choice; no source."""


def add_missing(stocks: Any, shipped: Sequence[dict[str, Any]] = SHIPPED) -> None:
    """Enter the shipped stocks that are not there by name; ``stocks`` is a manager of any version of the model."""
    known = {field.name for field in stocks.model._meta.get_fields()}
    for columns in shipped:
        facts = {name: value for name, value in columns.items() if name in known}
        stocks.get_or_create(name=columns["name"], defaults=facts)


def say_processes(stocks: Any) -> None:
    """Say how the shipped stocks are printed, where nobody has said yet."""
    for columns in SHIPPED:
        stocks.filter(name=columns["name"], process="").update(process=columns["process"])


def say_free_ends(stocks: Any) -> None:
    """Say which end of the shipped stocks stays white, where they came before there was a column for it."""
    for columns in SHIPPED:
        if "free" in columns:
            told = {name: columns[name] for name in ("free", "free_end") if name in columns}
            stocks.filter(name=columns["name"], free=0).update(**told)
