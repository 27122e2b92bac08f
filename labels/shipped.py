"""The stocks that Tepal comes with: one sheet, one roll, by their measures. Owners change them or add others."""

from decimal import Decimal
from typing import Any

SHIPPED: list[dict[str, Any]] = [
    {
        "name": "A4 sheet of 24, 63.5 × 33.9 mm",
        "kind": "sheet",
        "page_width": Decimal("210"),
        "page_height": Decimal("297"),
        "columns": 3,
        "rows": 8,
        "label_width": Decimal("63.5"),
        "label_height": Decimal("33.9"),
        "left": Decimal("7.25"),
        "top": Decimal("12.9"),
        "gap_across": Decimal("2.5"),
        "gap_down": Decimal("0"),
        "dpi": 600,
        "process": "paper",
    },
    {
        "name": "Roll, 54 × 25 mm",
        "kind": "roll",
        "page_width": Decimal("54"),
        "page_height": Decimal("25"),
        "columns": 1,
        "rows": 1,
        "label_width": Decimal("54"),
        "label_height": Decimal("25"),
        "dpi": 203,
        "process": "thermal",
    },
]


def add_missing(stocks: Any) -> None:
    """Enter the shipped stocks that are not there by name; ``stocks`` is a manager of any version of the model."""
    known = {field.name for field in stocks.model._meta.get_fields()}
    for columns in SHIPPED:
        facts = {name: value for name, value in columns.items() if name in known}
        stocks.get_or_create(name=columns["name"], defaults=facts)


def say_processes(stocks: Any) -> None:
    """Say how the shipped stocks are printed, where nobody has said yet."""
    for columns in SHIPPED:
        stocks.filter(name=columns["name"], process="").update(process=columns["process"])
