"""The people who may sign in: seen and changed by owners only."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters, sensitive_variables
from django.views.decorators.http import require_http_methods, require_safe

from nursery import sessions
from nursery.forms.people import LeaveForm, PersonChangeForm, PersonForm
from nursery.forms.refusals import taken
from nursery.links import only_this_machine
from nursery.models import Person
from nursery.records import people as records
from nursery.records.house import house
from nursery.views.guards import owners
from nursery.views.office.pages import cell, filled, form_page
from nursery.views.office.sessions import devices

COLUMNS = ({"label": "Name"}, {"label": "May"}, {"label": "Signs"}, {"label": "Last signed in"})


@owners
@require_safe
def people(request: HttpRequest) -> HttpResponse:
    everybody = sorted(Person.objects.all(), key=lambda person: (not person.is_active, person.name.lower()))
    return render(
        request,
        "office/labelled.html",
        {
            "section": "office",
            "title": "People",
            "lead": "Each has a name of their own, so that it is known who saw what.",
            "add": {"url": reverse("person-new"), "label": "Add a person"},
            "columns": COLUMNS,
            "rows": [_row(person) for person in everybody],
        },
    )


def _row(person: Person) -> dict[str, object]:
    name, may, signs, last = COLUMNS
    pill = "" if person.is_active else "left"
    seen = timezone.localtime(person.last_login).strftime("%-d %b %Y") if person.last_login else "never"
    cells = [
        cell(name, person.name, pill=pill, tone="plain"),
        cell(may, person.get_role_display()),
        cell(signs, person.initials),
        cell(last, seen),
    ]
    return {"url": reverse("person", args=[person.pk]), "cells": cells}


@owners
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def person_new(request: HttpRequest) -> HttpResponse:
    form = filled(request, PersonForm)
    if request.method == "POST":
        added = taken(form, lambda: records.person_added(by=request.user, **form.cleaned_data))
        if added is not None:
            if added.has_usable_password():
                messages.success(request, f"{added} can sign in now.")
                return redirect("person", added.pk)
            messages.success(request, f"{added} is added, and signs in by a code that you show them.")
            return redirect("person-code", added.pk)
    return form_page(request, form, title="Add a person", label="Add this person", cancel_url=reverse("people"))


@owners
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: HttpRequest, pk: int) -> HttpResponse:
    """One person: name, role, a new password; from here to their code and to their leaving."""
    row = get_object_or_404(Person, pk=pk)
    form = filled(request, PersonChangeForm, name=row.name, role=row.role)
    if not row.has_usable_password():
        form.say_there_is_none()
    if request.method == "POST":
        changed = taken(
            form,
            lambda: records.person_changed(by=request.user, person=row, is_active=row.is_active, **form.cleaned_data),
        )
        if changed is not None:
            _keep_signed_in(request, changed)
            messages.success(request, f"Changed: {changed}, {changed.get_role_display()}.")
            return redirect("people")
    return form_page(
        request,
        form,
        title=row.name,
        label="Change",
        cancel_url=reverse("people"),
        lead="" if row.is_active else "Has left: cannot sign in. What they recorded keeps their name.",
        template="office/person.html",
        person=row,
        devices=devices(request, row),
    )


def _keep_signed_in(request: HttpRequest, changed: Person) -> None:
    """A new password ends a person's other sessions, but not the one it was set in."""
    if changed == request.user:
        sessions.stay_here(request, changed)


@owners
@never_cache
@sensitive_variables("code")
@require_http_methods(["GET", "HEAD", "POST"])
def person_code(request: HttpRequest, pk: int) -> HttpResponse:
    """Make a sign-in code by a POST and show it once; nowhere is it kept but as a hash."""
    row = get_object_or_404(Person, pk=pk)
    shown = {"section": "office", "person": row, "sign_in_url": _sign_in_url(request)}
    form = LeaveForm(request.POST)  # no fields: only to say a refusal
    if request.method == "POST":
        code = taken(form, lambda: records.code_shown(by=request.user, person=row))
        if code is not None:
            until = timezone.localtime(timezone.now() + records.CODE_LASTS)
            shown |= {"code": f"{code[:4]} {code[4:]}", "until": until.strftime("%H:%M")}
    return render(request, "office/code.html", shown | {"form": form}, status=422 if form.errors else 200)


def _sign_in_url(request: HttpRequest) -> str:
    """Where another phone signs in; empty where this page was opened at an address that leads to this machine alone.

    Then it is the nursery's public one; that of the demo is as invented as the rest.
    """
    if not only_this_machine(request):
        return request.build_absolute_uri(reverse("sign-in"))
    kept = house()
    return kept.public_address.rstrip("/") + reverse("sign-in") if kept.public_address and not kept.demo else ""


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def person_leave(request: HttpRequest, pk: int) -> HttpResponse:
    """Say that a person has left, or is back. Nobody is deleted."""
    row = get_object_or_404(Person, pk=pk)
    leaves = row.is_active
    form = filled(request, LeaveForm)
    if request.method == "POST":
        changed = taken(
            form,
            lambda: records.person_changed(
                by=request.user, person=row, name=row.name, role=row.role, is_active=not leaves
            ),
        )
        if changed is not None:
            messages.success(request, f"{changed} can {'no longer' if leaves else 'now'} sign in.")
            return redirect("people")
    return form_page(
        request,
        form,
        title=f"{row.name} leaves" if leaves else f"{row.name} is back",
        label="Yes, they leave" if leaves else "Yes, let them in again",
        cancel_url=reverse("person", args=[pk]),
        lead=LEAVES if leaves else "They sign in as before, with their role as it was.",
    )


LEAVES = (
    "They are signed out at once and cannot sign in. What they recorded stays under their name; you can let them in "
    "again at any time."
)
