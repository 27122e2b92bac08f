"""Every page there is: nothing that axe finds serious, nothing wider than the phone, no target too small for a thumb.

Each page is looked at on a phone and at a desk, light and dark. A text's contrast is measured on the first page that
shows it, and not again on another where it looks the same and stands on the same ground.

Policy, script errors and foreign requests are watched by the ``conduct`` fixture.
"""

from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any

from django.utils import timezone
from playwright.sync_api import Page

from breeding.models import SeedPot
from demo_fixtures.load import load_demo
from nursery.links import act_url
from nursery.models import Person
from tests.browser.addresses import PAGES, SHOWS_NO_PAGE, addresses_of, is_plain, patterns
from tests.browser.looks import looked_over
from tests.making import Nursery

SignIn = Callable[[Person], None]


def test_every_pattern_is_visited_or_shows_no_page() -> None:
    known = {*PAGES, *SHOWS_NO_PAGE}
    assert [one for one in patterns() if one not in known and not is_plain(one)] == []
    assert known <= set(patterns()), "a pattern that is listed is gone"
    assert not PAGES.keys() & SHOWS_NO_PAGE.keys()


def test_every_page(page: Page, live_server: Any, sign_in: SignIn, known: set[str]) -> None:
    load_demo(timezone.localdate(), earlier=0)
    sign_in(Person.objects.get(name="Marta"))
    assert [wrong for address in _addresses() for wrong in _visited(page, live_server.url, address, known)] == []


def test_what_no_address_leads_to(
    page: Page, live_server: Any, nursery: Nursery, sign_in: SignIn, known: set[str]
) -> None:
    home = live_server.url
    wrong = list(_visited(page, home, "/sign-in/", known, status=200))
    sign_in(nursery.by)
    pot = nursery.pot(days_ago=70)
    wrong += [*_labels_laid_out(page, home, known), *_form_sent_empty(page, home, pot, known)]
    sign_in(nursery.person("viewer"))
    assert [*wrong, *_for_a_viewer(page, home, known)] == []


def _addresses() -> list[str]:
    return [address for pattern in patterns() for address in addresses_of(pattern)]


def _visited(page: Page, home: str, address: str, known: set[str], *, status: int | None = None) -> Iterator[str]:
    """What is wrong with the page at this address, each with the address."""
    answer = page.goto(f"{home}{address}")
    if answer.status >= 500 or status not in (None, answer.status):
        yield f"{address} has status {answer.status}"
    yield from (f"{address} {words}" for words in looked_over(page, known))


def _labels_laid_out(page: Page, home: str, known: set[str]) -> list[str]:
    """The last look before printing, which only a button leads to."""
    page.goto(f"{home}/labels/")
    page.get_by_role("button", name="Lay them out").click()
    page.get_by_role("button", name="Get the PDF").wait_for()
    return [f"/labels/sheet/ {words}" for words in looked_over(page, known)]


def _form_sent_empty(page: Page, home: str, pot: SeedPot, known: set[str]) -> list[str]:
    """A form with errors beside its fields."""
    page.goto(f"{home}{act_url(pot, 'look')}")
    page.get_by_role("button", name="Record the look").click()
    page.locator(".field__error").first.wait_for()
    return [f"the look with an error {words}" for words in looked_over(page, known)]


def _for_a_viewer(page: Page, home: str, known: set[str]) -> Iterator[str]:
    """What those see who may only read, the pages for what is not theirs, and for what is not there."""
    tomorrow = timezone.localdate() + timedelta(days=1)
    for address, status in (("/", 200), (f"/round/{tomorrow}/", 200), ("/plants/new/", 403), ("/moss/", 404)):
        yield from _visited(page, home, address, known, status=status)
