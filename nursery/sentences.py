"""Our sentences in place of Django's own: each says what to do. No form or row names them one by one."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.functional import Promise

CHOOSE_AGAIN = "What was chosen is not offered here, or not any more. Choose again."
SAID = {
    "null": "Write something here.",
    "blank": "Write something here.",
    "max_value": "Give %(limit_value)s or less.",
    "min_value": "Give %(limit_value)s or more.",
    "max_length": "Write at most %(limit_value)s characters; these are %(show_value)s.",
    "min_length": "Write at least %(limit_value)s characters; these are %(show_value)s.",
    "max_digits": "Write at most %(max)s digits.",
    "max_decimal_places": "Write at most %(max)s digits behind the point.",
    "max_whole_digits": "Write at most %(max)s digits before the point.",
    "invalid_choice": CHOOSE_AGAIN,
    "invalid_list": CHOOSE_AGAIN,
    "invalid_pk_value": CHOOSE_AGAIN,
    "null_characters_not_allowed": "There is a sign in it that cannot be kept. Type it once more.",
    "missing": "The file did not arrive. Choose it again.",
    "empty": "This file is empty. Choose another.",
    "contradiction": "Choose a file or take it away, not both.",
    "unique": "Another one is called so already. Write it otherwise.",
    "invalid": "This cannot be read as it stands. Write it otherwise.",
}
"""By Django's code. What the kind of field says better stands below."""
REQUIRED = (
    (forms.BooleanField, "Tick this to go on."),
    (forms.FileField, "Choose a file."),
    (forms.MultipleChoiceField, "Tick at least one."),
    (forms.ModelMultipleChoiceField, "Tick at least one."),
    (forms.ChoiceField, "Choose one."),
    (forms.ModelChoiceField, "Choose one."),
    (forms.IntegerField, "Give a number."),
    (forms.DateField, "Say which day."),
    (forms.DateTimeField, "Say which day, and what time."),
    (forms.Field, "Write something here."),
)
INVALID = (
    (forms.FileField, SAID["missing"]),
    (forms.DecimalField, "Write a number, for example 1 or 0.5."),
    (forms.FloatField, "Write a number, for example 1 or 0.5."),
    (forms.IntegerField, "Write a whole number."),
    (forms.DateField, "Write the day as year-month-day, for example 2026-03-09."),
    (forms.DateTimeField, "Write the day and the time, for example 2026-03-09 14:00."),
    (forms.UUIDField, "This page cannot be read any more. Load it again."),
)
"""The first kind that a field is of counts: numbers with a point are a kind of whole number to Django."""
COLUMNS_HOLD = frozenset(2**bits - 1 for bits in (15, 31, 63))
"""The most that a column holds, on either database: no number to tell anybody."""


def ours(error: ValidationError, field: forms.Field | None = None) -> ValidationError:
    """One error as we say it; as it is where it is ours, which Django's translatable ones never are."""
    if not isinstance(error.message, Promise) or not (said := _said(error, field)):
        return error
    return ValidationError(said, code=error.code, params=error.params)


def _said(error: ValidationError, field: forms.Field | None) -> str | None:
    code = error.code
    if code == "max_value" and error.params["limit_value"] in COLUMNS_HOLD:
        return "This number is too large."
    if code in {"required", "min_value", "max_value"} and (bounds := _bounds(field)):
        return bounds
    by_kind = {"required": REQUIRED, "invalid": INVALID}.get(code, ())
    return next((said for kind, said in by_kind if isinstance(field, kind)), SAID.get(code))


def _bounds(field: forms.Field | None) -> str | None:
    least, most = (getattr(field, name, None) for name in ("min_value", "max_value"))
    return None if least is None or most is None or most in COLUMNS_HOLD else f"Give a number from {least} to {most}."
