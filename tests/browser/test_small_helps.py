"""What tepal.js adds under the strict policy, on pages drawn from the templates' own samples."""

import re
import uuid
from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import parse_qs

import pytest
from django.template.loader import render_to_string
from playwright.sync_api import Page, Route, expect

from nursery.site.headers import CONTENT_POLICY
from tests.templates.samples import DONE, PERSON, answer, task

pytestmark = pytest.mark.django_db(transaction=True)

POLICY = "; ".join(" ".join((name, *sources)) for name, sources in CONTENT_POLICY.items())
FORM = """<form method="post" action="/sample/saved/" data-once>
<input type="hidden" name="act_id" value="{act_id}" data-act-id autocomplete="off">
<div class="field"><label for="n">Number</label><input id="n" name="number" inputmode="numeric" data-keypad></div>
<button>Record it</button></form>"""
FIRST_ID = "3f0c8b52-5c1e-4a52-9c53-0a4c7c1f1a01"
FRESH_ID = "another each time"

MEANT = """<form method="post" action="/sample/saved/"><div class="field field--wrong">
<label for="id_tag">Number</label>
<input id="id_tag" name="tag" value="5274" inputmode="numeric" aria-invalid="true"><p class="field__error">Wrong</p>
{meant}</div><button>Record it</button></form>"""

Posts = list[dict[str, str]]


def _frame(content: str) -> str:
    """The frame of every page, with this in its middle."""
    html = render_to_string("base.html", {"user": PERSON, "section": "round", "csrf_token": "a-token"})
    return html.replace("</main>", content + "</main>")


def _answer(route: Route, status: int, body: str) -> None:
    route.fulfill(status=status, body=body, content_type="text/html", headers={"Content-Security-Policy": POLICY})


@pytest.fixture
def posts() -> Posts:
    """What the page sent, oldest first."""
    return []


@pytest.fixture
def show(page: Page, live_server: Any, posts: Posts) -> Callable[..., None]:
    """Show a page with this content; what it posts is noted, and answered as said."""

    def _show(content: str, *, status: int = 200, reply: str = "<p>Saved</p>") -> None:
        def meet(route: Route) -> None:
            request = route.request
            if request.method == "POST":
                posts.append({name: values[0] for name, values in parse_qs(request.post_data or "").items()})
                _answer(route, status, reply)
            else:
                _answer(route, 200, _frame(content.replace(FRESH_ID, str(uuid.uuid4()))))

        page.route(f"{live_server.url}/sample/**", meet)
        page.goto(f"{live_server.url}/sample/")

    return _show


@pytest.fixture
def row() -> Iterator[str]:
    """A row of the round whose answer goes to the sample's address."""
    pods = [answer(url="/sample/look/"), answer(label="Can’t tell", value="unclear", url="/sample/look/")]
    yield render_to_string("parts/_task.html", {"task": task(answers=pods, act_id=FIRST_ID), "open": True})


def test_a_missing_id_is_made_when_the_form_is_sent(page: Page, show: Callable[..., None], posts: Posts) -> None:
    show(FORM.format(act_id=""))
    page.get_by_role("button", name="Record it").click()
    expect(page.get_by_text("Saved")).to_be_visible()
    assert len(posts[0]["act_id"]) == 36 and posts[0]["act_id"][14] == "4"


def test_the_servers_id_is_kept(page: Page, show: Callable[..., None], posts: Posts) -> None:
    show(FORM.format(act_id=FIRST_ID))
    page.get_by_role("button", name="Record it").click()
    expect(page.get_by_text("Saved")).to_be_visible()
    assert posts[0]["act_id"] == FIRST_ID


def test_going_back_and_sending_the_same_again_is_the_same_act(
    page: Page, show: Callable[..., None], posts: Posts
) -> None:
    show(FORM.format(act_id=FIRST_ID))
    _send_number(page, "12")
    page.go_back()
    _send_number(page, "12")
    assert [post["act_id"] for post in posts] == [FIRST_ID, FIRST_ID]


def test_going_back_and_sending_other_values_is_another_act(
    page: Page, show: Callable[..., None], posts: Posts
) -> None:
    show(FORM.format(act_id=FIRST_ID))
    _send_number(page, "12")
    page.go_back()
    _send_number(page, "13")
    assert posts[0]["act_id"] == FIRST_ID
    assert posts[1]["act_id"] != FIRST_ID and posts[1]["number"] == "13"


def test_so_it_is_when_the_page_is_fetched_anew_with_another_id(
    page: Page, show: Callable[..., None], posts: Posts
) -> None:
    show(FORM.format(act_id=FRESH_ID))
    _send_number(page, "12")
    page.go_back()
    _send_number(page, "13")
    page.go_back()
    _send_number(page, "12")
    first, other, again = (post["act_id"] for post in posts)
    assert first == again != other


def test_the_form_opened_anew_makes_another_act_of_the_same_values(
    page: Page, show: Callable[..., None], posts: Posts
) -> None:
    for _ in range(2):
        show(FORM.format(act_id=FRESH_ID))
        _send_number(page, "12")
    assert posts[0]["act_id"] != posts[1]["act_id"]


def test_a_page_sent_yesterday_makes_another_act(page: Page, show: Callable[..., None], posts: Posts) -> None:
    show(FORM.format(act_id=FRESH_ID))
    page.evaluate("Date.prototype.toDateString = () => 'Sun Mar 08 2026'")
    _send_number(page, "12")
    page.go_back()
    _send_number(page, "12")
    assert posts[0]["act_id"] != posts[1]["act_id"]


def _send_number(page: Page, number: str) -> None:
    page.get_by_label("Number").last.fill(number)
    page.get_by_role("button", name="Record it").click()
    expect(page.get_by_text("Saved")).to_be_visible()


