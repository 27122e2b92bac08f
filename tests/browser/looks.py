"""What every page must keep to, measured in the browser: access, room, and targets that a wet thumb hits."""

import json
from collections.abc import Iterator
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

PHONE_SIZE = {"width": 360, "height": 740}
DESK_SIZE = {"width": 1280, "height": 800}
GRAVE = {"serious", "critical"}

# WCAG 2.2 AA as axe 4 checks it, with its best practices. Targets of at least 24 px (2.5.8) are off by default there.
ALL_RULES = {"resultTypes": ["violations"], "preload": False, "rules": {"target-size": {"enabled": True}}}
# Without preload axe leaves out css-orientation-lock, for which it would fetch every stylesheet on every run.
# Colours are all that differs between light and dark.
COLOURS_ONLY = {
    "resultTypes": ["violations"],
    "preload": False,
    "runOnly": {"type": "rule", "values": ["color-contrast"]},
}
# Measuring contrast takes most of axe's time; what draws a colour are templates, each of which is measured once.
ALL_BUT_COLOURS = ALL_RULES | {"rules": ALL_RULES["rules"] | {"color-contrast": {"enabled": False}}}

# Sizes asked of a phone's targets: our own, above the 44 px of WCAG 2.5.5.
LEAST_ANSWER = 56
LEAST_TARGET = 48
SMALL_TARGETS = """([answer, target]) => {
    const wanted = {".answer, .keypad__key": answer};
    wanted["button, .button, summary, .choice, .tab, .bar__link, .find, .plain, .menu__link, .links a"] = target;
    wanted["select, textarea, .box, input:not([type=hidden], [type=radio], [type=checkbox])"] = target;
    const unseen = (element) => element.closest(".unseen") || !element.checkVisibility();
    const short = (element, least) => element.getBoundingClientRect().height < least - 0.5;
    return Object.entries(wanted).flatMap(([selector, least]) =>
        [...document.querySelectorAll(selector)].filter((one) => !unseen(one) && short(one, least)).map((one) =>
            `${one.outerHTML.slice(0, 90)} is ${one.getBoundingClientRect().height} px high, wants ${least}`));
}"""
TOO_WIDE = """() => {
    const most = document.documentElement.clientWidth;
    if (Math.max(document.documentElement.scrollWidth, document.body.scrollWidth) <= most) return [];
    const wide = [...document.body.querySelectorAll("*")].filter((one) => one.getBoundingClientRect().right > most + 1);
    const words = wide.slice(-2).map((one) => one.outerHTML.slice(0, 90));
    return [`${document.documentElement.scrollWidth} px wide: ${words}`];
}"""
# Rows are drawn by one template: four of a list, and one task of each kind, stand for all, or axe takes minutes.
SHORTEN = """() => {
    document.querySelectorAll("tbody, .rows, .story, .labels__ticks, .places, .sorting").forEach((list) =>
        [...list.children].slice(4).forEach((one) => one.remove()));
    const kinds = new Set();
    document.querySelectorAll(".task").forEach((task) => {
        const kind = task.querySelector(".task__title").textContent + task.className;
        if (kinds.has(kind)) task.remove();
        kinds.add(kind);
    });
}"""
OPEN_ALL = "() => document.querySelectorAll('details').forEach((one) => { one.open = true; })"


def looked_over(page: Page) -> list[str]:
    """What is wrong with the page shown, at a phone's and a desk's size, light and dark; opens all that is folded."""
    wrong = _measured(page)
    return [*wrong, *_at(page, "phone", PHONE_SIZE), *_at(page, "desk", DESK_SIZE)]


def glanced_over(page: Page) -> list[str]:
    """What is wrong on a phone with a page shown whose every template was looked over on another page."""
    wrong = _measured(page)
    return [*wrong, *(f"phone, light: {found}" for found in _axe(page, ALL_BUT_COLOURS))]


def _measured(page: Page) -> list[str]:
    """What is too wide or too small on a phone; the page is left unfolded, light, shortened, with axe in it."""
    page.evaluate(OPEN_ALL)
    if page.viewport_size != PHONE_SIZE:
        page.set_viewport_size(PHONE_SIZE)
    page.emulate_media(color_scheme="light")
    wrong = [*page.evaluate(SMALL_TARGETS, [LEAST_ANSWER, LEAST_TARGET]), *page.evaluate(TOO_WIDE)]
    page.evaluate(SHORTEN)
    page.evaluate(AXE_SCRIPT)
    return wrong


def _at(page: Page, name: str, size: Any) -> Iterator[str]:
    page.set_viewport_size(size)
    for scheme, rules in (("light", ALL_RULES), ("dark", COLOURS_ONLY)):
        page.emulate_media(color_scheme=scheme)
        yield from (f"{name}, {scheme}: {found}" for found in _axe(page, rules))


def _axe(page: Page, rules: dict[str, Any]) -> list[str]:
    """Serious and critical findings of axe in words, the first element of each."""
    found = page.evaluate(f"axe.run({json.dumps(rules)})")["violations"]
    return [f"{one['id']} {one['nodes'][0]['html'][:150]}" for one in found if one["impact"] in GRAVE]
