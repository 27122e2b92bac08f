"""What every page must keep to, measured in the browser: access, room, and targets that a wet thumb hits."""

from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

PHONE_SIZE = {"width": 360, "height": 740}
DESK_SIZE = {"width": 1280, "height": 800}
GRAVE = {"serious", "critical"}

# WCAG 2.2 AA as axe 4 checks it, with its best practices. Targets of at least 24 px (2.5.8) are off by default there.
# Without preload axe leaves out css-orientation-lock, for which it would fetch every stylesheet on every run.
NEVER_GRAVE = (
    "aria-allowed-role",
    "aria-deprecated-role",
    "empty-heading",
    "empty-table-header",
    "form-field-multiple-labels",
    "heading-order",
    "html-xml-lang-mismatch",
    "image-redundant-alt",
    "landmark-banner-is-top-level",
    "landmark-contentinfo-is-top-level",
    "landmark-main-is-top-level",
    "landmark-no-duplicate-banner",
    "landmark-no-duplicate-contentinfo",
    "landmark-no-duplicate-main",
    "landmark-one-main",
    "landmark-unique",
    "meta-viewport",
    "meta-viewport-large",
    "no-autoplay-audio",
    "page-has-heading-one",
    "presentation-role-conflict",
    "region",
    "scope-attr-valid",
    "server-side-image-map",
    "skip-link",
    "table-duplicate-name",
)
"""Rules that axe itself gives no more weight than moderate, so that nothing they find would count."""
ALL_RULES = {
    "preload": False,
    "reporter": "found",
    "rules": {"target-size": {"enabled": True}} | {name: {"enabled": False} for name in NEVER_GRAVE},
}
CONTRAST_ONLY = {
    "preload": False,
    "reporter": "found",
    "runOnly": {"type": "rule", "values": ["color-contrast"]},
}
# Contrast takes axe most of its time, so it measures that of marked texts only. What it found is told without all that
# it tells otherwise of every element of a page: where it stands, and by which check it passed.
SET_UP = """() => {
    axe.configure({ rules: [{ id: "color-contrast", selector: "[data-measured]" }] });
    axe.addReporter("found", (results, options, done) => {
        const { passes, incomplete } = results.find(({ id }) => id === "color-contrast");
        done({
            passed: passes.map(({ node }) => node.element),
            doubtful: incomplete.map(({ node }) => node.element),
            wrong: results.filter(({ violations }) => violations.length).map(({ id, impact, violations }) => ({
                id, impact, html: violations[0].node.source, elements: violations.map(({ node }) => node.element),
            })),
        });
    });
}"""
# All that axe judges a text's contrast by: its own colour, size and weight, and what is painted below it. Texts that
# share all this with one in which axe found nothing need no second look, on this page or another. They are known by a
# short sum of it, for all that is known goes to every page.
LOOK = """async ([known, rules, contrast]) => {
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
    const sum = (words) => {
        let [a, b] = [0x811c9dc5, 0x01000193];
        for (let turn = 0; turn < words.length; turn += 1) {
            a = Math.imul(a ^ words.charCodeAt(turn), 0x01000193);
            b = Math.imul(b ^ words.charCodeAt(turn), 0x9e3779b1);
        }
        return (a >>> 0).toString(36) + "-" + (b >>> 0).toString(36);
    };
    const off = (one) => one.closest(":disabled, [aria-disabled=true]") || one.closest("label")?.control?.disabled;
    const look = (one) => {
        const { color, fontSize, fontWeight, textShadow } = getComputedStyle(one);
        const kind = `${one.localName}.${one.getAttribute("class")} ${off(one) ? "off" : ""}`;
        return sum([kind, color, fontSize, fontWeight, textShadow, below(one)].join(" "));
    };
    const told = (one) => [...one.childNodes].some((part) => part.nodeType === 3 && part.data.trim());
    const texts = [...document.body.querySelectorAll("*")].filter((one) =>
        (told(one) || one.matches("input, select, textarea")) && one.checkVisibility({ visibilityProperty: true }));
    const looks = new Map(texts.map((one) => [one, look(one)]));
    const seen = new Set(known);
    const fresh = texts.filter((one) => !seen.has(looks.get(one)));

    const wrong = [], doubtful = new Set();
    const measured = async (some, options) => {
        some.forEach((one) => one.setAttribute("data-measured", ""));
        const found = await axe.run(options);
        some.forEach((one) => one.removeAttribute("data-measured"));
        wrong.push(...found.wrong);
        [found.doubtful, ...found.wrong.map(({ elements }) => elements)].flat().forEach((one) => doubtful.add(one));
        return new Set(found.passed.map((one) => looks.get(one)));
    };
    const first = [...new Map(fresh.toReversed().map((one) => [looks.get(one), one])).values()];
    const passed = rules || first.length ? await measured(first, rules || contrast) : new Set();
    const rest = fresh.filter((one) => !first.includes(one) && !passed.has(looks.get(one)));
    if (rest.length) await measured(rest, contrast);
    const sound = [...first, ...rest].filter((one) => !doubtful.has(one)).map((one) => looks.get(one));
    wrong.forEach((one) => { delete one.elements; });
    return { wrong, known: [...new Set(sound)] };
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
    wrong += [f"phone, light: {found}" for found in _found(page, known, ALL_RULES)]
    page.emulate_media(color_scheme="dark")
    wrong += [f"phone, dark: {found}" for found in _found(page, known)]
    page.set_viewport_size(DESK_SIZE)
    wrong += [f"desk, dark: {found}" for found in _found(page, known)]
    page.emulate_media(color_scheme="light")
    return wrong + [f"desk, light: {found}" for found in _found(page, known, ALL_RULES)]


def _measured(page: Page) -> list[str]:
    """What is too wide or too small on a phone; the page is left unfolded, light, shortened, with axe in it."""
    page.wait_for_load_state()  # what it is told by is there before its stylesheets are
    page.evaluate(OPEN_ALL)
    if page.viewport_size != PHONE_SIZE:
        page.set_viewport_size(PHONE_SIZE)
    page.emulate_media(color_scheme="light")
    wrong = [*page.evaluate(SMALL_TARGETS, [LEAST_ANSWER, LEAST_TARGET]), *page.evaluate(TOO_WIDE)]
    page.evaluate(SHORTEN)
    page.evaluate(AXE_SCRIPT)
    page.evaluate(SET_UP)
    return wrong


def _found(page: Page, known: set[str], rules: dict[str, Any] | None = None) -> list[str]:
    """What axe finds serious or critical: by these rules, and in any case texts too faint of those not in ``known``.

    Each in words, with the first element of which it is true.
    """
    found = page.evaluate(LOOK, [sorted(known), rules, CONTRAST_ONLY])
    known |= set(found["known"])
    return [f"{one['id']} {one['html'][:150]}" for one in found["wrong"] if one["impact"] in GRAVE]
