"""Taking an act back, and saying that a contradiction needs nothing more."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.html import conditional_escape, format_html
from django.utils.safestring import SafeString
from django.views.decorators.http import require_POST

from nursery.links import next_url, thing_url
from nursery.models import Act, Flag
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.flags import flag_settled, flags_settled
from nursery.records.telling import tell
from nursery.records.undo import undone
from nursery.records.versions import id_told_again
from nursery.site.views import answered
from nursery.views.guards import may_record
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent


@may_record
@require_POST
def undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Undo one act; with htmx its row says so, else the thing's page does."""
    target = get_object_or_404(Act, pk=pk)
    try:
        void = undone(act=NewAct(id=act_id_sent(request), **signed(request)), target=target)
    except (Refused, AlreadySent) as error:
        return _refused(request, target, error)
    if request.htmx:
        return answered.undone(request, answered.done_undoing(void, target))
    again = Act.objects.filter(pk=id_told_again(void.pk)).first()
    since = f" Again on record: {tell(again)}." if again else ""
    messages.success(request, f"Undone: {tell(target)}.{since}")
    return redirect(next_url(request, otherwise=_url_after(target)))


@may_record
@require_POST
def settle(request: HttpRequest, pk: int) -> HttpResponse:
    """Say that a flag was looked into."""
    flag = get_object_or_404(Flag.objects.select_related("thing"), pk=pk)
    where = next_url(request, otherwise=thing_url(registry.instance_of(flag.thing)))
    try:
        act = flag_settled(act=NewAct(id=act_id_sent(request), **signed(request)), flag=flag)
    except (Refused, AlreadySent) as error:
        messages.error(request, str(error))
        return redirect(where)
    answered.remember(request, act)
    return redirect(where)


@may_record
@require_POST
def settle_all(request: HttpRequest, pk: uuid.UUID, code: str) -> HttpResponse:
    """Say that all flags of one reason that one act brought were looked into."""
    brought_by = get_object_or_404(Act.objects.distinct(), pk=pk, flags__code=code)
    where = next_url(request, otherwise=_url_after(brought_by))
    try:
        act = flags_settled(act=NewAct(id=act_id_sent(request), **signed(request)), brought_by=brought_by, code=code)
    except (Refused, AlreadySent) as error:
        messages.error(request, str(error))
        return redirect(where)
    answered.remember(request, act)
    return redirect(where)


def _refused(request: HttpRequest, target: Act, error: Refused | AlreadySent) -> HttpResponse:
    sentence = _with_the_way(error)
    if request.htmx:
        return render(request, "parts/_done.html", {"done": answered.done_refused(target, sentence)})
    messages.error(request, sentence)
    return redirect(next_url(request, otherwise=_url_after(target)))


def _with_the_way(error: Refused | AlreadySent) -> SafeString:
    """What stands against it, and a link to where that is told if it is another thing's page."""
    told = conditional_escape(" ".join([str(error), "; ".join(getattr(error, "reasons", []))]).rstrip())
    about = getattr(error, "about", None)
    if about is None:
        return told
    words = registry.thing_kind(about.kind).words
    return format_html('{} <a href="{}">Open the {}</a>', told, thing_url(about), words)


def _url_after(target: Act) -> str:
    return thing_url(registry.instance_of(target.thing))
