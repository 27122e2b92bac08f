"""One answer for several things at once: all that are listed, but for those whose tick was taken away."""

import re
import uuid
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe
from django_htmx.http import reswap, retarget

from breeding.rounds.tasks import next_words
from breeding.words.ages import plural
from breeding.words.names import name_parts
from nursery.forms.base import ActForm, Sending
from nursery.links import next_url, several_undo_url
from nursery.models import Act, LivingThing
from nursery.pages import ActPage
from nursery.records import registry
from nursery.records.core import Contradiction, NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.telling import tell
from nursery.records.together import acts_of, recorded_together, undone_together
from nursery.site import fetch, pages, round_rows, several
from nursery.site.views import answered
from nursery.site.views.act import section_of
from nursery.views.guards import may_record, posted, thing_or_404
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent

NOTHING_TICKED = "Tick at least one, or there is nothing to record."
TOO_MANY = f"That is more than {several.MOST} at once. Nothing was recorded; answer them in parts, by bench or tray."
SENT_BEFORE = "This page was answered before, with another list or another answer. Look at what is recorded now."


@dataclass(frozen=True)
class Tab:
    """The way down to one batch of a long page."""

    label: str
    url: str
    current: bool = False
    count: None = None


@dataclass(frozen=True)
class Sent:
    """One answer as it was posted: which page takes it, which things it is about, which were on the page."""

    page: ActPage
    things: list[LivingThing]
    listed: list[LivingThing]


@may_record
@require_safe
def at_place(request: HttpRequest, pk: int) -> HttpResponse:
    """What stands at a place, by kind and by what is asked of it."""
    place = thing_or_404("places", pk)
    found = several.batches(several.at_place(place), timezone.localdate())
    return _page(request, found, title=f"Several at {place.name}", here=request.get_full_path())


