"""A row of pollen in store: a packet of this clone's, or of somebody's words."""

from breeding.records.pollen import pollen_received
from nursery.site.moving.clones import name_of
from nursery.site.moving.making import thing_of
from nursery.site.moving.rows.books import Books
from nursery.site.moving.tables.columns import Told
from nursery.site.moving.tables.names import may_be_several


def bring(books: Books, told: Told) -> str:
    """Bring one row in; what it made, in words."""
    text, words = told.words("clone"), told.words("words")
    if may_be_several(text):
        text, words = "", "; ".join(one for one in (text, words) if one)
    clone = books.clones.parent(text, "clone")
    act = books.record(
        pollen_received,
        "pollen",
        day=told.day("collected"),
        clone=clone,
        words=words,
        storage=told.words("storage") or "unknown",
        tag=told.value("tag"),
    )
    books.remark(thing_of(act), told.remark)
    of = ", ".join(one for one in (name_of(clone) if clone else "", words) if one)
    return f"pollen of {of}{books.told_day(told.day('collected'), 'collected')}"
