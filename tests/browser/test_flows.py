"""Short ways by clicking, on a phone: what goes wrong with wet hands, two people, a lost sign-in, or no script."""

import re
import uuid
from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.utils import timezone
from playwright.sync_api import Browser, Locator, Page, expect

from breeding.models import PotLook, Section, SeedPot
from breeding.records.pods import pods_looked_at
from breeding.records.pots import pot_looked_at
from nursery.models import Act, Flag, Person
from nursery.records.numbers import blank_tags_make
from nursery.templatetags.tepal import plate
from tests.browser.conftest import PHONE
from tests.conftest import PASSWORD, signed_in
from tests.making import Nursery, tag_of, today

Look = Callable[[str], None]


@pytest.fixture
def look(page: Page, live_server: Any, grower: Person, sign_in: Callable[[Person], None]) -> Look:
    """Opens an address; Tom Reed, a grower, has signed in."""
    sign_in(grower)
    return lambda address: page.goto(f"{live_server.url}{address}") and None


@pytest.fixture
def plain(browser: Browser, live_server: Any, grower: Person) -> Iterator[Page]:
    """A phone whose browser runs no script; Tom Reed has signed in."""
    context = browser.new_context(**PHONE, java_script_enabled=False, base_url=live_server.url)
    cookie = signed_in(grower).cookies["sessionid"]
    context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": live_server.url}])
    yield context.new_page()
    context.close()


def _row(page: Page, title: str) -> Locator:
    """The first task of this title on the round, opened."""
    row = page.locator("details.task").filter(has_text=title).first
    if row.get_attribute("open") is None:
        row.locator("summary.task__head").click()
    return row


def _strip(page: Page) -> Locator:
    return page.locator("#status .strip")


def _choose(page: Page, label: str) -> None:
    page.locator("label.choice").filter(has_text=re.compile(f"^{re.escape(label)}$")).first.click()


def _looks(kind: str = "spike_look") -> Any:
    return Act.objects.filter(kind=kind)


# --- the round ---


def test_a_double_tap_on_an_answer_counts_once(page: Page, nursery: Nursery, look: Look) -> None:
    nursery.spike(days_ago=20)
    look("/")
    _row(page, "Look at spike").get_by_role("button", name="Female buds").dblclick()
    expect(page.locator(".done")).to_contain_text("female")
    expect(page.locator(".done")).to_contain_text("lowii hammer")
    page.wait_for_load_state("networkidle")
    assert _looks().count() == 1


