"""`manage.py serve`: run Tepal for a nursery."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from nursery.models import Person
from nursery.site import serving
from nursery.site.management.arguments import add_listening


class Command(BaseCommand):
    help = "Run Tepal: brings the records up to date, then answers on this machine only, unless --lan is given."

    def add_arguments(self, parser: ArgumentParser) -> None:
        add_listening(parser)

    def handle(self, *args: Any, lan: bool, port: int, **options: Any) -> None:
        serving.refuse_debug()
        serving.prepare()
        server, listening = serving.server_make(port=port, lan=lan)
        serving.announce(listening, self.say)
        if not Person.objects.filter(role=Person.Role.OWNER, is_active=True).exists():
            self.say("Nobody can sign in yet: stop it, run `manage.py owner`, and start it again.")
        serving.run(server)

    def say(self, line: str) -> None:
        self.stdout.write(line)
        self.stdout.flush()
