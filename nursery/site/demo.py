"""The demo nursery's own records: loaded once, kept between starts, never mixed with a nursery's real ones."""

import shutil
from pathlib import Path
from types import ModuleType

from django.conf import settings
from django.core.management import CommandError
from django.db import connection
from django.utils import timezone

from nursery.models import Act, House, Person
from nursery.site.first_start import database_ready

REAL_RECORDS = (
    "{folder} holds records that are not the demo's. The demo leaves them alone; "
    "set TEPAL_DATA to another folder for it."
)


def demo_ready(*, fresh: bool) -> bool:
    """Have the demo's records in its own folder; True if they were loaded now, False if they were kept.

    Raises:
        CommandError: the folder holds real records, or the command was not started as `manage.py demo`.
    """
    if not settings.DEMO:
        raise CommandError("Start the demo as `manage.py demo`, so that it gets a folder of its own.")
    database_ready()
    refuse_real_records()
    if fresh:
        start_again()
    if House.objects.filter(demo=True).exists():
        return False
    _load()
    return True


def refuse_real_records() -> None:
    """Leave alone what was not loaded by the demo: an act or a person without the demo's mark."""
    real = Act.objects.exists() or Person.objects.exists()
    if real and not House.objects.filter(demo=True).exists():
        raise CommandError(REAL_RECORDS.format(folder=settings.DATA))


def start_again() -> None:
    """Throw the demo's records and photos away, and make an empty database."""
    database = Path(connection.settings_dict["NAME"])
    connection.close()
    for file in database.parent.glob(f"{database.name}*"):
        file.unlink()
    for folder in (settings.MEDIA_ROOT, settings.SMALL_PHOTOS, settings.LEARNED):
        shutil.rmtree(folder, ignore_errors=True)
    database_ready()


def people_lines() -> list[str]:
    """Who may sign in, by role."""
    return [f"  {person.name} ({person.role})" for person in Person.objects.filter(is_active=True).order_by("pk")]


def password() -> str:
    """The password of every person in the demo."""
    return _fixtures().PASSWORD


def _load() -> None:
    _fixtures().load_demo(timezone.localdate())


def _fixtures() -> ModuleType:
    from demo_fixtures import load  # only when asked: a nursery that serves its own records never needs it

    return load
