"""Nothing inline, nothing from outside, nothing that htmx would ignore or evaluate, each include shut off."""

import re
from pathlib import Path

import pytest

from tests.templates import STATIC, TEMPLATES

ALL = sorted(TEMPLATES.rglob("*.html"))
OWN_STATIC = sorted(file for kind in ("css", "js") for file in (STATIC / kind).rglob("*") if file.is_file())
FORBIDDEN = {
    "an inline style": r"<style|\sstyle\s*=",
    "an inline script": r"<script(?![^>]*\ssrc=)",
    "an inline handler": r"\son[a-z]+\s*=",
    "hx-on, which the policy blocks": r"\shx-on",
    "a trigger filter, which htmx ignores without eval": r"hx-trigger\s*=\s*[\"'][^\"']*\[",
    "a value that htmx would evaluate": r"[\"'](?:js|javascript):",
    "an outside host": r"(?:src|href|action|content|hx-\w+)\s*=\s*[\"'](?:https?:)?//",
}
FORBIDDEN_STATIC = {
    "an outside host": r"(?:url\(\s*[\"']?|@import\s+[\"']?|[\"'])(?:https?:)?//\w",
    "an import, which costs a round trip": r"@import",
    "evaluated code": r"\beval\(|new Function|innerHTML",
}


def _name(file: Path) -> str:
    return file.relative_to(TEMPLATES.parent).as_posix()


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_template_holds(what: str) -> None:
    assert [_name(file) for file in ALL if re.search(FORBIDDEN[what], file.read_text())] == []


@pytest.mark.parametrize("what", FORBIDDEN_STATIC)
def test_no_style_or_script_holds(what: str) -> None:
    assert [_name(file) for file in OWN_STATIC if re.search(FORBIDDEN_STATIC[what], file.read_text())] == []


@pytest.mark.parametrize(
    ("what", "text"),
    [
        ("an inline style", '<p style="color: red">'),
        ("an inline script", "<script>go()</script>"),
        ("an inline handler", '<a onclick="go()">'),
        ("hx-on, which the policy blocks", '<a hx-on:click="go()">'),
        ("a trigger filter, which htmx ignores without eval", '<a hx-trigger="click[ctrlKey]">'),
        ("a value that htmx would evaluate", "<a hx-vals='js:{a: 1}'>"),
        ("an outside host", '<img src="//elsewhere.example/a.png">'),
    ],
)
def test_the_net_catches(what: str, text: str) -> None:
    assert re.search(FORBIDDEN[what], text)


def test_partials_open_with_the_variables_they_take() -> None:
    partials = [file for file in ALL if file.name.startswith("_")]
    silent = [_name(file) for file in partials if not file.read_text().startswith("{# Takes: ")]
    assert silent == []


def test_partials_are_included_with_only_what_they_take() -> None:
    includes = {_name(file): re.findall(r"{% include [^%]*%}", file.read_text()) for file in ALL}
    open_ended = {name: [tag for tag in tags if not tag.endswith(" only %}")] for name, tags in includes.items()}
    assert {name: tags for name, tags in open_ended.items() if tags} == {}


def test_every_icon_that_a_template_names_is_drawn() -> None:
    drawn = set(re.findall(r'<symbol id="([a-z-]+)"', (STATIC / "icons/sprite.svg").read_text()))
    named = {name for file in ALL for name in re.findall(r'{% icon "([a-z-]+)"', file.read_text())}
    assert named - drawn == set()


def test_the_vendored_htmx_is_the_version_it_says() -> None:
    said = (STATIC / "vendor/htmx/VERSION").read_text().strip()
    script = (STATIC / "vendor/htmx/htmx.min.js").read_text()
    assert re.findall(r'version:"([\d.]+)"', script) == [said]
    assert (STATIC / "vendor/htmx/LICENSE").read_text().startswith("Zero-Clause BSD")
