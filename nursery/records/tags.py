from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.db.models import QuerySet
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
    tag = _bound_before(act) if _keeps_its_number(act, number) else numbers.must_be_blank(number)
    Tag.objects.filter(thing_id=thing.pk).update(retired=True)
    tag.thing_id = thing.pk
    tag.printed_at = tag.printed_at or entry.recorded_at
    tag.retired = False
    tag.save(update_fields=["thing", "printed_at", "retired"])
    return entry.keep(thing, TagBound(tag=tag))


def tag_taken_off(target: Act) -> None:
    """The binding was undone: its tag is blank again, and the tag that its thing had before holds again."""
    tag = target.tagbound.tag
    if not _counting_bindings(tag=tag).exists():  # else it was corrected in all but its number
        tag.thing, tag.retired = None, False
        tag.save(update_fields=["thing", "retired"])
    if not Tag.objects.filter(thing_id=target.thing_id, retired=False).exists():
        _hold_again(target.thing_id)


def _hold_again(thing_id: int) -> None:
    last = _counting_bindings(act__thing=thing_id).order_by("-act__recorded_at").first()
    of_thing = Tag.objects.filter(thing_id=thing_id)
    given_at_birth = of_thing.exclude(pk__in=_counting_bindings(act__thing=thing_id).values("tag"))
    tag_pk = last.tag_id if last else given_at_birth.values_list("pk", flat=True).first()
    of_thing.filter(pk=tag_pk).update(retired=False)


def _counting_bindings(**which: Any) -> QuerySet[TagBound]:
    return TagBound.objects.filter(act__voided_by__isnull=True, **which)


def _keeps_its_number(act: NewAct, number: int) -> bool:
    return act.replaces is not None and _bound_before(act).pk == number


def _bound_before(act: NewAct) -> Tag:
    return act.replaces.tagbound.tag


@transaction.atomic
def tags_printed(*, by: Person, numbers: Iterable[int]) -> int:
    """Somebody looked at the print and says that these tags came out right. Returns how many that were."""
    rights.must_be_able_to_record(by)
    return Tag.objects.filter(number__in=list(numbers)).update(printed_at=timezone.now())
