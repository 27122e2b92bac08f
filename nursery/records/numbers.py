"""Numbers for tags: one sequence for all kinds, each with its check digit last."""

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from nursery.damm import number_with_digit
from nursery.models import LivingThing, Tag, TagSequence, Thing
from nursery.records import registry
from nursery.records.errors import Refused
from nursery.records.prepared import Prepared
from nursery.records.storing import insert, update

JUMP_ON_RESTORE = 10_000
"""Numbers left out after a restore: more than may have been printed since the backup was made (our choice)."""

_SEQUENCE = Prepared(lambda ids: TagSequence.objects.select_for_update().filter(pk__in=ids))


def current_numbers(things: Iterable[LivingThing]) -> dict[int, int]:
    """The number that each of these things carries now, by its id; of several tags that of the last made. One query."""
    tags = Tag.objects.filter(thing__in=[thing.pk for thing in things], retired=False)
    return dict(tags.order_by("made_at", "number").values_list("thing_id", "number"))


def next_numbers(count: int) -> list[int]:
    """Take ``count`` numbers from the sequence. Its row stays locked until the transaction ends."""
    sequence = _locked_sequence()
    first = sequence.next
    sequence.next = first + count
    update(sequence, ["next"])
    return [number_with_digit(payload) for payload in range(first, first + count)]


def _locked_sequence() -> TagSequence:
    [*found] = _SEQUENCE.objects([1])
    return found[0] if found else TagSequence.objects.select_for_update().get_or_create(id=1)[0]


def give_number(thing: Thing, *, at: datetime, blank: int | None = None) -> Tag:
    """Give a new thing its number: the blank tag in the grower's hand, or else the next of the sequence."""
    if blank is None:
        [number] = next_numbers(1)
        tag = Tag(number=number, thing=thing, made_at=at)
        insert(tag)
        return tag
    tag = must_be_blank(blank)
    tag.thing, tag.retired = thing, False
    tag.save(update_fields=["thing", "retired"])
    return tag


def must_be_blank(number: int) -> Tag:
    """The blank tag of this number, locked; refuses numbers that were never made or are taken.

    The tag of something that was entered by mistake and undone is in somebody's hand, and as good as blank.
    """
    tag = Tag.objects.select_for_update().filter(number=number).first()
    if tag is None:
        raise Refused("tag_unknown", f"No tag {number} was ever made here. Check the digits.", field="tag")
    on = registry.instance_of(tag.thing) if tag.thing else None
    if on is not None and not on.cancelled:
        sentence = f"Tag {number} is already on something: {on}. Use another blank tag."
        raise Refused("tag_taken", sentence, field="tag")
    return tag


@transaction.atomic
def blank_tags_make(*, count: int) -> list[Tag]:
    """Make ``count`` blank tags (1 to 500) to print and to bind later."""
    if not 1 <= count <= 500:
        raise Refused("tag_count", "Make 1 to 500 blank tags at a time.", field="count")
    now = timezone.now()
    return Tag.objects.bulk_create(Tag(number=number, made_at=now) for number in next_numbers(count))


@transaction.atomic
def sequence_jump() -> int:
    """After a restore: leave out the numbers that may have been printed since the backup. Returns the next payload."""
    sequence = _locked_sequence()
    sequence.next += JUMP_ON_RESTORE
    sequence.save(update_fields=["next"])
    return sequence.next
