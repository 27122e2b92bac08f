"""What every page needs, worked out only if its template asks."""

import uuid
from typing import Any

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject
from django.utils.text import Truncator

from nursery.links import photo_url, several_undo_url, tags_made, thing_url, undo_url
from nursery.models import Act, LivingThing
from nursery.records import registry
from nursery.records.house import house
from nursery.records.numbers import current_numbers
from nursery.records.tags import tag_before
from nursery.records.telling import tell
from nursery.records.together import acts_of, submit_of
from nursery.records.versions import stands_again
from nursery.records.watching import walked_words
from nursery.templatetags.tepal import plate
from nursery.views.hands import strip

LONGEST_STRIP = 120
"""Letters of an act in the strip, which stands above its story: a long remark is told there."""


def frame(request: HttpRequest) -> dict[str, Any]:
    """The nursery's name and whether it is the demo; the act just recorded, with its Undo, once; whose hands."""
    return {
        "house": SimpleLazyObject(house),
        "undo": SimpleLazyObject(lambda: _undo_strip(request)),
        "hands_strip": SimpleLazyObject(lambda: strip(request)),
    }


def _undo_strip(request: HttpRequest) -> dict[str, Any]:
    """Empty where nothing was just recorded."""
    pk = request.session.pop("undo", None)
    act = Act.objects.filter(pk=pk, voided_by__isnull=True).first() if pk else None
    if act is None:
        return {}
    here = request.get_full_path() if request.method == "GET" else ""
    submit = submit_of(act)
    shown = _one(act, request, here) if submit is None else _several(act, submit)
    made = tags_made(act)
    shown |= {"print_words": made.print_words, "print_url": made.print_url}
    return shown | {"act_id": uuid.uuid4(), "next": here}


def _one(act: Act, request: HttpRequest, here: str) -> dict[str, str]:
    return {
        "words": Truncator(tell(act)).chars(LONGEST_STRIP),
        "about": _about(act, request),
        "means": "Undo brings back what was recorded before." if stands_again(act) else "",
        "url": undo_url(act),
        "photo_url": photo_url(act, back=here),
    }


def _several(act: Act, submit: uuid.UUID) -> dict[str, str]:
    """One tap recorded this act and others, and one undo takes all of them back."""
    count, kind = acts_of(submit).count(), registry.thing_kind(act.thing.kind).words
    return {"words": tell(act), "about": f"{count} {kind}{'' if count == 1 else 's'}", "url": several_undo_url(submit)}


def _about(act: Act, request: HttpRequest) -> str:
    """What was acted on, with its number; empty on its own page, which says it already."""
    if act.kind == "walked_past":
        return walked_words(act)
    thing = registry.instance_of(act.thing)
    return ". ".join(filter(None, ("" if request.path == thing_url(thing) else _named(thing), _in_place_of(act))))


def _named(thing: LivingThing) -> str:
    return ", ".join(filter(None, (str(thing), plate(current_numbers([thing]).get(thing.pk)))))


def _in_place_of(act: Act) -> str:
    """The tag that a thing had before this one was put on it."""
    old = tag_before(act) if act.kind == "tag_bound" else None
    return f"In place of {plate(old.number)}, which still opens it when it is found" if old else ""
