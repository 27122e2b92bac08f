"""Our own pages for what was not found, not allowed, broken, or sent with a key that does not fit."""

import pytest
from django.core.exceptions import PermissionDenied
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.test import Client, override_settings
from django.urls import include, path

from nursery.models import Person
from tests.conftest import signed_in
from tests.making import Nursery


def _breaks(request: HttpRequest) -> HttpResponse:
    raise RuntimeError("the secret inside")


def _refuses(request: HttpRequest) -> HttpResponse:
    raise PermissionDenied("Only <b>owners</b> may open this.")


urlpatterns = [path("breaks/", _breaks), path("refuses/", _refuses), path("", include("nursery.site.urls"))]


@pytest.fixture(autouse=True)
def with_our_addresses():
    with override_settings(ROOT_URLCONF=__name__):
        yield


@pytest.mark.parametrize("address", ["/nowhere/", "/office/nothing/", "/<script>alert(1)</script>", "/🌱/", "/%00/"])
def test_not_found(as_viewer: Client, stranger: Client, address: str) -> None:
    for client in (as_viewer, stranger):
        answer = client.get(address)
        assert answer.status_code == 404
        assert "Nothing stands here" in answer.content.decode()
        assert "<script>alert" not in answer.content.decode()


def test_not_found_offers_the_search_to_members_only(as_viewer: Client, stranger: Client) -> None:
    assert 'action="/search/"' in as_viewer.get("/nowhere/").content.decode()
    assert 'action="/search/"' not in stranger.get("/nowhere/").content.decode()


def test_not_allowed_says_why(as_viewer: Client) -> None:
    answer = as_viewer.get("/refuses/")
    assert answer.status_code == 403
    assert "Only &lt;b&gt;owners&lt;/b&gt; may open this." in answer.content.decode()
    assert "Nothing was changed." in answer.content.decode()


def test_broken(viewer: Person) -> None:
    client = signed_in(viewer)
    client.raise_request_exception = False
    answer = client.get("/breaks/")
    page = answer.content.decode()
    assert answer.status_code == 500
    assert "Something broke on our side" in page
    assert "the same form sent twice counts once" in page
    assert "secret" not in page


def test_a_key_that_does_not_fit(viewer: Person) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(viewer, backend="django.contrib.auth.backends.ModelBackend")
    answer = client.post("/sign-out/")
    assert answer.status_code == 403
    assert "Please send it again" in answer.content.decode()
    assert "Nothing was recorded." in answer.content.decode()


@pytest.mark.parametrize(("words", "status"), [("database is locked", 503), ("no such table: act", 500)])
def test_busy_is_said_as_busy(words: str, status: int, monkeypatch, grower: Person) -> None:
    def busy(**_: object) -> None:
        raise OperationalError(words)

    monkeypatch.setattr("breeding.views.walk.walked_past", busy)
    client = Client(raise_request_exception=False)
    client.force_login(grower)
    place = Nursery(grower).bench()
    answer = client.post(f"/walk/{place.pk}/", {})
    assert answer.status_code == status
    assert ("Go back and send it once more" in answer.content.decode()) is True
    assert ("nothing of it is half done" in answer.content.decode()) is (status == 503)
