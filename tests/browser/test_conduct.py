"""The browser tests' own eyes: a page that breaks the policy, throws, or asks outside is noticed."""

import pytest
from django.http import HttpResponse
from django.urls import path
from playwright.sync_api import Page

from nursery.site.urls import urlpatterns as ours
from tests.browser.conftest import Conduct

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
