from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone

from nursery.models import Act, LivingThing, Person, Tag, TagBound
from nursery.records import numbers, rights
from nursery.records.core import Entry, NewAct, recorded


@recorded
def tag_bound(*, act: NewAct, thing: LivingThing, number: int) -> Act:
    """Put a blank tag on a thing. Tags it had before are kept as retired: found again, they still open it."""
    entry = Entry(act, "tag_bound", on=[thing], said={"number": number})
    if sent := entry.sent_before():
        return sent
    tag = numbers.must_be_blank(number)
    Tag.objects.filter(thing_id=thing.pk).update(retired=True)
    tag.thing_id = thing.pk
    tag.printed_at = tag.printed_at or entry.recorded_at
    tag.save(update_fields=["thing", "printed_at"])
    return entry.keep(thing, TagBound(tag=tag))


@transaction.atomic
def tags_printed(*, by: Person, numbers: Iterable[int]) -> int:
    """Somebody looked at the print and says that these tags came out right. Returns how many that were."""
    rights.must_be_able_to_record(by)
    return Tag.objects.filter(number__in=list(numbers)).update(printed_at=timezone.now())
