from nursery.models import Act, LivingThing, Tag, TagBound
from nursery.records import numbers
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
