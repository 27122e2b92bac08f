"""The pages that must work when little else does, and the weight of the first load."""

import gzip
from types import SimpleNamespace as Row

import pytest
from django.template.loader import render_to_string

from tests.templates import STATIC, TEMPLATES
from tests.templates.samples import DONE, PERSON, task

REMEDIES = {
    "400.html": "or bring it in parts",
    "404.html": "type all its digits",
    "403.html": "An owner can give you the right",
    "403_csrf.html": "Then reload the page, and send it again",
    "500.html": "the same form sent twice counts once",
    "errors/locked.html": "Then try again with the right word",
}
FIRST_LOAD = 60 * 1024


@pytest.mark.parametrize("page", REMEDIES)
def test_it_says_what_to_do_even_with_nothing_given(page: str) -> None:
    assert REMEDIES[page] in render_to_string(page)


def test_the_page_for_a_broken_server_stands_alone() -> None:
    text = (TEMPLATES / "500.html").read_text()
    assert "{%" not in text and "{{" not in text


def test_the_page_for_a_broken_server_names_style_sheets_that_exist() -> None:
    names = [part.partition('"')[0] for part in (TEMPLATES / "500.html").read_text().split('href="/static/')[1:]]
    assert names and all((STATIC / name).is_file() for name in names)


def _round(**changes: object) -> str:
    group = Row(house="Cool house", place="Bench 2", anchor="p2", nothing_new_url="/n/", act_id="n-1", done=[DONE])
    group.tasks = [task(act_id=f"a-{row}") for row in range(20)]
    usual = {"title": "Wednesday round", "groups": [group], "section": "round", "user": PERSON}
    return render_to_string("round/round.html", usual | changes)


def test_the_first_load_weighs_at_most_60_kilobytes_compressed() -> None:
    files = [*(STATIC / "css").glob("*.css"), *(STATIC / "js").glob("*.js"), *(STATIC / "icons").glob("*.svg")]
    files.append(STATIC / "vendor/htmx/htmx.min.js")
    weights = [len(gzip.compress(file.read_bytes())) for file in files] + [len(gzip.compress(_round().encode()))]
    assert sum(weights) <= FIRST_LOAD


def test_every_style_sheet_and_script_is_loaded_by_some_page() -> None:
    text = "".join(file.read_text() for file in TEMPLATES.rglob("*.html"))
    kinds = {"css": "*.css", "js": "*.js"}
    made = [f"{kind}/{file.name}" for kind, pattern in kinds.items() for file in (STATIC / kind).glob(pattern)]
    assert [name for name in made if f"'{name}'" not in text and f'"{name}"' not in text] == []


def test_only_the_first_task_of_the_round_shows_its_answers() -> None:
    html = _round()
    assert html.count('<details class="task task--today" open') == 1
    assert html.index('<details class="task task--today" open') == html.index('<details class="task')


def test_each_form_that_posts_carries_the_token() -> None:
    html = _round(csrf_token="a-token")
    assert html.count('method="post"') == html.count('name="csrfmiddlewaretoken"') > 20


def test_the_demo_says_that_it_is_invented() -> None:
    assert "every plant and person is invented" in _round(house=Row(name="Drizzle Lane Nursery", demo=True))
    assert "every plant and person is invented" not in _round(house=Row(name="Drizzle Lane Nursery", demo=False))


def test_what_was_typed_while_signed_out_is_carried_through_the_sign_in_page() -> None:
    html = render_to_string("people/sign_in.html", {"next": "/t/208746", "held": [("note", 'two "brown" tips')]})
    assert "Nothing is lost: what you typed comes back after you sign in." in html
    assert 'name="note" value="two &quot;brown&quot; tips"' in html
