"""The nursery's printers, what each is off by, and the page of rulers to measure it with."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods, require_safe

from labels import records
from labels.forms import PrinterForm
from labels.models import Printer, Stock
from labels.rulers import rulers_page
from nursery.forms.refusals import taken
from nursery.views.guards import may_record, owners

COLUMNS = ({"label": "Printer"}, {"label": "Off by"}, {"label": "Prints on"})


@owners
@require_safe
def printers(request: HttpRequest) -> HttpResponse:
    context = {
        "section": "labels",
        "title": "Printers",
        "lead": "What each is off by, so that labels are drawn where the stock has them. A stock names its printer.",
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
    """Rulers for one stock, with what its printer is said to be off by taken off: right if they begin at the edges."""
    stock = get_object_or_404(Stock, pk=pk)
    across, down = (stock.printer.across, stock.printer.down) if stock.printer else (0, 0)
    pdf = rulers_page(stock.measures, across=float(across), down=float(down))
    name = f"rulers-{slugify(stock.name) or stock.pk}.pdf"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(pdf, content_type="application/pdf", headers=headers)


def _form_page(request: HttpRequest, printer: Printer, title: str) -> HttpResponse:
    form = PrinterForm(request.POST or None, instance=printer)
    is_new = printer.pk is None
    kept = request.method == "POST" and taken(
        form, lambda: records.printer_kept(by=request.user, printer=form.instance)
    )
    if kept:
        messages.success(request, f"“{form.instance}” is kept. Name it on the page of each stock that it prints.")
        return redirect("labels:printers")
    context = {
        "section": "labels",
        "title": title,
        "form": form,
        "label": "Add it" if is_new else "Keep it",
        "cancel_url": reverse("labels:printers"),
        "stocks": Stock.objects.all(),
    }
    return render(request, "labels/printer.html", context, status=422 if form.errors else 200)


def _row(printer: Printer) -> dict[str, object]:
    name, off, on = COLUMNS
    cells = [
        name | {"text": printer.name},
        off | {"text": f"{float(printer.across):+g} mm across, {float(printer.down):+g} mm down"},
        on | {"text": ", ".join(stock.name for stock in printer.stocks.all())},
    ]
    return {"url": reverse("labels:printer", args=[printer.pk]), "cells": cells}
