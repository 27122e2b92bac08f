"""The addresses of things and acts."""

from dataclasses import dataclass
from ipaddress import ip_address
from urllib.parse import urlencode, urlsplit
from uuid import UUID

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

from nursery.models import Act, LivingThing, Tag, Thing
from nursery.records import registry


def thing_url(thing: LivingThing | Thing) -> str:
    return reverse("thing", kwargs={"slug": registry.thing_kind(thing.kind).slug, "pk": thing.pk})


def act_url(thing: LivingThing | Thing, act: str) -> str:
    """Where an act of this slug is recorded for a thing."""
    return reverse("act", kwargs={"slug": registry.thing_kind(thing.kind).slug, "pk": thing.pk, "act": act})


def undo_url(act: Act) -> str:
    return reverse("undo", kwargs={"pk": act.pk})


def photo_url(act: Act, *, back: str) -> str:
    """Where a photo of what was just recorded is taken, and then on to ``back``; empty where none is offered."""
    if not registry.act_kind(act.kind).offers_photo(act):
        return ""
    on = f"?{urlencode({'next': back})}" if back else ""
    return act_url(act.thing, "photo") + on


@dataclass(frozen=True)
class TagsMade:
    """The numbers that an act gave, and where those that no tag shows yet are printed; empty words where none waits."""

    numbers: tuple[int, ...] = ()
    print_words: str = ""
    print_url: str = ""


def tags_made(act: Act) -> TagsMade:
    tags = Tag.objects.filter(thing__born_by=act, retired=False).order_by("number")
    printed = dict(tags.values_list("number", "printed_at"))
    numbers, waiting = tuple(printed), [number for number, at in printed.items() if at is None]
    if not waiting:
        return TagsMade(numbers)
    if len(waiting) == 1:
        return TagsMade(numbers, "Print its tag", reverse("labels:print", args=waiting))
    url = f"{reverse('labels:waiting')}?{urlencode({'made': act.pk})}"
    return TagsMade(numbers, f"{len(waiting)} tags wait to be printed", url)


def several_undo_url(submit: UUID) -> str:
    """Where all acts of one tap are undone."""
    return reverse("several-undo", kwargs={"pk": submit})


def next_url(request: HttpRequest, otherwise: str) -> str:
    """Where the sender wants to go on, if that is a page of ours."""
    return own_address(request, request.POST.get("next") or request.GET.get("next") or "") or otherwise


def only_this_machine(request: HttpRequest) -> bool:
    """Whether a page was opened at an address that on any other machine leads to that machine itself."""
    host = urlsplit(request.build_absolute_uri("/")).hostname or ""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost" or host.endswith((".localhost", ".localdomain"))


def own_address(request: HttpRequest, address: str) -> str:
    """The address if it leads to this server; else empty, so that nobody is led away from here.

    It begins with a slash: Django lets a bare word through, and then takes it for the name of a view.
    """
    here = {request.get_host()}
    is_own = url_has_allowed_host_and_scheme(address, allowed_hosts=here, require_https=request.is_secure())
    return address if is_own and address.startswith("/") else ""
