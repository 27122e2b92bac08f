"""A whole round on a phone: each kind of task answered once, one undone, one put off, a bench in one tap; and the list
stays where it is under the thumb."""

import re
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from breeding.models import Section, Spike
from breeding.records import pods
from breeding.rounds.kinds import BY_CODE
from nursery.days import Day
from nursery.models import Act, Person
from nursery.records.house import house_changed
from nursery.records.tags import tags_printed
from nursery.records.watching import postponed
from tests.making import Nursery, tag_of, today

TAPPED = {
    "spikes": ("Female buds", "spike_look"),
    "pollen": ("Refrigerator", "pollen_collected"),
    "take": ("Most swelling", "take_look"),
    "pods": ("Firm, green", "pod_look"),
    "bag": ("Bagged", "bagged"),
    "harvest": ("Whole section cut", "harvested"),
    "sow": ("To the refrigerator", "seed_stored"),
    "pots": ("Nothing yet", "pot_look"),
    "routine": ("Done", "routine_done"),
    "old_pollen": ("Thrown away", "pollen_finished"),
    "retag": ("Later", "postponed"),
}
"""Kinds of task that one tap answers, each with the button and the act that it makes."""
IN_A_FORM = {"pollinate"}
"""A pollination names its section, so its answers open a form."""


@pytest.fixture
def round_of_all(
    page: Page, live_server: Any, nursery: Nursery, grower: Person, owner: Person, sign_in: Any
) -> Nursery:
    """Tom Reed has his round open on his phone: a task of each kind on one bench, and two looks on another."""
    house_changed(by=owner, name="Drizzle Lane", public_address="", minutes_a_day=120)
    nursery.usual_bench = nursery.bench("Long bench")
    wall, plant, other = nursery.bench("Wall bench"), nursery.plant(), nursery.plant(nursery.clone("hamata"))
    for _ in range(2):
        nursery.spike(plant, days_ago=20)
    lot = nursery.pollen([nursery.spike(other, sex="male", seen="showing", days_ago=12)], days_ago=12, storage="bench")
    nursery.spike(plant, sex="female", days_ago=8)
    stem = nursery.spike(plant, sex="female", days_ago=140)
    nursery.record(postponed, thing=stem, until=today() + timedelta(days=30))
    nursery.section(stem, lot=lot, days_ago=40)
    for seen, days_ago in (("green", 14), ("green", 8), ("turning", 5), ("opening", 2)):
        section = nursery.section(stem, lot=lot, days_ago=140)
        nursery.record(pods.take_read, section=section, swelling="most", days_ago=100)
        nursery.record(pods.pods_looked_at, section=section, seen=seen, days_ago=days_ago)
    seed = nursery.seed_by_post(words="by post", day=Day.unknown())
    for place in (nursery.usual_bench, wall):
        nursery.pot(seed, days_ago=100, place=place)
    nursery.spike(nursery.plant(place=wall), days_ago=20)
    nursery.routine(place=nursery.usual_bench)
    tags_printed(by=owner, numbers=[tag_of(plant).number], lasts_until=today())
    sign_in(grower)
    page.goto(live_server.url)
    return nursery


def _row(page: Page, title: str) -> Locator:
    """The first task of this title that still asks, opened."""
    asks = page.locator(".group__tasks > details.task")
    row = asks.filter(has=page.get_by_role("heading", name=title, exact=True)).first
    if row.get_attribute("open") is None:
        row.locator("summary.task__head").tap()
    return row


def _button(row: Locator, label: str) -> Locator:
    return row.get_by_role("button", name=re.compile(f"^{re.escape(label)}")).first


