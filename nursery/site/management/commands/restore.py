"""`manage.py restore FILE`: bring a backup back into an empty data folder."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError

from nursery.site import restore
from nursery.site.backup import BackupRefused
from nursery.site.management.advice import FOR_RESTORE, refuse_postgresql
from nursery.site.management.commands.backup import summary
from nursery.site.management.pageless import PagelessCommand

AFTER = (
    "Tag numbers go on above any that may have been printed since, and phones will offer again what they kept.",
    "People sign in again. Start Tepal with `manage.py serve`.",
)


class Command(PagelessCommand):
    help = "Restore FILE into the data folder, which must be empty. Compares every photo and counts every row."

    def add_arguments(self, parser: ArgumentParser) -> None:
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("file", type=Path, metavar="FILE", nargs="?")
        what.add_argument(
            "--after-pg-restore",
            action="store_true",
            help="the records are back in PostgreSQL already: only move the tag numbers on and tell the phones",
        )

    def handle(self, *args: Any, file: Path | None, **options: Any) -> None:
        if file is None:
            restore.settle()
        else:
            self.restore(file)
        for sentence in AFTER:
            self.stdout.write(sentence)

    def restore(self, file: Path) -> None:
        refuse_postgresql(FOR_RESTORE)
        try:
            manifest = restore.restore(file, folder=settings.DATA)
        except BackupRefused as refused:
            raise CommandError(str(refused)) from refused
        self.stdout.write(f"Restored {file} into {settings.DATA}.")
        self.stdout.write(summary(manifest))
