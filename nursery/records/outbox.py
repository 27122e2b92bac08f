"""What a phone sent and could not be recorded: held, never dropped, until a person has looked."""

import hashlib
import json
import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone

from nursery.models import NeedsALook, Person, Thing
from nursery.records import rights


def digest_of(sent: Any) -> str:
    """What tells one sending from another: all that was sent, whatever the order of its keys."""
    return hashlib.sha256(json.dumps(sent, sort_keys=True).encode()).hexdigest()


def waiting():
    """What nobody has looked at yet, oldest first; a queryset."""
    return NeedsALook.objects.filter(settled_at__isnull=True).order_by("received_at", "pk")


@transaction.atomic
def held(
    *,
    sent: Any,
    sentence: str,
    sender: Person,
    why: str = NeedsALook.Why.UNTAKEN,
    act_id: uuid.UUID | None = None,
    thing: Thing | None = None,
    hands: Person | None = None,
) -> NeedsALook:
    """Hold what was sent with why it was not taken; the same again is the same row, looked at or not."""
    sentence = sentence.replace("\0", " ")  # no database keeps it
    told = {"sent": json.dumps(sent), "sentence": sentence, "why": why, "act_id": act_id, "thing": thing}
    told |= {"hands": hands, "sender": sender, "received_at": timezone.now()}
    return NeedsALook.objects.get_or_create(digest=digest_of(sent), defaults=told)[0]


@transaction.atomic
def looked_at(*, by: Person, row: NeedsALook) -> NeedsALook:
    """Somebody says that nothing more is needed. What was sent is kept all the same; the first to say so is named."""
    rights.must_be_able_to_record(by)
    now = timezone.now()
    NeedsALook.objects.filter(pk=row.pk, settled_at__isnull=True).update(settled_at=now, settled_by=by)
    row.refresh_from_db()
    return row
