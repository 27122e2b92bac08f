"""Start the production server: records up to date, static files ready, and the truth about who can reach it."""

import errno
import socket
from collections.abc import Callable
from dataclasses import dataclass

import waitress
from django.conf import settings
from django.core.management import CommandError, call_command
from django.core.wsgi import get_wsgi_application
from django.utils import timezone
from waitress.server import BaseWSGIServer

from nursery.site.first_start import database_ready
from nursery.site.settled import settle

THIS_MACHINE = "127.0.0.1"
EVERY_ADDRESS = "0.0.0.0"
THREADS = 6
LARGEST_REQUEST = 256 * 1024 * 1024
"""Bytes: room for a table of a million rows, which its form refuses in words. More is turned away unread, and bare."""

PLAIN_HTTP_COSTS = (
    "This is plain http: anybody on the same network can read passwords and records as they pass.",
    "Phones cannot work without signal over it, and people sign in again after 12 hours.",
    "Use it on a network you trust; README tells how to have https.",
)

Say = Callable[[str], None]


@dataclass(frozen=True)
class Listening:
    """Where a server listens, and what people type to reach it."""

    host: str
    port: int
    lan: str | None

    @property
    def here(self) -> str:
        return f"http://{THIS_MACHINE}:{self.port}/"

    @property
    def phone(self) -> str:
        return f"http://{self.lan}:{self.port}/"


def prepare() -> None:
    """Bring the database up to this version, and collect the static files under names that browsers may keep."""
    database_ready()
    call_command("collectstatic", interactive=False, verbosity=0)


def refuse_debug() -> None:
    """Never show errors with their source to whoever finds the address."""
    if settings.DEBUG:
        raise CommandError(
            "TEPAL_DEBUG=yes shows errors with their source, so it is not served. Unset it, or use runserver."
        )


def lan_address() -> str | None:
    """This machine's address on the local network, or None where it has none.

    Asking which address would be used towards another host sends nothing; 192.0.2.1 is reserved for documentation
    (RFC 5737).
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return None
        address = probe.getsockname()[0]
    return None if address.startswith("127.") or address == EVERY_ADDRESS else address


def open_to_lan() -> str:
    """Let the local network in: this machine's address there, to which plain http answers from now on.

    Over https people keep to the names of TEPAL_HOSTS, which the proxy passes on.
    """
    address = lan_address()
    if address is None:
        raise CommandError("This machine has no address on a local network; connect it, or leave --lan out.")
    if not settings.HTTPS:
        settings.ALLOWED_HOSTS = [*settings.ALLOWED_HOSTS, address, socket.gethostname().lower()]
    return address


def server_make(*, port: int, lan: bool) -> tuple[BaseWSGIServer, Listening]:
    """A server that holds its port but does not answer yet, and where it listens.

    Raises:
        CommandError: the port is taken or not allowed, or ``lan`` is asked where there is no network.
    """
    address = open_to_lan() if lan else None
    host = EVERY_ADDRESS if lan else THIS_MACHINE
    try:
        server = waitress.create_server(
            get_wsgi_application(),
            host=host,
            port=port,
            threads=THREADS,
            max_request_body_size=LARGEST_REQUEST,
            **proxy_options(),
        )
    except OSError as error:
        raise CommandError(_why_not(error, port)) from error
    return server, Listening(host=host, port=int(server.effective_port), lan=address)


def proxy_options() -> dict[str, object]:
    """Over https a proxy stands in front: believe its word, and only its, on who asks and how."""
    if not settings.HTTPS:
        return {}
    return {
        "trusted_proxy": settings.PROXY,
        "trusted_proxy_count": 1,
        "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
    }


def announce(listening: Listening, say: Say) -> None:
    """Print where Tepal answers, what that costs, and how to stop it."""
    for line in _over_https(listening) if settings.HTTPS else _over_http(listening):
        say(line)
    say(f"Records are kept in {settings.DATA}")
    say(f"Today is {timezone.localdate():%A %-d %B %Y} ({settings.TIME_ZONE}); TEPAL_TIME_ZONE sets where days begin.")
    say("Stop it with Ctrl-C.")


def _over_https(listening: Listening) -> list[str]:
    people_use = ", ".join(f"https://{host}/" for host in settings.ALLOWED_HOSTS)
    where = f"port {listening.port} of every address" if listening.lan else listening.here
    return [f"Tepal waits at {where} for the proxy that speaks https; people use {people_use}."]


def _over_http(listening: Listening) -> list[str]:
    here = f"Tepal runs at {listening.here}"
    if listening.lan is None:
        return [here, "Only this machine can reach it; --lan opens it to phones on the same network."]
    return [here, f"On a phone in the same network: {listening.phone}", *PLAIN_HTTP_COSTS]


def run(server: BaseWSGIServer) -> None:
    """Answer until Ctrl-C."""
    settle()
    try:
        server.run()
    except KeyboardInterrupt:
        server.close()


def _why_not(error: OSError, port: int) -> str:
    if error.errno == errno.EADDRINUSE:
        return f"Port {port} is in use; stop what uses it, or choose another with --port."
    if error.errno == errno.EACCES:
        return f"Port {port} is not allowed to this user; choose one above 1023 with --port."
    return f"Port {port} cannot be used: {error}."
