"""Species and named hybrids: listed for everybody, added by whoever records, corrected by owners."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from nursery.forms.refusals import taken
from nursery.forms.taxa import TaxonForm
from nursery.models import Taxon
from nursery.names import NamePart
from nursery.records import taxa as records
from nursery.views.guards import may_record, owners, signed_in
from nursery.views.office.pages import cell, filled, form_page

COLUMNS = ({"label": "Name"}, {"label": "Kind"}, {"label": "CITES"}, {"label": "Note"})
FACTS = ("genus", "epithet", "rank", "cites", "note")


@signed_in
@require_safe
def taxa(request: HttpRequest) -> HttpResponse:
    add = {"url": reverse("taxon-new"), "label": "Add a taxon"}
    return render(
        request,
        "things/list.html",
        {
            "section": "office",
            "title": "Taxa",
            "lead": "The species and named hybrids that your clones are of.",
            "add": add if request.user.may_record else None,
            "columns": COLUMNS,
            "rows": [_row(taxon, opens=request.user.is_owner) for taxon in Taxon.objects.all()],
            "empty": {"icon": "plant", "words": "The species you grow will stand here."},
        },
    )


def _row(taxon: Taxon, *, opens: bool) -> dict[str, object]:
    name, kind, cites, note = COLUMNS
    cells = [
        cell(name, "", name_parts=name_parts(taxon)),
        cell(kind, taxon.get_rank_display()),
        cell(cites, taxon.get_cites_display()),
        cell(note, taxon.note),
    ]
    return {"url": reverse("taxon", args=[taxon.pk]) if opens else "", "cells": cells}


def name_parts(taxon: Taxon) -> list[NamePart]:
    """Genus and epithet in italics, the sign of a hybrid upright."""
    sign = [NamePart("×")] if taxon.rank == Taxon.Rank.HYBRID else []
    return [NamePart(taxon.genus, "taxon"), NamePart(" "), *sign, NamePart(taxon.epithet, "taxon")]


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def taxon_new(request: HttpRequest) -> HttpResponse:
    form = filled(request, TaxonForm)
    if request.method == "POST":
        added = taken(form, lambda: records.taxon_added(by=request.user, **form.cleaned_data))
        if added is not None:
            messages.success(request, f"{added} is listed.")
            return redirect("taxa")
    return form_page(request, form, title="Add a taxon", label="Add it", cancel_url=reverse("taxa"))


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def taxon(request: HttpRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Taxon, pk=pk)
    form = filled(request, TaxonForm, **{name: getattr(row, name) for name in FACTS})
    if request.method == "POST":
        changed = taken(form, lambda: records.taxon_changed(by=request.user, taxon=row, **form.cleaned_data))
        if changed is not None:
            messages.success(request, f"{changed} is corrected, and so are the names of its clones.")
            return redirect("taxa")
    return form_page(request, form, title=str(row), label="Correct it", cancel_url=reverse("taxa"))
