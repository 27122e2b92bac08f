"""Writing stocks and prints. Stocks are reference data, changed in place by owners; prints are told once and kept."""

from collections.abc import Mapping, Sequence
from datetime import date
from uuid import UUID

from dateutil.relativedelta import relativedelta
from django.db import transaction
from django.utils import timezone

from labels.contents import BLANK, tagged
from labels.models import KindStock, LaidOut, PrintedTag, Printer, Printing, SheetLeft, Stock
from nursery.models import Person, Tag
from nursery.records import rights, rows
from nursery.records.tags import tags_printed


@transaction.atomic
def stock_kept(*, by: Person, stock: Stock) -> Stock:
    """Enter a stock, or change its measures. What was left of a sheet with other labels on it is forgotten.

    Raises:
        Refused: not an owner, or measures that cannot be.
    """
    rights.must_be_owner(by)
    rows.check_row(stock)
    alike = {"stock__kind": stock.kind, "stock__columns": stock.columns, "stock__rows": stock.rows}
    SheetLeft.objects.filter(stock=stock.pk).exclude(**alike).delete()
    stock.save()
    return stock


@transaction.atomic
def printer_kept(*, by: Person, printer: Printer) -> Printer:
    """Enter a printer, or change what it is off by.

    Raises:
        Refused: not an owner, or an offset that cannot be.
    """
    rights.must_be_owner(by)
    rows.check_row(printer)
    printer.save()
    return printer


@transaction.atomic
def printed(
    *,
    id: UUID,
    by: Person,
    numbers: Sequence[int],
    stock: Stock | None,
    address: str,
    copies: int = 1,
    buried: bool = False,
    printer: Printer | None,
    laid: LaidOut | None = None,
) -> int:
    """Somebody looked at a print and says that these tags came out right; returns how many tags that were.

    The same ``id`` again changes nothing. ``stock`` is None where nobody says what it was printed on, ``printer`` where
    it is none that was entered: the next print on this stock takes the same. ``buried`` says that what grows in a pot
    got one more label, to bury. ``laid`` are the labels of the sheet: what is left of it is offered to the next print.

    Raises:
        Refused: somebody who may not record.
    """
    rights.must_be_able_to_record(by)
    facts = {"at": timezone.now(), "by": by, "stock": stock, "address": address, "copies": copies}
    facts |= {"buried": buried, "printer": printer}
    printing, is_new = Printing.objects.get_or_create(pk=id, defaults=facts)
    if not is_new:
        return printing.tags.count()
    _remember(numbers, stock)
    if stock is not None:
        Stock.objects.filter(pk=stock.pk).update(printer=printer)
    if laid is not None:
        _leave(printing, laid)
    count = tags_printed(by=by, numbers=numbers, lasts_until=_lasts_until(stock))
    said = {one.number: one.said for one in tagged(list(dict.fromkeys(numbers)))}
    PrintedTag.objects.bulk_create(PrintedTag(printing=printing, tag_id=pk, said=said[pk]) for pk in said)
    return count


@transaction.atomic
def kind_stocks_chosen(*, by: Person, chosen: Mapping[str, Stock | None]) -> None:
    """An owner says what each kind (its code) is printed on; of one with None, what was used last counts again.

    Raises:
        Refused: not an owner.
    """
    rights.must_be_owner(by)
    for kind, stock in chosen.items():
        if stock is None:
            KindStock.objects.filter(kind=kind).update(chosen=False)
        else:
            KindStock.objects.update_or_create(kind=kind, defaults={"stock": stock, "chosen": True})


def _remember(numbers: Sequence[int], stock: Stock | None) -> None:
    """What was used last for each kind among these tags, unless an owner chose for it."""
    if stock is None:
        return
    kinds = Tag.objects.filter(number__in=list(numbers)).order_by().values_list("thing__kind", flat=True).distinct()
    chosen = set(KindStock.objects.filter(chosen=True).values_list("kind", flat=True))
    for kind in {kind or BLANK for kind in kinds} - chosen:
        KindStock.objects.update_or_create(kind=kind, defaults={"stock": stock})


def _leave(printing: Printing, laid: LaidOut) -> None:
    """What this print leaves of its last sheet; fresh sheets that it filled leave the one that was begun before."""
    key = {"stock": printing.stock, "printer": printing.printer}
    if laid.next_first == 1 and laid.first > 1:
        SheetLeft.objects.filter(**key).delete()
    elif laid.next_first > 1:
        SheetLeft.objects.update_or_create(**key, defaults={"first": laid.next_first, "printing": printing})
    laid.delete()


def _lasts_until(stock: Stock | None) -> date | None:
    if stock is None or stock.lasts is None:
        return None
    return timezone.localdate() + relativedelta(months=stock.lasts)
