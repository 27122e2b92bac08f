"""Photos on a phone: sent with one tap more than taking them, shown at once, refused in words, undone like all else."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from nursery.links import act_url, thing_url
from nursery.models import Person, Photo
from nursery.records.photos import photo_taken
from tests.browser.conftest import PHONE
from tests.browser.looks import looked_over
from tests.conftest import signed_in
from tests.drawing import jpeg, kept
from tests.making import Nursery

Look = Callable[[str], None]


@pytest.fixture
def look(page: Page, live_server: Any, grower: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Tom Reed, a grower, has signed in."""
    sign_in(grower)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


@pytest.fixture
def leaf(tmp_path: Path) -> Path:
    """A photo as a camera writes it, lying on the phone."""
    file = tmp_path / "image.jpg"
    file.write_bytes(jpeg(1600, 1200))
    return file


def _loaded(page: Page) -> list[tuple[int, int]]:
    """Width and height of every photo on the page as the browser drew them."""
    page.wait_for_load_state("networkidle")
    sizes = "all => all.map(one => [one.naturalWidth, one.naturalHeight])"
    return [tuple(size) for size in page.locator("img.photo__small").evaluate_all(sizes)]


def test_a_photo_is_sent_and_shown(page: Page, nursery: Nursery, look: Look, leaf: Path, known: set[str]) -> None:
    spike = nursery.spike(days_ago=20)
    look(thing_url(spike))
    page.get_by_role("link", name="Take a photo").tap()
    page.wait_for_url("**/photo/")
    assert looked_over(page, known) == []
    page.get_by_label("With the phone's camera").set_input_files(leaf)
    page.get_by_label("Caption").fill("Buds from the side.")
    page.get_by_role("button", name="Keep this photo").tap()
    expect(page.locator("#status")).to_contain_text("photo taken")
    expect(page.locator(".photos")).to_contain_text("Buds from the side.")
    assert _loaded(page) == [(320, 240)]
    assert looked_over(page, known) == []
    page.locator("a.photo").tap()
    page.wait_for_url(f"**/photos/{Photo.objects.get().sha256}.jpg")
    assert page.evaluate("[document.images[0].naturalWidth, document.contentType]") == [1600, "image/jpeg"]


def test_a_double_tap_keeps_one(page: Page, nursery: Nursery, look: Look, leaf: Path) -> None:
    look(act_url(nursery.plant(), "photo"))
    page.get_by_label("Or a picture you have already").set_input_files(leaf)
    page.get_by_role("button", name="Keep this photo").dblclick()
    expect(page.locator("#status")).to_contain_text("photo taken")
    assert Photo.objects.count() == 1


def test_a_refusal_keeps_what_was_typed(
    page: Page, nursery: Nursery, look: Look, tmp_path: Path, leaf: Path, known: set[str]
) -> None:
    words = tmp_path / "leaf.jpg"
    words.write_text("These are words.")
    look(act_url(nursery.plant(), "photo"))
    page.get_by_label("Or a picture you have already").set_input_files(words)
    page.get_by_label("Caption").fill("Third bench.")
    page.get_by_role("button", name="Keep this photo").tap()
    expect(page.locator("#id_photo_error")).to_contain_text("This file is no photo that Tepal can read.")
    expect(page.get_by_label("Caption")).to_have_value("Third bench.")
    assert looked_over(page, known) == []
    page.get_by_label("Or a picture you have already").set_input_files(leaf)
    page.get_by_role("button", name="Keep this photo").tap()
    expect(page.locator(".photos")).to_contain_text("Third bench.")


def test_undo_hides_it(page: Page, nursery: Nursery, look: Look, leaf: Path) -> None:
    look(act_url(nursery.plant(), "photo"))
    page.get_by_label("With the phone's camera").set_input_files(leaf)
    page.get_by_role("button", name="Keep this photo").tap()
    page.locator("#status .strip").get_by_role("button", name="Undo").tap()
    expect(page.locator(".story__row--void")).to_contain_text("photo taken")
    assert _loaded(page) == []


def test_sexing_a_spike_on_the_round_offers_the_camera(
    page: Page, nursery: Nursery, look: Look, leaf: Path, known: set[str]
) -> None:
    nursery.spike(days_ago=20)
    look("/")
    row = page.locator("details.task").first
    if row.get_attribute("open") is None:
        row.locator("summary.task__head").tap()
    row.get_by_role("button", name="Female buds").tap()
    assert looked_over(page, known) == []
    page.locator(".done").get_by_role("link", name="Take a photo").tap()
    page.get_by_label("With the phone's camera").set_input_files(leaf)
    page.get_by_role("button", name="Keep this photo").tap()
    expect(page.locator("#status")).to_contain_text("photo taken")
    expect(page.locator("h1")).to_contain_text("round")
    assert Photo.objects.get().act.thing.kind == "spike"


def test_without_script_it_works_as_well(
    browser: Browser, live_server: Any, grower: Person, nursery: Nursery, leaf: Path
) -> None:
    plant = nursery.plant()
    context = browser.new_context(**PHONE, java_script_enabled=False, base_url=live_server.url)
    cookie = signed_in(grower).cookies["sessionid"]
    context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": live_server.url}])
    plain = context.new_page()
    plain.goto(act_url(plant, "photo"))
    plain.get_by_label("With the phone's camera").set_input_files(leaf)
    plain.get_by_role("button", name="Keep this photo").tap()
    expect(plain.locator("a.photo")).to_be_visible()
    context.close()
    assert Photo.objects.get().act.thing_id == plant.pk


def test_many_photos_of_many_days_fit_a_phone_and_a_desk(
    page: Page, nursery: Nursery, look: Look, known: set[str]
) -> None:
    plant = nursery.plant()
    for number, (width, height) in enumerate([(400, 300), (300, 400), (1000, 20), (20, 1000), (4, 4), (640, 480)]):
        note = "A caption of words that go on, andonewordthatneverendsatallbecausesomebodyleanedonakey." * (number % 2)
        nursery.record(photo_taken, thing=plant, photo=kept(width, height), days_ago=number // 2, note=note)
    look(thing_url(plant))
    assert len(_loaded(page)) == 6
    assert looked_over(page, known) == []
