"""How to make a backup and prove it. Made by a command on the server, because it must land outside of it."""

from shlex import quote

from django.conf import settings
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from nursery.site import backup_log
from nursery.views.guards import owners


@owners
@require_safe
def backup(request: HttpRequest) -> HttpResponse:
    noted = backup_log.read(settings.DATA)
    return render(
        request,
        "office/backup.html",
        {
            "section": "office",
            "data": settings.DATA,
            "quoted": quote(str(settings.DATA)),
            "media": settings.MEDIA_ROOT,
            "on_postgresql": connection.vendor == "postgresql",
            "made": noted.get("made"),
            "proved": noted.get("proved"),
        },
    )
