"""Saving rows so that what cannot be becomes a sentence for people."""

from collections.abc import Iterable, Iterator, Set
from contextlib import contextmanager

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import IntegrityError
from django.db.models import CheckConstraint, Model, UniqueConstraint

from nursery.records.errors import Refused


def save_valid(row: Model) -> None:
    """Save a row whose columns are sound. What the database itself refuses becomes a sentence too.

    Check constraints are left to the database: asking it first costs three statements for each.
    """
    unique = any(isinstance(one, UniqueConstraint) for one in row._meta.constraints)
    check_row(row, exclude=foreign_keys(row), constraints=unique)
    with broken_rule_as_sentence(row):
        row.save(force_insert=row._state.adding)


def save_columns(row: Model, names: Iterable[str]) -> None:
    """Save some columns of a stored row; what the database refuses becomes a sentence."""
    with broken_rule_as_sentence(row):
        row.save(update_fields=names)


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


def foreign_keys(row: Model) -> set[str]:
    return {one.name for one in row._meta.concrete_fields if one.is_relation or one.primary_key}


def check_row(row: Model, *, exclude: Set[str] = frozenset(), constraints: bool = True) -> None:
    """Run the column checks and constraints of a row, so that a person gets a sentence and not a database error."""
    may_be_empty = {
        one.name for one in row._meta.concrete_fields if getattr(row, one.attname) in (None, "", {}) and _optional(one)
    }
    try:
        row.clean_fields(exclude=exclude | may_be_empty)
        if constraints:
            row.validate_constraints()
    except ValidationError as error:
        name, messages = next(iter(error.message_dict.items()))
        raise Refused("cannot_be", messages[0], field=None if name == NON_FIELD_ERRORS else name) from error


def _optional(column) -> bool:
    return column.null or column.has_default()
