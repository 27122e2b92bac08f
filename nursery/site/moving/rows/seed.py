"""A row of seed in store: a packet of these parents."""

from breeding.records.seed import seed_received
from nursery.site.moving.making import thing_of
from nursery.site.moving.rows.books import Books, parents
from nursery.site.moving.tables.columns import Told


def bring(books: Books, told: Told) -> str:
    """Bring one row in; what it made, in words."""
    of = parents(books, told)
    act = books.record(
        seed_received,
        "seed",
        day=told.day("harvested"),
        seed_parent=of.seed,
        pollen_parent=of.pollen,
        words=of.words,
        storage=told.words("storage") or "unknown",
        seeds=told.value("seeds"),
        tag=told.value("tag"),
    )
    books.remark(thing_of(act), told.remark)
    words = f", {of.words}" if of.words else ""
    return f"seed of {of}{words}{books.told_day(told.day('harvested'), 'harvested')}"
