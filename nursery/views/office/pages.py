"""What the pages of the office share."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def form_page(
    request: HttpRequest,
    form: forms.Form,
    *,
    title: str,
    label: str,
    cancel_url: str,
    lead: str = "",
    template: str = "things/act.html",
    **more: Any,
) -> HttpResponse:
    """A page with one form; status 422 when it was sent and something in it is wrong."""
    shown = {"form": form, "title": title, "label": label, "cancel_url": cancel_url, "lead": lead, "section": "office"}
    return render(request, template, shown | more, status=422 if form.errors else 200)


def filled(request: HttpRequest, form: type[forms.Form], **initial: Any) -> forms.Form:
    """The form with what was posted, or fresh with its first values."""
    return form(request.POST, initial=initial) if request.method == "POST" else form(initial=initial)


def cell(column: dict[str, Any], text: object, **more: Any) -> dict[str, Any]:
    """One cell of a list, under its column (see templates/things/list.html)."""
    return column | {"text": text} | more
