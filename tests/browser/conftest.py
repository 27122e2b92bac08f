"""A real Chromium, a phone's and a desk's window, and a page that tells on itself."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from playwright.sync_api import Page

from nursery.models import Person
from tests.chromium import FLAGS, system_chromium
from tests.conftest import signed_in

PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1280, "height": 800}}
LONGEST_WAIT = 10_000  # milliseconds
WATCH = """
addEventListener('securitypolicyviolation', event =>
    reportViolation(event.violatedDirective + ' blocked ' + event.blockedURI + ' ' + event.sample));
"""


@dataclass
class Conduct:
    """What a page must never do, as seen while a test drove it."""

    violations: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """The distribution's Chromium where there is a real one, else Playwright's own."""
    path = system_chromium()
    return {**browser_type_launch_args, "args": FLAGS} | ({"executable_path": path} if path else {})


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict[str, Any]) -> dict[str, Any]:
    """A phone held upright; a test for the desk says ``page.set_viewport_size``."""
    return {**browser_context_args, **PHONE, "locale": "en-GB"}


@pytest.fixture(autouse=True)
def conduct(page: Page, live_server: Any) -> Iterator[Conduct]:
    """Fail a test whose page broke the content policy, threw an error, or asked another host for anything."""
    seen = Conduct()
    page.set_default_timeout(LONGEST_WAIT)
    page.context.expose_function("reportViolation", lambda words: seen.violations.append(words))
    page.context.add_init_script(WATCH)
    page.on("pageerror", lambda error: seen.errors.append(str(error)))
    page.on("request", lambda request: _note_outside(request.url, live_server.url, seen))
    yield seen
    assert seen == Conduct()


def _note_outside(url: str, home: str, seen: Conduct) -> None:
    if urlsplit(url).scheme in {"http", "https", "ws", "wss"} and not url.startswith(home):
        seen.outside.append(url)


@pytest.fixture
def sign_in(page: Page, live_server: Any) -> Callable[[Person], None]:
    """Sign a person in without the form: the page gets the cookie of a session that the server already knows."""

    def _sign_in(person: Person) -> None:
        cookie = signed_in(person).cookies[settings.SESSION_COOKIE_NAME]
        page.context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": live_server.url}])

    return _sign_in
