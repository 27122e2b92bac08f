"""Printing from a phone: ticks, a look, the PDF, and the word that it came out right; then the code is opened."""

from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from labels import shipped
from labels.models import Printing, Stock
from nursery.models import House, Tag
from tests.browser.conftest import let_in
from tests.browser.looks import looked_over
from tests.labels.cast import SHEET
from tests.labels.reading import Drawn, decoded
from tests.making import Nursery, tag_of

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def nursery(owner) -> Nursery:
    """Ida Fern's, with stocks to print on."""
    shipped.add_missing(Stock.objects)
    return Nursery(owner)


def downloaded(page: Page) -> bytes:
    with page.expect_download() as download:
        page.get_by_role("button", name="Get the PDF").click()
    return Path(download.value.path()).read_bytes()


def shows_a_pdf(page: Page, button: str) -> bool:
    """Whether this button opens a tab in which the browser's own reader shows a PDF, which no policy keeps from it."""
    with page.expect_popup() as opened:
        page.get_by_role("button", name=button).click()
    tab = opened.value
    tab.wait_for_load_state()
    refused = [frame.url for frame in tab.frames if frame.url.startswith("chrome-error")]
    shown = tab.evaluate("document.contentType") == "application/pdf" and not refused
    tab.close()
    return shown


def test_tags_are_printed_and_open_their_things(page: Page, live_server, sign_in, grower, nursery) -> None:
    House.objects.update_or_create(id=1, defaults={"public_address": "https://tags.example"})
    pots = nursery.pots(2, seeds=40)
    sign_in(grower)
    page.goto(f"{live_server.url}/labels/?show=Seed+pot")
    page.get_by_label("First free label").fill("22")
    page.get_by_role("button", name="Lay them out").click()
    expect(page.get_by_role("heading", name="2 labels")).to_be_visible()
    drawn = Drawn(downloaded(page), SHEET)
    urls = [decoded(drawn.label(position, dpi=300)).pop() for position in (21, 22)]
    assert Tag.objects.filter(thing__in=[pot.pk for pot in pots], printed_at=None).count() == 2
    page.get_by_role("button", name="They came out right").click()
    expect(page.get_by_text("2 tags are marked as printed.")).to_be_visible()
    expect(page.get_by_label("First free label")).to_have_value("24")
    expect(page.get_by_text("23 of 24 used on the sheet left over from")).to_be_visible()
    page.get_by_role("button", name="Lay them out").click()
    page.get_by_role("button", name="On a fresh sheet").click()
    expect(page.get_by_text("These begin at label 1.")).to_be_visible()
    expect(page.get_by_role("button", name="From label 24 on")).to_be_visible()
    assert not Tag.objects.filter(thing__in=[pot.pk for pot in pots], printed_at=None).exists()
    for pot, url in zip(pots, urls, strict=True):
        assert url.startswith("HTTPS://TAGS.EXAMPLE/T/")
        page.goto(f"{live_server.url}{urlsplit(url).path}")
        expect(page.locator(".head .plate")).to_have_text(_plate(tag_of(pot).number))


def test_a_print_is_shown_in_a_tab_of_its_own(desk: Page, live_server, grower, nursery) -> None:
    nursery.house("Long house")
    let_in(desk, grower, live_server.url)
    desk.goto("/labels/")
    desk.get_by_role("button", name="Lay them out").click()
    assert shows_a_pdf(desk, "Open it to print")


def test_a_mixed_choice_is_printed_stock_by_stock(desk: Page, live_server, owner, nursery) -> None:
    """An owner sends pots to a roll; what waits is laid out by stock, opened alone, and told of as two prints."""
    nursery.pots(2, seeds=40)
    roll = Stock.objects.get(name="Roll, 54 × 25 mm")
    let_in(desk, owner, live_server.url)
    desk.goto("/labels/kinds/")
    desk.get_by_label("Seed pot").select_option(str(roll.pk))
    desk.get_by_role("button", name="Keep this").click()
    desk.goto("/labels/")
    desk.get_by_label("First free label on").fill("2")
    desk.get_by_role("button", name="Lay them out").click()
    expect(desk.get_by_text("Most printers take one size at a time")).to_be_visible()
    assert shows_a_pdf(desk, "2 labels on the roll")
    desk.get_by_role("button", name="They came out right").click()
    expect(desk.get_by_text("tags are marked as printed.")).to_be_visible()
    expect(desk.get_by_text("Every tag that was made is printed.")).to_be_visible()
    assert {one.stock.kind for one in Printing.objects.all()} == {"roll", "sheet"}


def test_one_that_came_out_badly_waits_on(page: Page, live_server, sign_in, grower, nursery) -> None:
    bad, good = (tag_of(nursery.house()) for _ in range(2))
    sign_in(grower)
    page.goto(f"{live_server.url}/labels/")
    page.get_by_role("button", name="Lay them out").click()
    page.locator(f'input[type="checkbox"][value="{bad.number}"]').uncheck()
    page.get_by_role("button", name="They came out right").click()
    expect(page.get_by_text("1 tag is marked as printed.")).to_be_visible()
    assert set(Tag.objects.filter(printed_at=None).values_list("number", flat=True)) == {bad.number}
    assert page.locator(f'input[value="{good.number}"]').count() == 0


def test_one_tag_is_printed_again_from_the_page_of_its_thing(page: Page, live_server, sign_in, grower, nursery) -> None:
    house = nursery.house("Long house")
    sign_in(grower)
    page.goto(f"{live_server.url}/places/{house.pk}/")
    page.get_by_text("More to record").click()
    page.get_by_role("link", name="Print its tag").click()
    page.get_by_role("button", name="Lay them out").click()
    drawn = Drawn(downloaded(page), SHEET)
    assert "Long house" in drawn.words()


def test_axe_finds_nothing_serious(page: Page, live_server, sign_in, owner, nursery, known) -> None:
    nursery.house("Long house")
    sign_in(owner)
    for address in ("/labels/", "/labels/blank/", "/labels/stocks/", f"/labels/stocks/{Stock.objects.first().pk}/"):
        page.goto(f"{live_server.url}{address}")
        assert looked_over(page, known) == [], address
    page.goto(f"{live_server.url}/labels/")
    page.get_by_role("button", name="Lay them out").click()
    expect(page.get_by_role("button", name="Get the PDF")).to_be_visible()
    assert looked_over(page, known) == []


def _plate(number: int) -> str:
    digits = str(number)
    return " ".join(digits[start : start + 3] for start in range(0, len(digits), 3))
