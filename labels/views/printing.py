"""A sheet under way: a last look, the PDF, and the word that it came out right.

Only that word marks tags as printed; what the printer did, only a person can see. Until then is noted only which labels
of a sheet are laid out, so that whoever prints at the same time is told.
"""

import uuid
from collections.abc import Callable, Sequence
from dataclasses import replace
from tempfile import SpooledTemporaryFile
from typing import IO, Any, TypeVar
from urllib.parse import urlencode

from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from labels import contents
from labels.carries import carries
from labels.codes import AddressUnfit, grouped
from labels.forms import PrintForm, RightForm
from labels.grouping import OnStock, on_stocks
from labels.laid_out import laid_out, laid_out_on, printed_meanwhile
from labels.left import SheetNote, sheet_note
from labels.models import LaidOut, Printing
from labels.queue import sowing_of, uuid_in
from labels.records import printed
from labels.sheets import CannotPrint, Group, Lost, lost_on, print_groups
from labels.views import choosing
from labels.views.addresses import address_of, cautions
from nursery.links import thing_url
from nursery.views.guards import may_record, posted

Made = TypeVar("Made")
MOST_NUMBERS = 5

IN_MEMORY = 1_000_000
"""Bytes of a PDF that may be in memory while it is made and sent; the rest is in a file without a name."""


@may_record
@posted(form_on="labels:waiting")
def sheet(request: HttpRequest) -> HttpResponse:
    """What will be printed, what does not fit, and where to get it; with ``choose`` back to the choice, as it was."""
    form = PrintForm(request.POST)
    if "choose" in request.POST:
        return _choose_again(request, form, status=200)
    groups = _groups(form)
    lost = _unless_refused(request, form, groups, lost_on)
    return _choose_again(request, form) if lost is None else _last_look(request, form, groups, lost)


@may_record
@posted(form_on="labels:waiting")
@never_cache
def pdf(request: HttpRequest) -> HttpResponse:
    """The PDF, opened to be printed, or with ``save`` to be kept; with ``only`` that of one stock.

    Marks nothing as printed, so it may be asked for again.
    """
    form = PrintForm(request.POST)
    groups = _groups(form, only=request.POST.get("only", ""))
    file = _unless_refused(request, form, groups, _pdf)
    if file is None:
        return _choose_again(request, form)
    if look := uuid_in(request.POST.get("look", "")):
        laid_out(by=request.user, look=look, groups=groups)
    name = f"labels-{timezone.localdate():%Y-%m-%d}.pdf"
    kept = "save" in request.POST
    return FileResponse(file, as_attachment=kept, filename=name, content_type="application/pdf")


@may_record
@require_POST
def right(request: HttpRequest) -> HttpResponse:
    """These came out right: they are printed. Those unticked wait on; after the tags of a sowing it is shown again."""
    form = RightForm(request.POST)
    form.full_clean()
    if not form.cleaned_data.get("numbers"):
        messages.warning(request, "Nothing was ticked, so these labels still wait to be printed.")
        return redirect("labels:waiting")
    address = address_of(request)
    laid = laid_out_on(form.cleaned_data.get("printing"))
    prints = [one | {"laid": laid.get(one["stock"] and one["stock"].pk)} for one in form.prints()]
    count = sum(printed(by=request.user, address=address, **one) for one in prints)
    messages.success(request, f"{count} {'tag is' if count == 1 else 'tags are'} marked as printed.")
    for one in laid.values():
        if other := printed_meanwhile(one):
            messages.warning(request, _both_words(one, other))
    if session := sowing_of(form.cleaned_data["numbers"]):
        return redirect(thing_url(session))
    stock = form.cleaned_data.get("stock")
    return redirect(f"{reverse('labels:waiting')}?{urlencode({'stock': stock.pk})}" if stock else "labels:waiting")


def _both_words(laid: LaidOut, other: Printing) -> str:
    return (
        f"{other.by} printed on sheets of “{laid.stock}” at {timezone.localtime(other.at):%H:%M}, after yours were "
        "laid out. Look which labels of the sheet left over are free before the next print."
    )


