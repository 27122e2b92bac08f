"""What was recorded and does not fit together: taken as told, and waiting for somebody to look."""

import uuid
from dataclasses import dataclass, replace

from django.contrib import messages
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from breeding.words.ages import plural
from nursery.links import undo_url
from nursery.models import Act, Flag, NeedsALook, Person
from nursery.records import outbox, rights
from nursery.records.flags import open_flags
from nursery.records.telling import tell
from nursery.site import stories
from nursery.site.cards.parts import Link
from nursery.site.held_rows import held_rows
from nursery.site.named import Named, named
from nursery.site.repairs import Offer, offers
from nursery.site.views.journal import with_words
from nursery.views.guards import may_record, signed_in
from nursery.views.hands import hands

MOST = 100
TOGETHER = "parent_redetermined"
"""Flags of this reason come by the dozen, one for each thing, and are looked at together."""


@dataclass(frozen=True)
class Row:
    """One contradiction with the act that brought it, and what may be done; empty addresses where nothing may."""

    sentence: str
    thing: Named | None
    words: str
    who: str
    settle_url: str = ""
    settle_id: uuid.UUID | None = None
    correct_url: str = ""
    undo_url: str = ""
    undo_id: uuid.UUID | None = None
    links: tuple[Link, ...] = ()
    offers: tuple[Offer, ...] = ()
    settle_label: str = "It was so"
    anchor: str = ""


@signed_in
@require_safe
def sort_out(request: HttpRequest) -> HttpResponse:
    flags = open_flags().exclude(code=TOGETHER)
    rows = rows_for(list(flags.select_related("thing", "act")[:MOST]), hands(request))
    more = max(0, flags.count() - MOST) if len(rows) == MOST else 0
    rows += redetermined(hands(request))
    here = reverse("sort-out")
    shown = {"section": "office", "rows": rows, "more": more, "here": here, "held": held_rows(request.user)}
    return render(request, "office/sort_out.html", shown)


@may_record
@require_POST
def held_settle(request: HttpRequest, pk: int) -> HttpResponse:
    """Say that what a phone sent, and could not be recorded, needs nothing more. It is kept all the same."""
    row = outbox.looked_at(by=request.user, row=get_object_or_404(NeedsALook, pk=pk))
    messages.success(request, f"Looked at. It is kept, out of the way: {row.sentence}")
    return redirect("sort-out")


def rows_for(flags: list[Flag], person: Person) -> list[Row]:
    acts = {act.pk: act for act in with_words({flag.act for flag in flags})}
    things = named(flag.thing for flag in flags)
    return [_row(flag, acts[flag.act_id], things.get(flag.thing_id), person) for flag in flags]


def redetermined(person: Person) -> list[Row]:
    """One row for each redetermination, however many things bear the clone's name."""
    waiting = open_flags().filter(code=TOGETHER).order_by().values("act").annotate(count=Count("pk"))
    counts = {row["act"]: row["count"] for row in waiting}
    acts = with_words(Act.objects.filter(pk__in=counts).order_by("recorded_at")[:MOST])
    things = named(act.thing for act in acts)
    return [_of_redetermination(act, counts[act.pk], things.get(act.thing_id), person) for act in acts]


def _of_redetermination(act: Act, count: int, thing: Named | None, person: Person) -> Row:
    sentence = f"Redetermined: {plural(count, 'thing')} that came of it may need a new tag."
    trace = Link("What came of it", reverse("downstream", args=[act.thing_id]))
    told = Row(sentence, thing, tell(act), act.by.name, links=(trace,))
    if not person.may_record:
        return told
    printing = Link("Print their tags", reverse("labels:redetermined", args=[act.pk]))
    settle_url = reverse("settle-all", kwargs={"pk": act.pk, "code": TOGETHER})
    links = (trace, printing)
    told = replace(told, links=links, settle_label="Nothing more is needed")
    return replace(told, settle_url=settle_url, settle_id=uuid.uuid4(), **_repairs(act, person))


def _row(flag: Flag, act: Act, thing: Named | None, person: Person) -> Row:
    told = Row(flag.sentence, thing, tell(act), act.by.name)
    if not person.may_record:
        return told
    settle_url = reverse("settle", kwargs={"pk": flag.pk})
    repairs = _repairs(act, person)
    told = replace(told, anchor=f"flag-{flag.pk}", offers=offers(flag, act, may_correct=bool(repairs)))
    if repairs.get("correct_url"):
        repairs["correct_url"] = f"{repairs['correct_url']}?flag={flag.pk}&next={reverse('sort-out')}"
    return replace(told, settle_url=settle_url, settle_id=uuid.uuid4(), **repairs)


def _repairs(act: Act, person: Person) -> dict[str, object]:
    """Addresses that undo and correct the act, where this person may."""
    if not rights.may_undo(person, act, timezone.localdate()):
        return {}
    return {"undo_url": undo_url(act), "undo_id": uuid.uuid4(), "correct_url": stories.correct_url(act)}
