"""Planning a sowing at the desk: seed in turn, pots and what they take, then pots with numbers."""

import uuid
from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from breeding.care import care_of
from breeding.records.contradictions.sowing import planning_contradictions
from breeding.records.sowing import sowing_planned
from breeding.science.sowing import SOURCES
from breeding.sowing.plan import Plan
from nursery.days import Day
from nursery.links import thing_url
from nursery.models import Act
from nursery.records import registry
from nursery.records.core import Contradiction, NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.views.guards import may_record
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent

CHANGED = "The plan changed since its totals were shown. Look at them once more."
OTHER_VALUES = "This plan was made before with other values. It stands under Sowings; what is below is not made yet."


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def plan(request: HttpRequest) -> HttpResponse:
    """``do=make`` makes it, once its totals were shown; any other POST works them out and makes nothing.

    What contradicts the books is asked about once; ``anyway=yes`` makes it all the same.
    """
    today = timezone.localdate()
    if request.method != "POST":
        return _page(request, Plan(None, today))
    anyway = request.POST.get("anyway") == "yes"
    make = anyway or request.POST.get("do") == "make"
    planned = Plan(request.POST, today, anew=not make)
    if not planned.is_valid:
        return _page(request, planned, status=422)
    if not make:
        return _page(request, planned, totals=bool(planned.taken))
    if planned.taken and request.POST.get("shown") != planned.shown:
        messages.error(request, CHANGED)
        return _page(request, Plan(request.POST, today), totals=True)
    if planned.taken and not anyway and (objections := _objections(request, planned, today)):
        return _page(request, planned, totals=True, objections=objections, status=422)
    return _made(request, planned)


def _objections(request: HttpRequest, planned: Plan, today: date) -> list[Contradiction]:
    """None for a plan that came before: it is in the books by now."""
    if Act.objects.filter(pk=act_id_sent(request)).exists():
        return []
    return planning_contradictions(planned.form.cleaned_data["planned_for"], day=Day.on(today), today=today)


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
    request: HttpRequest,
    planned: Plan,
    *,
    totals: bool = False,
    objections: list[Contradiction] | None = None,
    act_id: uuid.UUID | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "section": "seed",
        "plan": planned,
        "totals": planned.totals_words if totals else [],
        "objections": objections or [],
        "sources": SOURCES,
        "cautions": care_of("sowing_planned"),
        "act_id": act_id or request.POST.get("act_id") or uuid.uuid4(),
    }
    return render(request, "sowing/plan.html", context, status=status)
