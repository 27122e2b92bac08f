"""One form that came twice with different values: both are shown, nothing is lost."""

import uuid
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django_htmx.http import reswap, retarget

from nursery.forms.base import ActForm
from nursery.links import thing_url
from nursery.models import Act
from nursery.records import registry
from nursery.records.telling import tell

LEFT_OUT = {"act_id", "csrfmiddlewaretoken", "objections_seen", "anyway"}


@dataclass(frozen=True)
class Row:
    label: str
    kept: str
    sent: str

    @property
    def differs(self) -> bool:
        return self.kept != self.sent


def page(request: HttpRequest, form: ActForm, *, kept: Act, act_kind: str) -> HttpResponse:
    """Both versions side by side, and a fresh form (a UUID of its own) that holds the second."""
    context = {
        "rows": rows(form, kept, same_kind=kept.kind == act_kind),
        "story_url": thing_url(registry.instance_of(kept.thing)),
        "action": request.path,
        "pairs": [(name, value) for name, values in form.data.lists() if name not in LEFT_OUT for value in values],
        "act_id": uuid.uuid4(),
    }
    response = render(request, "things/already_sent.html", context, status=409)
    if request.htmx:
        return reswap(retarget(response, "body"), "innerHTML")
    return response


def rows(form: ActForm, kept: Act, *, same_kind: bool) -> list[Row]:
    """The kept act in words, then field by field what both say; an act of another kind has only its words."""
    before = type(form).initial_from(kept) if same_kind else {}
    fields = [
        Row(str(field.label), _words(field, before.get(name, "")), _words(field, field.value()))
        for name, field in ((field.name, field) for field in form.visible_fields())
        if name in before
    ]
    return [Row("What", tell(kept), form.day_meant.words(timezone.localdate())), *fields]


def _words(field, value: Any) -> str:
    """A value as its choice is written on the screen."""
    value = getattr(value, "pk", value)
    choices = {str(key): str(words) for key, words in _flat(getattr(field.field, "choices", ()))}
    return choices.get(str(value), "" if value is None else str(value))


def _flat(choices) -> list[tuple[Any, Any]]:
    return [(key, words) for key, words in choices if not isinstance(words, list | tuple)]