def _tap(page: Page, row: Locator, label: str) -> Locator:
    """Tap an answer; gives the line that took the row's place, and sees to it that the list stayed where it was."""
    button = _button(row, label)
    button.scroll_into_view_if_needed()
    if label == "Later":
        button.evaluate("button => scrollBy(0, button.getBoundingClientRect().top - 10)")  # its row begins above
    if label == AT_THE_EDGE:
        row.evaluate("row => scrollBy(0, row.getBoundingClientRect().top - 2)")
    before = row.evaluate(WHERE)
    button.tap()
    line = page.locator(f"#{before['group']} .group__tasks > *").nth(before["turn"])
    expect(line).to_have_class("done")
    after = line.evaluate(WHERE)
    if 0 <= before["top"] < EDGE:
        assert 0 <= before["scrolled"] - after["scrolled"] <= EDGE, "the page leapt"
    elif before["top"] >= EDGE:
        assert after["scrolled"] == min(before["scrolled"], after["most"]), "the page was scrolled"
        assert after["top"] - before["top"] == pytest.approx(before["scrolled"] - after["scrolled"], abs=1)
    assert 0 <= after["top"] <= after["bottom"] <= after["bar"] + 1, "what was recorded, and its Undo, are in sight"
    page.wait_for_timeout(ECHO_MS)  # the thumb goes to the next row
    return line


ECHO_MS = 400
AT_THE_EDGE = "Whole section cut"
"""Its row is moved to the upper edge, where the browser would hold on to what stands below it."""
EDGE = 24
"""Pixels that are kept free above what was recorded: margin and padding of scrolling in round.css and base.css."""
WHERE = """row => {
    const box = row.getBoundingClientRect(), group = row.closest('.group');
    return {
        turn: [...group.querySelector('.group__tasks').children].indexOf(row), group: group.id,
        top: box.top, bottom: box.bottom, bar: document.querySelector('.bar').getBoundingClientRect().top,
        scrolled: scrollY, most: document.documentElement.scrollHeight - innerHeight,
    };
}"""


def test_a_round_from_its_first_task_to_its_last(page: Page, live_server: Any, round_of_all: Nursery) -> None:
    assert TAPPED.keys() | IN_A_FORM == BY_CODE.keys()
    assert page.viewport_size == {"width": 360, "height": 740}
    lines = {}
    for kind, (label, act) in TAPPED.items():
        row = _row(page, "Mist" if kind == "routine" else BY_CODE[kind].title)
        had = Act.objects.filter(kind=act).count()
        lines[kind] = _tap(page, row, label)
        assert Act.objects.filter(kind=act).count() == had + 1, kind

    offered = page.locator(".visit details.task")
    expect(offered).to_have_count(1)
    offered.locator("summary.task__head").tap()
    _button(offered, "Firm, green").tap()
    expect(page.locator(".visit .done")).to_contain_text("firm, green")

    lines["take"].get_by_role("button", name="Undo").tap()
    expect(page.locator("details.task[open]").filter(has_text="Undone: ")).to_have_count(1)
    assert Act.objects.get(kind="take_look", day_first=today()).voided_by

    later = _tap(page, _row(page, "Look at spike"), "Later")
    expect(later).to_contain_text("later")
    assert Spike.objects.filter(later_until=today() + timedelta(days=3)).count() == 1

    page.locator(".group", has_text="Wall bench").get_by_role("button", name="Nothing new here").tap()
    expect(page.locator(".group", has_text="Wall bench").locator(".done").first).to_contain_text("2 things on ")
    walked = Act.objects.get(kind="walked_past")
    assert walked.links.filter(role="touched").exclude(thing=walked.thing).count() == 2

    had = Section.objects.count()
    _row(page, "Pollinate").locator("a.answer").first.tap()
    page.locator("form.form").get_by_label("or counted").first.fill("12")
    page.get_by_role("button", name="Record the pollination").tap()
    expect(page.locator("#status .strip")).to_be_visible()
    assert Section.objects.count() == had + 1

    page.goto(live_server.url)
    left = page.locator(".group__tasks > details.task").get_by_role("heading")
    expect(left).to_have_text(["Read the take", "Sow", "Sow"])  # what was undone; seed waits, since today one more


