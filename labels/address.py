"""What is wrong with a public address for tags that stay in pots for years. Pure."""

from ipaddress import ip_address
from urllib.parse import urlsplit

from labels.codes import AddressUnfit, tag_url

LONGEST_HOST = 17
"""Letters (a port counts) with which a seven-digit number still fits version 3 at level H."""


def warnings(public_address: str) -> list[str]:
    """Sentences for whoever is about to print tags; none when the address is fit to last.

    >>> warnings("https://tags.example")
    []
    """
    try:
        tag_url(public_address, 0)
        parts = urlsplit(public_address.strip())
        port = parts.port
    except AddressUnfit as error:
        return [str(error)]
    except ValueError:
        return [f"“{public_address}” is not a web address; it should look like https://tags.example."]
    found = [_on_ip(parts.hostname or ""), _on_name(parts.hostname or ""), _on_port(port)]
    return [sentence for sentence in (*found, _on_http(parts.scheme), _on_length(public_address)) if sentence]


def _on_ip(host: str) -> str:
    try:
        ip_address(host)
    except ValueError:
        return ""
    return (
        f"The address {host} is a number that changes when the network does; tags printed now would then open "
        "nothing. Give the computer a name and set it in Office first; the digits on each tag keep working."
    )


def _on_name(host: str) -> str:
    if host not in ("localhost", "localhost.localdomain"):
        return ""
    return "The name localhost opens only on this computer; a phone that reads such a tag finds nothing."


def _on_port(port: int | None) -> str:
    if port is None:
        return ""
    return f"The address holds the port {port}; if the port is ever changed, tags printed until then open nothing."


def _on_http(scheme: str) -> str:
    if scheme != "http":
        return ""
    return (
        "The address begins with http://, so tags will open unprotected for as long as they hang. "
        "Set up https before the first tag, if you can."
    )


def _on_length(public_address: str) -> str:
    host = tag_url(public_address, 0).split("/")[2]
    if len(host) <= LONGEST_HOST:
        return ""
    return (
        f"The host is {len(host)} letters long; up to {LONGEST_HOST} leave room for the strongest error correction, "
        "which reads a tag through more dirt."
    )
