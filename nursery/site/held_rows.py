"""What phones sent and could not be recorded, as rows of the page To sort out."""

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.http import Http404
from django.urls import reverse
from django.utils import timezone

from nursery.links import act_url
from nursery.models import NeedsALook, Person
from nursery.records.outbox import waiting
from nursery.site import pages
from nursery.site.named import Named, named
from nursery.site.outbox import reading

MOST = 50
LONGEST = 200


@dataclass(frozen=True)
class HeldRow:
    """One sending that nobody looked at yet: why it was not taken, what it says, and what may be done."""

    sentence: str
    thing: Named | None
    words: str
    told: tuple[tuple[str, str], ...]
    who: str
    settle_url: str = ""
    enter_url: str = ""


def held_rows(person: Person) -> list[HeldRow]:
    rows = list(waiting().select_related("thing", "hands", "sender")[:MOST])
    things = named(row.thing for row in rows if row.thing)
    return [_row(row, things.get(row.thing_id), person) for row in rows]


def _row(row: NeedsALook, thing: Named | None, person: Person) -> HeldRow:
    sent = json.loads(row.sent)
    may = person.may_record
    return HeldRow(
        sentence=row.sentence,
        thing=thing,
        words=_what(sent),
        told=tuple(_told(sent)),
        who=_who(row),
        settle_url=reverse("held-settle", args=[row.pk]) if may else "",
        enter_url=_enter_url(row, sent) if may else "",
    )


def _who(row: NeedsALook) -> str:
    hands = row.hands or row.sender
    phone = f", on the phone of {row.sender}" if hands != row.sender else ""
    return f"{hands}{phone}, received {timezone.localtime(row.received_at):%-d %b, %H:%M}"


def _what(sent: Any) -> str:
    """The title of the form it was meant for, or what came in its place."""
    act = sent.get("act") if isinstance(sent, dict) else sent
    page = next((page for page in pages.ALL if page.slug == act), None)
    return page.title if page else str(act)[:LONGEST]


def _told(sent: Any) -> list[tuple[str, str]]:
    """What was tapped, as label and value."""
    if not isinstance(sent, dict):
        return []
    values = sent.get("values")
    pairs = list(values.items()) if isinstance(values, dict) else [("values", values)] if values else []
    shown = [("tapped", _moment(sent.get("tapped_at"))), ("tag", sent.get("tag")), *pairs]
    return [(name.replace("_", " ")[:40], str(value)[:LONGEST]) for name, value in shown if value not in (None, "")]


def _moment(text: Any) -> str:
    """Day and time of a tap as people say them; what is no moment, as it came."""
    try:
        said = datetime.fromisoformat(text)
    except (TypeError, ValueError):
        return str(text or "")
    local = timezone.localtime(said) if said.tzinfo else said
    return f"{local:%-d %b %Y, %H:%M}" if ":" in text else f"{local:%-d %b %Y}"


def _enter_url(row: NeedsALook, sent: Any) -> str:
    """The form that it was meant for, with what was told filled in; empty where there is no such form."""
    try:
        tap = reading.read(sent)
        page = pages.page_on(tap.thing.kind, tap.act) if tap.thing is not None else pages.new_page(tap.act)
    except (reading.Unreadable, Http404):
        return ""
    url = act_url(tap.thing, page.slug) if tap.thing is not None else reverse("new", args=[page.slug])
    day = {"day_said": "on", "day_on": min(tap.day, timezone.localdate()).isoformat()}
    query = urlencode(day | tap.values.dict() | {"next": reverse("sort-out")})
    return f"{url}?{query}"
