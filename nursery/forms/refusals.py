"""A record function's refusal, put beside the field it is about."""

from collections.abc import Callable
from typing import TypeVar

from django import forms

from nursery.records.errors import Refused

Kept = TypeVar("Kept")


def taken(form: forms.Form, record: Callable[[], Kept]) -> Kept | None:
    """What the record function returns for a valid form; None when the form or the function refuses, and says why."""
    if not form.is_valid():
        return None
    try:
        return record()
    except Refused as refused:
        form.add_error(refused.field if refused.field in form.fields else None, [refused.sentence, *refused.reasons])
        return None
