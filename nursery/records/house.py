import uuid

from django.db import transaction

from nursery.models import House, Person
from nursery.records import core, rights


def house() -> House:
    """The one row of what holds for the whole nursery; made with its defaults on first use."""
    return House.objects.get_or_create(id=1)[0]


@transaction.atomic
def house_changed(*, by: Person, name: str, public_address: str, minutes_a_day: int) -> House:
    """Change the nursery's name, the address its tags carry, and the minutes that a round may take."""
    rights.must_be_owner(by)
    row = house()
    row.name = name.strip()
    row.public_address = public_address.strip().rstrip("/")
    row.minutes_a_day = minutes_a_day
    core.check_row(row)
    row.save(update_fields=["name", "public_address", "minutes_a_day"])
    return row


@transaction.atomic
def epoch_renew() -> uuid.UUID:
    """After a restore: a new epoch, so that phones offer again what they kept."""
    row = house()
    row.epoch = uuid.uuid4()
    row.save(update_fields=["epoch"])
    return row.epoch
