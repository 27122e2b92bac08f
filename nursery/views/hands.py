"""Whose hands record on this device: those of the person who signed in, unless a tap has said another's.

Views that record acts take ``by`` and ``phone_of`` from here. Pages of the office, and what only an owner may do, stay
with the person who signed in.
"""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from nursery.links import next_url
from nursery.models import Person
from nursery.records.hands import lent, on_this_phone
from nursery.views.guards import may_record

KEY = "hands"
"""In the session: the id of the person whose hands they are; the key stands there while the phone is shared."""
SWITCHED_OFF = "An owner has switched this off: everybody signs in on their own phone."
NOT_HERE = "Nobody of that name records here. Choose again."


@dataclass(frozen=True)
class Strip:
    """What stands on every page of a shared phone: whose it is, whose hands hold it, and one button for each person."""

    owner: Person
    hands: Person
    people: tuple[Person, ...]
    next: str

    @property
    def is_lent(self) -> bool:
        return self.hands.pk != self.owner.pk


def hands(request: HttpRequest) -> Person:
    """Whose hands they are; others than the signed-in person's have a grower's rights, and never more."""
    if not hasattr(request, "_hands"):
        request._hands = _found(request)
    return request._hands


def phone_of(request: HttpRequest) -> Person | None:
    """Who signed in, where it is another's hands that record; else None."""
    return request.user if hands(request).pk != request.user.pk else None


def signed(request: HttpRequest) -> dict[str, Any]:
    """Who signs an act, and on whose phone, as ``NewAct`` and ``Sending`` take it."""
    return {"by": hands(request), "phone_of": phone_of(request)}


def strip(request: HttpRequest) -> Strip | None:
    """None where the phone is not shared."""
    if KEY not in request.session or not request.user.is_authenticated:
        return None
    people = tuple(on_this_phone(request.user))
    here = request.get_full_path() if request.method == "GET" else ""
    return Strip(request.user, hands(request), people, here) if people else None


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def choose(request: HttpRequest) -> HttpResponse:
    """Say whose hands hold the phone from now on, or that it is shared no more."""
    people = on_this_phone(request.user)
    if request.method != "POST":
        shown = {"section": "more", "people": people, "owner": request.user, "hands": hands(request)}
        shown |= {"is_shared": KEY in request.session, "switched_off": "" if people else SWITCHED_OFF}
        return render(request, "people/hands.html", shown)
    if request.POST.get("person") == "":
        request.session.pop(KEY, None)
        messages.success(request, f"This phone is {request.user.name}’s alone again.")
        return redirect(next_url(request, otherwise="/"))
    return _change(request, people)


def _change(request: HttpRequest, people: Any) -> HttpResponse:
    told = request.POST.get("person", "")
    person = people.filter(pk=told).first() if told.isascii() and told.isdigit() and len(told) < 19 else None
    if person is None:
        messages.error(request, NOT_HERE if people else SWITCHED_OFF)
        return redirect("hands")
    request.session[KEY] = person.pk
    return redirect(next_url(request, otherwise="/"))


def _found(request: HttpRequest) -> Person:
    pk = request.session.get(KEY)
    if pk is None or not request.user.is_authenticated or pk == request.user.pk:
        return request.user
    person = on_this_phone(request.user).filter(pk=pk).first()
    return request.user if person is None else lent(person)
