"""What a stocktake found, with a way to settle each difference."""

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.days import Day
from nursery.links import act_url, thing_url
from nursery.models import Act
from nursery.site.stocktakes import found
from nursery.views.guards import signed_in


@signed_in
@require_safe
def stocktake(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    acts = Act.objects.select_related("thing__place__inside", "stocktake", "by", "voided_by")
    act = get_object_or_404(acts, pk=pk, kind="stocktake")
    today = timezone.localdate()
    result = found(act, today, may_record=request.user.may_record)
    context = {
        "section": "office",
        "place": result.place,
        "place_url": thing_url(result.place),
        "again_url": act_url(result.place, "stocktake") if request.user.may_record else "",
        "day": Day(act.day_first, act.day_last, act.said).words(today),
        "who": act.by.name,
        "undone": hasattr(act, "voided_by"),
        "found": result,
        "here": reverse("stocktake", args=[act.pk]),
    }
    return render(request, "things/stocktake.html", context)
