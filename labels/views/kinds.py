"""Which kind of thing is printed on what, as an owner chooses."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from labels.forms import KindStocksForm
from labels.records import kind_stocks_chosen
from nursery.forms.refusals import taken
from nursery.views.guards import owners

LEAD = "A mixed print is sorted by these, each stock by itself. Left open, a kind goes on what it was printed on last."


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def kinds(request: HttpRequest) -> HttpResponse:
    """A stock for each kind of thing that carries a tag."""
    form = KindStocksForm(request.POST or None)
    if request.method == "POST" and taken(form, lambda: _keep(request, form)):
        messages.success(request, "Kept. The next print is sorted so.")
        return redirect("labels:kinds")
    context = {
        "section": "labels",
        "title": "Which kind on what",
        "lead": LEAD,
        "form": form,
        "label": "Keep this",
        "cancel_url": reverse("labels:waiting"),
    }
    return render(request, "things/act.html", context, status=422 if form.errors else 200)


def _keep(request: HttpRequest, form: KindStocksForm) -> bool:
    kind_stocks_chosen(by=request.user, chosen=form.cleaned_data)
    return True
