"""Secret addresses of the round for calendar programs. Whoever knows one reads what is due; nothing else."""

import hashlib
import secrets

from django.db import transaction
from django.utils import timezone

from breeding.models import CalendarAddress
from nursery.models import Person
from nursery.records import rows
from nursery.records.errors import Refused

MOST = 10
"""For one person; more are forgotten ones."""


@transaction.atomic
def address_made(*, by: Person, words: str) -> tuple[CalendarAddress, str]:
    """Make an address of one's own, and the secret in it, which is told once and kept nowhere.

    Raises:
        Refused: no words, or more addresses than anybody keeps track of.
    """
    Person.objects.select_for_update().get(pk=by.pk)
    if CalendarAddress.objects.filter(person=by).count() >= MOST:
        raise Refused("too_many", f"You have {MOST} addresses already. End one that nobody reads any more.")
    secret = secrets.token_urlsafe(32)
    made = CalendarAddress(person=by, words=words.strip(), secret_hash=_hash(secret), made_at=timezone.now())
    rows.check_row(made)
    made.save()
    return made, secret


@transaction.atomic
def address_ended(*, by: Person, address: CalendarAddress) -> None:
    """End an address, one's own or, as an owner, anybody's: calendars that read it find nothing from now on.

    Raises:
        Refused: it is somebody else's, and ``by`` is no owner.
    """
    if by.pk != address.person_id and not by.is_owner:
        raise Refused("not_yours", "This is somebody else’s address. Ask them or an owner to end it.")
    CalendarAddress.objects.filter(pk=address.pk).delete()


def reader(secret: str) -> Person | None:
    """Whose address this is; None for one that was never made or is ended, and for somebody who has left."""
    found = CalendarAddress.objects.filter(secret_hash=_hash(secret), person__is_active=True)
    address = found.select_related("person").first()
    return address.person if address else None


def _hash(secret: str) -> str:
    """No salt and no slow hash: 256 random bits cannot be guessed."""
    return hashlib.sha256(secret.encode()).hexdigest()