@may_record
@require_safe
def of_sowing(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """The open pots of one sowing, or of one split."""
    act = get_object_or_404(Act, pk=pk, kind__in=("sown", "sowing_planned", "pot_split"))
    found = several.batches(several.of_sowing(act.pk), timezone.localdate())
    lot = registry.instance_of(act.thing)
    title = "Pots of one split" if act.kind == "pot_split" else "Pots of one sowing"
    return _page(request, found, title=title, here=request.get_full_path(), name=name_parts(lot))


@may_record
@posted(form_on="round")
def answer(request: HttpRequest, slug: str, act: str) -> HttpResponse:
    """Record one answer of every thing that is ticked."""
    sent = _sent(request, slug, act)
    if not sent.things or len(sent.listed) > several.MOST:
        return _again(request, sent, TOO_MANY if sent.things else NOTHING_TICKED)
    forms = [sent.page.form(request.POST, thing=thing) for thing in sent.things]
    wrong = next((form for form in forms if not form.is_valid()), None)
    if wrong is not None:
        return _again(request, sent, " ".join(one for errors in wrong.errors.values() for one in errors))
    objections = _not_yet_seen(request, forms)
    if objections:
        return _again(request, sent, objections=objections)
    return _record(request, sent, forms)


@may_record
@require_POST
def undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take back all that one tap recorded."""
    acts = list(acts_of(pk))
    if not acts:
        raise Http404("Nothing was recorded under this address.")
    try:
        undone_together(act=NewAct(id=act_id_sent(request), **signed(request)), submit=pk)
    except Refused as refused:
        return _undo_refused(request, acts, refused)
    words = f"Undone: {words_of(acts)}"
    if request.htmx:
        things = fetch.listed(fetch.things(acts[0].thing.kind).filter(pk__in=[act.thing_id for act in acts]))
        return answered.undone(request, answered.Done(words, "", "", "", pk, tuple(name_parts(things[0]))), things)
    messages.success(request, f"{words}.")
    return redirect(next_url(request, otherwise="/"))


def words_of(acts: list[Act]) -> str:
    """What one tap recorded: "6 seed pots: seedlings looked for: nothing yet (today)"."""
    kind = registry.thing_kind(acts[0].thing.kind).words
    return f"{plural(len(acts), kind)}: {tell(acts[0])}"


def _sent(request: HttpRequest, slug: str, act: str) -> Sent:
    kind = fetch.kind_of_slug(slug)
    page = pages.page_on(kind.code, act)
    if kind.code not in several.KINDS or page.births:
        raise Http404("This is recorded one by one.")
    ticked, listed = (_numbers(request.POST.getlist(name)) for name in ("things", "listed"))
    rows = fetch.listed(fetch.things(kind.code).filter(pk__in=ticked | listed).order_by("pk")[: several.MOST + 1])
    return Sent(page, [row for row in rows if row.pk in ticked], rows)


def _numbers(ids: list[str]) -> set[int]:
    return {int(text) for text in ids if re.fullmatch(r"\d{1,18}", text, re.ASCII)}


def _not_yet_seen(request: HttpRequest, forms: list[ActForm]) -> list[Contradiction]:
    """Each contradiction once, until the person has seen all and says that it was so; none for what came before."""
    found = {one.code: one for form in forms for one in form.contradictions()}
    seen = set(request.POST.getlist("objections_seen")) if request.POST.get("anyway") else set()
    asks = found.keys() - seen and not acts_of(act_id_sent(request))
    return list(found.values()) if asks else []


def _record(request: HttpRequest, sent: Sent, forms: list[ActForm]) -> HttpResponse:
    form_of = {form.thing.pk: form for form in forms}

    def record(thing: LivingThing, id: uuid.UUID) -> Act:
        form = form_of[thing.pk]
        return form.record(form.new_act(Sending(id, **signed(request))))

    try:
        acts = recorded_together(submit=act_id_sent(request), things=sent.things, record=record)
    except Refused as refused:
        return _again(request, sent, " ".join([refused.sentence, *refused.reasons]))
    except AlreadySent:
        return _again(request, sent, SENT_BEFORE)
    if request.htmx:
        return render(request, "parts/_done.html", {"done": _done(request, acts)})
    answered.remember(request, acts[0])
    return redirect(next_url(request, otherwise="/"))


def _done(request: HttpRequest, acts: list[Act]) -> answered.Done:
    thing = registry.instance_of(acts[0].thing)
    return answered.Done(
        words=words_of(acts),
        next=next_words(thing, timezone.localdate()),
        url="",
        undo_url=several_undo_url(act_id_sent(request)),
        undo_id=uuid.uuid4(),
        name_parts=tuple(name_parts(thing)),
        rows=tuple(round_rows.names_sent(request)),
        walk=round_rows.walk_sent(request),
    )


def _undo_refused(request: HttpRequest, acts: list[Act], refused: Refused) -> HttpResponse:
    sentence = " ".join([refused.sentence, *refused.reasons])
    if request.htmx:
        done = answered.Done(words_of(acts), sentence, "", "", acts[0].pk)
        return render(request, "parts/_done.html", {"done": done})
    messages.error(request, sentence)
    return redirect(next_url(request, otherwise="/"))


def _again(
    request: HttpRequest, sent: Sent, error: str = "", *, objections: list[Contradiction] | None = None
) -> HttpResponse:
    """The things of the page with the ticks as they were, and what is wrong or has to be looked at again."""
    ticked = {thing.pk for thing in sent.things}
    found = several.batches(sent.listed, timezone.localdate(), ticked=ticked)
    here = next_url(request, otherwise="/")
    values = [(name, value) for name, many in request.POST.lists() if name not in NOT_VALUES for value in many]
    more = {"error": error, "objections": objections, "values": values, "action": request.path, "ticked": sent.things}
    response = _page(request, found, title=sent.page.title, here=here, status=422, **more)
    return reswap(retarget(response, "body"), "innerHTML") if request.htmx else response


NOT_VALUES = {"act_id", "csrfmiddlewaretoken", "things", "listed", "next", "objections_seen", "anyway"}


def _page(request: HttpRequest, found: list[several.Batch], *, status: int = 200, **more: Any) -> HttpResponse:
    section = section_of(found[0].kind) if found else "round"
    tabs = [Tab(batch.title, f"#{batch.anchor}") for batch in found] if len(found) > 1 else []
    shown = {
        "section": section,
        "batches": found,
        "tabs": tabs,
        "limit": several.limit_met(found),
        "act_id": act_id_sent(request),
    } | more
    return render(request, "round/several.html", shown, status=status)