def _choose_again(request: HttpRequest, form: PrintForm, *, status: int = 422) -> HttpResponse:
    return choosing.page(request, choosing.ticks_again(request), form=form, status=status)


def _groups(form: PrintForm, *, only: str = "") -> list[OnStock]:
    """The tags by stock, of one stock alone or of all; none when the form is refused."""
    if not form.is_valid():
        return []
    groups = on_stocks(form, contents.tagged(form.cleaned_data["numbers"]))
    return [group for group in groups if only in ("", str(group.stock.pk))]


def _unless_refused(
    request: HttpRequest, form: PrintForm, groups: list[OnStock], make: Callable[[Sequence[Group]], Made]
) -> Made | None:
    """What is made of the labels; None when the choice is refused, with the reason in the form."""
    if not form.is_valid():
        return None
    try:
        return make([group.drawn(address_of(request)) for group in groups])
    except CannotPrint:
        form.add_error(None, "None of these tags was ever made here. Load the page again.")
    except AddressUnfit as error:
        form.add_error(None, f"{error} An owner sets it in Office.")
    return None


def _pdf(groups: Sequence[Group]) -> IO[bytes]:
    """The PDF at its beginning, ready to be sent."""
    file = SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115 - whoever sends it closes it
    try:
        print_groups(groups, file)
    except BaseException:
        file.close()
        raise
    file.seek(0)
    return file


def _last_look(request: HttpRequest, form: PrintForm, groups: list[OnStock], lost: Lost) -> HttpResponse:
    look = uuid.uuid4()
    others = laid_out(by=request.user, look=look, groups=groups)
    groups = [replace(group, note=_note(form, group, others)) if group.is_sheet else group for group in groups]
    labels = sum(group.labels for group in groups)
    tags = [tag for group in groups for tag in group.tags]
    context: dict[str, Any] = {
        "section": "labels",
        "title": f"{labels} {'label' if labels == 1 else 'labels'}",
        "tags": tags,
        "groups": groups,
        "formulas": any(tag.is_formula for tag in tags),
        "chosen": form.cleaned_data,
        "carried": [(group, carries(group.measures, address_of(request))) for group in groups],
        "kept": _kept(form, groups),
        "printing_id": look,
        "cautions": cautions(request),
        "cut": _cut(lost),
        "replaced": " ".join(lost.signs),
    }
    return render(request, "labels/sheet.html", context)


def _note(form: PrintForm, group: OnStock, others: dict[int, list[LaidOut]]) -> SheetNote:
    return sheet_note(
        first=group.first,
        places=group.measures.per_page,
        left=form.left_on(group.stock),
        others=others[group.stock.pk],
    )


def _kept(form: PrintForm, groups: list[OnStock]) -> list[tuple[str, Any]]:
    """What was chosen, name and value, so that the next post says it again: all on one stock, or each kind on its own.

    The first free labels are said on the page itself.
    """
    how: list[tuple[str, Any]] = [("copies", form.cleaned_data["copies"])]
    how += [("buried", "on")] if form.cleaned_data["buried"] else []
    how += [(f"printer_{group.stock.pk}", group.printer_value) for group in groups]
    if len(groups) == 1:
        return [*how, ("stock", groups[0].stock.pk)]
    kinds = {tag.kind: group.stock.pk for group in groups for tag in group.tags}
    return [*how, *((f"on_{kind}", pk) for kind, pk in kinds.items())]


def _cut(lost: Lost) -> list[str]:
    """One sentence for each wording that is cut, with the numbers of the labels that lose it."""
    by_words: dict[str, list[str]] = {}
    for number, words in dict.fromkeys(lost.words):
        by_words.setdefault(words, []).append(grouped(number))
    return [f"“{words}” on {_some(numbers)}." for words, numbers in by_words.items()]


def _some(numbers: list[str]) -> str:
    """The first few, and how many more."""
    shown = ", ".join(numbers[:MOST_NUMBERS])
    more = len(numbers) - MOST_NUMBERS
    return f"{shown} and {more} more" if more > 0 else shown
