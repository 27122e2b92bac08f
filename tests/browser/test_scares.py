"""By clicking, on a phone: a house is closed and opened again, and a virus scare is traced from one plant."""

import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from nursery.links import thing_url
from nursery.models import Act, Person, Plant
from nursery.records.flags import open_flags
from nursery.records.plants import plant_arrived
from tests.making import Nursery, tag_of

Look = Callable[[str], None]


@pytest.fixture
def look(page: Page, live_server: Any, grower: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Tom Reed, a grower, has signed in."""
    sign_in(grower)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


def _choose(page: Page, label: str) -> None:
    page.locator("label.choice").filter(has_text=re.compile(f"^{re.escape(label)}$")).first.click()


def test_a_treatment_closes_the_house_until_somebody_opens_it(page: Page, nursery: Nursery, look: Look) -> None:
    house = nursery.house("House 2")
    nursery.spike(nursery.plant(place=nursery.bench("Long bench", inside=house)), days_ago=20)
    look(thing_url(house))
    page.get_by_role("link", name="House log").click()
    visible = "Follow the label and your local rules: rate and re-entry stand there only."
    expect(page.get_by_text(visible)).to_be_visible()
    _choose(page, "treatment")
    page.get_by_label("Product").fill("insecticidal soap")
    until = timezone.localtime() + timedelta(days=1)
    page.get_by_label("Closed until").fill(f"{until:%Y-%m-%d}T14:00")
    page.get_by_role("button", name="Write it in the log").click()
    said = "House 2 is closed until 14:00 tomorrow, as typed from the label by Tom Reed (insecticidal soap)."
    banner = page.locator(".closing")
    expect(banner).to_contain_text(said)
    for address in ("/", thing_url(house)):
        look(address)
        expect(banner).to_contain_text(said)
    look("/")
    page.emulate_media(media="print")
    expect(banner).to_be_visible()
    page.emulate_media(media="screen")
    banner.get_by_role("link", name="It is over").click()
    page.get_by_role("button", name="Record that it is over").click()
    expect(page.get_by_text("The time typed from the label has not come by then.")).to_be_visible()
    page.get_by_role("button", name="Record it all the same").click()
    expect(page.locator("#story .story__what").first).to_have_text("house log, over: treatment")
    look("/")
    expect(banner).to_have_count(0)
    assert open_flags().get().code == "open_before_label"


def test_a_trace_is_followed_from_one_plant_to_the_next(page: Page, nursery: Nursery, look: Look) -> None:
    bench = nursery.bench("Long bench")
    plant, beside = (nursery.plant(nursery.clone("lowii", word), place=bench) for word in ("heddle", "bodkin"))
    nursery.record(plant_arrived, clone=plant.clone, struck_from=plant, days_ago=3)
    nursery.record(plant_arrived, clone=beside.clone, struck_from=beside, days_ago=3)
    look(f"/t/{tag_of(plant).number}/")
    page.get_by_role("link", name="Quarantine").click()
    page.get_by_label("Why").fill("mosaic on the new leaves")
    page.get_by_role("button", name="Record the quarantine").click()
    expect(page.get_by_text("It is in quarantine since")).to_be_visible()
    page.get_by_role("link", name="who stood near").click()
    near = page.locator("#near")
    expect(near).to_contain_text("Who stood near: 1")
    expect(near).to_contain_text("same bench, Long bench: 400 days")
    expect(page.locator("#came")).to_contain_text("struck from it")
    expect(page.locator("#cut")).to_contain_text("cutting taken")
    expect(page.locator("#cut")).to_contain_text("next after it")
    near.get_by_role("link", name="lowii bodkin").click()
    page.get_by_role("link", name="who stood near").click()
    expect(page.locator("#near")).to_contain_text("lowii heddle")


def test_a_bench_is_counted_and_its_differences_settled(page: Page, nursery: Nursery, look: Look) -> None:
    bench = nursery.bench("Long bench")
    here, missed = (nursery.plant(place=bench) for _ in range(2))
    stranger = nursery.plant()
    look(thing_url(bench))
    page.get_by_role("link", name="Stocktake").click()
    page.get_by_label(re.compile("hammer")).check()
    page.get_by_label("Tags of what stands here").fill(str(tag_of(stranger).number))
    page.get_by_role("button", name="Record the stocktake").click()
    expect(page.locator(".head")).to_contain_text("2 seen")
    page.get_by_role("button", name="Move it here").click()
    expect(page.get_by_text("Seen, and should stand elsewhere")).to_have_count(0)
    page.get_by_role("button", name="Not found").click()
    expect(page.locator(".difference__settled")).to_contain_text("not found: in Long bench")
    assert Plant.objects.get(pk=stranger.pk).place == bench
    assert open_flags().get().thing_id == missed.pk
    assert here.pk in Act.objects.get(kind="stocktake").links.values_list("thing_id", flat=True)
