"""Saving rows so that what cannot be becomes a sentence for people."""

from collections.abc import Iterable, Iterator, Set
from contextlib import contextmanager
from functools import cache

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import IntegrityError
from django.db.models import CheckConstraint, Model

from nursery.records.errors import Refused
from nursery.records.storing import insert, update
from nursery.sentences import ours


def save_valid(row: Model) -> None:
    """Save a row whose columns are sound. What the database itself refuses becomes a sentence too.

    Constraints are left to the database: asking it first costs three statements for each.
    """
    with _wrong_as_refusal():
        _check_columns(row, foreign_keys(type(row)))
    with broken_rule_as_sentence(row):
        if row._state.adding and row.pk is not None:
            insert(row)
        else:
            row.save(force_insert=row._state.adding)


def save_columns(row: Model, names: Iterable[str]) -> None:
    """Save some columns of a stored row; what the database refuses becomes a sentence."""
    with broken_rule_as_sentence(row):
        update(row, names)


@contextmanager
def broken_rule_as_sentence(row: Model) -> Iterator[None]:
    """Refuse in the words of the check that saving this row breaks.

    What must be unique is left to whoever records: another connection may have been quicker, and a second run sees it.
    """
    checks = [one for one in row._meta.constraints if isinstance(one, CheckConstraint)]
    try:
        yield
    except IntegrityError as error:
        broken = next((one for one in checks if one.name in str(error)), None)
        if broken is None:
            raise
        raise Refused("cannot_be", broken.get_violation_error_message()) from error


@cache
def foreign_keys(model: type[Model]) -> frozenset[str]:
    return frozenset(one.name for one in model._meta.concrete_fields if one.is_relation or one.primary_key)


def check_row(row: Model) -> None:
    """Run the column checks and constraints of a row, so that a person gets a sentence and not a database error."""
    with _wrong_as_refusal():
        _check_columns(row)
        row.validate_constraints()


def _check_columns(row: Model, exclude: Set[str] = frozenset()) -> None:
    may_be_empty = {name for name, attname in _optional(type(row)) if getattr(row, attname) in (None, "", {})}
    row.clean_fields(exclude=exclude | may_be_empty)


@contextmanager
def _wrong_as_refusal() -> Iterator[None]:
    """Refuse with the first sentence that a check of Django's found, beside its field where it has one."""
    try:
        yield
    except ValidationError as error:
        name, found = next(iter(error.error_dict.items()))
        field = None if name == NON_FIELD_ERRORS else name
        raise Refused("cannot_be", ours(found[0]).messages[0], field=field) from error


@cache
def _optional(model: type[Model]) -> tuple[tuple[str, str], ...]:
    """The columns that may be left out: their names, and those of their attributes."""
    columns = [one for one in model._meta.concrete_fields if one.null or one.has_default()]
    return tuple((one.name, one.attname) for one in columns)
