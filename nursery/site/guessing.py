"""Against guessing passwords: whose sign-in is tried, and what is shown after too many wrong ones."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

LONGEST_NAME = 255  # what django-axes can store


def name_tried(request: HttpRequest, credentials: dict[str, Any] | None) -> str:
    """The name that a sign-in is tried for; case and outer spaces do not make it another name."""
    told = credentials or {}
    typed = told.get("name") or told.get("username") or request.POST.get("name", "")
    return str(typed).strip().casefold()[:LONGEST_NAME]


def locked(request: HttpRequest, response: HttpResponse | None, credentials: dict[str, Any] | None) -> HttpResponse:
    """The page that says how long to wait."""
    seconds = int(settings.AXES_COOLOFF_TIME.total_seconds())
    answer = render(request, "errors/locked.html", {"minutes": seconds // 60}, status=429)
    answer.headers["Retry-After"] = str(seconds)
    return answer
