"""A sowing session at the bench: pot after pot, and what becomes of those that were not sown."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from breeding.care import care_of
from breeding.forms.sowing_close import SowingCloseForm
from breeding.models import SeedPot, SowingSession
from breeding.sowing.at_the_bench import bench_of, waiting_pots
from breeding.views.walk import listed_ids
from breeding.words.ages import plural
from breeding.words.names import name_parts
from nursery.forms.base import Sending
from nursery.links import thing_url
from nursery.models import LivingThing
from nursery.records.errors import AlreadySent, Refused
from nursery.records.flags import open_flags
from nursery.records.together import recorded_together
from nursery.views.guards import may_record
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent

TOLD = "Moss, bleach, alcohol, heat"
"""From the second pot on, so that pot and button are seen without scrolling on a phone of 360 × 560 px."""

ANOTHER_LIST = "This page was answered before, with another list. What waits now is listed below."


@may_record
@require_safe
def bench(request: HttpRequest, pk: int) -> HttpResponse:
    """One cross at a time; ``lot`` asks for one, ``after`` is the pot that was sown last."""
    session = get_object_or_404(SowingSession, pk=pk, cancelled=False)
    after = _asked(request, "after")
    context = {
        "section": "seed",
        "session": session,
        "session_url": thing_url(session),
        "progress": f"{session.pots_sown} of {plural(session.pots_planned, 'pot')} sown",
        "bench": bench_of(session, lot=_asked(request, "lot"), after=after),
        "doubts": open_flags().filter(act__kind="pot_sown", act__thing=after) if after else [],
        "cautions": care_of("pot_sown"),
        "folded": TOLD if after else "",
        "act_id": uuid.uuid4(),
        "here": request.path,
    }
    return render(request, "sowing/bench.html", context)


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def close(request: HttpRequest, pk: int) -> HttpResponse:
    """Clear the pots that the page listed, all by one tap; one that was sown meanwhile stays as it is."""
    session = get_object_or_404(SowingSession, pk=pk, cancelled=False)
    if request.method != "POST":
        return _close_page(request, session, SowingCloseForm())
    form = SowingCloseForm(request.POST)
    if not form.is_valid():
        return _close_page(request, session, form, status=422)
    return _closed(request, session, form)


def _closed(request: HttpRequest, session: SowingSession, form: SowingCloseForm) -> HttpResponse:
    listed = SeedPot.objects.filter(session=session, pk__in=listed_ids(request.POST.getlist("things")))
    pots, submit = [pot for pot in listed if pot.unsown], act_id_sent(request)
    who = signed(request)
    try:
        acts = recorded_together(
            submit=submit, things=pots, record=lambda pot, id: form.record_of(pot, form.new_act(Sending(id, **who)))
        )
    except Refused as refused:
        form.add_refusal(refused)
        return _close_page(request, session, form, status=422)
    except AlreadySent:
        messages.error(request, ANOTHER_LIST)
        return _close_page(request, session, form, act_id=uuid.uuid4(), status=409)
    _tell(request, sown_meanwhile=len(listed) - len(pots))
    if acts:
        request.session["undo"] = str(acts[0].pk)
    return redirect(thing_url(session))


def _tell(request: HttpRequest, *, sown_meanwhile: int) -> None:
    if sown_meanwhile:
        verb = "was" if sown_meanwhile == 1 else "were"
        messages.info(request, f"{plural(sown_meanwhile, 'pot')} {verb} sown meanwhile, and counted as sown.")


def _close_page(
    request: HttpRequest,
    session: SowingSession,
    form: SowingCloseForm,
    *,
    act_id: uuid.UUID | None = None,
    status: int = 200,
) -> HttpResponse:
    context: dict[str, Any] = {
        "section": "seed",
        "form": form,
        "pots": [_listed(pot) for pot in waiting_pots(session)],
        "cautions": care_of("pot_cleared"),
        "act_id": act_id or request.POST.get("act_id") or uuid.uuid4(),
        "cancel_url": thing_url(session),
        "name": name_parts(session)[0].text,
    }
    return render(request, "sowing/close.html", context, status=status)


def _listed(pot: LivingThing) -> dict[str, Any]:
    return {"pk": pot.pk, "number": pot.number, "name_parts": name_parts(pot), "url": thing_url(pot)}


def _asked(request: HttpRequest, name: str) -> int | None:
    found = listed_ids([request.GET.get(name, "")])
    return next(iter(found), None)
