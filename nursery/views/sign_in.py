"""Signing in and out. A lost sign-in loses nothing: what was posted is held and shown again afterwards."""

from typing import Any
from urllib.parse import urlencode, urlsplit

from django.conf import settings
from django.contrib import auth, messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST
from django_htmx.http import reswap, retarget

from nursery import sessions
from nursery.auth import TRIED_BY_CODE
from nursery.forms.people import CodeForm, SignInForm
from nursery.links import own_address
from nursery.models import Person
from nursery.views import held

SIGN_IN = "/sign-in/"
HOME = "/"
WRONG_PASSWORD = "That name and password do not fit. Type both once more; capitals matter in the password."
WRONG_CODE = "That code is wrong, was used, or is older than ten minutes. Ask an owner for a new one."


@never_cache
@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """The sign-in page. Only a POST signs in; a code in the address does nothing."""
    if request.method != "POST":
        target = own_address(request, request.GET.get("next", ""))
        return redirect(target or HOME) if request.user.is_authenticated else _page(request, target=target)
    by_code = request.POST.get("way") == "code"
    form = CodeForm(request.POST) if by_code else SignInForm(request.POST)
    person = _tried(request, form) if form.is_valid() else None
    if person is None:
        return _asked_again(request, form, by_code=by_code)
    auth.login(request, person)
    sessions.noted(request)
    return _signed_in(request)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    auth.logout(request)
    messages.info(request, "You are signed out.")
    return redirect(SIGN_IN)


def ask(request: HttpRequest) -> HttpResponse:
    """What a stranger gets in place of a page: the way to the sign-in page and back, with what they posted.

    A GET is sent on. A POST is answered with the page itself (401), which holds the posted values. htmx shows the page
    in place of the whole body, with status 200, because it would leave a 401 unseen.
    """
    carried = held.to_carry(request.POST, request.FILES) if request.method == "POST" else []
    if request.htmx:
        answer = _page(request, target=request.get_full_path() if carried else _page_behind(request), carried=carried)
        return reswap(retarget(answer, "body"), "innerHTML")
    if carried:
        return _page(request, target=request.get_full_path(), carried=carried, status=401)
    return redirect(f"{SIGN_IN}?{urlencode({'next': request.get_full_path()})}")


def _tried(request: HttpRequest, form: SignInForm | CodeForm) -> Person | None:
    known = form.cleaned_data
    if isinstance(form, CodeForm):
        return auth.authenticate(request, username=TRIED_BY_CODE, code=known["code"])
    return auth.authenticate(request, name=known["name"], password=known["password"])


def _asked_again(request: HttpRequest, form: SignInForm | CodeForm, *, by_code: bool) -> HttpResponse:
    if form.is_valid():
        form.add_error(None, WRONG_CODE if by_code else WRONG_PASSWORD)
    return _page(
        request,
        target=own_address(request, request.POST.get("next", "")),
        carried=held.still_carried(request.POST),
        status=422,
        **{"code_form" if by_code else "form": form},
    )


def _signed_in(request: HttpRequest) -> HttpResponse:
    target = own_address(request, request.POST.get("next", "")) or HOME
    if not held.still_carried(request.POST):
        return redirect(target)
    pairs = held.unpacked(request.POST)
    told = held.told(target, pairs)
    rows = told.rows if told else held.in_words(pairs)
    shown = {"action": target, "held": pairs, "rows": rows, "about": held.about(target), "told": told}
    return render(request, "people/held.html", shown)


def _page(
    request: HttpRequest, *, target: str, carried: held.Pairs = (), status: int = 200, **forms: Any
) -> HttpResponse:
    shown = {"form": SignInForm(), "code_form": CodeForm()} | forms
    return render(
        request,
        "people/sign_in.html",
        shown | {"next": target, "held": carried, "action": SIGN_IN, "session_words": session_words(request)},
        status=status,
    )


def session_words(request: HttpRequest) -> str:
    """How long a sign-in lasts, and over plain http why it is short."""
    hours = settings.SESSION_COOKIE_AGE // 3600
    if request.is_secure():
        return f"You stay signed in on this device for {hours // 24} days, or until you sign out."
    return (
        f"This address is plain http, which others on the same network can read, so you stay signed in for {hours} "
        "hours only."
    )


def _page_behind(request: HttpRequest) -> str:
    """The address of the page that asked htmx for a part of itself."""
    parts = urlsplit(request.htmx.current_url or "")
    address = f"{parts.path}?{parts.query}" if parts.query else parts.path
    return own_address(request, address) or HOME
