import uuid
from collections.abc import Iterable

from django.db import transaction

from nursery.models import Act, House, Person
from nursery.records import rights, rows
from nursery.records.errors import Refused
from nursery.records.prepared import by_id

REAL_RECORDS = "There are records here that are not the demo's. Load the demo into an empty database."
DEMO_LOADED = "The demo was loaded before. Start again with an empty database to load it anew."


def house() -> House:
    """The one row of what holds for the whole nursery; made with its defaults on first use."""
    return by_id(House).first(1) or House.objects.get_or_create(id=1)[0]


def held_house() -> House:
    """The same row, held until the transaction ends: those who change how places stand wait here for each other."""
    return House.objects.select_for_update().get_or_create(id=1)[0]


@transaction.atomic
def house_changed(
    *,
    by: Person,
    name: str,
    public_address: str,
    minutes_a_day: int | None = None,
    shared_phones: bool | None = None,
) -> House:
    """Change the nursery's name and the address on its tags, how long a round may take, and whether phones are shared.

    Of the last two, what is None stays as it is.
    """
    rights.must_be_owner(by)
    row = house()
    row.name = name.strip()
    row.public_address = public_address.strip().rstrip("/")
    row.minutes_a_day = row.minutes_a_day if minutes_a_day is None else minutes_a_day
    row.shared_phones = row.shared_phones if shared_phones is None else shared_phones
    rows.check_row(row)
    row.save(update_fields=["name", "public_address", "minutes_a_day", "shared_phones"])
    return row


@transaction.atomic
def round_changed(
    *, by: Person, minutes_a_day: int, tasks_off: Iterable[str], looks_on: Iterable[int] = range(7)
) -> House:
    """Change the minutes that a round may take, which kinds of task (their codes) it leaves out, and the weekdays on
    which people look (0 for Monday).

    Raises:
        Refused: no owner, minutes out of range, or no weekday.
    """
    rights.must_be_owner(by)
    row = house()
    row.minutes_a_day = minutes_a_day
    row.tasks_off = sorted(set(tasks_off))
    row.looks_on = sorted(set(looks_on))
    if not row.looks_on or not set(row.looks_on) <= set(range(7)):
        raise Refused("no_weekday", "Choose at least one day of the week on which somebody looks.", "looks_on")
    rows.check_row(row)
    row.save(update_fields=["minutes_a_day", "tasks_off", "looks_on"])
    return row


@transaction.atomic
def epoch_renew() -> uuid.UUID:
    """After a restore: a new epoch, so that phones offer again what they kept."""
    row = house()
    row.epoch = uuid.uuid4()
    row.save(update_fields=["epoch"])
    return row.epoch


@transaction.atomic
def demo_opened() -> House:
    """Mark an empty database as the demo's own.

    Raises:
        Refused: there are records already, of a real nursery or of a demo that was loaded before.
    """
    row = house()
    if Act.objects.exists():
        raise Refused("not_empty", DEMO_LOADED if row.demo else REAL_RECORDS)
    row.demo = True
    row.save(update_fields=["demo"])
    return row
