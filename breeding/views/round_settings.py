"""What the round may take and what it asks; for owners."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from breeding.forms.round import RoundForm
from breeding.rounds.switched import switches
from nursery.forms.refusals import taken
from nursery.models import House
from nursery.records import house as records
from nursery.views.guards import owners
from nursery.views.office.pages import form_page

LEAD = (
    "A new nursery is asked six kinds of question; the others come by themselves with the first thing that they are "
    "about. Switch off what you never want to be asked."
)


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def round_settings(request: HttpRequest) -> HttpResponse:
    house, kinds = records.house(), switches()
    now = {
        "minutes_a_day": house.minutes_a_day,
        "looks_on": house.looks_on or list(range(7)),
        "kinds": [one.kind.code for one in kinds if one.on],
    }
    waits = {one.kind.code: one.waits for one in kinds}
    form = RoundForm(request.POST if request.method == "POST" else None, initial=now, waits=waits)
    if request.method == "POST":
        changed = taken(form, lambda: _change(request, form))
        if changed is not None:
            messages.success(request, "Kept. The round follows it from now on.")
            return redirect("round-settings")
    return form_page(request, form, title="Round", label="Keep this", cancel_url=reverse("office"), lead=LEAD)


def _change(request: HttpRequest, form: RoundForm) -> House:
    told = form.cleaned_data
    return records.round_changed(
        by=request.user, minutes_a_day=told["minutes_a_day"], tasks_off=form.tasks_off(), looks_on=told["looks_on"]
    )
