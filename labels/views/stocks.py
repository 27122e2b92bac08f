"""What the nursery prints on, by its measures; and a page of outlines to hold against a sheet."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods, require_safe

from labels import records
from labels.codes import AddressUnfit
from labels.examples import EXAMPLES
from labels.models import Printer, Stock
from labels.printers import carried_on
from labels.rulers import outline_page
from labels.stock_forms import StockForm
from labels.views.addresses import address_of
from nursery.forms.refusals import taken
from nursery.views.guards import may_record, owners

COLUMNS = ({"label": "Stock"}, {"label": "Labels"}, {"label": "Printer"}, {"label": "Material"})


@owners
@require_safe
def stocks(request: HttpRequest) -> HttpResponse:
    context = {
        "section": "labels",
        "title": "Label stocks",
        "lead": "Sheets and rolls by their measures, so that any make will do.",
        "add": {"url": reverse("labels:stock-new"), "label": "Add a stock"},
        "columns": COLUMNS,
        "rows": [_row(stock) for stock in Stock.objects.all()],
        "empty": {"icon": "print", "words": "The sheets and rolls that you print on will stand here."},
    }
    return render(request, "things/list.html", context)


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def stock_new(request: HttpRequest) -> HttpResponse:
    return _form_page(request, Stock(), "Add a stock")


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def stock(request: HttpRequest, pk: int) -> HttpResponse:
    return _form_page(request, get_object_or_404(Stock, pk=pk), "Label stock")


@may_record
@require_safe
def outlines(request: HttpRequest, pk: int) -> HttpResponse:
    """The edges of every label, to print on plain paper and hold against the stock before any is wasted."""
    stock = get_object_or_404(Stock, pk=pk)
    name = f"outlines-{slugify(stock.name) or stock.pk}.pdf"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(outline_page(stock.measures), content_type="application/pdf", headers=headers)


def _form_page(request: HttpRequest, stock: Stock, title: str) -> HttpResponse:
    kept = None if stock.pk is None else Stock.objects.get(pk=stock.pk)
    form = StockForm(request.POST or None, instance=stock)
    is_new = stock.pk is None
    if request.method == "POST" and taken(form, lambda: records.stock_kept(by=request.user, stock=form.instance)):
        messages.success(request, f"“{form.instance}” is kept. Print its outlines before you use it.")
        return redirect("labels:stock", pk=form.instance.pk)
    context = {
        "section": "labels",
        "title": title,
        "form": form,
        "label": "Add it" if is_new else "Keep these measures",
        "cancel_url": reverse("labels:stocks"),
        "carried": _carried(request, kept) if kept else [],
        "examples": _examples(kept) if kept else [],
        "outlines_url": "" if is_new else reverse("labels:outlines", args=[stock.pk]),
    }
    return render(request, "labels/stock.html", context, status=422 if form.errors else 200)


def _carried(request: HttpRequest, stock: Stock) -> list[tuple[str, str]]:
    """What it carries by each printer; where the address fits no code, that alone."""
    try:
        return carried_on(stock, list(Printer.objects.all()), address_of(request))
    except AddressUnfit as error:
        return [("", str(error))]


def _examples(stock: Stock) -> list[dict[str, str]]:
    """Of each kind of thing, the words for it and the address of its picture."""
    return [
        {"words": words or "Blank", "url": reverse("labels:shown", args=[stock.pk, kind])}
        for kind, (words, *_) in EXAMPLES.items()
    ]


def _row(stock: Stock) -> dict[str, object]:
    name, labels, printer, material = COLUMNS
    measures = stock.measures
    size = f"{measures.label_width:g} × {measures.label_height:g} mm"
    count = f"{measures.per_page} of " if measures.per_page > 1 else ""
    cells = [
        name | {"text": stock.name},
        labels | {"text": f"{count}{size}"},
        printer | {"text": f"{stock.printer or ''} {stock.measures.dpi} dots an inch".strip()},
        material | {"text": " · ".join(filter(None, (stock.material, stock.get_process_display(), _lasting(stock))))},
    ]
    return {"url": reverse("labels:stock", args=[stock.pk]), "cells": cells}


def _lasting(stock: Stock) -> str:
    """How long its print can be read, in words; empty where nobody knows.

    Told or usual: the form says which. "About", because sun and water decide.
    """
    if stock.lasts is None:
        return ""
    years, months = divmod(stock.lasts, 12)
    if months == 0:
        return f"readable for about {years} {'year' if years == 1 else 'years'}"
    return f"readable for about {stock.lasts} {'month' if stock.lasts == 1 else 'months'}"
