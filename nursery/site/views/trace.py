"""From one plant to all that a virus may have reached by it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.words.names import name_parts
from nursery.links import thing_url
from nursery.site import fetch
from nursery.site.quarantine import quarantine_notices
from nursery.site.traces.cuts import cuts
from nursery.site.traces.near import near
from nursery.site.traces.offspring import offspring
from nursery.views.guards import signed_in


@signed_in
@require_safe
def trace(request: HttpRequest, pk: int) -> HttpResponse:
    plant = fetch.thing_or_404("plant", pk)
    today = timezone.localdate()
    context = {
        "section": "plants",
        "name_parts": name_parts(plant),
        "number": plant.number,
        "back_url": thing_url(plant),
        "notices": quarantine_notices(plant, today),
        "near": near(plant, today),
        "offspring": offspring(plant, today),
        "cut": cuts(plant, today),
    }
    return render(request, "things/trace.html", context)
