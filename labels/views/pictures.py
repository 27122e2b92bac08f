"""Labels as pictures: what is about to be printed, and how a stock carries each kind of thing."""

from collections.abc import Callable

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from labels import contents
from labels.codes import AddressUnfit
from labels.examples import EXAMPLES, example
from labels.forms import PrintForm
from labels.grouping import on_stocks
from labels.models import MOST_TO_A_PAGE, Stock
from labels.picture import label_png, page_png
from labels.sheets import Group
from labels.views.addresses import address_of
from nursery.views.guards import may_record


@may_record
@require_safe
def page(request: HttpRequest, pk: int) -> HttpResponse:
    """The first page of these ``numbers`` on this stock from its ``first`` free label on, as a PNG.

    ``copies``, ``buried`` and ``printer`` as the form of the print has them.
    """
    form = PrintForm(request.GET.dict() | {"stock": pk, "numbers": request.GET.getlist("numbers")[:MOST_TO_A_PAGE]})
    groups = on_stocks(form, contents.tagged(form.cleaned_data["numbers"])) if form.is_valid() else []
    if not groups:
        raise Http404("There is nothing to be printed so.")
    return _png(page_png, groups[0].drawn(address_of(request)))


@may_record
@require_safe
def shown(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    """An invented label of a kind of thing on this stock, as a PNG."""
    stock = get_object_or_404(Stock, pk=pk)
    if kind not in EXAMPLES:
        raise Http404("There is no example of that kind.")
    return _png(label_png, Group([example(kind, address_of(request))], stock.measures))


def _png(draw: Callable[[Group], bytes], group: Group) -> HttpResponse:
    try:
        return HttpResponse(draw(group), content_type="image/png", headers={"Cache-Control": "no-store"})
    except AddressUnfit as error:
        raise Http404(str(error)) from error
