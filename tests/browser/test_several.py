"""A bench walked with a selection, a printed round typed in by keyboard alone, and a phone that changes hands."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from nursery.models import Act, Person
from nursery.templatetags.tepal import plate
from tests.browser.conftest import DESK
from tests.making import Nursery, ago, tag_of

Look = Callable[[str], None]


@pytest.fixture
def look(page: Page, live_server: Any, grower: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Tom Reed, a grower, has signed in."""
    sign_in(grower)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


def _looks() -> Any:
    return Act.objects.filter(kind="pot_look", voided_by__isnull=True)


# --- several at once ---


def test_a_bench_is_answered_for_all_but_those_whose_tick_was_taken_away(
    page: Page, nursery: Nursery, look: Look
) -> None:
    bench = nursery.bench()
    pots = nursery.pots(5, days_ago=60, place=bench)
    look(f"/places/{bench.pk}/")
    page.get_by_role("link", name="Answer several at once").tap()
    ticks = page.get_by_role("checkbox")
    expect(ticks).to_have_count(5)
    for pot in pots[:2]:
        page.locator(f'input[name="things"][value="{pot.pk}"]').uncheck()
    page.get_by_role("button", name="Nothing yet").tap()
    expect(page.locator("#status .strip")).to_contain_text("3 seed pots")
    assert set(_looks().values_list("thing_id", flat=True)) == {pot.pk for pot in pots[2:]}
    page.locator("#status").get_by_role("button", name="Undo").tap()
    expect(page.locator("#status .strip")).to_contain_text("Undone: 3 seed pots")
    assert not _looks().exists()


def test_the_pots_of_a_sowing_are_answered_in_one_row_of_the_round_and_undone_there(
    page: Page, nursery: Nursery, look: Look
) -> None:
    nursery.pots(6, days_ago=200, place=nursery.bench())
    look("/?kind=pots")
    row = page.locator("details.task")
    expect(row).to_contain_text("6 pots")
    row.get_by_role("button", name="Nothing yet").dblclick()
    expect(page.locator(".done")).to_contain_text("6 seed pots")
    page.wait_for_load_state("networkidle")
    assert _looks().count() == 6
    page.locator(".done").get_by_role("button", name="Undo").tap()
    expect(page.locator("details.task[open]")).to_contain_text("Undone: 6 seed pots")
    expect(row.get_by_role("button", name="Nothing yet")).to_be_visible()
    assert not _looks().exists()


# --- the desk grid, by keyboard alone ---


def _type(page: Page, *keys: str) -> None:
    """Type into whatever has the focus; a key of more than one letter in brackets is pressed, as in "[Tab]"."""
    for key in keys:
        if key.startswith("["):
            page.keyboard.press(key[1:-1])
        else:
            page.keyboard.type(key)


def _focus_is_in(page: Page, label: str) -> None:
    expect(page.get_by_label(label, exact=True)).to_be_focused()


def test_a_printed_round_is_typed_in_by_keyboard_alone(page: Page, nursery: Nursery, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    section, pots = nursery.section(days_ago=100), nursery.pots(2, days_ago=60)
    day = ago(2).first
    wrong = str(tag_of(pots[0]).number)[:-1] + str((int(str(tag_of(pots[0]).number)[-1]) + 1) % 10)
    look(f"/round/{day.isoformat()}/grid/")
    _focus_is_in(page, "Number, row 1")
    _type(page, str(tag_of(section).number), "[Tab]")
    expect(page.locator(".grid__what").first).to_contain_text("section lowii")
    _type(page, "tur", "[Enter]")
    expect(page.get_by_role("status").filter(has_text="1 recorded.")).to_be_visible()
    _focus_is_in(page, "Number, row 1")
    _type(page, wrong, "[Tab]", "few", "[Enter]")
    expect(page.locator(".grid__error")).to_contain_text("does not fit its last digit")
    assert page.get_by_label("Answer, row 1", exact=True).input_value() == "few"
    _focus_is_in(page, "Number, row 2")
    page.get_by_role("button", name=re.compile(f"This one ?, {plate(tag_of(pots[0]).number)}")).press("Enter")
    expect(page.locator(".grid__what").first).to_contain_text("seed pot lowii")
    _focus_is_in(page, "Number, row 1")
    _type(page, "[Enter]")
    expect(page.get_by_role("status").filter(has_text="2 recorded.")).to_be_visible()
    _focus_is_in(page, "Number, row 1")
    _type(page, str(tag_of(pots[1]).number), "[Tab]", "carpet", "[Enter]")
    expect(page.get_by_role("status").filter(has_text="3 recorded.")).to_be_visible()
    told = {act.thing_id: (act.kind, act.day_last) for act in Act.objects.filter(by__name="Tom Reed")}
    assert told == {
        section.pk: ("pod_look", day),
        pots[0].pk: ("pot_look", day),
        pots[1].pk: ("pot_look", day),
    }


# --- whose hands ---


def test_a_phone_changes_hands_with_one_tap(
    page: Page, nursery: Nursery, look: Look, grower: Person, owner: Person
) -> None:
    spikes = [nursery.spike(days_ago=20) for _ in range(2)]
    look("/more/")
    page.get_by_role("link", name="Whose hands").tap()
    page.get_by_role("button", name="Ida Fern").tap()
    strip = page.locator(".hands")
    expect(strip).to_contain_text("Phone of Tom Reed, hands of Ida Fern")
    look(f"/spikes/{spikes[0].pk}/")
    page.get_by_role("button", name="Aborted").tap()
    expect(page.locator("#status .strip")).to_contain_text("aborted")
    look(f"/spikes/{spikes[1].pk}/")
    strip.get_by_role("button", name="Tom Reed").tap()
    expect(strip).to_contain_text("hands of Tom Reed")
    assert page.url.endswith(f"/spikes/{spikes[1].pk}/"), "it comes back to where it was"
    page.get_by_role("button", name="Aborted").tap()
    expect(page.locator("#status .strip")).to_contain_text("aborted")
    looks = Act.objects.filter(kind="spike_look").order_by("recorded_at")
    assert [(act.by, act.phone_of) for act in looks] == [(owner, grower), (grower, None)]
