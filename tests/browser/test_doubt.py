"""Doubt on a phone: a swapped tag put right, a tag that is gone, a contradiction sorted out, all by tapping."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from breeding.records.spikes import spike_found
from nursery.models import Act, Person, Plant, Remark
from nursery.records.flags import open_flags
from nursery.records.moves import moved
from nursery.records.remarks import remarked
from tests.making import Nursery, tag_of

Look = Callable[[str], None]


@pytest.fixture
def look(page: Page, live_server: Any, grower: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Tom Reed, a grower, has signed in."""
    sign_in(grower)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


def test_a_swapped_tag_is_repaired_by_tapping(page: Page, nursery: Nursery, look: Look) -> None:
    top = nursery.bench("Top")
    one, other = nursery.plant(nursery.clone("lowii", "anvil")), nursery.plant(nursery.clone("hamata", "ladle"))
    nursery.record(moved, thing=one, place=top)
    nursery.record(remarked, thing=other, words="leans over")
    before = [tag_of(one).number, tag_of(other).number]
    assert page.viewport_size["width"] == 360
    look(f"/t/{before[0]}/")
    page.get_by_text("More to record").tap()
    page.get_by_role("link", name="Its tag was swapped").tap()
    page.get_by_label("Number on the other tag").fill(str(before[1]))
    page.get_by_role("button", name="Show what was recorded").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Exchange the two tags")
    ticks = page.locator("input[name=moved]")
    expect(ticks).to_have_count(2)
    page.get_by_text("remark: leans over").tap()  # this one was told of the right plant
    page.get_by_role("button", name="Exchange the tags").tap()
    expect(page.locator("#status")).to_contain_text("tags exchanged")
    assert [tag_of(one).number, tag_of(other).number] == before[::-1]
    assert Plant.objects.get(pk=other.pk).place == top
    assert Act.objects.get(kind="remarked").thing_id == other.pk
    page.locator("#status").get_by_role("button", name=re.compile("Undo")).tap()
    expect(page.locator("#status")).to_contain_text("Undone")
    assert [tag_of(one).number, tag_of(other).number] == before
    assert Plant.objects.get(pk=one.pk).place == top


def test_a_tag_that_is_gone_is_kept_as_a_doubt(page: Page, nursery: Nursery, look: Look) -> None:
    bench = nursery.bench("Top")
    for _ in range(2):
        nursery.plant(nursery.clone("lowii"), place=bench)
    look("/tag/")
    page.get_by_role("link", name="The tag is gone, or cannot be read").tap()
    page.get_by_label("Words of its name or parents").fill("lowii")
    page.get_by_role("button", name="Show which it may be").tap()
    choices = page.locator("label:has(input[name=thing])")
    expect(choices).to_have_count(2)
    for choice in choices.all():
        choice.tap()
    page.get_by_role("button", name="One of the ticked ones, I cannot tell which").tap()
    expect(page.locator("#status")).to_contain_text("one of these")
    assert Remark.objects.get().act.links.count() == 1


def test_misread_buds_are_sorted_out_by_one_tap_and_undone(page: Page, nursery: Nursery, look: Look) -> None:
    look_at_buds = {"seen": "buds", "sex": "male", "sex_from": "buds", "days_ago": 9}
    spike = nursery.made(spike_found, plant=nursery.plant(), **look_at_buds)
    nursery.section(spike, days_ago=2)
    look("/office/to-sort-out/")
    page.get_by_role("button", name="Its buds were misread").tap()
    expect(page.locator(".sorting__row")).to_have_count(0)
    page.locator("#status").get_by_role("button", name=re.compile("Undo")).tap()
    expect(page.locator("#status")).to_contain_text("Undone")
    look("/office/to-sort-out/")
    expect(page.locator(".sorting__row")).to_have_count(1)
    assert open_flags().get().code == "male_pollinated"
