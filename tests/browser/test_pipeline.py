"""The season on one page, with nothing but a keyboard: filtered, a late section found, its story opened."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from breeding.records import pods
from nursery.models import Person
from tests.making import Nursery

pytestmark = pytest.mark.django_db(transaction=True)


def _tab_to(page: Page, selector: str) -> None:
    """Press Tab until this has the focus."""
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    raise AssertionError(f"The Tab key never came to {selector}.")


def test_a_late_section_is_found_by_keyboard(
    page: Page, live_server: Any, nursery: Nursery, grower: Person, sign_in: Callable[[Person], None]
) -> None:
    late = nursery.section(days_ago=300)
    nursery.record(pods.take_read, section=late, swelling="most", days_ago=250)
    nursery.section(days_ago=10)
    sign_in(grower)
    page.set_viewport_size({"width": 1280, "height": 800})
    page.goto(f"{live_server.url}/crosses/pipeline/")
    expect(page.locator(".lines tbody tr")).to_have_count(2)
    _tab_to(page, "[name=late]")
    page.keyboard.press("Space")
    expect(page.locator(".lines tbody tr")).to_have_count(1)
    expect(page).to_have_url(re.compile(r"/crosses/pipeline/\?.*late=yes"))
    expect(page.get_by_text("past the usual window (day 80 to 240)")).to_be_visible()
    assert page.evaluate("document.activeElement.name") == "late"
    _tab_to(page, ".lines tbody a")
    page.keyboard.press("Enter")
    expect(page).to_have_url(f"{live_server.url}/crosses/{late.cross_id}/")
    expect(page.get_by_role("heading", name="Section 1")).to_be_visible()
