"""The office in a browser: a routine made and answered, a kind of question switched off; and by keyboard alone."""

import re
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import Locator, Page, expect

from breeding.learning import fits
from breeding.models import Expectation, Routine
from breeding.records import expectations as records
from breeding.records.spikes import spike_looked
from nursery.links import thing_url
from nursery.models import Act, Person, Thing
from nursery.records.house import house
from nursery.records.remarks import remarked
from nursery.views.office.places import walked
from tests.browser.conftest import DESK
from tests.browser.looks import looked_over
from tests.conftest import signed_in
from tests.making import Nursery, tag_of, today

Look = Callable[[str], None]
MOST_TABS = 120


@pytest.fixture
def look(page: Page, live_server: Any, owner: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Ida Fern, an owner, has signed in."""
    sign_in(owner)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


def _choose(page: Page, label: str) -> None:
    page.locator("label.choice").filter(has_text=re.compile(f"^{re.escape(label)}")).first.click()


def test_a_routine_is_added_and_answered_in_the_round(page: Page, nursery: Nursery, look: Look) -> None:
    nursery.bench("Long bench", inside=nursery.house("Warm house"))
    look("/office/routines/")
    page.get_by_role("link", name="Add a routine").click()
    page.get_by_label("What is to be done").fill("mist")
    page.get_by_label("Where").select_option(label="Warm house, Long bench")
    _choose(page, "Every day")
    page.get_by_role("button", name="Keep this routine").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("mist")
    look("/")
    row = page.locator("details.task").filter(has_text="Mist").first
    expect(row).to_contain_text("legionella")
    row.get_by_role("button", name="Done").click()
    expect(page.locator(".done")).to_contain_text("done")
    assert Routine.objects.get().done_on == today()
    look("/")
    expect(page.locator("details.task")).to_have_count(0)


def test_a_rule_that_names_no_day_is_refused_with_what_was_typed(page: Page, look: Look) -> None:
    look("/routines/new/")
    page.get_by_label("What is to be done").fill("feed")
    _choose(page, "By a rule of your own")
    page.get_by_label("Rule", exact=False).last.fill("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30")
    page.get_by_role("button", name="Keep this routine").click()
    expect(page.locator(".field__error")).to_contain_text("This rule names no day")
    expect(page.get_by_label("What is to be done")).to_have_value("feed")
    assert not Routine.objects.exists()


def test_a_kind_switched_off_is_gone_and_the_thing_says_why(page: Page, nursery: Nursery, look: Look) -> None:
    section = nursery.section(days_ago=40)
    look("/")
    expect(page.locator("details.task").filter(has_text="Read the take")).to_have_count(1)
    look("/office/round/")
    _choose(page, "Read the take")
    page.get_by_role("button", name="Keep this").click()
    expect(page.locator("#status .strip")).to_contain_text("Kept")
    look("/")
    expect(page.locator("details.task").filter(has_text="Read the take")).to_have_count(0)
    look(thing_url(section))
    expect(page.get_by_text("Take readings are switched off.")).to_be_visible()


# --- by keyboard, at the desk ---


def _reach(page: Page, wanted: Locator) -> None:
    """Press Tab until this has the focus; a person without a mouse has no other way."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if wanted.evaluate("one => one === document.activeElement"):
            return
    raise AssertionError(f"{wanted} cannot be reached by the Tab key")


def test_a_routine_is_added_by_keyboard(page: Page, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    look("/office/routines/")
    _reach(page, page.get_by_role("link", name="Add a routine"))
    page.keyboard.press("Enter")
    _reach(page, page.get_by_label("What is to be done"))
    page.keyboard.type("clean the trays")
    _reach(page, page.get_by_role("radio", name="Every day"))
    page.keyboard.press("ArrowDown")  # on these days of the week
    _reach(page, page.get_by_role("checkbox", name="Thu"))
    page.keyboard.press("Space")
    _reach(page, page.get_by_role("button", name="Keep this routine"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("clean the trays")
    assert Routine.objects.get().rule == "FREQ=WEEKLY;BYDAY=TH"


def test_what_the_round_asks_and_what_may_be_lost_are_set_by_keyboard(page: Page, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    look("/office/round/")
    _reach(page, page.get_by_role("checkbox", name="Sun"))
    page.keyboard.press("Space")
    _reach(page, page.get_by_role("checkbox", name="Bag the pods"))
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(page.locator("#status .strip")).to_contain_text("Kept")
    assert (house().looks_on, house().tasks_off) == ([0, 1, 2, 3, 4, 5], ["bag"])
    look("/office/timings/")
    _reach(page, page.get_by_label("Pods that open"))
    page.keyboard.type("about one pod in five hundred")
    _reach(page, page.get_by_role("button", name="Accept this"))
    page.keyboard.press("Enter")
    expect(page.locator("#status .strip")).to_contain_text("Kept")
    assert {row.risk for row in Expectation.objects.filter(step__in=["ripe", "turning"], taxon=None)} == {0.002}


def test_places_change_turns_by_keyboard(page: Page, nursery: Nursery, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    house = nursery.house("Cool house")
    for turn, name in enumerate(("Near bench", "Far bench")):
        nursery.bench(name, inside=house, order=turn)
    look("/office/places/")
    _reach(page, page.get_by_role("button", name="Walk Far bench earlier"))
    page.keyboard.press("Enter")
    expect(page.locator("#status .strip")).to_contain_text("Far bench is walked earlier now.")
    assert [row.place.name for row in walked()] == ["Cool house", "Far bench", "Near bench"]


def test_the_journal_is_searched_by_keyboard(page: Page, nursery: Nursery, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    bench = nursery.bench("Near bench")
    nursery.record(remarked, thing=bench, words="Dry corner.")
    look("/office/journal/")
    _reach(page, page.locator("summary").filter(has_text="Choose by person"))
    page.keyboard.press("Enter")
    _reach(page, page.get_by_label("Number on its tag"))
    page.keyboard.type(str(tag_of(bench).number))
    page.keyboard.press("Enter")
    expect(page.locator(".story__row")).to_have_count(2)
    expect(page.locator(".story").first).to_contain_text("Dry corner.")


def test_other_devices_are_signed_out_by_keyboard(page: Page, owner: Person, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    lost = signed_in(owner)
    look("/office/signed-in/")
    _reach(page, page.get_by_role("button", name="Sign out everywhere else"))
    page.keyboard.press("Enter")
    expect(page.locator("#status .strip")).to_contain_text("You are signed out everywhere but here.")
    assert lost.get("/").status_code == 302


def test_a_clones_parents_are_reached_by_keyboard(page: Page, nursery: Nursery, look: Look) -> None:
    page.set_viewport_size(DESK["viewport"])
    mother = nursery.clone("lowii", "kettle")
    look(thing_url(nursery.clone(word="anvil", seed_parent=mother)))
    _reach(page, page.locator(".descent__name"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("lowii kettle")


# --- timings learned ---


@pytest.fixture
def learns_here(settings: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nothing is learned yet, and a page waits for what is."""
    settings.LEARNED = tmp_path
    monkeypatch.setattr(fits, "PATIENCE", 60)
    fits.forget()
    yield
    fits.forget()


@pytest.mark.usefixtures("learns_here")
def test_a_timing_is_read_tried_kept_and_put_back(page: Page, nursery: Nursery, look: Look, known: set[str]) -> None:
    """Shipped: 28 to 49 days from the spike to its first flower (a paper); the nursery's own take 40."""
    clone = nursery.clone()
    for age in (90, 80, 70, 60):
        spike = nursery.spike(nursery.plant(clone), days_ago=age)
        nursery.record(spike_looked, spike=spike, seen="buds", days_ago=age - 39)
        nursery.record(spike_looked, spike=spike, seen="open", days_ago=age - 41)
    yesterday = timezone.now() - timedelta(days=1)
    Act.objects.update(recorded_at=yesterday)
    Thing.objects.update(made_at=yesterday)
    page.set_viewport_size(DESK["viewport"])
    look("/office/timings/")
    page.get_by_role("link", name="spike seen to first open flower").first.click()
    main = page.get_by_role("main")
    expect(main.get_by_role("heading", name="What our own log says")).to_be_visible()
    expect(main).to_contain_text("from 4 spikes")
    assert looked_over(page, known) == []
    page.get_by_role("link", name="Change the one for all taxa").click()

    row = Expectation.objects.get(step="spike_open", taxon=None)
    page.get_by_label("Four of five take at least").fill("20")
    page.get_by_label("Risk you accept of coming too late").select_option(label="about one in fifty")
    page.get_by_role("button", name="See what it would change").click()
    told = page.get_by_role("status").filter(has_text="What this would change")
    expect(told).to_contain_text("Nothing is saved yet.")
    expect(told).to_contain_text("Expected is day")
    expect(told).to_contain_text("Each would be looked at")
    expect(page.get_by_label("Four of five take at least")).to_have_value("20")
    assert records.facts_of(row) == records.shipped_facts("spike_open")

    page.get_by_role("button", name="Change it").click()
    expect(page.locator("#status .strip")).to_contain_text("20 to 49 days")
    look("/office/timings/step/spike_open/")
    expect(page.locator("tbody tr").first).to_contain_text("20 to 49")
    expect(page.locator("tr.differs")).to_contain_text("about one in fifty (accepted now)")
    page.get_by_role("link", name="Change the one for all taxa").click()
    page.get_by_role("button", name="Back to what is shipped").click()
    expect(page.locator("#status .strip")).to_contain_text("Back to what Tepal ships")
    row.refresh_from_db()
    assert records.facts_of(row) == records.shipped_facts("spike_open")


# --- looks ---


def test_the_pages_of_the_office_and_of_a_clone_look_right(
    page: Page, nursery: Nursery, look: Look, known: set[str]
) -> None:
    parent = nursery.clone(word="kettle", seed_parent=nursery.clone(), pollen_parent=nursery.clone("hamata"))
    clone = nursery.clone(seed_parent=parent)
    spike = nursery.female(clone, days_ago=40)
    section = nursery.section(spike, days_ago=39)
    routine = nursery.routine()
    things = [thing_url(thing) for thing in (clone, spike.plant, section, routine)]
    pages = ["/office/signed-in/", f"/office/people/{nursery.by.pk}/", "/office/journal/?undone=only", "/help/"]
    pages += ["/office/routines/", "/routines/new/", f"/routines/{routine.pk}/change/", "/office/round/"]
    wrong = []
    for address in [*things, *pages, "/office/timings/", "/"]:
        look(address)
        wrong += [f"{address} {words}" for words in looked_over(page, known)]
    assert wrong == []
