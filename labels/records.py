"""Writing stocks. Reference data, changed in place by owners; printing itself is told to ``nursery.records.tags``."""

from django.db import transaction

from labels.models import Stock
from nursery.models import Person
from nursery.records import rights, rows


@transaction.atomic
def stock_kept(*, by: Person, stock: Stock) -> Stock:
    """Enter a stock, or change its measures.

    Raises:
        Refused: not an owner, or measures that cannot be.
    """
    rights.must_be_owner(by)
    rows.check_row(stock, exclude=set())
    stock.save()
    return stock
