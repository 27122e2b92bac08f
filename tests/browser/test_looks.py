"""The eyes of test_every_page: each fault is seen, and a page without fault has none."""

from playwright.sync_api import Page, Route

from tests.browser.looks import GRAVE, NEVER_GRAVE, looked_over

FRAME = (
    '<!doctype html><html lang="en"><head><title>x</title><meta name="viewport" content="width=device-width"></head>'
    "<body><main><h1>Moss</h1>{}</main></body></html>"
)
SOUND = '<a class="answer" href="/x" style="display:block;min-height:56px">Turning</a>'
FAULTS = {
    '<a class="answer" href="/x" style="display:block;height:50px">Turning</a>': "is 50 px high, wants 56",
    '<button style="height:40px;width:90px">Undo</button>': "is 40 px high, wants 48",
    '<p style="width:500px">Too wide</p>': "px wide",
    '<p style="color:#aaa;background:#fff">Faint</p>': "phone, light: color-contrast",
    "<style>@media (prefers-color-scheme: dark) { p { color: #333; background: #000; } }</style><p>By night</p>": (
        "phone, dark: color-contrast"
    ),
    "<style>@media (min-width: 900px) { p { color: #bbb; background: #fff; } }</style><p>Faint on a desk</p>": (
        "desk, light: color-contrast"
    ),
    '<input style="height:48px">': "label",
    '<details><summary style="height:3em">More</summary><img src="data:," width="9" height="9"></details>': "image-alt",
}


def _shown(page: Page, live_server, content: str, known: set[str] | None = None) -> list[str]:
    """A page of this content, from the server's own address but without its policy."""
    page.unroute_all()
    page.route("**/look-here", lambda route: route.fulfill(body=FRAME.format(content), content_type="text/html"))
    page.goto(f"{live_server.url}/look-here")
    return looked_over(page, known)


def test_a_sound_page_has_no_fault(page: Page, live_server) -> None:
    assert _shown(page, live_server, SOUND) == []


def test_a_page_is_looked_over_when_its_stylesheets_are_there(page: Page, live_server) -> None:
    """The sheet comes a while after the page, as on a busy machine, and makes room for what is too wide without it."""
    late: list[Route] = []
    sheet, ask = '<link rel="stylesheet" href="late.css">', "<script>setTimeout(() => fetch('give-it'), 300)</script>"
    body = FRAME.format('<p style="width:500px">Too wide</p>').replace("</head>", ask + sheet + "</head>")
    page.route("**/look-here", lambda route: route.fulfill(body=body, content_type="text/html"))
    page.route("**/late.css", lambda route: late.append(route))
    page.route("**/give-it", lambda route: (late[0].fulfill(body="p { display: none; }"), route.fulfill()))
    page.goto(f"{live_server.url}/look-here", wait_until="domcontentloaded")
    assert looked_over(page) == []


def test_each_fault_is_seen(page: Page, live_server) -> None:
    seen = {content: _shown(page, live_server, content) for content in FAULTS}
    assert {one: found for one, found in seen.items() if not any(FAULTS[one] in words for words in found)} == {}


def test_no_rule_is_left_out_that_may_find_something_grave(page: Page, live_server) -> None:
    _shown(page, live_server, SOUND)  # axe is in the page
    weights = page.evaluate("() => Object.fromEntries(axe._audit.rules.map(({ id, impact }) => [id, impact]))")
    assert {weights[name] for name in NEVER_GRAVE} == {"minor", "moderate"}
    assert weights["label"] in GRAVE


def test_a_faint_text_is_seen_though_axe_cannot_judge_the_first_that_looks_like_it(page: Page, live_server) -> None:
    frame = (
        "<style>p { color: #aaa; background: #fff; } i { position: absolute; inset: 0 0 auto; height: 9em; }</style>"
    )
    cover = '<i style="background: url(data:,)"></i>'
    content = f'{frame}<div style="height: 12em"><p>Covered</p>{cover}</div><p>In sight</p>'
    wrong = _shown(page, live_server, content)
    assert any("In sight" in words for words in wrong) and not any("Covered" in words for words in wrong)


def test_what_was_found_right_is_not_measured_again_and_what_was_wrong_is(page: Page, live_server) -> None:
    known: set[str] = set()
    faint = next(content for content in FAULTS if "Faint</p>" in content)
    assert _shown(page, live_server, SOUND, known) == []
    sound = set(known)
    assert sound and _shown(page, live_server, SOUND, known) == [] and known == sound
    for _ in range(2):
        assert any("color-contrast" in words for words in _shown(page, live_server, SOUND + faint, known))
