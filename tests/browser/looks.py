"""What every page must keep to, measured in the browser: access, room, and targets that a wet thumb hits."""

import json
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

PHONE_SIZE = {"width": 360, "height": 740}
DESK_SIZE = {"width": 1280, "height": 800}
GRAVE = {"serious", "critical"}

# WCAG 2.2 AA as axe 4 checks it, with its best practices. Targets of at least 24 px (2.5.8) are off by default there.
# Without preload axe leaves out css-orientation-lock, for which it would fetch every stylesheet on every run.
# Contrasts are looked at by themselves: they take axe most of its time.
ALL_BUT_CONTRAST = {
    "resultTypes": ["violations"],
    "preload": False,
    "rules": {"target-size": {"enabled": True}, "color-contrast": {"enabled": False}},
}
CONTRAST = {
    "resultTypes": ["violations", "incomplete"],
    "preload": False,
    "elementRef": True,
    "runOnly": {"type": "rule", "values": ["color-contrast"]},
}
# All that axe judges a text's contrast by: its own colour, size and weight, and what is painted below it. Texts that
# share all this with one in which axe found nothing need no second look, on this page or another.
CONTRASTS = """async ([known, rules]) => {
    const painted = new Map([[null, ""]]);
    const below = (one) => {
        if (!painted.has(one)) {
            const { backgroundColor, backgroundImage, opacity, position } = getComputedStyle(one);
            const own = [backgroundColor, backgroundImage, opacity, position].join(" ");
            const nothing = "rgba(0, 0, 0, 0) none 1 static";
            painted.set(one, (own === nothing ? "" : own + " < ") + below(one.parentElement));
        }
        return painted.get(one);
    };
    const off = (one) => one.closest(":disabled, [aria-disabled=true]") || one.closest("label")?.control?.disabled;
    const look = (one) => {
        const { color, fontSize, fontWeight, textShadow } = getComputedStyle(one);
        const kind = `${one.localName}.${one.getAttribute("class")} ${off(one) ? "off" : ""}`;
        return [kind, color, fontSize, fontWeight, textShadow, below(one)].join(" ");
    };
    const told = (one) => [...one.childNodes].some((part) => part.nodeType === 3 && part.data.trim());
    const texts = [...document.body.querySelectorAll("*")].filter((one) =>
        (told(one) || one.matches("input, select, textarea")) && one.checkVisibility({ visibilityProperty: true }));
    const looks = new Map(texts.map((one) => [one, look(one)]));
    const seen = new Set(known);
    const fresh = texts.filter((one) => !seen.has(looks.get(one)));
    if (!fresh.length) return { violations: [], known: [] };
    const { violations, incomplete } = await axe.run(fresh, rules);
    const doubtful = new Set([...violations, ...incomplete].flatMap(({ nodes }) => nodes).map((node) => node.element));
    const sound = fresh.filter((one) => !doubtful.has(one)).map((one) => looks.get(one));
    violations.flatMap(({ nodes }) => nodes).forEach((node) => { delete node.element; });
    return { violations, known: [...new Set(sound)] };
}"""

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


def looked_over(page: Page, known: set[str] | None = None) -> list[str]:
    """What is wrong with the page shown, at a phone's and a desk's size, light and dark; opens all that is folded.

    ``known`` are the looks of texts whose contrast axe has found right, on this page or those before it; what it finds
    right here is added to them.
    """
    known = set() if known is None else known
    wrong = _measured(page)
    for name, size in (("phone", PHONE_SIZE), ("desk", DESK_SIZE)):
        page.set_viewport_size(size)
        wrong += [f"{name}, light: {found}" for found in [*_all_but_contrast(page), *_contrasts(page, known)]]
        page.emulate_media(color_scheme="dark")
        wrong += [f"{name}, dark: {found}" for found in _contrasts(page, known)]
        page.emulate_media(color_scheme="light")
    return wrong


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


def _all_but_contrast(page: Page) -> list[str]:
    return _grave(page.evaluate(f"axe.run({json.dumps(ALL_BUT_CONTRAST)})")["violations"])


def _contrasts(page: Page, known: set[str]) -> list[str]:
    """What is too faint of the texts that look like none in ``known``."""
    found = page.evaluate(CONTRASTS, [sorted(known), CONTRAST])
    known |= set(found["known"])
    return _grave(found["violations"])


def _grave(violations: list[Any]) -> list[str]:
    """Serious and critical findings of axe in words, the first element of each."""
    return [f"{one['id']} {one['nodes'][0]['html'][:150]}" for one in violations if one["impact"] in GRAVE]
