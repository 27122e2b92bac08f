"""The browser tests' own eyes: a page that breaks the policy, throws, or asks outside is noticed."""

import pytest
from django.http import HttpResponse
from django.urls import path
from playwright.sync_api import Page

from nursery.site.urls import urlpatterns as ours
from tests.browser.conftest import DESK, PHONE, Conduct

INLINE = "<!doctype html><title>x</title><script>document.title = 'ran'</script><p style='color: red'>x</p>"
OUTSIDE = "<!doctype html><title>x</title><img src='http://outside.invalid/leaf.png' alt=''>"

urlpatterns = [
    *ours,
    path("inline/", lambda request: HttpResponse(INLINE)),
    path("outside/", lambda request: HttpResponse(OUTSIDE)),
]

pytestmark = pytest.mark.urls(__name__)


def _expected(conduct: Conduct) -> Conduct:
    """What was seen, taken out so that the fixture's own check passes."""
    seen = Conduct(conduct.violations[:], conduct.errors[:], conduct.outside[:])
    for kind in (conduct.violations, conduct.errors, conduct.outside):
        kind.clear()
    return seen


def test_inline_script_and_style_are_blocked_and_noticed(page: Page, live_server, conduct: Conduct) -> None:
    page.goto(f"{live_server.url}/inline/")
    assert page.title() == "x"
    page.wait_for_timeout(100)
    violations = _expected(conduct).violations
    assert {line.split()[0] for line in violations} == {"script-src-elem", "style-src-attr"}


def test_another_host_is_blocked_and_noticed(page: Page, live_server, conduct: Conduct) -> None:
    page.goto(f"{live_server.url}/outside/")
    page.wait_for_timeout(100)
    seen = _expected(conduct)
    assert any("http://outside.invalid" in line for line in [*seen.violations, *seen.outside])


def test_a_plain_page_is_in_order(page: Page, live_server, conduct: Conduct) -> None:
    page.goto(f"{live_server.url}/up/")
    assert page.text_content("body") == "ok"
    assert conduct == Conduct()


def test_the_window_is_a_phones(page: Page, live_server) -> None:
    page.goto(f"{live_server.url}/up/")
    assert page.evaluate("[screen.width, 'ontouchstart' in window]") == [360, True]


@pytest.mark.parametrize("turn", (1, 2))
def test_nothing_of_a_test_is_left_for_the_next(page: Page, live_server, turn: int) -> None:
    """Both turns write; whichever comes second would find what the first wrote."""
    assert page.viewport_size == PHONE["viewport"]
    page.goto(f"{live_server.url}/up/")
    assert page.evaluate(FOUND) == [False, None, None, False]
    page.evaluate("document.cookie = 'moss=1'; sessionStorage.moss = localStorage.moss = '1'")
    page.emulate_media(color_scheme="dark")
    page.set_viewport_size(DESK["viewport"])
    page.route("**/up/", lambda route: route.abort())
    assert page.evaluate(FOUND) == [True, "1", "1", True]


FOUND = """[document.cookie.includes("moss"), sessionStorage.getItem("moss"), localStorage.getItem("moss"),
    matchMedia("(prefers-color-scheme: dark)").matches]"""
