"""`manage.py backup FILE`: everything in one file, made while Tepal runs; `--check` proves one by restoring it."""

from argparse import ArgumentParser
from pathlib import Path
from shlex import quote
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError

from nursery.site import backup, backup_log, restore
from nursery.site.backup import BackupRefused, Manifest
from nursery.site.management.advice import FOR_BACKUP, refuse_postgresql
from nursery.site.management.pageless import PagelessCommand


class Command(PagelessCommand):
    help = "Write records and photos to FILE while Tepal runs. With --check: prove FILE by restoring it elsewhere."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument("--check", action="store_true", help="restore FILE into a folder that is then thrown away")

    def handle(self, *args: Any, file: Path, check: bool, **options: Any) -> None:
        refuse_postgresql(FOR_BACKUP)
        try:
            manifest = self.prove(file) if check else self.write(file)
        except BackupRefused as refused:
            raise CommandError(str(refused)) from refused
        self.stdout.write(summary(manifest))

    def write(self, file: Path) -> Manifest:
        database = Path(settings.DATABASES["default"]["NAME"])
        manifest = backup.backup_write(file, database=database, media=Path(settings.MEDIA_ROOT))
        backup_log.note(settings.DATA, "made", file)
        records = f"TEPAL_DATA={quote(str(settings.DATA))}"  # where the proof is noted, beside the records it is of
        command = f"{records} .venv/bin/python manage.py backup --check {quote(str(file))}"
        self.stdout.write(f"Backup written to {file}. Prove it with `{command}`.")
        return manifest

    def prove(self, file: Path) -> Manifest:
        manifest = restore.prove(file, folder=settings.DATA)
        backup_log.note(settings.DATA, "proved", file)
        self.stdout.write(f"{file} is sound: restored elsewhere, compared, and thrown away.")
        return manifest


def summary(manifest: Manifest) -> str:
    """One line on what a backup holds."""
    acts, rows = manifest.rows.get("nursery_act", 0), sum(manifest.rows.values())
    return f"It holds {acts} acts ({rows} rows in all) and {manifest.photos} photos, as of {manifest.made_at}."
