"""The first owner, whom nobody can add from within."""

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from nursery.models import Person
from nursery.records.errors import Refused


def refuse_second(*, another: bool) -> None:
    """Refuse where an owner is there to add people from within, unless another one is asked for."""
    first = Person.objects.filter(role=Person.Role.OWNER, is_active=True).order_by("pk").first()
    if first is not None and not another:
        raise Refused(
            "owner_exists",
            f"{first} is owner already and can add people under Office. "
            "To add an owner from here all the same, say --another.",
        )


@transaction.atomic
def owner_add(*, name: str, password: str) -> Person:
    """Add an owner with a password that is not too easy.

    Raises:
        Refused: the name is empty or taken, or the password is weak; the sentence says which.
    """
    try:
        validate_password(password, Person(name=name.strip()))
        return Person.objects.create_user(name=name, password=password, role=Person.Role.OWNER)
    except ValidationError as error:
        raise Refused("owner_invalid", " ".join(error.messages)) from error
