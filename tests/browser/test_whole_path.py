"""The whole way on a phone, by clicking: two crosses on one spike, from its bud to pots of seedlings.

The clock is moved on between the visits of a real season; every day is the day the round asks for, or a day on which
a grower would look.
"""

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import time_machine
from playwright.sync_api import Locator, Page, expect

from breeding.models import Cross, Section, SeedLot, SeedPot, Spike
from nursery.models import Person, Tag
from tests.conftest import PASSWORD
from tests.labels.cast import SHEET
from tests.labels.reading import Drawn, decoded

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


class Season:
    """A grower with a phone, and a clock that can be moved on."""

    def __init__(self, page: Page, home: str, owner: Person):
        self.page, self.home, self.owner = page, home, owner
        self.traveller: time_machine.travel | None = None

    def day(self, number: int) -> None:
        """Day ``number`` of the story, at eight in the morning, signed in."""
        if self.traveller:
            self.traveller.stop()
        self.traveller = time_machine.travel(START + timedelta(days=number), tick=True)
        self.traveller.start()
        self.open("/sign-in/")
        if self.page.get_by_role("heading", name="Sign in").is_visible():
            self.page.get_by_label("Name").fill(self.owner.name)
            self.page.get_by_label("Password").fill(PASSWORD)
            self.page.get_by_role("button", name="Sign in").first.click()
            expect(self.page.get_by_role("heading", name=re.compile("round"))).to_be_visible()

    def stop(self) -> None:
        if self.traveller:
            self.traveller.stop()

    def open(self, path: str) -> None:
        self.page.goto(f"{self.home}{path}")

    def link(self, name: str) -> None:
        self.page.get_by_role("main").get_by_role("link", name=re.compile(f"^{name}")).first.click()

    def choose(self, label: str) -> None:
        """A choice, tapped on its words as a thumb does; the number on a packet stands before them."""
        words = re.compile(rf"^(\d[\d ]+ · )?{re.escape(label)}")
        self.page.locator("label.choice").filter(has_text=words).first.click()

    def fill(self, label: str, text: str) -> None:
        self.page.locator("form.form").get_by_label(label).first.fill(text)

    def save(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).click()
        expect(self.page.locator("#status .strip")).to_be_visible()

    def task(self, title: str, words: str) -> Locator:
        """A row of today's round, opened."""
        self.open("/")
        row = self.page.locator("details.task").filter(has_text=title).filter(has_text=words).first
        expect(row).to_be_visible()
        if row.get_attribute("open") is None:
            row.locator("summary.task__head").click()
        return row

    def answer(self, title: str, words: str, button: str) -> None:
        """Tap an answer of the round; the row says what was recorded."""
        row = self.task(title, words)
        row.get_by_role("button", name=re.compile(f"^{re.escape(button)}")).first.click()
        expect(self.page.locator(".done").first).to_be_visible()


@pytest.fixture
def season(page: Page, live_server, owner: Person) -> Iterator[Season]:
    season = Season(page, live_server.url, owner)
    yield season
    season.stop()


def _plant(season: Season, species: str, word: str) -> str:
    season.open("/plants/")
    season.page.get_by_role("link", name="Add a plant").click()
    season.fill("or another species, written out", species)
    season.fill("Your own word or letter for it", word)
    season.page.get_by_label("Place").first.select_option(label="Warm house, Long bench")
    season.save("Enter the plant")
    return season.page.url


def _spike_in_pollen(season: Season, plant: str) -> None:
    season.page.goto(plant)
    season.link("Spike found")
    season.choose("fluid or pollen showing")
    season.choose("male")
    season.choose("from open flowers")
    season.save("Record the spike")


def _pollinate(season: Season, spike: str, pollen: str, tie: str) -> str:
    season.page.goto(spike)
    season.link("Pollinate")
    season.choose(pollen)
    season.fill("Its tie", tie)
    season.fill("or counted", "12")
    season.save("Record the pollination")
    return season.page.url


