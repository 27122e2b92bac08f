"""What an act is about, what depends on it, and the row that undoes it."""

import uuid
from datetime import datetime

from django.db.models import F
from django.utils import timezone

from nursery.models import Act, ActLink, LivingThing, Person, Thing, Void
from nursery.records import milestones, registry
from nursery.records.errors import Refused
from nursery.records.numbers import current_numbers
from nursery.records.telling import tell
from nursery.templatetags.tepal import plate


def things_of(act: Act) -> list[LivingThing]:
    """All things that an act is about: its main one first, then those it touched or made."""
    ids = [act.thing_id, *act.links.order_by("pk").values_list("thing_id", flat=True)]
    found = {thing.pk: registry.instance_of(thing) for thing in Thing.objects.filter(pk__in=ids)}
    return [found[pk] for pk in dict.fromkeys(ids)]


def insert_void(
    target: Act,
    *,
    by: Person,
    recorded_at: datetime,
    id: uuid.UUID,
    payload_hash: str = "",
    phone_of: Person | None = None,
) -> Act:
    """Insert the act that undoes ``target``, about the same things."""
    today = timezone.localdate(recorded_at)
    row = Act.objects.create(
        id=id,
        kind="void",
        thing_id=target.thing_id,
        day_first=today,
        day_last=today,
        said="exact",
        by=by,
        phone_of=phone_of,
        recorded_at=recorded_at,
        payload_hash=payload_hash,
    )
    Void.objects.create(act=row, target=target)
    ActLink.objects.bulk_create(
        ActLink(act=row, thing_id=pk) for pk in target.links.order_by("pk").values_list("thing_id", flat=True)
    )
    take_back = registry.act_kind(target.kind).take_back
    if take_back:
        take_back(target)
    return row


def dependents(thing: LivingThing, *, besides: Act) -> list[Act]:
    """The acts that make no sense without this thing: all that count, but for remarks and the like.

    A move is nothing to the plant that moved, but without the place the plant would stand nowhere.
    """
    aside = [code for code, kind in registry.act_kinds().items() if kind.aside]
    if thing.kind == "place":
        aside.remove("moved")
    acts = milestones.counting_acts(thing).exclude(pk=besides.pk).exclude(kind__in=aside)
    return list(acts.select_related("by").order_by(F("day_last").asc(nulls_first=True), "recorded_at"))


def must_have_no_dependents(thing: LivingThing, *, besides: Act) -> None:
    """Refuse to undo the birth of a thing of which more is told.

    Of several things that an act made, another may stand against it than the one on whose page it is undone, so that
    one is named.
    """
    acts = dependents(thing, besides=besides)
    if acts:
        words, elsewhere = registry.thing_kind(thing.kind).words, thing.pk != besides.thing_id
        number = plate(current_numbers([thing]).get(thing.pk))
        which = f"the {words} {number}".rstrip() if elsewhere else f"this {words}"
        raise Refused(
            "others_depend",
            f"More was recorded about {which}. Undo that first, newest first.",
            reasons=[tell(act) for act in reversed(acts)],
            about=thing if elsewhere else None,
        )
