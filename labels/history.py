"""What is told of a print: when, on what, by whom."""

from datetime import datetime

from django.utils import timezone

from labels.models import PrintedTag, Printing


def prints_of(number: int) -> list[str]:
    """When a tag was printed, on what and by whom, in words; the last first."""
    found = PrintedTag.objects.filter(tag_id=number).select_related(
        "printing__by", "printing__stock", "printing__printer"
    )
    return [printed_words(one.printing) for one in found.order_by("-printing__at")]


def printed_words(printing: Printing) -> str:
    """
    >>> from datetime import datetime, UTC; from nursery.models import Person
    >>> printed_words(Printing(at=datetime(2026, 11, 25, 12, tzinfo=UTC), by=Person(name="Ida Fern"), copies=2))
    '25 Nov 2026, 12:00, by Ida Fern, 2 of each'
    """
    on = f"on “{printing.stock}”" if printing.stock else ""
    printer = f"with “{printing.printer}”" if printing.printer else ""
    return ", ".join(
        filter(None, (day_and_time(printing.at), on, printer, f"by {printing.by}", copies_words(printing)))
    )


def copies_words(printing: Printing) -> str:
    """How many of each, where that is more than one; one to bury is told of by itself."""
    copies = f"{printing.copies} of each" if printing.copies > 1 else ""
    return ", ".join(filter(None, (copies, "one more to bury in each pot" if printing.buried else "")))


def day_and_time(at: datetime) -> str:
    """A moment of the nursery's own clock."""
    return timezone.localtime(at).strftime("%-d %b %Y, %H:%M")
