"""Where a phone sends what it kept (``nursery.site.outbox`` has what is sent and answered)."""

import json
from typing import Any

from django.core.exceptions import RequestDataTooBig
from django.http import HttpRequest, JsonResponse
from django.middleware.csrf import get_token
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from nursery.records.house import house
from nursery.site.outbox.reading import id_as_sent
from nursery.site.outbox.taking import take

MOST = 200
TOO_MANY = f"That is too much at once. Send at most {MOST} acts, the oldest first; nothing of this was taken."
NOT_A_LIST = "This is no list of acts. Nothing was taken; keep it and send it again."
SIGN_IN = "Sign in, then it is sent again. Nothing is lost."
MAY_NOT = "You may read here but not record. Sign in as somebody who may, then it is sent again."


class NotAList(Exception):
    """The body as a whole cannot be read."""


class TooMuch(Exception):
    """More than is taken at once."""


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def acts(request: HttpRequest) -> JsonResponse:
    """POST takes a list of acts; GET says which epoch it is and who is signed in."""
    if request.method != "POST":
        return _greeting(request)
    try:
        sent = _acts_sent(request)
    except TooMuch:
        return _said(request, TOO_MANY, status=413)
    except NotAList:
        return _said(request, NOT_A_LIST, status=400)
    if not request.user.is_authenticated:
        return _said(request, SIGN_IN, sent, status=401)
    if not request.user.may_record:
        return _said(request, MAY_NOT, sent, status=403)
    return JsonResponse(
        {"epoch": str(house().epoch), "sentence": "", "acts": [take(one, request.user) for one in sent]}
    )


def _greeting(request: HttpRequest) -> JsonResponse:
    person = request.user if request.user.is_authenticated else None
    told = {"epoch": str(house().epoch) if person else None, "csrf": get_token(request), "most": MOST}
    return JsonResponse(told | {"person": {"id": person.pk, "name": person.name} if person else None})


def _acts_sent(request: HttpRequest) -> list[Any]:
    try:
        sent = json.loads(request.body)["acts"]
    except RequestDataTooBig as error:
        raise TooMuch from error
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise NotAList from error
    if not isinstance(sent, list):
        raise NotAList
    if len(sent) > MOST:
        raise TooMuch
    return sent


def _said(request: HttpRequest, sentence: str, sent: list[Any] = (), *, status: int) -> JsonResponse:
    """Nothing was taken, and why; each act that could be read is named, so that the phone knows what to keep."""
    kept = [{"id": id_as_sent(one), "is": "sign_in_needed", "sentence": sentence} for one in sent]
    epoch = str(house().epoch) if request.user.is_authenticated else None
    return JsonResponse({"epoch": epoch, "sentence": sentence, "acts": kept}, status=status)
