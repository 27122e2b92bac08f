"""What was printed on labels: all but the newest, and months ago some on heat paper, which fade soon."""

from datetime import date, datetime, time, timedelta
from uuid import UUID, uuid5

from django.utils import timezone

from labels.models import PrintedTag, Printing, Stock
from nursery.models import Person, Tag
from nursery.records.tags import tags_printed

UNPRINTED_DAYS = 5
"""What was made on the last few days waits for its label; all else has one, as in a nursery at work."""

ON_HEAT_PAPER, FADES_IN, PRINTED_AGO = "Hanging rail", 18, 256
"""Where the tags of plants were printed on what lasts no year, in how many days their print is gone, and its age."""

HEAT_PAPER = "Roll, 54 × 25 mm"
NAMES = UUID("6f3c1d52-5c0e-4a55-9c1d-0d2b8c6a7f10")
"""So that the print has the same id whenever the demo is loaded."""


def write_prints(today: date, *, by: Person, address: str) -> None:
    made_before = Tag.objects.filter(thing__made_at__date__lt=today - timedelta(days=UNPRINTED_DAYS))
    tags_printed(by=by, numbers=made_before.values_list("number", flat=True))
    at = timezone.make_aware(datetime.combine(today - timedelta(days=PRINTED_AGO), time(16)))
    hanging = made_before.filter(thing__plant__place__name=ON_HEAT_PAPER, thing__plant__closed_on=None)
    faded, fades = list(hanging.filter(thing__made_at__lt=at)), today + timedelta(days=FADES_IN)
    Tag.objects.filter(pk__in=[tag.pk for tag in faded]).update(printed_at=at, lasts_until=fades)
    stock = Stock.objects.filter(name=HEAT_PAPER).first()
    told = {"at": at, "by": by, "stock": stock, "address": address}
    printing = Printing.objects.create(pk=uuid5(NAMES, at.isoformat()), **told)
    PrintedTag.objects.bulk_create(PrintedTag(printing=printing, tag=tag) for tag in faded)