def test_the_keys_write_and_take_back_digits(page: Page, show: Callable[..., None]) -> None:
    show(FORM.format(act_id=FIRST_ID))
    for key in ("2", "0", "8", "Back", "7"):
        page.locator(".keypad").get_by_role("button", name=key).tap()
    expect(page.locator("#n")).to_have_value("207")
    page.locator(".keypad").get_by_role("button", name="Clear").tap()
    expect(page.locator("#n")).to_have_value("")


def test_keys_show_only_under_the_number_that_is_asked(page: Page, show: Callable[..., None]) -> None:
    second = '<label for="m">Pots</label><input id="m" name="pots" inputmode="numeric" data-keypad>'
    show(FORM.format(act_id=FIRST_ID).replace("<button>", second + "<button>"))
    keys = page.locator("[data-keypad-for]:visible")
    expect(page.locator("[data-keypad-for]")).to_have_count(2)
    expect(keys).to_have_count(0)
    page.get_by_label("Pots").tap()
    expect(keys).to_have_attribute("data-keypad-for", "m")
    page.locator("#n").tap()
    expect(keys).to_have_attribute("data-keypad-for", "n")


def test_an_answer_replaces_its_row_by_what_was_recorded(
    page: Page, show: Callable[..., None], posts: Posts, row: str
) -> None:
    show(row, reply=render_to_string("parts/_done.html", {"done": DONE}))
    page.get_by_role("button", name="Turning").tap()
    expect(page.get_by_text("look again Tue 1 Dec")).to_be_visible()
    expect(page.get_by_role("button", name="Turning")).to_have_count(0)
    assert posts == [{"act_id": FIRST_ID, "seen": "turning"}]


def test_a_wet_thumb_sends_one_answer(page: Page, show: Callable[..., None], posts: Posts, row: str) -> None:
    show(row, reply=render_to_string("parts/_done.html", {"done": DONE}))
    page.evaluate("document.querySelectorAll('.answer').forEach(button => { button.click(); button.click(); })")
    expect(page.get_by_text("look again Tue 1 Dec")).to_be_visible()
    assert posts == [{"act_id": FIRST_ID, "seen": "turning"}]


def test_a_silent_server_is_told_and_the_same_answer_keeps_its_id(
    page: Page, show: Callable[..., None], posts: Posts, row: str
) -> None:
    show(row, status=500, reply="broken")
    page.get_by_role("button", name="Turning").tap()
    expect(page.get_by_text("Not recorded yet: the server gave no answer.")).to_be_visible()
    with page.expect_response("**/sample/look/"):
        page.get_by_role("button", name="Turning").tap()
    assert [post["act_id"] for post in posts] == [FIRST_ID, FIRST_ID]


def test_a_refusal_is_shown_in_the_row(page: Page, show: Callable[..., None], row: str) -> None:
    show(row, status=422, reply="<p>A day in the future cannot be recorded.</p>")
    page.get_by_role("button", name="Turning").tap()
    expect(page.get_by_text("A day in the future cannot be recorded.")).to_be_visible()


@pytest.mark.parametrize("size", ["", "third"])
def test_no_word_breaks_inside_an_answer(page: Page, show: Callable[..., None], size: str) -> None:
    stores = [
        answer(label=words, hint="", size=size, icon="brush") for words in ("On the bench", "Refrigerator", "Freezer")
    ]
    show(render_to_string("parts/_answers.html", {"answers": stores, "act_id": FIRST_ID}))
    lines = """one => {
        const range = document.createRange();
        range.selectNodeContents(one);
        return new Set(Array.from(range.getClientRects(), rect => rect.top)).size;
    }"""
    word = page.get_by_role("button", name="Refrigerator").locator(".answer__text")
    assert word.evaluate(lines) == 1


# --- a number that may have been meant ---


def _meant() -> str:
    rows = [{"number": 5724, "text": "A blank tag"}, {"number": 208746, "text": "A blank tag"}]
    return MEANT.format(meant=render_to_string("tags/_meant.html", {"rows": rows, "id": "id_tag"}))


def test_with_it_goes_what_was_said_of_the_wrong_number_and_nothing_else(page: Page, show: Callable[..., None]) -> None:
    said = [f'<li><a href="#id_{name}">{name} is wrong</a></li>' for name in ("tag", "day")]
    box = '<div class="objections"><h2>Not recorded yet</h2><ul class="objections__fields">{}</ul></div>'
    show(box.format("".join(said)) + _meant())
    page.get_by_role("button", name=re.compile("This one ?, 572 4")).tap()
    expect(page.locator(".objections li")).to_have_text(["day is wrong"])
    expect(page.locator(".field--wrong")).to_have_count(0)
    show(box.format(said[0]) + _meant())
    page.get_by_role("button", name=re.compile("This one ?, 572 4")).tap()
    expect(page.locator(".objections")).to_have_count(0)


def test_a_near_number_is_filled_in_by_a_tap_and_nothing_is_sent_by_it(
    page: Page, show: Callable[..., None], posts: Posts
) -> None:
    show(_meant())
    expect(page.locator(".field__error")).to_be_visible()
    page.get_by_role("button", name=re.compile("This one ?, 572 4")).tap()
    expect(page.get_by_label("Number", exact=True)).to_have_value("5724")
    expect(page.get_by_label("Number", exact=True)).to_be_focused()
    expect(page.locator(".field__error")).to_be_hidden()
    assert posts == []
    page.get_by_label("Number", exact=True).press("Enter")
    expect(page.get_by_text("Saved")).to_be_visible()
    assert [post["tag"] for post in posts] == ["5724"]
