"""`manage.py demo`: run Tepal with an invented nursery, to look round in."""

from argparse import ArgumentParser
from typing import Any

from nursery.site import demo, serving
from nursery.site.management.arguments import add_listening
from nursery.site.management.pageless import PagelessCommand


class Command(PagelessCommand):
    help = "Run Tepal with the demo nursery, in a folder and database of its own. A second start keeps what you did."

    def add_arguments(self, parser: ArgumentParser) -> None:
        add_listening(parser)
        parser.add_argument(
            "--fresh", action="store_true", help="throw away what was done in the demo, and load it anew"
        )
        parser.add_argument("--no-serve", action="store_true", help="load the demo and stop")

    def handle(self, *args: Any, fresh: bool, no_serve: bool, lan: bool, port: int, **options: Any) -> None:
        serving.refuse_debug()
        loaded = demo.demo_ready(fresh=fresh)
        self.say(
            "The demo nursery was loaded." if loaded else "The demo nursery is as you left it; --fresh starts again."
        )
        self.say_who()
        if no_serve:
            return
        self.check()  # as `serve` does
        serving.prepare()
        server, listening = serving.server_make(port=port, lan=lan)
        serving.announce(listening, self.say)
        serving.run(server)

    def say_who(self) -> None:
        self.say(f"Sign in with the password {demo.password()} as one of")
        for line in demo.people_lines():
            self.say(line)

    def say(self, line: str) -> None:
        self.stdout.write(line)
        self.stdout.flush()
