"""Whether this server can do its work: for a supervisor, a proxy or a test that waits for the start."""

from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe


@require_safe
@never_cache
def up(request: HttpRequest) -> HttpResponse:
    """Answer "ok" once the database has answered; it needs no sign-in and tells nothing else."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
        cursor.fetchone()
    return HttpResponse("ok", content_type="text/plain")
