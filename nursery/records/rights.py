"""Who may record, and who may undo what."""

from datetime import date

from django.utils import timezone

from nursery.models import Act, Person
from nursery.records.errors import Refused


def must_be_able_to_record(person: Person) -> None:
    if not person.may_record:
        raise Refused("not_allowed", "You may read here but not record. Ask an owner to make you a grower.")


def must_be_owner(person: Person) -> None:
    if not person.is_owner:
        raise Refused("not_allowed", "Only an owner may do this.")


def may_undo(person: Person, act: Act, today: date) -> bool:
    """Growers undo their own acts, and those of others on the day they were recorded; owners undo all."""
    if not person.may_record:
        return False
    if person.is_owner or act.by_id == person.pk:
        return True
    return timezone.localdate(act.recorded_at) == today
