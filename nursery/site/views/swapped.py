"""Two tags that hung on each other's thing: first which and since when, then which records go over with them."""

import uuid
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from nursery.days import Day
from nursery.forms.base import Sending
from nursery.forms.swapped import SwappedForm
from nursery.links import thing_url
from nursery.models import Act, LivingThing, Person
from nursery.records import rights
from nursery.records.again import things_told_of
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.repairs import repaired
from nursery.records.telling import tell
from nursery.site.named import Named, named
from nursery.site.views import answered
from nursery.site.views.act import flag_asked, section_of
from nursery.site.views.journal import with_words
from nursery.views.guards import may_record, thing_or_404
from nursery.views.hands import hands, signed
from nursery.views.sent import act_id_sent


@dataclass(frozen=True)
class Tick:
    """One record that may have come through the wrong tag; ``barred`` where this person may not move it."""

    id: uuid.UUID
    words: str
    who: str
    written: str
    ticked: bool
    barred: bool


@dataclass(frozen=True)
class Side:
    """One of the two things, and what was recorded of it meanwhile."""

    thing: Named
    ticks: list[Tick]


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def swapped(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The first step asks, the second (with ``?number=``) shows what would go over, a post exchanges the tags."""
    thing = thing_or_404(slug, pk)
    if request.method != "POST" and "number" not in request.GET:
        return _asks(request, SwappedForm(thing=thing))
    known = Act.objects.filter(pk=act_id_sent(request), kind="tags_swapped", thing=pk).first()
    form = SwappedForm(request.POST if request.method == "POST" else request.GET, thing=thing, known=known)
    if not form.is_valid():
        return _asks(request, form, status=422)
    through = form.through()
    return _record(request, form, through) if request.method == "POST" else _shows(request, form, through)


def _record(request: HttpRequest, form: SwappedForm, through: list[Act]) -> HttpResponse:
    new = form.new_act(Sending(act_id_sent(request), **signed(request)))
    ticked = request.POST.getlist("moved")
    moved = list(Act.objects.filter(pk__in=_uuids(ticked))) if form.known else _chosen(through, ticked)
    flag = flag_asked(request)

    def record(act: NewAct) -> Act:
        return form.record_with(act, moved)

    try:
        act = repaired(act=new, flag=flag, record=record) if flag else record(new)
    except (Refused, AlreadySent) as error:
        form.add_error(None, str(error))
        return _shows(request, form, through, status=422)
    answered.remember(request, act)
    return redirect("sort-out" if flag else thing_url(form.thing))


def _chosen(through: list[Act], ticked: list[str]) -> list[Act]:
    """The ticked records of those shown; what is no record of these, or was undone meanwhile, is left where it is."""
    return [act for act in through if str(act.pk) in ticked]


def _uuids(texts: list[str]) -> list[uuid.UUID]:
    found = []
    for text in texts:
        try:
            found.append(uuid.UUID(text))
        except ValueError:
            continue
    return found


def _asks(request: HttpRequest, form: SwappedForm, *, status: int = 200) -> HttpResponse:
    form.fields.pop("note", None)
    context = _context(form.thing) | {"form": form, "flag": request.GET.get("flag", "")}
    return render(request, "tags/swapped.html", context, status=status)


def _shows(request: HttpRequest, form: SwappedForm, through: list[Act], *, status: int = 200) -> HttpResponse:
    """Both things with their records; a tick means that it goes over."""
    sent = set(request.POST.getlist("moved")) if request.method == "POST" else None
    acts = with_words(through)
    names = named([form.thing.thing, form.other.thing])
    under = {act.pk: next(iter(things_told_of(act) & names.keys())) for act in through}
    sides = [
        Side(names[pk], [_tick(hands(request), act, form.day_meant, sent) for act in acts if under[act.pk] == pk])
        for pk in (form.thing.pk, form.other.pk)
    ]
    context = _context(form.thing) | {
        "form": form,
        "sides": sides,
        "since": form.day_meant.words(timezone.localdate()) if form.day_meant.is_known else "",
        "values": [(name, form.data.get(name, "")) for name in ("number", "day_said", "day_on")],
        "act_id": request.POST.get("act_id") or uuid.uuid4(),
        "same_kind": form.thing.kind == form.other.kind,
        "barred": any(tick.barred for side in sides for tick in side.ticks),
    }
    return render(request, "tags/swapped_acts.html", context, status=status)


def _tick(person: Person, act: Act, since: Day, sent: set[str] | None) -> Tick:
    """Ticked at first when it was surely written down after the swap."""
    today = timezone.localdate()
    written = timezone.localdate(act.recorded_at)
    barred = not rights.may_undo(person, act, today)
    surely = since.last is not None and written >= since.last
    ticked = not barred and (surely if sent is None else str(act.pk) in sent)
    return Tick(act.pk, tell(act), act.by.name, _written(written, today), ticked, barred)


def _written(day: date, today: date) -> str:
    return f"written down {Day.on(day).words(today)}"


def _context(thing: LivingThing) -> dict[str, Any]:
    return {"section": section_of(thing.kind), "shown": named([thing.thing])[thing.pk], "back_url": thing_url(thing)}
