from collections.abc import Iterable
from datetime import UTC, date, datetime
from itertools import chain
from typing import Any

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from nursery.models import Act, LivingThing, Person, Tag, TagBound, TagsSwapped
from nursery.records import numbers, rights
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.milestones import first_told
from nursery.records.swapped import must_not_be_swapped_since

_SIDES = ("tag", "other_tag")


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
    row = entry.keep(thing, TagBound(tag=tag))
    if act.replaces:  # another may have been put on since
        _let_the_last_hold(thing.pk)
    return row


def tag_before(bound: Act) -> Tag | None:
    """The tag that this binding took the place of; None where the thing had none."""
    before = Tag.objects.filter(thing_id=bound.thing_id, retired=True).exclude(pk=bound.tagbound.tag_id)
    return before.order_by("made_at", "number").last()


def tag_taken_off(target: Act) -> None:
    """The binding was undone: its tag is blank again, and the tag that its thing had before holds again."""
    tag = target.tagbound.tag
    must_not_be_swapped_since(tag)
    if not _counting_bindings(tag=tag).exists():  # else it was corrected in all but its number
        tag.thing, tag.retired = None, False
        tag.save(update_fields=["thing", "retired"])
    if not Tag.objects.filter(thing_id=target.thing_id, retired=False).exists():
        _let_the_last_hold(target.thing_id)


def _let_the_last_hold(thing_id: int) -> None:
    """Of the tags that a thing carried, let the one that came last hold; those given at birth came first."""
    tags = Tag.objects.filter(thing_id=thing_id)
    came = {tag.pk: datetime.min.replace(tzinfo=UTC) for tag in tags.order_by("pk")}
    bound = _bound_at(thing_id)
    swaps = TagsSwapped.objects.filter(act__voided_by__isnull=True)
    swapped = [swaps.values_list(one, "act__recorded_at").filter(**{f"{one}__in": came}) for one in _SIDES]
    for tag_pk, at in chain(bound, *swapped):
        if tag_pk in came:
            came[tag_pk] = max(came[tag_pk], at)
    if came:
        last = max(came, key=lambda pk: came[pk])
        tags.exclude(pk=last).update(retired=True)
        tags.filter(pk=last).update(retired=False)


def _bound_at(thing_id: int) -> list[tuple[int, datetime]]:
    """Each tag that was put on a thing, and when that was told first, whatever was corrected of it since."""
    bindings = Act.objects.filter(kind="tag_bound", thing_id=thing_id, voided_by__isnull=True)
    rows = list(bindings.values("id", "recorded_at", "replaces", "tagbound__tag"))
    first = first_told(rows)
    return [(row["tagbound__tag"], first.get(row["id"], row["recorded_at"])) for row in rows]


def _counting_bindings(**which: Any) -> QuerySet[TagBound]:
    return TagBound.objects.filter(act__voided_by__isnull=True, **which)


def _keeps_its_number(act: NewAct, number: int) -> bool:
    return act.replaces is not None and _bound_before(act).pk == number


def _bound_before(act: NewAct) -> Tag:
    return act.replaces.tagbound.tag


@transaction.atomic
def tags_printed(*, by: Person, numbers: Iterable[int], lasts_until: date | None = None) -> int:
    """Somebody looked at the print and says that these tags came out right. Returns how many that were.

    ``lasts_until`` is the day until which such print can be read; None where nobody knows.
    """
    rights.must_be_able_to_record(by)
    tags = Tag.objects.filter(number__in=list(numbers))
    return tags.update(printed_at=timezone.now(), lasts_until=lasts_until)
