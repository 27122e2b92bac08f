"""`manage.py owner`: add the first owner, who can then add everybody else."""

import os
import sys
from argparse import ArgumentParser
from getpass import getpass
from typing import Any

from django.conf import settings
from django.core.management.base import CommandError

from nursery.records.errors import Refused
from nursery.site import owners
from nursery.site.first_start import database_ready
from nursery.site.management.pageless import PagelessCommand

PASSWORD_VARIABLE = "TEPAL_OWNER_PASSWORD"


class Command(PagelessCommand):
    help = (
        "Add the first owner. Asks for a name and a password; a script gives --name, and the password in "
        f"{PASSWORD_VARIABLE} or as one line of input."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--name", help="the owner's name, as it will stand beside their records")
        parser.add_argument("--another", action="store_true", help="add an owner though there is one already")

    def handle(self, *args: Any, name: str | None, another: bool, **options: Any) -> None:
        database_ready()
        try:
            owners.refuse_second(another=another)
            name = name or self.ask_name()
            person = owners.owner_add(name=name, password=self.ask_password(name))
        except Refused as refused:
            raise CommandError(refused.sentence) from refused
        self.stdout.write(f"{person} can sign in as owner now. Records are kept in {settings.DATA}")

    def ask_name(self) -> str:
        if not sys.stdin.isatty():
            raise CommandError("Say who the owner is, with --name.")
        return input("Your name, as it will stand beside your records: ")

    def ask_password(self, name: str) -> str:
        """From the environment, from piped input, or asked twice without showing it."""
        if PASSWORD_VARIABLE in os.environ:
            return os.environ[PASSWORD_VARIABLE]
        if not sys.stdin.isatty():
            return sys.stdin.readline().rstrip("\r\n")
        password = getpass("Password, ten characters or more: ")
        if getpass("The same once more: ") != password:
            raise CommandError("The two passwords differ. Start again.")
        return password
