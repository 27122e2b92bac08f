"""Who may open a view. A stranger is asked to sign in, a member without the right gets 403, a missing thing 404.

A guarded view says in ``opens_for`` who may, by the least role; what wraps it copies that, so that every address can be
asked (``tests/site/test_who_may.py``).
"""

from collections.abc import Callable, Sequence
from functools import wraps
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from nursery.models import LivingThing, Person
from nursery.records import registry
from nursery.records.prepared import by_id
from nursery.views import sign_in

View = Callable[..., HttpResponse]


def signed_in(view: View) -> View:
    """Anybody with a name here."""
    return _guard(view, Person.Role.VIEWER, lambda person: True, "")


def may_record(view: View) -> View:
    """Growers and owners."""
    return _guard(
        view, Person.Role.GROWER, lambda person: person.may_record, "You may read here but not record. Ask an owner."
    )


def owners(view: View) -> View:
    return _guard(view, Person.Role.OWNER, lambda person: person.is_owner, "Only an owner may open this.")


def _guard(view: View, least: Person.Role, allows: Callable[[Person], bool], sentence: str) -> View:
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            return sign_in.ask(request)
        if not allows(request.user):
            raise PermissionDenied(sentence)
        return view(request, *args, **kwargs)

    guarded.opens_for = least
    return guarded


def posted(*, form_on: str, of: Sequence[str] = ()) -> Callable[[View], View]:
    """A view that takes posts only, and answers some of them with a page.

    So one comes back to it with Back, or by opening its address again: that leads to the page ``form_on`` (the name of
    an address; ``of`` are the arguments it shares with this one), where the form stands that is sent here.
    """

    def wrap(view: View) -> View:
        @wraps(view)
        def with_a_way_back(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if request.method in ("GET", "HEAD"):
                return redirect(form_on, **{name: kwargs[name] for name in of})
            return require_POST(view)(request, *args, **kwargs)

        with_a_way_back.posts_only = True
        return with_a_way_back

    return wrap


def thing_or_404(slug: str, pk: int) -> LivingThing:
    """The thing of this address."""
    for kind in registry.thing_kinds().values():
        if kind.slug == slug:
            thing = by_id(kind.model).first(pk)
            if thing is None:
                raise Http404(f"There is no {kind.words} {pk} here.")
            return thing
    raise Http404("There is no such page.")
