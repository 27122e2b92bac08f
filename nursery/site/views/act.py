"""Recording an act: one view for every kind, by its page (``nursery/site/pages.py``)."""

import uuid
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods
from django_htmx.http import reswap, retarget

from breeding.records.contradictions.spikes import SEX_IN_DOUBT
from breeding.rounds.remarks import newest_remarks
from breeding.words.names import name_parts
from nursery.cautions import cautions_for
from nursery.forms.base import ActForm, Sending
from nursery.links import next_url, thing_url
from nursery.lookups import LARGEST_ID
from nursery.models import Act, Flag, LivingThing
from nursery.pages import ActPage
from nursery.records import registry, rights
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.flags import open_flags
from nursery.records.repairs import repaired
from nursery.site import pages
from nursery.site.correcting import OtherThing, other_thing
from nursery.site.views import answered, sent_twice
from nursery.views import held
from nursery.views.guards import may_record, thing_or_404
from nursery.views.hands import hands, signed
from nursery.views.sent import act_id_sent

SENT_BEFORE = "This was recorded before, and counts once. To record one more like it, open the form anew."
CORRECT = "Correct it"
"""On the button of a correction: what it records is no second act."""
UNDONE_SINCE = "This was recorded before and undone since. To record it after all, open the form anew."


@dataclass(frozen=True)
class Task:
    """What one request is about: the page, the thing it stands on, the act it corrects and the flag it puts right."""

    page: ActPage
    thing: LivingThing | None = None
    corrects: Act | None = None
    flag: Flag | None = None


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def on_thing(request: HttpRequest, slug: str, pk: int, act: str) -> HttpResponse:
    """Something done to, or seen of, a thing."""
    thing = thing_or_404(slug, pk)
    return _handle(request, Task(pages.page_on(thing.kind, act), thing, flag=flag_asked(request)))


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, slug: str) -> HttpResponse:
    """Something entered that belongs to nothing entered yet."""
    return _handle(request, Task(pages.new_page(slug)))


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def correct(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say an act again, right: the old one is undone and the new one takes its place."""
    old = get_object_or_404(Act, pk=pk)
    page = pages.page_correcting(old)
    if page is None:
        raise Http404("This record can be undone, but not corrected.")
    if not rights.may_undo(hands(request), old, timezone.localdate()):
        raise PermissionDenied("Somebody else recorded this on another day. Ask them or an owner.")
    return _handle(request, Task(page, _meant(request, page.stands_on(old)), old, flag_asked(request)))


def _held(posted: QueryDict, page: ActPage, thing: LivingThing | None, corrects: Act | None = None) -> held.Told:
    """What was posted while signed out, in the words of its form."""
    form = page.form(posted, thing=thing, corrects=corrects)
    other = other_thing(thing, posted) if corrects else None
    if corrects:
        _as_correction(form, other)
    return held.Told(_title(page, corrects), tuple(name_parts(thing)) if thing else (), held.rows_of(form, posted))


def _held_on_thing(posted: QueryDict, *, slug: str, pk: int, act: str) -> held.Told:
    thing = thing_or_404(slug, pk)
    return _held(posted, pages.page_on(thing.kind, act), thing)


def _held_correction(posted: QueryDict, *, pk: uuid.UUID) -> held.Told:
    old = get_object_or_404(Act, pk=pk)
    page = pages.page_correcting(old)
    if page is None:
        raise Http404("This record can be undone, but not corrected.")
    return _held(posted, page, page.stands_on(old), old)


on_thing.tells_held = _held_on_thing
new.tells_held = lambda posted, *, slug: _held(posted, pages.new_page(slug), None)
correct.tells_held = _held_correction


def _title(page: ActPage, corrects: Act | None) -> str:
    return f"Correct: {page.title.lower()}" if corrects else page.title


def _meant(request: HttpRequest, told_of: LivingThing | None) -> LivingThing | None:
    """The thing that a correction is told of: the same one, or by ``?on=`` another one of its kind."""
    asked = request.GET.get("on", "")
    if told_of is None or not (asked.isascii() and asked.isdigit() and len(asked) < 20):
        return told_of
    return get_object_or_404(type(told_of), pk=min(int(asked), LARGEST_ID))


def flag_asked(request: HttpRequest) -> Flag | None:
    """The flag that an act puts right, by ``?flag=``."""
    asked = request.GET.get("flag", "")
    if not (asked.isascii() and asked.isdigit() and len(asked) < 20):
        return None
    return get_object_or_404(Flag.objects.select_related("thing"), pk=min(int(asked), LARGEST_ID))


def _handle(request: HttpRequest, task: Task) -> HttpResponse:
    form = _sent_form(request, task) if request.method == "POST" else _empty_form(request, task)
    if not form.is_bound:
        return _form_page(request, task, form)
    if not form.is_valid():
        return _form_page(request, task, form, status=422)
    objections = _not_yet_seen(request, form)
    if objections:
        return _form_page(request, task, form, objections=objections, status=422)
    return _record(request, task, form)


def _record(request: HttpRequest, task: Task, form: ActForm) -> HttpResponse:
    sending = Sending(act_id_sent(request), **signed(request))
    arrived = timezone.now()
    try:
        act = _recorded(task, form, form.new_act(sending))
    except Refused as refused:
        form.add_refusal(refused)
        return _form_page(request, task, form, status=422)
    except AlreadySent as error:
        return sent_twice.page(request, form, kept=error.act, act_kind=task.page.act_kind)
    if request.htmx:
        return answered.row(request, act)
    answered.remember(request, act)
    if act.recorded_at < arrived:
        messages.info(request, UNDONE_SINCE if hasattr(act, "voided_by") else SENT_BEFORE)
    return redirect(_where_next(request, task, act))


def _recorded(task: Task, form: ActForm, new: NewAct) -> Act:
    return repaired(act=new, flag=task.flag, record=form.record) if task.flag else form.record(new)


def _not_yet_seen(request: HttpRequest, form: ActForm) -> list:
    """Contradictions to ask about: all, until the person has seen each of them and says that it was so.

    None for a form that came before: what it said is in the books by now, and would contradict itself.
    """
    seen = set(request.POST.getlist("objections_seen")) if request.POST.get("anyway") else set()
    found = form.contradictions()
    asks = {one.code for one in found} - seen and not Act.objects.filter(pk=act_id_sent(request)).exists()
    return found if asks else []


def _where_next(request: HttpRequest, task: Task, act: Act) -> str:
    """What was made is shown, so that its tag can be written; after all else the way back is the way on."""
    if task.page.after:
        return task.page.after(act)
    url = thing_url(registry.instance_of(act.thing))
    return url if task.page.births else next_url(request, otherwise=url)


def _empty_form(request: HttpRequest, task: Task) -> ActForm:
    form_class = task.page.form
    told = form_class.initial_from(task.corrects) if task.corrects else {}
    initial = told | request.GET.dict()
    form = form_class(thing=task.thing, corrects=task.corrects, initial=initial)
    if task.corrects:
        _as_correction(form, other_thing(task.thing))
    return form


def _sent_form(request: HttpRequest, task: Task) -> ActForm:
    other = other_thing(task.thing, request.POST) if task.corrects else None
    thing = other.right_one if other else task.thing
    form = task.page.form(request.POST, files=request.FILES, thing=thing, corrects=task.corrects)
    if task.corrects:
        _as_correction(form, other)
    if other:
        other.tell_errors(form)
    return form


def _as_correction(form: ActForm, other: OtherThing | None) -> None:
    """A correction keeps the tag that the thing has, and may say that it was another thing."""
    form.fields.pop("tag", None)
    if other:
        other.put_into(form)


def _form_page(
    request: HttpRequest, task: Task, form: ActForm, *, objections: Any = (), status: int = 200
) -> HttpResponse:
    thing = task.thing
    context = {
        "form": form,
        "files": form.is_multipart(),
        "title": _title(task.page, task.corrects),
        "label": CORRECT if task.corrects else task.page.button,
        "lead": task.page.lead,
        "cautions": cautions_for(*task.page.caution),
        "act_id": request.POST.get("act_id") or uuid.uuid4(),
        "objections": objections,
        "cancel_url": next_url(request, otherwise=thing_url(thing) if thing else "/"),
        "next": next_url(request, otherwise=""),
        "section": section_of(task.page.births or (thing.kind if thing else "")),
    }
    if thing:
        tag = thing.thing.tags.filter(retired=False).first()
        words = registry.thing_kind(thing.kind).words
        context |= {"name_parts": name_parts(thing), "number": tag and tag.number, "kind_words": words}
        context["doubts"] = _doubts(task)
        context["remark"] = newest_remarks(timezone.localdate()).get(thing.pk)
    response = render(request, "things/act.html", context, status=status)
    if request.htmx:
        # A quick answer that needs a word more becomes the whole page.
        return reswap(retarget(response, "body"), "innerHTML")
    return response


def _doubts(task: Task) -> list[str]:
    """What makes it doubtful that this spike takes pollen or gives it, where it is about to."""
    if task.page.act_kind not in {"pollinated", "pollen_collected"}:
        return []
    spike = task.thing if task.thing.kind == "spike" else task.thing.spike
    said = open_flags().filter(thing=spike.pk, code__in=SEX_IN_DOUBT).values_list("sentence", flat=True)
    return list(dict.fromkeys(said))


def section_of(kind: str) -> str:
    """Which part of the navigation a kind of thing stands in."""
    sections = {"plant": "plants", "clone": "plants", "spike": "plants", "place": "office", "routine": "office"}
    return sections.get(kind, "seed" if kind in {"seedlot", "seedpot", "sowingsession"} else "crosses")
