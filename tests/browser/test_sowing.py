"""A sowing evening: planned at a desk, its tags printed, and sown by two people who scan them on two phones."""

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from playwright.sync_api import Browser, Locator, Page, expect

from breeding.models import SeedLot, SeedPot, SowingSession
from breeding.records.sowing import Line
from labels import shipped
from labels.models import Stock
from nursery.models import House, Person
from tests.browser.conftest import DESK, PHONE
from tests.conftest import signed_in
from tests.labels.cast import SHEET
from tests.labels.reading import Drawn, decoded
from tests.making import Nursery, tag_of

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def nursery(owner: Person) -> Nursery:
    """Ida Fern's, with stocks to print on."""
    shipped.add_missing(Stock.objects)
    House.objects.update_or_create(id=1, defaults={"public_address": "https://tags.example"})
    return Nursery(owner)


@pytest.fixture
def other_phone(browser: Browser, live_server, grower: Person) -> Iterator[Page]:
    """The phone of a grower who sows along."""
    context = browser.new_context(**PHONE, base_url=live_server.url)
    cookie = signed_in(grower).cookies[settings.SESSION_COOKIE_NAME]
    context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": live_server.url}])
    yield context.new_page()
    context.close()


def test_from_the_plan_to_the_last_pot(page: Page, other_phone: Page, live_server, sign_in, owner, nursery) -> None:
    lot = nursery.seed(estimate=90, days_ago=9)
    sign_in(owner)
    page.set_viewport_size(DESK["viewport"])
    _planned(page, f"{live_server.url}/sowings/new/")
    session = SowingSession.objects.get()
    codes = _printed(page)
    tags = {f"HTTPS://TAGS.EXAMPLE/T/{tag_of(pot).number}" for pot in SeedPot.objects.all()}
    assert codes == tags, "each pot has its label, and no label is another's"

    page.set_viewport_size(PHONE["viewport"])
    first, second, third = (urlsplit(code).path for code in sorted(codes))
    for phone in (page, other_phone):
        phone.goto(f"{live_server.url}{first}")
        expect(phone.get_by_role("button", name="Sown now: 30 seeds")).to_be_visible()
    page.get_by_role("button", name="Sown now: 30 seeds").click()
    expect(page.get_by_text("1 of 3 pots sown")).to_be_visible()
    _seen_without_scrolling(page, page.get_by_role("button", name="Sown now"))
    other_phone.get_by_role("button", name="Sown now: 30 seeds").click()
    expect(other_phone.get_by_text("This pot was sown before, as Ida Fern has told.")).to_be_visible()
    for phone, path in ((other_phone, second), (page, third)):
        phone.goto(f"{live_server.url}{path}")
        phone.get_by_role("button", name="Sown now").click()
    expect(page.get_by_text("No pot waits any more.")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    page.goto(f"{live_server.url}/sowings/{session.pk}/bench/")
    expect(page.locator(".bench__number .plate")).to_have_text(re.compile(_spaced(third)))
    page.get_by_role("button", name="Sown now").dblclick()
    expect(page.get_by_text("No pot waits any more.")).to_be_visible()

    session.refresh_from_db()
    lot = SeedLot.objects.get(pk=lot.pk)
    assert (session.pots_sown, session.closed_why, lot.seeds_sown, lot.left) == (3, "sown", 90, 0)


@pytest.mark.parametrize("pause", [150, 600, 900])
def test_a_slow_double_tap_sows_one_pot(page: Page, live_server, sign_in, owner, nursery: Nursery, pause: int) -> None:
    """The next pot's button lies where that of the last one lay."""
    session = nursery.sowing(Line(nursery.seed(estimate=150), 5, seeds=30))
    sign_in(owner)
    page.goto(f"{live_server.url}/sowings/{session.pk}/bench/")
    _sown(page, 1)
    _sown(page, 2)
    button = page.get_by_role("button", name="Sown now").bounding_box()
    at = (button["x"] + button["width"] / 2, button["y"] + button["height"] / 2)
    page.touchscreen.tap(*at)
    page.wait_for_timeout(pause)
    page.touchscreen.tap(*at)
    expect(page.get_by_text("3 of 5 pots sown")).to_be_visible()
    page.wait_for_timeout(1000)
    expect(page.get_by_text("3 of 5 pots sown")).to_be_visible()
    page.touchscreen.tap(*at)
    expect(page.get_by_text("4 of 5 pots sown")).to_be_visible()


def _sown(page: Page, pots: int) -> None:
    """One more, by a thumb that has gone to the tag and back."""
    page.get_by_role("button", name="Sown now").tap()
    expect(page.get_by_text(f"{pots} of 5 pots sown")).to_be_visible()
    page.wait_for_timeout(1000)


def _planned(page: Page, address: str) -> None:
    """Three pots of thirty, worked out from the estimate."""
    page.goto(address)
    page.locator(".sow__take input").first.check()
    page.get_by_role("button", name="Work out what it takes").click()
    expect(page.get_by_text("3 pots, and 3 labels: one for each.")).to_be_visible()
    expect(page.get_by_label("Seeds in each")).to_have_value("30")
    page.get_by_role("button", name="Make it, with 3 numbers").click()
    expect(page.get_by_role("heading", name="Not sown yet")).to_be_visible()


def _printed(page: Page) -> set[str]:
    """What the codes in the downloaded PDF say."""
    page.get_by_role("link", name="Print its tags").first.click()
    page.get_by_role("button", name="Lay them out").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Get the PDF").click()
    drawn = Drawn(Path(download.value.path()).read_bytes(), SHEET)
    page.get_by_role("button", name="They came out right").click()
    return decoded(drawn.page(0, dpi=300))


def _seen_without_scrolling(page: Page, button: Locator) -> None:
    """On a small phone whose browser shows its own bars, above Tepal's own."""
    page.wait_for_load_state()
    usual = page.viewport_size
    page.set_viewport_size({"width": 360, "height": 560})
    bottom = button.evaluate("one => one.getBoundingClientRect().bottom + scrollY")
    covered = page.locator(".bar__nav").evaluate("one => one.getBoundingClientRect().top")
    assert bottom <= covered
    page.set_viewport_size(usual)


def _spaced(path: str) -> str:
    """The digits of a tag's address as a plate shows them, with a space somewhere."""
    return r"\s*".join(path.rstrip("/").rpartition("/")[2])
