"""Signing out everywhere: a person themselves, and an owner for others."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from nursery import sessions
from nursery.models import Person, SignedIn
from nursery.records.people import signed_out_everywhere
from nursery.views.guards import owners, signed_in


@signed_in
@require_safe
def mine(request: HttpRequest) -> HttpResponse:
    """Where somebody is signed in themselves."""
    shown = {"section": "office", "devices": devices(request, request.user)}
    return render(request, "office/signed_in.html", shown)


@signed_in
@require_POST
def mine_end(request: HttpRequest) -> HttpResponse:
    """End all of one's sessions but this one."""
    person = signed_out_everywhere(by=request.user, person=request.user)
    sessions.stay_here(request, person)
    messages.success(request, "You are signed out everywhere but here.")
    return redirect("my-sessions")


@owners
@require_POST
def person_end(request: HttpRequest, pk: int) -> HttpResponse:
    """End all sessions of another person; of one's own, all but this one."""
    person = get_object_or_404(Person, pk=pk)
    if person == request.user:
        return mine_end(request)
    signed_out_everywhere(by=request.user, person=person)
    messages.success(request, f"{person} is signed out everywhere.")
    return redirect("person", person.pk)


def devices(request: HttpRequest, person: Person) -> list[dict[str, object]]:
    """The rows of a list: what somebody is signed in on, since when, and whether it is this very device."""
    return [_device(row, here=row.session_key == request.session.session_key) for row in sessions.of_person(person)]


def _device(row: SignedIn, *, here: bool) -> dict[str, object]:
    since = timezone.localtime(row.since).strftime("%-d %b %Y, %H:%M")
    return {"words": row.device, "since": since, "here": here}
