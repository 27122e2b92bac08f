"""Two tags that hung on each other's thing, and what was recorded through them meanwhile."""

import uuid
from collections.abc import Iterable, Sequence
from datetime import date

from django.db.models import Q
from django.utils import timezone

from nursery.models import Act, ActLink, LivingThing, Repair, Stocktake, Tag, TagsSwapped
from nursery.records import locks, registry
from nursery.records.again import can_be_told_again, changes_by, things_told_of, told_again
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def tags_swapped(*, act: NewAct, thing: LivingThing, other: LivingThing, moved: Sequence[Act] = ()) -> Act:
    """Bind the tags of two things each to the other. The act's day is since when they hung wrong.

    ``moved`` are acts recorded through the wrong tag: each is told again of the other thing, with the same values on
    the same day, in place of the old one. All of it is one act, undone by one undo.
    """
    locks.lock(_all_of([thing, other], moved))
    entry = Entry(act, "tags_swapped", on=[thing, other], said={"moved": sorted(str(one.pk) for one in moved)})
    if sent := entry.sent_before():
        return sent
    tag, other_tag = _tags_of(thing, other)
    _must_be_through_these(moved, thing, other)
    _exchange(tag, other_tag)
    row = entry.keep(thing, TagsSwapped(tag=tag, other_tag=other_tag), touched=[other])
    instead = {thing.pk: other, other.pk: thing}
    for one in sorted(moved, key=lambda old: (old.recorded_at, old.pk)):
        new = NewAct(id=uuid.uuid5(act.id, str(one.pk)), by=act.by, phone_of=act.phone_of)
        again = told_again(one, new=new, instead=instead)
        Repair.objects.create(swap=row.tagsswapped, act=again)
    return row


def recorded_through(thing: LivingThing, other: LivingThing, since: date | None) -> list[Act]:
    """The acts that count and may have been recorded through the tags of these two, oldest first.

    By the day on which they were written down, for that is when the tag was scanned. What says the same of both, such
    as walking past both, is left where it is.
    """
    ids = [thing.pk, other.pk]
    linked = ActLink.objects.filter(thing__in=ids).values("act")
    missed = Stocktake.missed.through.objects.filter(thing__in=ids).values("stocktake")
    told_of = Q(thing__in=ids) | Q(pk__in=linked) | Q(pk__in=missed)
    acts = Act.objects.filter(told_of, voided_by__isnull=True).select_related("thing", "by")
    found = [act for act in acts.order_by("recorded_at", "pk") if can_be_told_again(act)]
    recent = [act for act in found if since is None or timezone.localdate(act.recorded_at) >= since]
    return [act for act in recent if changes_by(act, {thing.pk: other, other.pk: thing})]


def exchanged_back(target: Act) -> None:
    """The exchange was undone: each tag hangs where it hung, and which of a thing's tags holds goes with it."""
    swap = target.tagsswapped
    tags = list(Tag.objects.select_for_update().filter(pk__in=[swap.tag_id, swap.other_tag_id]).order_by("pk"))
    must_not_be_swapped_since(*tags, besides=target)
    _exchange(*tags)


def must_not_be_swapped_since(*tags: Tag, besides: Act | None = None) -> None:
    """Refuse to undo what an exchange that still counts rests on; of several, the latest is undone first."""
    swaps = TagsSwapped.objects.filter(Q(tag__in=tags) | Q(other_tag__in=tags), act__voided_by__isnull=True)
    if besides is not None:
        swaps = swaps.exclude(pk=besides.pk).filter(act__recorded_at__gt=besides.recorded_at)
    if swaps.exists():
        raise Refused("swapped_since", "This tag was exchanged with another since. Undo that first.")


def _exchange(tag: Tag, other: Tag) -> None:
    tag.thing_id, other.thing_id = other.thing_id, tag.thing_id
    tag.retired, other.retired = other.retired, tag.retired
    for one in (tag, other):
        one.save(update_fields=["thing", "retired"])


def _tags_of(thing: LivingThing, other: LivingThing) -> tuple[Tag, Tag]:
    """The tags that the two carry now, held in one order."""
    if thing.pk == other.pk:
        raise Refused("same_thing", "That is the same thing. Give the number of the other one.", field="number")
    tags = Tag.objects.select_for_update().filter(thing__in=[thing.pk, other.pk], retired=False).order_by("pk")
    by_thing = {tag.thing_id: tag for tag in tags}
    if len(by_thing) < 2:
        raise Refused("no_tag", "One of them carries no tag, so there is nothing to exchange.", field="number")
    return by_thing[thing.pk], by_thing[other.pk]


def _must_be_through_these(moved: Iterable[Act], thing: LivingThing, other: LivingThing) -> None:
    """Only what such a tag can have brought, and only between things of one kind."""
    moved = list(moved)
    if moved and thing.kind != other.kind:
        raise Refused("other_kind", "What was recorded can only go over to a thing of the same kind.")
    for act in moved:
        if not can_be_told_again(act) or not things_told_of(act) & {thing.pk, other.pk}:
            raise Refused("not_through_it", "One of these records came by another way. Look at the list again.")


def _all_of(things: list[LivingThing], moved: Iterable[Act]) -> list[LivingThing]:
    """These things and all that the moved acts are about, so that all are held in one order."""
    named = {pk: one for act in moved if can_be_told_again(act) for pk, one in _named_in(act)}
    return [*things, *(one for pk, one in named.items() if pk not in {thing.pk for thing in things})]


def _named_in(act: Act) -> Iterable[tuple[int, LivingThing]]:
    for link in [act, *act.links.select_related("thing").order_by("pk")]:
        yield link.thing_id, registry.instance_of(link.thing)
