"""Tables read and looked over, in one line each."""

from typing import Any

from nursery.models import Person
from nursery.site.models import Import
from nursery.site.moving.imports import columns_chosen, table_read
from nursery.site.moving.tables.decode import Decoded


def table(by: Person, kind: str, text: str, name: str = "table.csv") -> Import:
    """A table that was read, and nothing more."""
    return table_read(by=by, kind=kind, name=name, decoded=Decoded(text, "UTF-8")).moving


def looked_over(by: Person, kind: str, text: str, **chosen: Any) -> Import:
    """A table whose columns are what they were guessed to be, tried against the books."""
    moving = table(by, kind, text)
    return columns_chosen(by=by, moving=moving, columns=moving.columns, **chosen)


def problems(moving: Import) -> list[tuple[int, str, str]]:
    """Row, heading and sentence of each."""
    return [tuple(one) for one in moving.preview["problems"]]
