"""What a person sees when an act is recorded: the words of it, what comes next, and how to take it back."""

import uuid
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from breeding.rounds.tasks import next_words
from breeding.words.names import name_parts
from nursery.links import photo_url, thing_url, undo_url
from nursery.models import Act
from nursery.records import registry
from nursery.records.telling import tell


@dataclass(frozen=True)
class Done:
    words: str
    next: str
    url: str
    undo_url: str
    undo_id: uuid.UUID
    name_parts: tuple = ()
    photo_url: str = ""


def done(act: Act, *, page: str) -> Done:
    """``page`` is where it was answered."""
    thing = registry.instance_of(act.thing)
    return Done(
        words=tell(act),
        next=next_words(thing, timezone.localdate()),
        url=thing_url(thing),
        undo_url="" if act.kind == "void" else undo_url(act),
        undo_id=uuid.uuid4(),
        name_parts=tuple(name_parts(thing)),
        photo_url=photo_url(act, back=page),
    )


def row(request: HttpRequest, act: Act) -> HttpResponse:
    """The answered row of the round, for htmx to put in its place."""
    return render(request, "parts/_done.html", {"done": done(act, page=request.htmx.current_url_abs_path or "")})


def remember(request: HttpRequest, act: Act) -> None:
    """Let the next page show this act in its strip, with Undo."""
    request.session["undo"] = str(act.pk)


def done_undoing(void: Act, target: Act) -> Done:
    thing = registry.instance_of(target.thing)
    return Done(f"Undone: {tell(target)}", next_words(thing, timezone.localdate()), thing_url(thing), "", void.pk)


def done_refused(target: Act, sentence: str) -> Done:
    """Still there, with why it cannot be undone."""
    thing = registry.instance_of(target.thing)
    return Done(tell(target), sentence, thing_url(thing), "", target.pk)
