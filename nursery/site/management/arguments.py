"""Arguments that several commands share."""

from argparse import ArgumentParser, ArgumentTypeError

from django.conf import settings


def port_number(text: str) -> int:
    """A port as typed after --port."""
    if not text.isascii() or not text.isdigit() or int(text) > 65535:
        raise ArgumentTypeError(f"{text} is no port; use a number from 0 to 65535")
    return int(text)


def add_listening(parser: ArgumentParser) -> None:
    """--lan and --port, for the commands that serve."""
    parser.add_argument("--lan", action="store_true", help="let phones on the same network in, over plain http")
    parser.add_argument(
        "--port",
        type=port_number,
        default=settings.PORT,
        help="port to listen on; 0 takes any free one (default: TEPAL_PORT, %(default)s)",
    )
