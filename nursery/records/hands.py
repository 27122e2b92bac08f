"""Whose hands hold a phone that somebody else signed in on: they sign what they record, and have a grower's rights."""

from copy import copy

from django.db.models import QuerySet

from nursery.models import Person
from nursery.records.house import house


def on_this_phone(signed_in: Person) -> QuerySet[Person]:
    """Everybody whose hands may record on a phone of this person, the person too; nobody where that is not wanted."""
    if not signed_in.may_record or not house().shared_phones:
        return Person.objects.none()
    return Person.objects.filter(is_active=True, role__in=(Person.Role.OWNER, Person.Role.GROWER)).order_by("name")


def lent(person: Person) -> Person:
    """This person with a grower's rights: without their password, a phone in their hands gives no more than that."""
    hands = copy(person)
    hands.role = Person.Role.GROWER
    return hands
