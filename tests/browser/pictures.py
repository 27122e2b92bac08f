"""Retakes the pictures in static/help from a running demo: ``python -m tests.browser.pictures ADDRESS NAME PASSWORD``.

Run it after the look of these pages changed; README and the help page show them.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from tests.chromium import launch

FOLDER = Path(__file__).parents[2] / "static" / "help"
PHONE = {"viewport": {"width": 360, "height": 740}, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1280, "height": 800}, "device_scale_factor": 1}


@dataclass(frozen=True)
class Picture:
    """One picture: its file, the window, and the links to tap from the first address on."""

    name: str
    window: dict
    start: str
    taps: tuple[str, ...] = ()


PICTURES = (
    Picture("round", PHONE, "/?kind=pods"),
    Picture("thing", PHONE, "/?kind=pods", ("details.task[open] .links a",)),
    Picture(
        "form", PHONE, "/?kind=pods", ("details.task[open] .links a:has-text('Say more')", ".day__earlier summary")
    ),
    Picture("story", DESK, "/crosses/", ("table a:has-text('anvil')",)),
)


def main(home: str, name: str, password: str) -> None:
    FOLDER.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(**launch(whole=True))
        for picture in PICTURES:
            _take(_signed_in(browser, picture, home, name, password), home, picture)


def _take(page: Page, home: str, picture: Picture) -> None:
    page.goto(home + picture.start)
    for tap in picture.taps:
        page.locator(tap).first.click()
        page.wait_for_load_state()
    file = FOLDER / f"{picture.name}.png"
    page.screenshot(path=file)
    Image.open(file).convert("RGB").quantize(64).save(file, optimize=True)
    print(f"{file.name}: {file.stat().st_size // 1024} kB")


def _signed_in(browser: Browser, picture: Picture, home: str, name: str, password: str) -> Page:
    page = browser.new_context(**picture.window, color_scheme="light").new_page()
    page.goto(f"{home}/sign-in/")
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(password)
    page.locator("main form button").first.click()
    page.wait_for_load_state()
    return page


if __name__ == "__main__":
    main(sys.argv[1].rstrip("/"), sys.argv[2], sys.argv[3])
