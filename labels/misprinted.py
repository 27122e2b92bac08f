"""Tags whose print says something else than the books do by now: a father was corrected, a clone is something else."""

from dataclasses import dataclass

from django.db.models import OuterRef, QuerySet, Subquery

from labels import contents
from labels.contents import MOST_LISTED, Tagged
from labels.models import PrintedTag
from nursery.models import Tag


@dataclass(frozen=True)
class Misprinted:
    """A tag with what its last print said of it, in one line."""

    tag: Tagged
    said: str


def misprinted() -> list[Misprinted]:
    """Those in use whose last print is known and says otherwise; the oldest print first."""
    known = _printed().order_by("printed_at", "number")
    return _otherwise(known)[:MOST_LISTED]


def misprint_of(number: int) -> Misprinted | None:
    """The print of one tag, if it says otherwise."""
    return next(iter(_otherwise(_printed().filter(number=number))), None)


def _printed() -> QuerySet[Tag]:
    last = PrintedTag.objects.filter(tag=OuterRef("pk")).order_by("-printing__at", "-pk")
    tags = contents.in_use().filter(pk__in=PrintedTag.objects.exclude(said="").values("tag"))
    return tags.annotate(said=Subquery(last.values("said")[:1])).exclude(said="")


def _otherwise(tags: QuerySet[Tag]) -> list[Misprinted]:
    said = dict(tags.values_list("number", "said"))
    now = contents.tagged(list(said))
    return [Misprinted(one, _in_a_line(said[one.number])) for one in now if one.said != said[one.number]]


def _in_a_line(said: str) -> str:
    """
    >>> _in_a_line("Section\\nlowii × hamata\\npollinated 3 Mar 2026 · IF")
    'lowii × hamata, pollinated 3 Mar 2026 · IF'
    """
    return ", ".join(said.split("\n")[1:])
