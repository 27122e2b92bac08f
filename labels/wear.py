"""What the tags that fade were printed on, when, and how long that can be read: for the list of them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from labels.contents import Tagged
from labels.models import PrintedTag, Stock
from nursery.models import Tag

UNKNOWN = "On what is not known"


@dataclass(frozen=True)
class Worn:
    """A tag with the words for its print; ``on`` is the stock and how it is printed."""

    tag: Tagged
    lasts_until: date
    on: str
    words: str


def worn_words(tags: Sequence[Tagged]) -> list[Worn]:
    """These tags, each of which has a day on which its print is gone, in their order; two queries."""
    numbers = [tag.number for tag in tags]
    prints = PrintedTag.objects.filter(tag__in=numbers).select_related("printing__stock").order_by("printing__at", "pk")
    stocks = {one.tag_id: one.printing.stock for one in prints}
    ages = {tag.number: tag for tag in Tag.objects.filter(number__in=numbers)}
    return [_worn(tag, ages[tag.number], stocks.get(tag.number)) for tag in tags]


def by_material(tags: Sequence[Worn]) -> dict[str, list[Worn]]:
    """Together what was printed on the same; the oldest print first, within what it is on as between them."""
    groups: dict[str, list[Worn]] = {}
    for one in sorted(tags, key=lambda one: (one.lasts_until, one.tag.number)):
        groups.setdefault(one.on, []).append(one)
    return groups


def _worn(tag: Tagged, kept: Tag, stock: Stock | None) -> Worn:
    printed = timezone.localtime(kept.printed_at).strftime("printed %-d %b %Y") if kept.printed_at else ""
    on = f"on “{stock}”" if stock else ""
    fades = f"readable until about {kept.lasts_until:%b %Y}"
    words = ", ".join(filter(None, (" ".join(filter(None, (printed, on))), fades)))
    return Worn(tag, kept.lasts_until, _on(stock), words)


def _on(stock: Stock | None) -> str:
    return ", ".join(filter(None, (f"On “{stock}”", stock.get_process_display()))) if stock else UNKNOWN
