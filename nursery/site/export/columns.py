"""Columns from a model's fields: their heading, what they mean, what they hold, and how their values are read."""

import json
from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import Any

from django.db import models

from nursery.site.export.sheet import Column

MEANINGS = {
    "act": "The act.",
    "at": "The time of day, where it was told.",
    "by": "Who did it.",
    "bytes": "The size of its file, in bytes.",
    "cancelled": "Whether the act that made it was undone.",
    "closed_until": "Until when a house is closed, as a person typed it from a product's label.",
    "missed": "What was listed at a stocktake and not seen.",
    "product": "The product of a treatment, as its label names it.",
    "quarantine_on": "The first day on which it can have been in quarantine.",
    "quarantine_last": "The last day on which it can have been put there.",
    "quarantine_said": "How that day was told: exact, week, month, season or year.",
    "closed_first": "The first day on which it can have ended; empty where that day is not known.",
    "closed_on": (
        "The last day on which it can have ended: over, harvested, gone, finished or no longer watched."
        " Where that day is not known, the one on which it was told."
    ),
    "closed_said": "How that day was told: exact, week, month, season, year or unknown.",
    "closed_why": "Why it ended.",
    "last_look": "The latest day on which somebody looked.",
    "last_seen": "What was seen then, as a code.",
    "later_until": "Postponed: asked for again on this day.",
    "note": "A note beside it.",
    "place": "Where it stood or stands.",
    "sha256": "The name of its file, which is the SHA-256 of its content: media/photos/NAME.jpg in a backup.",
    "words": "In somebody's words.",
}
"""For columns whose model has no help text of its own, by name."""


def fields_of(model: type[models.Model], *, besides: Collection[str] = ()) -> list[models.Field]:
    """The stored fields of a model in their order, those that list several other rows last."""
    fields = [*model._meta.concrete_fields, *model._meta.many_to_many]
    return [field for field in fields if field.name not in besides]


def column_of(field: models.Field) -> Column:
    return Column(heading_of(field), meaning_of(field), holds(field))


def columns_of(fields: Iterable[models.Field], *, behind: Collection[Column]) -> tuple[Column, ...]:
    """The columns of these fields, behind others; where two would bear one heading, the later says "own_"."""
    taken = {column.name for column in behind}
    found = [column_of(field) for field in fields]
    return tuple(replace(one, name=f"own_{one.name}") if one.name in taken else one for one in found)


def heading_of(field: models.Field) -> str:
    return f"{field.name}_id" if field.is_relation and not field.many_to_many else field.name


def meaning_of(field: models.Field) -> str:
    words = str(field.help_text) or MEANINGS.get(field.name) or f"{str(field.verbose_name).capitalize()}."
    return words if words.endswith(".") else f"{words}."


def value_of(row: models.Model, field: models.Field) -> Any:
    """The stored value as a cell takes it."""
    if field.many_to_many:
        return sorted(one.pk for one in getattr(row, field.name).all())
    value = getattr(row, field.attname)
    return json.dumps(value, ensure_ascii=False) if isinstance(field, models.JSONField) else value


def holds(field: models.Field) -> str:
    """What kind of value stands in the cells, in words."""
    if field.is_relation:
        words = f"id of a {field.related_model._meta.verbose_name}"
        return f"{words}; of several, with an upright line between" if field.many_to_many else words
    if field.choices:
        return "one of: " + "; ".join(f"{code} ({label})" for code, label in field.flatchoices if code)
    return next((words for kind, words in _HOLDS if isinstance(field, kind)), "words")


_HOLDS: tuple[tuple[type[models.Field], str], ...] = (
    (models.DateTimeField, "a moment, in UTC"),
    (models.DateField, "a day: year-month-day"),
    (models.TimeField, "a time of day"),
    (models.BooleanField, "yes or no; empty where it was not told"),
    (models.UUIDField, "an id"),
    (models.AutoField, "a number"),
    (models.IntegerField, "a whole number"),
    (models.FloatField, "a number"),
    (models.JSONField, "JSON"),
)
