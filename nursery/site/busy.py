"""A database that was held by others for too long: said in words, with the advice to send it again."""

import logging
from collections.abc import Callable

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.template import loader

log = logging.getLogger(__name__)
SIGNS = ("deadlock", "locked", "lock timeout", "serialize")
AGAIN_AFTER = "3"


class Busy:
    """Answers what ended because of others with a page of its own; all else goes on to the page of errors."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]):
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        if not isinstance(error, OperationalError) or not any(sign in str(error) for sign in SIGNS):
            return None
        log.warning("Busy at %s: %s", request.path, error)
        page = loader.get_template("errors/busy.html").render()
        return HttpResponse(page, status=503, headers={"Retry-After": AGAIN_AFTER})