@pytest.mark.parametrize("delay", [0, 2 * ECHO_MS], ids=["at once", "over weak Wi-Fi"])
def test_the_echo_of_a_tap_does_not_answer_the_row_that_moved_up(page: Page, round_of_all: Nursery, delay: int) -> None:
    """A second tap at the same place, as soon as the first one counts, meets an answer of the next row."""
    page.route("**/look/", lambda route: (page.wait_for_timeout(delay), route.continue_()), times=1)
    rows = page.locator("details.task").filter(has=page.get_by_role("heading", name="Look at spike", exact=True))
    first, second = (rows.nth(turn) for turn in (0, 1))
    for row in (first, second):
        row.evaluate("row => { row.open = true; }")
    button = _button(first, "Still growing")
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    _button(second, "Aborted").evaluate(ECHO, [box["x"] + box["width"] / 2 + 3, box["y"] + box["height"] / 2])
    button.tap()
    expect(page.locator("html")).to_have_attribute("data-echoed", "yes")
    page.wait_for_timeout(ECHO_MS)
    seen = Act.objects.filter(by__name="Tom Reed").order_by("recorded_at")
    assert [act.spikelook.seen for act in seen] == ["growing"]
    _button(rows.nth(0), "Aborted").tap()
    expect(page.locator(".done")).to_have_count(2)
    assert [act.spikelook.seen for act in seen.all()] == ["growing", "aborted"]


def test_the_next_row_opens_after_an_answer_and_no_slow_echo_answers_it(page: Page, round_of_all: Nursery) -> None:
    rows = page.locator(".group__tasks > details.task")
    page.evaluate("() => document.querySelectorAll('details.task').forEach((row) => { row.open = false; })")
    look = rows.filter(has=page.get_by_role("heading", name="Look at spike", exact=True)).first
    turn = look.evaluate("row => [...row.parentElement.children].indexOf(row)")
    following = page.locator(".group__tasks").first.locator("> *").nth(turn + 1)
    look.locator("summary.task__head").tap()
    button = _button(look, "Still growing")
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    button.tap()
    expect(page.locator(".done")).to_have_count(1)
    expect(following).to_have_attribute("open", "")
    expect(page.locator("details.task[open]")).to_have_count(1)
    page.wait_for_timeout(2 * ECHO_MS)
    answer = following.locator("button.answer").first
    slow = """(button, [x, y]) => button.dispatchEvent(new MouseEvent(
        'click', {bubbles: true, cancelable: true, clientX: x, clientY: y, detail: 1}))"""
    assert answer.evaluate(slow, [x, y]) is False, "kept from the answer"
    expect(page.locator(".done")).to_have_count(1)
    page.wait_for_timeout(ECHO_MS)
    answer.tap()
    expect(page.locator(".done")).to_have_count(2)


def test_what_comes_next_of_a_thing_is_asked_below_its_answer(page: Page, round_of_all: Nursery) -> None:
    """Pods seen turning are bagged at the same ladder, without a new page."""
    look = _row(page, "Look at pods")
    bags = page.get_by_role("heading", name="Bag the pods", exact=True)
    expect(bags).to_have_count(1)
    line = _tap(page, look, "Firm, turning")
    bag = line.locator("xpath=following-sibling::details[1]")
    expect(bag).to_have_attribute("open", "")
    page.wait_for_timeout(2 * ECHO_MS)
    _tap(page, bag, "Bagged")
    expect(page.locator(".done")).to_have_count(2)
    assert Act.objects.filter(kind__in=("pod_look", "bagged"), by__name="Tom Reed").count() == 2


def test_walking_past_is_for_what_still_waits_there(page: Page, round_of_all: Nursery) -> None:
    """The button goes with the last row that asks for a look, and comes back with an undo."""
    bench = page.locator(".group", has_text="Wall bench")
    walk = bench.get_by_role("button", name="Nothing new here")
    expect(walk).to_be_visible()
    for title, label in (("Look at spike", "Still growing"), ("Look for seedlings", "Nothing yet")):
        row = bench.locator("details.task").filter(has=page.get_by_role("heading", name=title, exact=True))
        row.locator("summary.task__head").tap()
        expect(walk).to_be_visible()
        _tap(page, row, label)
    expect(walk).to_be_hidden()
    bench.locator(".done", has_text="nothing yet").get_by_role("button", name="Undo").tap()
    expect(walk).to_be_visible()
    walk.tap()
    expect(bench.locator(".done").first).to_contain_text("1 thing on ")
    walked = Act.objects.get(kind="walked_past").links.exclude(thing__kind="place")
    assert [link.thing.kind for link in walked] == ["seedpot"]


ECHO = """(under, [x, y]) => document.addEventListener('htmx:afterSettle', () => {
    under.dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true, clientX: x, clientY: y, detail: 1}));
    document.documentElement.dataset.echoed = 'yes';
}, {once: true})"""
