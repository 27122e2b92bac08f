"""People and their ways in. Owners add, change and deactivate; nobody is deleted."""

import hashlib
import secrets
from datetime import timedelta

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from nursery.models import Person, SignInCode
from nursery.records import rights, rows
from nursery.records.errors import Refused

CODE_LASTS = timedelta(minutes=10)
CODE_LETTERS = "ACDEFGHJKLMNPQRTUVWXY34679"
CODE_LENGTH = 8


@transaction.atomic
def person_added(*, by: Person, name: str, role: str, password: str = "") -> Person:
    """Add a person; without a password they sign in by a code."""
    rights.must_be_owner(by)
    person = Person(name=name.strip(), role=role)
    _set_password(person, password)
    rows.check_row(person)
    person.save()
    return person


@transaction.atomic
def person_changed(*, by: Person, person: Person, name: str, role: str, is_active: bool, password: str = "") -> Person:
    """Change a person. The last active owner stays an owner, or nobody could let anybody in."""
    rights.must_be_owner(by)
    person = _held_with_every_owner(person)
    if person.is_owner and not (is_active and role == Person.Role.OWNER):
        _must_not_be_the_last_owner(person)
    person.name, person.role, person.is_active = name.strip(), role, is_active
    if password:
        _set_password(person, password)
    rows.check_row(person)
    person.save()
    return person


@transaction.atomic
def own_password_set(*, by: Person, password: str) -> Person:
    """Everybody sets their own password; whether they know the old one is for the view to ask."""
    person = Person.objects.select_for_update().get(pk=by.pk)
    _set_password(person, password)
    person.save(update_fields=["password"])
    return person


@transaction.atomic
def signed_out_everywhere(*, by: Person, person: Person) -> Person:
    """End every session of a person, known to us or not. Everybody may do so for themselves, an owner for others."""
    if by != person:
        rights.must_be_owner(by)
    row = Person.objects.select_for_update().get(pk=person.pk)
    row.signed_out_times += 1
    row.save(update_fields=["signed_out_times"])
    return row


@transaction.atomic
def code_shown(*, by: Person, person: Person) -> str:
    """Make a sign-in code for a person and return it; only its hash is kept, and earlier unused ones end."""
    rights.must_be_owner(by)
    if not person.is_active:
        raise Refused("not_active", f"{person} is not active. Make them active first.")
    now = timezone.now()
    SignInCode.objects.filter(person=person, used_at__isnull=True).update(used_at=now)
    code = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
    SignInCode.objects.create(person=person, code_hash=code_hash(code), shown_by=by, expires_at=now + CODE_LASTS)
    return code


@transaction.atomic
def code_used(*, code: str) -> Person | None:
    """The person whose code this is, once and within ten minutes; else None."""
    # Locked before it is used: an UPDATE that looks at the person's table as well is not checked again after a wait.
    rows = SignInCode.objects.select_for_update(of=("self",)).select_related("person")
    now = timezone.now()
    row = rows.filter(code_hash=code_hash(code), used_at=None, expires_at__gt=now, person__is_active=True).first()
    if row is None:
        return None
    row.used_at = now
    row.save(update_fields=["used_at"])
    return row.person


def code_hash(code: str) -> str:
    """Hash of a code as typed: spaces, hyphens and letter case do not count."""
    plain = code.upper().replace(" ", "").replace("-", "")
    return hashlib.sha256(plain.encode()).hexdigest()


def _set_password(person: Person, password: str) -> None:
    if not password:
        person.set_unusable_password()
        return
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise Refused("weak_password", error.messages[0], field="password") from error
    person.set_password(password)


def _held_with_every_owner(person: Person) -> Person:
    """The person, read afresh. All owners stay locked with them, or two could step down at once and leave none."""
    wanted = Q(pk=person.pk) | Q(role=Person.Role.OWNER)
    rows = {row.pk: row for row in Person.objects.select_for_update().filter(wanted).order_by("pk")}
    return rows[person.pk]


def _must_not_be_the_last_owner(person: Person) -> None:
    others = Person.objects.filter(role=Person.Role.OWNER, is_active=True).exclude(pk=person.pk)
    if not others.exists():
        raise Refused("last_owner", "This is the only owner. Make somebody else an owner first.", field="role")
