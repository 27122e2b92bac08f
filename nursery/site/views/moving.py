"""Moving in: read a table, say what its columns are, look over what it makes, bring it in, take it back."""

import uuid
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from nursery.records.errors import Refused
from nursery.site.models import Import
from nursery.site.moving import imports, shown
from nursery.site.moving.forms import BringForm, ColumnsForm, TableForm
from nursery.site.moving.tables.errors import TableRefused
from nursery.site.moving.tables.parse import parsed
from nursery.views.guards import owners, posted
from nursery.views.office.pages import form_page

READING = "Reading the table…"
LOOKING = "Trying every row against the books. A few hundred rows take some seconds; nothing is kept yet."
BRINGING = "Bringing the rows in. A few hundred take some seconds; leave this page open."
UNDOING = "Undoing every record of this table. A few hundred rows take some seconds; leave this page open."


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def moving_in(request: HttpRequest) -> HttpResponse:
    """A table to paste or upload; below it those that were read before."""
    form = TableForm(request.POST, request.FILES) if request.method == "POST" else TableForm()
    read = _read(request, form) if request.method == "POST" and form.is_valid() else None
    if read is None:
        return form_page(
            request,
            form,
            title="Moving in",
            label="Read it",
            cancel_url=reverse("office"),
            template="office/moving/begin.html",
            files=True,
            wait=READING,
            tables=[shown.table_row(one) for one in Import.objects.select_related("by", "brought_by")],
        )
    if read.before:
        messages.info(request, shown.known_words(read.moving))
    return redirect("import", read.moving.pk)


def _read(request: HttpRequest, form: TableForm) -> imports.Read | None:
    try:
        return imports.table_read(
            by=request.user, kind=form.cleaned_data["kind"], name=form.named, decoded=form.decoded
        )
    except TableRefused as refusal:
        form.add_error("file" if form.cleaned_data.get("file") else "table", str(refusal))
        return None


@owners
@require_safe
def import_page(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """A table wherever it stands: its columns, what it would make, or what it made."""
    moving = get_object_or_404(Import, pk=pk)
    if moving.state != Import.State.DRAFT:
        return _brought_page(request, moving)
    if not moving.preview or "columns" in request.GET:
        return _columns_page(request, moving, ColumnsForm(moving=moving, table=parsed(moving.table)))
    return _look_page(request, moving)


@owners
@posted(form_on="import", of=["pk"])
def import_columns(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say what the columns are, and look over what the table makes."""
    moving = get_object_or_404(Import, pk=pk)
    form = ColumnsForm(request.POST, moving=moving, table=parsed(moving.table))
    if not form.is_valid():
        return _columns_page(request, moving, form)
    try:
        imports.columns_chosen(by=request.user, moving=moving, **form.chosen())
    except Refused as refused:
        messages.error(request, refused.sentence)
    return redirect("import", pk)


@owners
@require_POST
def import_again(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say whether rows that an earlier table brought in come in once more."""
    moving = get_object_or_404(Import, pk=pk)
    try:
        imports.rows_again(by=request.user, moving=moving, again=request.POST.get("again") == "yes")
    except Refused as refused:
        messages.error(request, refused.sentence)
    return redirect("import", pk)


@owners
@require_POST
def import_bring(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Bring the rows in, all or none; those with problems only stay out where that was said."""
    moving = get_object_or_404(Import, pk=pk)
    was_brought = moving.state == Import.State.BROUGHT
    without = sorted({row for row, _, _ in moving.preview.get("problems", [])})
    if without and not was_brought and request.POST.get("leave_out") != "on":
        messages.error(request, "Nothing was brought in: say below that the rows with problems stay out.")
        return redirect("import", pk)
    try:
        moving = imports.brought_in(by=request.user, moving=moving, without=without)
    except Refused as refused:
        messages.error(request, refused.sentence)
    except imports.NotWhole:
        messages.error(request, "Nothing was brought in: something changed since this was looked over. Look again.")
    else:
        messages.success(request, shown.known_words(moving) if was_brought else shown.done_words(moving))
    return redirect("import", pk)


@owners
@posted(form_on="import", of=["pk"])
def import_undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Undo every act of an import, or say what rests on it."""
    moving = get_object_or_404(Import, pk=pk)
    try:
        imports.import_undone(by=request.user, moving=moving)
    except Refused as refused:
        if moving.state == Import.State.DRAFT:
            messages.error(request, refused.sentence)
            return redirect("import", pk)
        return _brought_page(request, moving, refused=refused, status=422)
    messages.success(request, f"Undone: everything that {moving.name} brought in.")
    return redirect("import", pk)


@owners
@require_POST
def import_throw_away(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    moving = get_object_or_404(Import, pk=pk)
    try:
        imports.thrown_away(by=request.user, moving=moving)
    except Refused as refused:
        messages.error(request, refused.sentence)
        return redirect("import", pk)
    messages.success(request, f"Forgotten: {moving.name}. Nothing of it was brought in.")
    return redirect("moving-in")


def _columns_page(request: HttpRequest, moving: Import, form: forms.Form) -> HttpResponse:
    return form_page(
        request,
        form,
        title="What the columns are",
        label="Look at what this makes",
        cancel_url=reverse("moving-in"),
        lead=shown.read_words(moving),
        template="office/moving/columns.html",
        action=reverse("import-columns", args=[moving.pk]),
        wait=LOOKING,
        moving=moving,
    )


def _look_page(request: HttpRequest, moving: Import) -> HttpResponse:
    look = shown.look(moving)
    form = BringForm(problems=look.rows_with_problems)
    return _page(request, "office/moving/look.html", moving=moving, look=look, form=form, wait=BRINGING)


def _brought_page(
    request: HttpRequest, moving: Import, *, refused: Refused | None = None, status: int = 200
) -> HttpResponse:
    context = shown.brought(moving, timezone.localdate())
    return _page(
        request, "office/moving/brought.html", status=status, moving=moving, refused=refused, wait=UNDOING, **context
    )


def _page(request: HttpRequest, template: str, *, status: int = 200, **context: Any) -> HttpResponse:
    return render(request, template, {"section": "office"} | context, status=status)
