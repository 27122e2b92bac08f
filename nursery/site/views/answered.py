"""What a person sees when an act is recorded: the words of it, what comes next, and how to take it back."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from breeding.rounds.naming import sub_words
from breeding.rounds.tasks import next_words
from breeding.words.names import name_parts
from nursery.links import TagsMade, next_url, photo_url, tags_made, thing_url, undo_url
from nursery.models import Act, LivingThing
from nursery.records import registry
from nursery.records.numbers import current_numbers
from nursery.records.telling import tell
from nursery.site import round_rows


@dataclass(frozen=True)
class Done:
    words: str
    next: str
    url: str
    undo_url: str
    undo_id: uuid.UUID
    name_parts: tuple = ()
    photo_url: str = ""
    rows: tuple[str, ...] = ()
    walk: str = ""
    number: int | None = None
    sub: str = ""
    made: TagsMade = TagsMade()


def done(act: Act, *, page: str, rows: Sequence[str] = (), walk: str = "") -> Done:
    """``page`` is where it was answered, ``rows`` the names of its rows that this is about, ``walk`` of the form that
    walks past their bench."""
    thing = registry.instance_of(act.thing)
    return Done(
        words=tell(act),
        next=next_words(thing, timezone.localdate()),
        url=thing_url(thing),
        undo_url="" if act.kind == "void" else undo_url(act),
        undo_id=uuid.uuid4(),
        photo_url=photo_url(act, back=page),
        rows=tuple(rows),
        walk=walk,
        made=tags_made(act),
        **_which(thing),
    )


def _which(thing: LivingThing) -> dict[str, Any]:
    """What a line calls a thing: twins of one cross stand side by side."""
    number = current_numbers([thing]).get(thing.pk)
    return {"name_parts": tuple(name_parts(thing)), "sub": sub_words(thing), "number": number}


def row(request: HttpRequest, act: Act) -> HttpResponse:
    """The answered row of the round, for htmx to put in its place, with what is asked next below it, and the other rows
    of the page that it changes."""
    names = round_rows.names_sent(request)
    others, following = round_rows.rows_after(names) if names else ([], [])
    rows = [*names, *(task.row for task in following)]
    told = done(act, page=request.htmx.current_url_abs_path or "", rows=rows, walk=round_rows.walk_sent(request))
    return changed(request, done=told, others=others, following=following)


def changed(request: HttpRequest, *, done: Done | None = None, **rows: Any) -> HttpResponse:
    """What htmx puts in the place of an answered row, and in those of the others it changes."""
    where = {"next": next_url(request, otherwise=""), "walk": round_rows.walk_sent(request)}
    return render(request, "round/_changed.html", {"done": done} | where | rows)


def undone(request: HttpRequest, done: Done, things: list[LivingThing] | None = None) -> HttpResponse:
    """The rows as they are without what was undone; where the answered one asks nothing again, ``done`` says so.

    ``things`` where one row was about several.
    """
    names = round_rows.names_sent(request)
    rows = round_rows.rows_of(names, things) if names else []
    own = rows if things else rows[:1]
    back = [row.task for row in own if row.task]
    return changed(
        request, done=None if back else done, back=back, said=f"{done.words}.", others=[] if things else rows[1:]
    )


def remember(request: HttpRequest, act: Act) -> None:
    """Let the next page show this act in its strip, with Undo."""
    request.session["undo"] = str(act.pk)


def done_undoing(void: Act, target: Act) -> Done:
    thing = registry.instance_of(target.thing)
    return Done(
        f"Undone: {tell(target)}",
        next_words(thing, timezone.localdate()),
        thing_url(thing),
        "",
        void.pk,
        **_which(thing),
    )


def done_refused(target: Act, sentence: str) -> Done:
    """Still there, with why it cannot be undone."""
    thing = registry.instance_of(target.thing)
    return Done(tell(target), sentence, thing_url(thing), "", target.pk, **_which(thing))
