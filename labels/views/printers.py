"""The nursery's printers, what each is off by, and the page of rulers to measure it with."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods, require_safe

from labels import records
from labels.models import Printer, Stock
from labels.printers import off_words
from labels.rulers import rulers_page
from labels.stock_forms import PrinterForm
from nursery.forms.refusals import taken
from nursery.views.guards import may_record, owners

COLUMNS = (
    {"label": "Printer"},
    {"label": "Dots an inch", "numeric": True},
    {"label": "Off by"},
    {"label": "Printed last with it"},
)


@owners
@require_safe
def printers(request: HttpRequest) -> HttpResponse:
    context = {
        "section": "labels",
        "title": "Printers",
        "lead": "How fine each prints and what it is off by. It is chosen at the print, and kept in mind for the next.",
        "add": {"url": reverse("labels:printer-new"), "label": "Add a printer"},
        "columns": COLUMNS,
        "rows": [_row(printer) for printer in Printer.objects.prefetch_related("stocks")],
        "empty": {
            "icon": "print",
            "words": "A printer that prints a little off will stand here.",
        },
    }
    return render(request, "things/list.html", context)


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def printer_new(request: HttpRequest) -> HttpResponse:
    return _form_page(request, Printer(), "Add a printer")


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def printer(request: HttpRequest, pk: int) -> HttpResponse:
    return _form_page(request, get_object_or_404(Printer, pk=pk), "Printer")


@may_record
@require_safe
def rulers(request: HttpRequest, pk: int) -> HttpResponse:
    """Rulers for one stock, with what ``?printer=`` is off by taken off: right if they begin at the edges."""
    stock = get_object_or_404(Stock, pk=pk)
    printer = _asked(request.GET.get("printer", ""))
    across, down = (printer.across, printer.down) if printer else (0, 0)
    pdf = rulers_page(stock.measures_on(printer), across=float(across), down=float(down))
    name = f"rulers-{slugify(stock.name) or stock.pk}.pdf"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(pdf, content_type="application/pdf", headers=headers)


def _asked(text: str) -> Printer | None:
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        return None
    return get_object_or_404(Printer, pk=int(text))


def _form_page(request: HttpRequest, printer: Printer, title: str) -> HttpResponse:
    form = PrinterForm(request.POST or None, instance=printer)
    is_new = printer.pk is None
    kept = request.method == "POST" and taken(
        form, lambda: records.printer_kept(by=request.user, printer=form.instance)
    )
    if kept:
        messages.success(request, f"“{form.instance}” is kept. Choose it when you print.")
        return redirect("labels:printer", pk=form.instance.pk)
    context = {
        "section": "labels",
        "title": title,
        "form": form,
        "label": "Add it" if is_new else "Keep it",
        "cancel_url": reverse("labels:printers"),
        "stocks": Stock.objects.all(),
        "printer": None if is_new else printer,
    }
    return render(request, "labels/printer.html", context, status=422 if form.errors else 200)


def _row(printer: Printer) -> dict[str, object]:
    name, dpi, off, on = COLUMNS
    cells = [
        name | {"text": printer.name},
        dpi | {"text": str(printer.dpi)},
        off | {"text": off_words(printer)},
        on | {"text": ", ".join(stock.name for stock in printer.stocks.all())},
    ]
    return {"url": reverse("labels:printer", args=[printer.pk]), "cells": cells}