def test_undo_on_the_answered_row_takes_it_back(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.spike(days_ago=20)
    look("/")
    _row(page, "Look at spike").get_by_role("button", name="Aborted").tap()
    page.locator(".done").get_by_role("button", name="Undo").tap()
    row = page.locator("details.task[open]").filter(has_text="Undone: ")
    expect(row).to_contain_text("lowii hammer")
    expect(row.get_by_role("button", name="Aborted")).to_be_visible()
    expect(page.locator(".done")).to_have_count(0)
    spike.refresh_from_db()
    assert (spike.stage, spike.closed_on) == ("growing", None)
    assert _looks().get().voided_by


def test_what_an_answer_makes_untrue_leaves_the_page_and_comes_back_with_undo(
    page: Page, nursery: Nursery, look: Look
) -> None:
    section = nursery.section(days_ago=140)
    nursery.record(pods_looked_at, section=section, seen="turning", days_ago=12)
    look("/")
    bag, pods = (page.locator(f"#row-sections-{section.pk}-{kind}") for kind in ("bag", "pods"))
    expect(bag.get_by_role("heading", name="Bag the pods")).to_be_visible()
    had = page.locator("details.task").count()
    _row(page, "Look at pods").get_by_role("button", name="Firm, green").tap()
    expect(bag).to_be_hidden()
    page.locator(".done").get_by_role("button", name="Undo").tap()
    expect(bag.get_by_role("heading", name="Bag the pods")).to_be_visible()
    expect(pods.get_by_role("button", name="Firm, green")).to_be_visible()
    expect(page.locator("details.task")).to_have_count(had)


def test_nothing_new_here_answers_the_bench_and_no_other(page: Page, nursery: Nursery, look: Look) -> None:
    bench = nursery.bench("Long bench")
    here = [nursery.spike(nursery.plant(place=bench), days_ago=20) for _ in range(2)]
    there = nursery.spike(days_ago=20)
    look("/")
    group = page.locator(".group").filter(has_text="Long bench")
    group.get_by_role("button", name="Nothing new here").tap()
    walked = group.locator(".done")
    expect(walked).to_contain_text("walked past")
    expect(walked).to_contain_text("2 things on ")
    expect(walked).to_contain_text("Long bench")
    expect(group.locator(".task")).to_have_count(0)
    touched = set(_looks("walked_past").get().links.values_list("thing_id", flat=True))
    assert {one.pk for one in here} <= touched and there.pk not in touched
    walked.get_by_role("button", name="Undo").tap()
    expect(group.locator(".task")).to_have_count(2)
    expect(page.locator(".done")).to_have_count(0)


def test_nothing_new_here_stays_where_it_was_tapped(page: Page, nursery: Nursery, look: Look) -> None:
    for number in range(8):
        nursery.spike(nursery.plant(place=nursery.bench(f"Bench {number}")), days_ago=20)
    look("/")
    group = page.locator(".group").last
    group.scroll_into_view_if_needed()
    group.get_by_role("button", name="Nothing new here").tap()
    expect(group.locator(".done")).to_be_in_viewport()
    group.get_by_role("button", name="Undo").tap()
    expect(group.locator(".task")).to_have_count(1)
    expect(group).to_be_in_viewport()
    assert page.evaluate("scrollY") > 0


def test_what_is_offered_as_an_answer_is_no_link_as_well(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.female(days_ago=5)
    look(f"/spikes/{spike.pk}/")
    address = f"/spikes/{spike.pk}/pollinate/"
    expect(page.locator("a.answer").filter(has_text="Pollinate")).to_have_attribute("href", address)
    beside = page.get_by_role("navigation", name="Record something else")
    expect(beside.get_by_role("link", name="Remark")).to_be_visible()
    expect(beside.locator(f"a[href='{address}']")).to_have_count(0)


# --- forms ---


def test_earlier_takes_a_vague_day(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.spike(days_ago=200)
    look(f"/spikes/{spike.pk}/look/")
    _choose(page, "buds")
    page.get_by_text("Earlier", exact=True).tap()
    _choose(page, "Some day that month")
    day = today() - timedelta(days=60)
    page.get_by_label("Which day").fill(day.isoformat())
    page.get_by_role("button", name="Record the look").tap()
    expect(_strip(page)).to_contain_text(f"in {day:%B %Y}")
    act = _looks().get()
    assert (act.said, act.day_first.day, act.day_first.month) == ("month", 1, day.month)


def test_a_day_typed_in_half_is_not_sent_as_none(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.spike(days_ago=20)
    look(f"/spikes/{spike.pk}/look/")
    _choose(page, "buds")
    page.get_by_text("Earlier", exact=True).tap()
    day = page.get_by_label("Which day")
    day.press_sequentially("11")
    page.get_by_text("Earlier", exact=True).tap()
    record = page.get_by_role("button", name="Record the look")
    record.tap()
    expect(day).to_be_focused()
    assert not _looks().exists()
    day.fill((today() - timedelta(days=3)).isoformat())
    record.tap()
    expect(_strip(page)).to_contain_text("buds")
    assert _looks().get().day_first == today() - timedelta(days=3)


def test_a_tie_in_use_is_tapped_and_leave_it_leads_back_to_the_round(page: Page, nursery: Nursery, look: Look) -> None:
    nursery.section(tie="white wire", days_ago=6)
    spike, lot = nursery.female(days_ago=5), nursery.pollen(days_ago=3)
    look("/")
    there = f"/spikes/{spike.pk}/pollinate/?pollen=lot:{lot.pk}"
    row = page.locator("details.task").filter(has=page.locator(f'a[href^="{there}"]')).first
    if row.get_attribute("open") is None:
        row.locator("summary.task__head").click()
    row.locator(f'a[href^="{there}"]').tap()
    page.get_by_role("button", name="white wire").tap()
    tie = page.get_by_label("Its tie", exact=False).first
    expect(tie).to_have_value("white wire")
    expect(tie).not_to_be_focused()
    page.get_by_role("link", name="Leave it").tap()
    expect(page).to_have_url(re.compile(r"/(#.*)?$"))
    page.go_back()
    page.get_by_role("button", name="Record the pollination").tap()
    page.wait_for_url("**/sections/**")
    assert Section.objects.get(spike=spike).tie == "white wire"


def test_digits_are_tapped_on_keys(page: Page, nursery: Nursery, look: Look) -> None:
    pot = nursery.pot(days_ago=70)
    look(f"/pots/{pot.pk}/look/")
    _choose(page, "few")
    page.locator("input[data-keypad]").first.tap()
    keys = page.locator("[data-keypad-for]:visible")
    for key in ("1", "2", "Back", "4"):
        keys.get_by_role("button", name=key, exact=True).tap()
    page.get_by_role("button", name="Record the look").tap()
    expect(_strip(page)).to_contain_text("14")
    assert PotLook.objects.get().counted == 14


def test_what_was_typed_survives_an_error(page: Page, nursery: Nursery, look: Look) -> None:
    pot = nursery.pot(days_ago=70)
    look(f"/pots/{pot.pk}/look/")
    page.get_by_label("Note").fill("algae at the rim")
    page.get_by_role("button", name="Record the look").tap()
    expect(page.locator(".field--wrong .field__error")).to_have_text("Say what you see, or “can't tell”.")
    expect(page.get_by_label("Note")).to_have_value("algae at the rim")
    _choose(page, "nothing yet")
    page.get_by_role("button", name="Record the look").tap()
    expect(_strip(page)).to_contain_text("nothing yet")
    assert Act.objects.get(kind="pot_look").note == "algae at the rim"


def test_going_back_and_pollinating_again_makes_no_second_section(page: Page, nursery: Nursery, look: Look) -> None:
    spike, lot = nursery.female(days_ago=5), nursery.pollen(days_ago=3)
    look(f"/spikes/{spike.pk}/pollinate/")
    page.locator(f'input[value="lot:{lot.pk}"]').check()
    page.get_by_label("Its tie").fill("red wool")
    page.get_by_role("button", name="Record the pollination").tap()
    page.wait_for_url("**/sections/**")
    page.go_back()
    expect(page.get_by_label("Its tie")).to_have_value("red wool")
    page.get_by_role("button", name="Record the pollination").tap()
    expect(page.get_by_text("This was recorded before, and counts once.")).to_be_visible()
    assert Section.objects.filter(spike=spike).count() == 1


def test_an_objection_is_asked_once_and_then_stands_to_be_sorted_out(page: Page, nursery: Nursery, look: Look) -> None:
    spike = nursery.female(days_ago=5)
    look(f"/spikes/{spike.pk}/look/")
    _choose(page, "flowers open")
    _choose(page, "male")
    _choose(page, "from open flowers")
    page.get_by_role("button", name="Record the look").tap()
    asked = page.locator(".objections")
    expect(asked).to_contain_text("This spike was read as female before, now as male.")
    assert not _looks().exists()
    page.get_by_role("button", name="Record it all the same").tap()
    expect(_strip(page)).to_contain_text("male")
    assert _looks().count() == 1
    look("/office/to-sort-out/")
    expect(page.get_by_role("main")).to_contain_text("This spike was read as female before, now as male.")
    page.get_by_role("button", name="It was so").first.tap()
    expect(page.locator(".sorting__row")).to_have_count(0)
    assert Flag.objects.get(code="sex_contradicts")


def test_the_same_form_sent_from_two_tabs_counts_once(page: Page, nursery: Nursery, look: Look) -> None:
    plant = nursery.plant()
    address = f"/plants/{plant.pk}/remark/"
    look(address)
    other = page.context.new_page()
    other.goto(page.url)
    act_id = str(uuid.uuid4())
    for tab in (page, other):
        tab.bring_to_front()
        tab.locator("main [name=act_id]").evaluate("(input, id) => { input.value = id; }", act_id)
        tab.get_by_label("Remark").fill("leans to the east")
        tab.get_by_role("button", name="Keep this remark").tap()
        expect(_strip(tab).first).to_contain_text("leans to the east")
    expect(_strip(other).last).to_contain_text("This was recorded before, and counts once.")
    other.go_back()
    other.get_by_label("Remark").fill("leans to the west")
    other.locator("main [name=act_id]").evaluate("(input, id) => { input.value = id; }", act_id)
    other.evaluate("sessionStorage.clear()")
    other.get_by_role("button", name="Keep this remark").tap()
    expect(other.get_by_role("heading", level=1)).to_have_text("Sent twice, not the same")
    expect(other.get_by_role("main")).to_contain_text("leans to the east")
    expect(other.get_by_role("main")).to_contain_text("leans to the west")
    assert Act.objects.filter(kind="remarked").count() == 1


def test_an_act_is_corrected(page: Page, nursery: Nursery, look: Look, grower: Person) -> None:
    nursery.by = grower
    pot = nursery.pot(days_ago=70)
    look(f"/pots/{pot.pk}/")
    page.get_by_role("button", name=re.compile("^Plenty")).first.tap()
    expect(_strip(page)).to_contain_text("plenty")
    look(f"/pots/{pot.pk}/")
    row = page.locator(".story__row").filter(has_text="plenty")
    fold = row.locator("summary")
    if fold.count():
        fold.first.tap()
    row.get_by_role("link", name="Correct").tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Correct")
    _choose(page, "first up")
    page.get_by_role("button", name="Correct it").tap()
    expect(_strip(page)).to_contain_text("first up")
    old, new = Act.objects.filter(kind="pot_look").order_by("recorded_at")
    assert (new.replaces, old.voided_by.act.kind) == (old, "void")
    assert PotLook.objects.get(act=new).seen == "first"


# --- signing in ---


def test_a_lost_sign_in_loses_nothing_and_saves_once(page: Page, nursery: Nursery, look: Look, grower: Person) -> None:
    plant = nursery.plant()
    look(f"/plants/{plant.pk}/remark/")
    act_id = page.locator("main [name=act_id]").input_value()
    page.get_by_label("Remark").fill("scale under the lid")
    Session.objects.all().delete()
    page.get_by_role("button", name="Keep this remark").tap()
    expect(page.get_by_text("what you typed comes back after you sign in")).to_be_visible()
    page.get_by_label("Your name").fill(grower.name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Not saved yet")
    expect(page.get_by_text("scale under the lid")).to_be_visible()
    assert not Act.objects.filter(kind="remarked").exists()
    page.get_by_role("button", name="Save now").dblclick()
    expect(_strip(page)).to_contain_text("scale under the lid")
    assert str(Act.objects.get(kind="remarked").pk) == act_id


def test_a_lost_sign_in_on_the_round_brings_the_answer_back(
    page: Page, nursery: Nursery, look: Look, grower: Person
) -> None:
    nursery.spike(days_ago=20)
    look("/")
    Session.objects.all().delete()
    _row(page, "Look at spike").get_by_role("button", name=re.compile("^Male buds")).tap()
    page.get_by_label("Your name").fill(grower.name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).tap()
    page.get_by_role("button", name="Save now").tap()
    expect(_strip(page)).to_contain_text("male")
    assert _looks().count() == 1


def test_a_code_shown_by_the_owner_signs_a_grower_in(
    page: Page, browser: Browser, live_server: Any, owner: Person, grower: Person, sign_in: Callable
) -> None:
    sign_in(owner)
    page.goto(f"{live_server.url}/office/people/{grower.pk}/code/")
    page.get_by_role("button", name="Show a code").tap()
    code = page.locator(".code").inner_text()
    theirs = browser.new_context(**PHONE, base_url=live_server.url)
    phone = theirs.new_page()
    phone.goto("/sign-in/?next=/plants/")
    phone.get_by_text("I have a code from the owner").tap()
    phone.get_by_label("Code", exact=True).fill(code.lower())
    phone.get_by_role("button", name="Sign in with the code").tap()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Plants")
    phone.goto("/more/")
    expect(phone.get_by_role("main")).to_contain_text(grower.name)
    theirs.close()


def test_a_viewer_sees_no_buttons_that_record(
    page: Page, live_server: Any, nursery: Nursery, viewer: Person, sign_in: Callable
) -> None:
    section = nursery.section(days_ago=120)
    sign_in(viewer)
    for address in ("/", f"/sections/{section.pk}/", f"/crosses/{section.cross_id}/", "/plants/", "/labels/"):
        page.goto(f"{live_server.url}{address}")
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        posts = page.locator("main form[method=post]:not([action='/sign-out/'])")
        expect(posts).to_have_count(0)
        assert page.locator("main a[href$='/new/'], main .answer, main .button--fill").count() == 0, address


# --- tags ---


def test_a_blank_tag_is_bound_by_its_first_scan(page: Page, nursery: Nursery, look: Look) -> None:
    plant = nursery.plant(days_ago=1)
    [blank] = blank_tags_make(count=1)
    look(f"/T/{blank.number}")
    expect(page.get_by_role("heading", level=1)).to_have_text("This tag is blank")
    page.get_by_role("button", name=re.compile("on this ?plant", re.I)).first.tap()
    expect(page.locator(".head .plate")).to_be_visible()
    blank.refresh_from_db()
    assert blank.thing_id == plant.pk
    look(f"/t/{blank.number}/")
    expect(page.get_by_role("heading", level=1)).to_contain_text(plant.clone.designation)
    assert tag_of(plant).number == blank.number


# --- without script ---


def test_the_quick_answers_work_without_script(plain: Page, nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=20)
    plain.goto("/")
    _row(plain, "Look at spike").get_by_role("button", name="Female buds").tap()
    expect(_strip(plain)).to_contain_text("female")
    expect(plain.get_by_role("heading", level=1)).to_contain_text("round")
    plain.get_by_role("button", name="Undo").tap()
    expect(_strip(plain)).to_contain_text("Undone: ")
    spike.refresh_from_db()
    assert spike.sex == ""


def test_earlier_works_without_script(plain: Page, nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=70)
    plain.goto(f"/pots/{pot.pk}/look/")
    _choose(plain, "few")
    plain.get_by_text("Earlier", exact=True).tap()
    _choose(plain, "Yesterday")
    plain.get_by_role("button", name="Record the look").tap()
    expect(_strip(plain)).to_contain_text("few")
    assert SeedPot.objects.get().stage == "up"
    assert PotLook.objects.get().act.day_first == timezone.localdate() - timedelta(days=1)


def test_a_pot_is_split_where_it_is_scanned(page: Page, look: Look, grower: Person) -> None:
    nursery = Nursery(grower)
    bench = nursery.bench("Long bench")
    pot = nursery.pot(days_ago=200, seeds=90)
    nursery.record(pot_looked_at, pot=pot, seen="few", counted=27, days_ago=9)
    scanned = f"/t/{tag_of(pot).number}/"
    look(scanned)
    page.get_by_role("link", name="Split it").click()
    page.get_by_role("button", name="Record the split").click()
    expect(page.locator("#id_pots_error")).to_have_text("Say how many new pots.")
    page.get_by_role("spinbutton", name="New pots").fill("2")
    page.get_by_label("Seedlings into each").fill("12")
    _choose(page, "none stays, it is done")
    page.get_by_label("Where the new pots stand").select_option(label=f"{bench.inside.name}, Long bench")
    page.get_by_role("button", name="Record the split").click()
    expect(page.get_by_text("27 seedlings were counted in it and 24 moved: were 3 lost?")).to_be_visible()
    _choose(page, "some stay in it, it goes on")
    page.get_by_role("button", name="I have changed it").click()
    expect(page.get_by_role("heading", name="Split off from it")).to_be_visible()
    assert (SeedPot.objects.get(pk=pot.pk).counted, SeedPot.objects.get(pk=pot.pk).is_open) == (3, True)

    page.get_by_role("link", name="Correct").first.click()
    _choose(page, "none stays, it is done")
    page.get_by_label("Seedlings into each").fill("13")
    page.get_by_role("button", name="Correct it").click()
    page.get_by_role("button", name="Record it all the same").click()
    expect(page.get_by_role("heading", name="Split off from it")).to_be_visible()
    look(scanned)
    expect(page.get_by_text("Its seedlings went into these pots:")).to_be_visible()
    page.locator(".moved a").first.click()
    expect(page.get_by_text("split off today, 13 seedlings")).to_be_visible()
    page.get_by_role("link", name=re.compile("^seed pot ")).click()
    page.get_by_role("link", name="Print tags of seed pots").click()
    new = SeedPot.objects.filter(split_from=pot).order_by("pk")
    for one in new:
        expect(page.get_by_text(plate(tag_of(one).number)).first).to_be_visible()
    assert [(one.counted, one.place) for one in new] == [(13, bench)] * 2
