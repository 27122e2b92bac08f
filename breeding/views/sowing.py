"""Planning a sowing at the desk: seed in turn, pots and what they take, then pots with numbers."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from breeding.care import care_of
from breeding.records.sowing import sowing_planned
from breeding.science.sowing import SOURCES
from breeding.sowing.plan import Plan
from nursery.links import thing_url
from nursery.models import Act
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.views.guards import may_record
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent

CHANGED = "The plan changed since its totals were shown. Look at them once more."
OTHER_VALUES = "This plan was made before with other values. It stands under Sowings; what is below is not made yet."


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def plan(request: HttpRequest) -> HttpResponse:
    """``do=make`` makes it, once its totals were shown; any other POST works them out and makes nothing."""
    today = timezone.localdate()
    if request.method != "POST":
        return _page(request, Plan(None, today))
    make = request.POST.get("do") == "make"
    planned = Plan(request.POST, today, anew=not make)
    if not planned.is_valid:
        return _page(request, planned, status=422)
    if not make:
        return _page(request, planned, totals=bool(planned.taken))
    if planned.taken and request.POST.get("shown") != planned.shown:
        messages.error(request, CHANGED)
        return _page(request, Plan(request.POST, today), totals=True)
    return _made(request, planned)


def _made(request: HttpRequest, planned: Plan) -> HttpResponse:
    new = NewAct(id=act_id_sent(request), **signed(request))
    try:
        act = sowing_planned(act=new, lines=planned.lines, **planned.form.facts())
    except Refused as refused:
        field = refused.field if refused.field in planned.form.fields else None
        planned.form.add_error(field, refused.sentence)
        return _page(request, planned, totals=bool(planned.taken), status=422)
    except AlreadySent:
        messages.error(request, OTHER_VALUES)
        return _page(request, planned, totals=True, act_id=uuid.uuid4(), status=409)
    return _to_session(request, act)


def _to_session(request: HttpRequest, act: Act) -> HttpResponse:
    request.session["undo"] = str(act.pk)
    return redirect(thing_url(registry.instance_of(act.thing)))


def _page(
    request: HttpRequest, planned: Plan, *, totals: bool = False, act_id: uuid.UUID | None = None, status: int = 200
) -> HttpResponse:
    context = {
        "section": "seed",
        "plan": planned,
        "totals": planned.totals_words if totals else [],
        "sources": SOURCES,
        "cautions": care_of("sowing_planned"),
        "act_id": act_id or request.POST.get("act_id") or uuid.uuid4(),
    }
    return render(request, "sowing/plan.html", context, status=status)
