"""What to do where the records are in PostgreSQL, whose own tools copy it better than we could."""

from django.conf import settings
from django.core.management.base import CommandError
from django.db import connection

FOR_BACKUP = (
    "These records are in PostgreSQL. Copy them with `pg_dump --format=custom --file=tepal.dump DATABASE`, "
    "and after it the folder {media}, which holds the photos."
)
FOR_RESTORE = (
    "These records belong in PostgreSQL. Bring them back into an empty database with "
    "`pg_restore --dbname=DATABASE tepal.dump` and the photos into {media}, then run "
    "`manage.py restore --after-pg-restore`, which moves the tag numbers on."
)


def refuse_postgresql(advice: str) -> None:
    """Give the advice instead of doing half of the work."""
    if connection.vendor != "sqlite":
        raise CommandError(advice.format(media=settings.MEDIA_ROOT))
