"""A sheet under way: a last look, the PDF, and the word that it came out right.

Only that word marks tags as printed; what the printer did, only a person can see.
"""

import uuid
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from labels import contents
from labels.codes import AddressUnfit, grouped
from labels.forms import PrintForm, RightForm
from labels.models import Stock
from labels.records import printed
from labels.sheets import CannotPrint, Printed, print_labels
from labels.views import choosing
from labels.views.addresses import address_of, cautions
from nursery.views.guards import may_record

MOST_NUMBERS = 5


@may_record
@require_POST
def sheet(request: HttpRequest) -> HttpResponse:
    """What will be printed, what does not fit, and where to get it. Writes nothing."""
    form = PrintForm(request.POST)
    drawn = _drawn(request, form)
    if drawn is None:
        return choosing.page(request, form, choosing.ticks_again(request), status=422)
    return _last_look(request, form, drawn)


@may_record
@require_POST
@never_cache
def pdf(request: HttpRequest) -> HttpResponse:
    """The PDF, to be saved and printed. Writes nothing, so it may be asked for again."""
    form = PrintForm(request.POST)
    drawn = _drawn(request, form)
    if drawn is None:
        return choosing.page(request, form, choosing.ticks_again(request), status=422)
    name = f"labels-{timezone.localdate():%Y-%m-%d}.pdf"
    return HttpResponse(
        drawn.pdf,
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@may_record
@require_POST
def right(request: HttpRequest) -> HttpResponse:
    """These came out right: they are printed. Those unticked wait on, and the rest of the sheet is offered next."""
    form = RightForm(request.POST)
    form.full_clean()
    numbers = form.cleaned_data.get("numbers")
    if not numbers:
        messages.warning(request, "Nothing was ticked, so these labels still wait to be printed.")
        return redirect("labels:waiting")
    count = printed(by=request.user, numbers=numbers, address=address_of(request), **form.of_the_print())
    messages.success(request, f"{count} {'tag is' if count == 1 else 'tags are'} marked as printed.")
    rest = {name: request.POST.get(name, "") for name in ("stock", "first")}
    return redirect(f"{reverse('labels:waiting')}?{urlencode(rest)}")


def _drawn(request: HttpRequest, form: PrintForm) -> Printed | None:
    """The labels drawn; None when the choice was refused, with the reason in the form."""
    if not form.is_valid():
        return None
    chosen = form.cleaned_data
    tags = contents.tagged(chosen["numbers"])
    texts = [tag.text(address_of(request)) for tag in tags for _ in range(chosen["copies"])]
    try:
        return print_labels(texts, chosen["stock"].measures, first=chosen["first"])
    except CannotPrint:
        form.add_error(None, "None of these tags was ever made here. Load the page again.")
    except AddressUnfit as error:
        form.add_error(None, f"{error} An owner sets it in Office.")
    return None


def _last_look(request: HttpRequest, form: PrintForm, drawn: Printed) -> HttpResponse:
    chosen = form.cleaned_data
    tags = contents.tagged(chosen["numbers"])
    context: dict[str, Any] = {
        "section": "labels",
        "title": f"{drawn.labels} {'label' if drawn.labels == 1 else 'labels'}",
        "tags": tags,
        "formulas": any(tag.is_formula for tag in tags),
        "chosen": chosen,
        "printing_id": uuid.uuid4(),
        "lead": _lead(drawn, chosen["stock"]),
        "cautions": cautions(request),
        "cut": _cut(drawn),
        "replaced": " ".join(drawn.replaced),
        "next_first": (chosen["first"] - 1 + drawn.labels) % chosen["stock"].measures.per_page + 1,
    }
    return render(request, "labels/sheet.html", context)


def _lead(drawn: Printed, stock: Stock) -> str:
    if stock.kind == Stock.Kind.ROLL:
        return f"On the roll “{stock}”."
    return f"On {drawn.pages} {'sheet' if drawn.pages == 1 else 'sheets'} of “{stock}”."


def _cut(drawn: Printed) -> list[str]:
    """One sentence for each wording that was cut, with the numbers of the labels that lost it."""
    by_words: dict[str, list[str]] = {}
    for number, words in dict.fromkeys(drawn.cut):
        by_words.setdefault(words, []).append(grouped(number))
    return [f"“{words}” on {_some(numbers)}." for words, numbers in by_words.items()]


def _some(numbers: list[str]) -> str:
    """The first few, and how many more."""
    shown = ", ".join(numbers[:MOST_NUMBERS])
    more = len(numbers) - MOST_NUMBERS
    return f"{shown} and {more} more" if more > 0 else shown
