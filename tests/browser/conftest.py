"""A real Chromium, a phone's and a desk's window, and a page that tells on itself."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from playwright.sync_api import Browser, BrowserContext, BrowserType, Page

from nursery.models import Person
from tests.chromium import launch
from tests.conftest import signed_in

PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1280, "height": 800}}
LONGEST_WAIT = 10_000  # milliseconds
BARE = '<!doctype html><title>x</title><link rel="icon" href="data:,">'  # or its icon would be asked of the server
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
    """The headless shell for all tests but those that ask for ``whole_browser``."""
    return {**browser_type_launch_args, **launch()}


@pytest.fixture(scope="module")
def whole_browser(browser_type: BrowserType) -> Iterator[Browser]:
    """A Chromium with all that stands around the engine, which shows a PDF as a grower's does."""
    browser = browser_type.launch(**launch(whole=True))
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict[str, Any]) -> dict[str, Any]:
    """A phone held upright; a test for the desk says ``page.set_viewport_size``."""
    return {**browser_context_args, **PHONE, "locale": "en-GB"}


@dataclass
class Window:
    """The one page that all tests drive: a page of its own for each costs more than most tests."""

    page: Page
    seen: Conduct = field(default_factory=Conduct)
    home: str = ""

    def begin(self, home: str) -> Conduct:
        """Be a phone that has never been here, and watch how pages of ``home`` behave."""
        self.home, self.seen = home, Conduct()
        self.page.set_viewport_size(PHONE["viewport"])
        return self.seen

    def end(self) -> None:
        """Leave nothing of a test to the next."""
        page, context = self.page, self.page.context
        for other in context.pages:
            if other is not page:
                other.close()
        page.unroute_all(behavior="ignoreErrors")
        self._leave()
        page.emulate_media(media="null", color_scheme="null")
        context.clear_cookies()
        console = context.new_cdp_session(page)
        console.send("Storage.clearDataForOrigin", {"origin": self.home, "storageTypes": "all"})
        console.detach()

    def _leave(self) -> None:
        """Show a bare page that asks nothing of the server; of its address, or Chromium begins another process."""
        nowhere = f"{self.home}/nowhere-at-all/"
        self.page.route(nowhere, lambda route: route.fulfill(body=BARE, content_type="text/html"))
        self.page.goto(nowhere)
        self.page.unroute_all(behavior="ignoreErrors")

    def note_request(self, url: str) -> None:
        """Remember what was asked of another host."""
        if urlsplit(url).scheme in {"http", "https", "ws", "wss"} and not url.startswith(self.home):
            self.seen.outside.append(url)


@pytest.fixture(scope="session")
def window(browser: Browser, browser_context_args: dict[str, Any]) -> Iterator[Window]:
    """One phone for all tests of a worker, which watches its page."""
    context = browser.new_context(**browser_context_args)
    yield opened(context)
    context.close()


def opened(context: BrowserContext) -> Window:
    """A page of this context, which is watched."""
    context.set_default_timeout(LONGEST_WAIT)
    window = Window(context.new_page())
    context.expose_function("reportViolation", lambda words: window.seen.violations.append(words))
    context.add_init_script(WATCH)
    window.page.on("pageerror", lambda error: window.seen.errors.append(str(error)))
    window.page.on("request", lambda request: window.note_request(request.url))
    return window


@pytest.fixture
def desk(whole_browser: Browser, live_server: Any) -> Iterator[Page]:
    """A desk's page of the whole browser, which must behave as the phone's must."""
    context = whole_browser.new_context(**DESK, locale="en-GB", base_url=live_server.url)
    window = opened(context)
    window.home = live_server.url
    yield window.page
    context.close()
    assert window.seen == Conduct()


@pytest.fixture
def page(window: Window) -> Page:
    """The phone's page, as a phone has it that was never here."""
    return window.page


@pytest.fixture(autouse=True)
def conduct(window: Window, live_server: Any) -> Iterator[Conduct]:
    """Fail a test whose page broke the content policy, threw an error, or asked another host for anything."""
    seen = window.begin(live_server.url)
    yield seen
    window.end()
    assert seen == Conduct()


@pytest.fixture(scope="session")
def known() -> set[str]:
    """The looks of texts whose contrast was found right on any page so far (``tests.browser.looks``)."""
    return set()


@pytest.fixture
def sign_in(page: Page, live_server: Any) -> Callable[[Person], None]:
    """Sign a person in on the phone's page."""
    return lambda person: let_in(page, person, live_server.url)


def let_in(page: Page, person: Person, home: str) -> None:
    """Sign a person in without the form: the page gets the cookie of a session that the server already knows."""
    cookie = signed_in(person).cookies[settings.SESSION_COOKIE_NAME]
    page.context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": home}])
