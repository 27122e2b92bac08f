"""One row of a table brought into the books: a module for each kind of row, each a few calls of record functions."""

from collections.abc import Callable

from nursery.site.moving.rows import plants, pollen, pots, sections, seed
from nursery.site.moving.rows.books import Books
from nursery.site.moving.tables.columns import Told

BRING: dict[str, Callable[[Books, Told], str]] = {
    "plants": plants.bring,
    "pots": pots.bring,
    "seed": seed.bring,
    "pollen": pollen.bring,
    "sections": sections.bring,
}
"""By kind of row: brings one row in and says in words what it made. Raises Refused."""
