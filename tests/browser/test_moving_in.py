"""A nursery moves in from a table, on a phone and at a desk, and takes all of it back."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from nursery.models import Person, Plant
from nursery.records.numbers import blank_tags_make
from nursery.site.models import Import
from tests.browser.looks import DESK_SIZE, PHONE_SIZE, looked_over
from tests.making import Nursery

SignIn = Callable[[Person], None]
TABLE = """Species\tClone\tBench\tSince\tSex
hamata\tlantern\tHouse 1 / Bench 1\t3/4/2024\tmale
lowii\tkettle\tHouse 1 / Bench 1\tspring 2023\tfemale
lowii\tkettle\tHouse 1 / Bench 2\tunknown\t
veitchii\t\t\t31 Feb 2025\t
"""


@pytest.mark.parametrize("size", [PHONE_SIZE, DESK_SIZE], ids=["phone", "desk"])
def test_moving_in_from_a_pasted_table(
    size: Any, page: Page, live_server: Any, nursery: Nursery, sign_in: SignIn, known: set[str]
) -> None:
    sign_in(nursery.by)
    page.set_viewport_size(size)
    page.goto(f"{live_server.url}/office/")
    page.get_by_role("link", name="Moving in").click()
    page.get_by_text("Plants with their clones").click()
    page.get_by_label("The table").fill(TABLE)
    page.get_by_role("button", name="Read it").click()

    expect(page.get_by_label("Clone")).to_have_value("word")
    expect(page.get_by_label("Sex")).to_have_value("remark")
    page.get_by_text("the day", exact=True).click()
    page.get_by_role("button", name="Look at what this makes").click()

    expect(page.get_by_text("a plant of hamata lantern, House 1 / Bench 1, came 3 Apr 2024")).to_be_visible()
    expect(page.get_by_text("“31 Feb 2025” is no day of any calendar. Look at it again.")).to_be_visible()
    assert looked_over(page, known) == []
    page.set_viewport_size(size)
    page.get_by_label("Leave out the row that has a problem").check()
    page.get_by_role("button", name="Bring in these 3 rows").click()

    expect(page.get_by_role("heading", name="Now walk and bind blank tags")).to_be_visible()
    assert Plant.objects.count() == 3
    [blank] = blank_tags_make(count=1)
    page.goto(f"{live_server.url}/t/{blank.number}/")
    page.get_by_role("button", name="On this plant").first.click()
    page.goto(f"{live_server.url}/office/moving-in/{Import.objects.get().pk}/")
    expect(page.get_by_text("2 of 3 things have")).to_be_visible()

    page.get_by_role("button", name="Undo the whole import").click()
    expect(page.get_by_text("This cannot be undone now")).to_be_visible()


def test_a_file_and_a_table_that_came_before(
    page: Page, live_server: Any, nursery: Nursery, sign_in: SignIn, tmp_path: Path
) -> None:
    file = tmp_path / "plants.csv"
    file.write_text("Species;Place\nlowii;House 1\n", encoding="cp1252")
    sign_in(nursery.by)
    for _ in range(2):
        page.goto(f"{live_server.url}/office/moving-in/")
        page.get_by_text("Plants with their clones", exact=True).click()
        page.get_by_label("or a file").set_input_files(file)
        page.get_by_role("button", name="Read it").click()
    expect(page.get_by_text("This very table was read before. Here it is, as you left it.")).to_be_visible()
    page.get_by_role("button", name="Look at what this makes").click()
    page.get_by_role("button", name="Bring in this row").click()
    page.get_by_role("button", name="Undo the whole import").click()
    expect(page.get_by_text("Undone: everything that plants.csv brought in.")).to_be_visible()
    assert not Plant.objects.filter(cancelled=False).exists()


def test_long_work_shows_that_it_goes_on(page: Page, live_server: Any, nursery: Nursery, sign_in: SignIn) -> None:
    sign_in(nursery.by)
    page.goto(f"{live_server.url}/office/moving-in/")
    page.get_by_text("Plants with their clones").click()
    page.get_by_label("The table").fill("Species\nlowii\n")
    waiting = page.locator("[data-waiting]")
    expect(waiting).to_be_hidden()
    page.evaluate("document.querySelector('form.form').addEventListener('submit', (event) => event.preventDefault())")
    page.get_by_role("button", name="Read it").click()  # and no answer comes
    expect(waiting).to_have_text("Reading the table…")


def test_everything_comes_out_as_one_archive(page: Page, live_server: Any, nursery: Nursery, sign_in: SignIn) -> None:
    nursery.plant()
    sign_in(nursery.by)
    page.goto(f"{live_server.url}/office/export/")
    with page.expect_download() as download:
        page.get_by_role("link", name="Everything as one archive").click()
    assert download.value.suggested_filename.endswith(".zip")
    assert Path(download.value.path()).read_bytes().startswith(b"PK")
