"""Signing in by a code that an owner shows, beside name and password. Wrong tries count with django-axes as well."""

from django.contrib.auth.backends import ModelBackend
from django.http import HttpRequest

from nursery.models import Person
from nursery.records import people

TRIED_BY_CODE = "(a sign-in code)"
"""Stands for the name while codes are tried: nobody knows yet whose code it is, and no typed name may take its turn."""


class CodeBackend(ModelBackend):
    """Takes a code once, within its ten minutes. Name and password do not fit its arguments, so it lets them pass."""

    def authenticate(self, request: HttpRequest | None, *, code: str, username: str = "") -> Person | None:
        return people.code_used(code=code)
