"""A form that came back says so where it is seen: one box with the focus, and a way down to each field."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from labels import shipped
from labels.models import Stock
from nursery.models import Act, Person
from tests.browser.looks import looked_over
from tests.making import Nursery

pytestmark = pytest.mark.django_db(transaction=True)

Look = Callable[[str], None]


@pytest.fixture
def look(page: Page, live_server: Any, grower: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Tom Reed, a grower, has signed in."""
    sign_in(grower)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


def _choose(page: Page, label: str) -> None:
    page.locator("label.choice").filter(has_text=re.compile(f"^{re.escape(label)}$")).first.click()


def _box(page: Page, title: str = "Not recorded yet") -> Locator:
    """The box, which was seen to be on the screen with the focus in it."""
    box = page.get_by_role("alert").filter(has=page.get_by_role("heading", name=title))
    expect(box).to_be_focused()
    expect(box.get_by_role("heading")).to_be_in_viewport(ratio=1)
    return box


def test_each_sentence_leads_to_its_field(page: Page, nursery: Nursery, look: Look, known: set[str]) -> None:
    pot = nursery.pot(days_ago=70)
    look(f"/pots/{pot.pk}/look/")
    page.get_by_label("Note").fill("x" * 20)
    page.locator("#id_counted").fill("-4")
    page.get_by_role("button", name="Record the look").tap()
    links = _box(page).get_by_role("link")
    expect(links).to_have_count(2)
    assert looked_over(page, known) == []
    for place in range(2):
        target = page.locator(links.nth(place).get_attribute("href"))
        links.nth(place).tap()
        expect(target).to_be_focused()
        expect(target).to_be_in_viewport()
        assert target.get_attribute("aria-describedby").endswith("_error")


def test_an_objection_and_what_overrules_it_are_seen_at_once(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.female(days_ago=5)
    look(f"/spikes/{spike.pk}/look/")
    _choose(page, "flowers open")
    _choose(page, "male")
    page.get_by_role("button", name="Record the look").tap()
    box = _box(page)
    expect(box.get_by_role("button", name="Record it all the same")).to_be_in_viewport(ratio=1)
    box.get_by_role("button", name="Record it all the same").tap()
    expect(page.locator(".strip", has_text="Undo")).to_be_visible()
    assert Act.objects.filter(kind="spike_look", thing=spike.pk).exists()


def test_an_answer_of_the_round_that_needs_a_word_more(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.female(days_ago=5)
    look(f"/spikes/{spike.pk}/")
    page.evaluate(
        """address => {
            const button = document.createElement("button");
            button.setAttribute("hx-post", address);
            button.textContent = "Quick";
            const form = document.createElement("form");
            form.append(button);
            document.querySelector("main").append(form);
            htmx.process(form);
        }""",
        f"/spikes/{spike.pk}/look/",
    )
    page.get_by_role("button", name="Quick").tap()
    _box(page)


def test_labels_that_were_not_laid_out(page: Page, nursery: Nursery, look: Look) -> None:
    shipped.add_missing(Stock.objects)
    for _ in range(8):
        nursery.pot(days_ago=3)
    look("/labels/?ticks=none")
    for tick in page.locator("input[name=numbers]:checked").all():
        tick.uncheck()
    page.get_by_role("button", name="Lay them out").click()
    links = _box(page, "Not laid out yet").get_by_role("link")
    expect(links).to_contain_text("No label was chosen; tick at least one.")
    links.tap()
    expect(page.locator("#id_numbers")).to_be_focused()


def test_a_line_of_a_plan_says_which_it_is(page: Page, nursery: Nursery, look: Look) -> None:
    lot = nursery.seed(estimate=90, days_ago=9)
    look("/sowings/new/")
    page.locator(f"[name=lot-{lot.pk}-take]").check()
    page.locator(f"#id_lot-{lot.pk}-pots").fill("-3")
    page.get_by_role("button", name="Work out what it takes").click()
    link = _box(page, "Not made yet").get_by_role("link")
    expect(link).to_contain_text("Lot ")
    link.tap()
    expect(page.locator(f"#id_lot-{lot.pk}-pots")).to_be_focused()
