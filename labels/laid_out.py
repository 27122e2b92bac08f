"""Labels of sheets on their way to a printer, so that two people who print at once learn of each other."""

from collections.abc import Sequence
from datetime import timedelta
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from labels.grouping import OnStock
from labels.models import LaidOut, Printing, Stock
from nursery.models import Person
from nursery.records import rights

UNSAID = timedelta(hours=2)
"""For so long others are told; whoever has said nothing by then has most likely not printed."""
KEPT = timedelta(days=7)
"""For so long somebody may still say how they came out, and where the sheet goes on is known."""


@transaction.atomic
def laid_out(*, by: Person, look: UUID, groups: Sequence[OnStock]) -> dict[int, list[LaidOut]]:
    """Note which labels a page lays out, or what it lays out now; what others laid out on the same, by stock id.

    Raises:
        Refused: somebody who may not record.
    """
    rights.must_be_able_to_record(by)
    sheets = [group for group in groups if group.is_sheet]
    _lock(sheets)
    LaidOut.objects.filter(at__lt=timezone.now() - KEPT).delete()
    kept = [_kept(by, look, group) for group in sheets]
    return {one.stock_id: _others(one) for one in kept}


def laid_out_on(look: UUID | None) -> dict[int, LaidOut]:
    """What a page laid out, by stock id."""
    return {one.stock_id: one for one in LaidOut.objects.filter(look=look).select_related("stock")} if look else {}


def printed_meanwhile(laid: LaidOut) -> Printing | None:
    """Somebody else's last print on such sheets since these labels were laid out on one that was begun."""
    if laid.first == 1:
        return None
    since = Printing.objects.filter(stock=laid.stock_id, printer=laid.printer_id, at__gt=laid.at)
    return since.exclude(by=laid.by_id).select_related("by").order_by("at").last()


def _lock(sheets: Sequence[OnStock]) -> None:
    """One after the other on the same stock, so that of two at once the second sees the first."""
    stocks = Stock.objects.filter(pk__in=[group.stock.pk for group in sheets]).order_by("pk")
    list(stocks.select_for_update(of=("self",)))


def _kept(by: Person, look: UUID, group: OnStock) -> LaidOut:
    now = {"printer": group.printer, "first": group.first, "labels": group.labels}
    kept, _ = LaidOut.objects.update_or_create(
        look=look, stock=group.stock, defaults=now, create_defaults=now | {"by": by, "at": timezone.now()}
    )
    return kept


def _others(mine: LaidOut) -> list[LaidOut]:
    """What each other person laid out last by the same printer, where it takes one of these labels of a begun sheet."""
    same = LaidOut.objects.filter(stock=mine.stock_id, printer=mine.printer_id, at__gte=timezone.now() - UNSAID)
    last = {one.by_id: one for one in same.exclude(by=mine.by_id).select_related("by", "stock").order_by("at", "pk")}
    return [one for one in last.values() if _share(one, mine)]


def _share(one: LaidOut, other: LaidOut) -> bool:
    """Whether both take a label of one sheet; those that begin at the first are on fresh sheets, each on their own."""
    begun = one.first > 1 and other.first > 1
    return begun and one.first <= other.last and other.first <= one.last