def test_from_a_bud_to_seedlings(season: Season) -> None:
    page = season.page

    # The nursery is entered: the address of its tags, a house, a bench, three plants.
    season.day(0)
    season.open("/office/house/")
    season.fill("Address", season.home)
    page.get_by_role("button", name=re.compile("Save|Keep")).first.click()
    season.open("/places/new/")
    season.fill("Name", "Warm house")
    season.choose("house")
    season.save("Enter the place")
    season.open("/places/new/")
    season.fill("Name", "Long bench")
    season.choose("bench")
    page.get_by_label("Inside").select_option(label="Warm house")
    season.save("Enter the place")
    mother = _plant(season, "lowii", "hammer")
    father = _plant(season, "hamata", "lantern")
    other_father = _plant(season, "veitchii", "velvet")

    # A spike is found, and its sex read from the buds when the round asks.
    page.goto(mother)
    season.link("Spike found")
    season.choose("growing")
    season.save("Record the spike")
    spike = page.url
    season.day(10)
    season.answer("Look at spike", "hammer", "Female buds")
    season.day(36)
    page.goto(spike)
    season.link("Look in words")
    season.choose("flowers open")
    season.choose("female")
    season.choose("from open flowers")
    season.save("Record the look")

    # Pollen of two males is taken, and two sections of the one spike are pollinated.
    for male in (father, other_father):
        _spike_in_pollen(season, male)
        season.link("Take pollen")
        season.choose("refrigerator")
        season.save("Record the pollen")
    expect(season.task("Pollinate", "hammer")).to_contain_text("lantern")
    first = _pollinate(season, spike, "hamata lantern (refrigerator", "red wool")
    second = _pollinate(season, spike, "veitchii velvet (refrigerator", "blue wool")
    assert first != second

    # Take is read five to seven weeks later, on both.
    season.day(36 + 42)
    season.answer("Read the take", "red wool", "Most")
    season.answer("Read the take", "blue wool", "None")

    # Pods: green, turning, bagged, opening, harvested.
    season.day(36 + 110)
    season.answer("Look at pods", "red wool", "Firm, green")
    season.day(36 + 125)
    page.goto(first)
    page.get_by_role("button", name=re.compile("^Firm, turning")).click()
    season.answer("Bag the pods", "red wool", "Bagged")
    season.day(36 + 140)
    page.goto(first)
    page.get_by_role("button", name=re.compile("^First ones opening")).click()
    season.task("Harvest", "red wool")
    page.goto(first)
    season.link("Harvest")
    season.choose("the whole section")
    season.fill("How many pods", "9")
    season.save("Record the harvest")

    # Sown at once, on the same evening.
    lot = page.url
    season.task("Sow", "lantern")
    page.goto(lot)
    season.link("Sow")
    season.fill("Pots", "3")
    season.fill("Pods into each pot", "3")
    season.choose("Nothing of this seed is left")
    page.get_by_label("Place").first.select_option(label="Warm house, Long bench")
    season.save("Record the sowing")

    # Tags are printed, and a pot opens by its code.
    pots = list(SeedPot.objects.order_by("pk"))
    assert len(pots) == 3
    printed = _printed_codes(season)
    number = Tag.objects.get(thing_id=pots[0].pk).number
    [address] = [address for address in printed if address.endswith(f"/T/{number}")]
    assert address == f"{season.home}/t/{number}".upper()

    # Seedlings, eight weeks later, by the scanned code.
    season.day(36 + 140 + 56)
    page.goto(address)
    expect(page.get_by_role("heading", level=1)).to_have_text("lowii hammer × hamata lantern")
    page.get_by_role("button", name=re.compile("^First up")).click()
    expect(page.locator("#status .strip")).to_contain_text("first up")

    # The story and the numbers are right.
    cross = Cross.objects.get(pollen_parent__designation="lantern")
    season.open(f"/crosses/{cross.pk}/")
    story = page.get_by_role("main")
    expect(story).to_contain_text("Female parent first.")
    expect(story).to_contain_text("1 of 3 pots up")
    told = ("red wool", "most swelling", "firm, turning", "bagged", "9 pods", "3 pods each", "the first seedlings")
    for words in told:
        expect(story).to_contain_text(words)
    expect(story).not_to_contain_text("blue wool")
    _stored_as_told(cross)


def _stored_as_told(cross: Cross) -> None:
    assert (cross.sections, cross.pots, cross.pots_up, cross.stage) == (1, 3, 1, "up")
    assert Spike.objects.get(plant__clone__designation="hammer").sex == "female"
    red, blue = Section.objects.order_by("order")
    assert (red.take, red.bagged, red.closed_why) == ("most", True, "harvested")
    assert (blue.take, blue.stage, blue.closed_on) == ("none", "no_take", None)
    lot = SeedLot.objects.get()
    assert (lot.pots_sown, lot.closed_why) == (3, "sown")
    pot = SeedPot.objects.get(stage="up")
    assert (pot.first_by - pot.sown_first).days == 56


def _printed_codes(season: Season) -> set[str]:
    """Print every tag that waits, say that they came out right, and read the codes off the printed page."""
    page = season.page
    season.open("/labels/")
    page.get_by_role("button", name="Lay them out").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Get the PDF").click()
    drawn = Drawn(Path(download.value.path()).read_bytes(), SHEET)
    page.get_by_role("button", name="They came out right").click()
    expect(page.locator("#status .strip")).to_be_visible()
    return decoded(drawn.page(0, dpi=300))
