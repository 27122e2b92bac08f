"""Where people are signed in: noted when they sign in, shown to them and to owners, ended everywhere at once."""

from django.contrib import auth
from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils import timezone

from nursery.devices import device_words
from nursery.models import Person, SignedIn


def noted(request: HttpRequest) -> None:
    """Note that somebody signed in on this device; what ended is forgotten."""
    gone = SignedIn.objects.filter(person=request.user).exclude(session_key__in=_live().values("session_key"))
    gone.delete()
    words = device_words(request.headers.get("User-Agent", ""))
    facts = {"person": request.user, "device": words, "since": timezone.now()}
    SignedIn.objects.update_or_create(session_key=request.session.session_key, defaults=facts)


def of_person(person: Person) -> QuerySet[SignedIn]:
    """The devices on which somebody is signed in now, the latest first."""
    live = SignedIn.objects.filter(person=person, session_key__in=_live().values("session_key"))
    return live.order_by("-since", "pk")


def stay_here(request: HttpRequest, person: Person) -> None:
    """Keep this session, whose person now has another password or was signed out everywhere."""
    before = request.session.session_key
    auth.update_session_auth_hash(request, person)
    SignedIn.objects.filter(session_key=before).update(session_key=request.session.session_key)


def _live() -> QuerySet[Session]:
    return Session.objects.filter(expire_date__gt=timezone.now())
