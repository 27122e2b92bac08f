"""Which address tags carry, and what is to be said of it before they are printed."""

from django.http import HttpRequest

from labels.address import warnings
from nursery.records.house import house


def address_of(request: HttpRequest) -> str:
    """The nursery's public address; where none is set, the one that this page was asked at."""
    return house().public_address or _in_use(request)


def cautions(request: HttpRequest) -> list[str]:
    """What speaks against printing tags with this address, the gravest first; empty when it is fit to last."""
    address = house().public_address
    if address:
        return warnings(address)
    unset = (
        f"No public address is set, so tags will carry the one in use now, {_in_use(request)}. "
        "Tags hang for years: an owner sets the lasting one in Office first."
    )
    return [unset, *warnings(_in_use(request))]


def _in_use(request: HttpRequest) -> str:
    return request.build_absolute_uri("/").rstrip("/")
