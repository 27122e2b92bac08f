"""Each partial renders alone, from its sample, and says what a person must hear or see."""

import pytest
from django.template import engines
from django.template.loader import render_to_string

from tests.templates import TEMPLATES
from tests.templates.samples import NAME, PARTS, Sample, answer, answered, task

SAID_BY_PART = {
    "_act_id.html": 'name="act_id" value="a-1" data-act-id',
    "_answer.html": 'hx-post="/pods/7/"',
    "_answers.html": 'href="/only-some/"',
    "_caution.html": "Alcohol burns. No flame near it.",
    "_closings.html": "House 2 is closed until 14:00 today, as typed.",
    "_day.html": "<summary>Earlier",
    "_done.html": "look again Tue 1 Dec",
    "_empty.html": "Your plants will stand here.",
    "_errors.html": "Give a day that is not in the future.",
    "_facts.html": "days sown",
    "_failed.html": "Not recorded yet",
    "_field.html": "1 is the lowest.",
    "_find.html": "Find",
    "_flag.html": "Seedlings before sowing.",
    "_form.html": "Let it cool.",
    "_hands.html": 'value="2" aria-pressed="true"',
    "_keypad.html": 'data-digit="7"',
    "_name.html": "lantern",
    "_nav.html": "Seed",
    "_not_recorded.html": "<h2>Not recorded yet</h2>",
    "_not_recorded_field.html": '<li><a href="#id_order"><strong>Order</strong>',
    "_pager.html": "21 to 40 of 45",
    "_photo.html": '<img class="photo__small" src="/photos/small/ab.jpg" width="320" height="240" alt="Photo, 2 Oct"',
    "_pill.html": "by Fri",
    "_plate.html": "208 746",
    "_remark.html": "“Hold it up to the light.”",
    "_search.html": 'value="lowii"',
    "_status.html": 'role="status"',
    "_story.html": '<abbr title="Tom Reed">TR</abbr>',
    "_story_acts.html": 'action="/undo/3/"',
    "_tabs.html": 'aria-current="page"',
    "_task.html": "Day 131; hers open between day 126 and 171.",
    "_undo.html": 'action="/undo/3/"',
    "_waiting.html": "Bringing the rows in.",
}
NEED_A_FORM = {"_day.html", "_field.html"}


def test_every_partial_has_a_sample() -> None:
    assert {file.name for file in (TEMPLATES / "parts").glob("*.html")} == PARTS.keys() == SAID_BY_PART.keys()


@pytest.mark.parametrize("part", PARTS)
def test_it_renders_alone(part: str) -> None:
    assert SAID_BY_PART[part] in render_to_string(f"parts/{part}", PARTS[part])


@pytest.mark.parametrize("part", sorted(PARTS.keys() - NEED_A_FORM))
def test_it_survives_being_given_nothing(part: str) -> None:
    assert "None" not in render_to_string(f"parts/{part}", {})


def test_species_lean_and_designations_stand_bold() -> None:
    html = render_to_string("parts/_name.html", {"parts": NAME})
    assert html.strip().endswith(
        '<i class="name__taxon">hamata</i><span class="name__plain"> </span><b class="name__clone">lantern</b>'
        '<span class="name__plain"> × </span><i class="name__taxon">lowii</i></span>'
    )


def test_what_people_type_is_escaped() -> None:
    row = task(title="<b>x</b>", sub="<b>x</b>", reason="<b>x</b>", answers=[answer(label="<b>x</b>", hint="<b>x</b>")])
    html = render_to_string("parts/_task.html", {"task": row})
    assert "<b>x</b>" not in html
    assert html.count("&lt;b&gt;x&lt;/b&gt;") == 5


def test_no_answer_is_filled_or_chosen_beforehand() -> None:
    html = render_to_string("parts/_answers.html", PARTS["_answers.html"])
    assert "button--fill" not in html and "checked" not in html and "aria-pressed" not in html


def test_an_error_stands_beside_its_field_and_is_named_by_it() -> None:
    html = render_to_string("parts/_field.html", {"field": answered(order="-4")["order"]})
    assert 'aria-describedby="id_order_helptext id_order_error"' in html
    assert 'aria-invalid="true"' in html
    assert '<div id="id_order_error">' in html and '<p class="field__help" id="id_order_helptext">' in html
    assert 'value="-4"' in html


def test_an_error_of_a_group_is_named_by_the_group() -> None:
    html = render_to_string("parts/_field.html", {"field": answered()["size"]})
    assert '<fieldset class="field field--wrong" aria-describedby="id_size_error" id="id_size" tabindex="-1">' in html


def test_a_fresh_day_is_today_with_earlier_shut() -> None:
    html = render_to_string("parts/_day.html", {"form": Sample()})
    assert 'value="today" id="id_day_said_today" checked' in html
    assert '<details class="day__earlier">' in html


def test_an_earlier_day_stays_open_and_chosen() -> None:
    html = render_to_string("parts/_day.html", {"form": answered(day_said="on", day_on="not a day")})
    assert 'value="on" id="id_day_said_on" checked' in html
    assert '<details class="day__earlier" open>' in html
    assert 'value="not a day"' in html and "Enter a valid date." in html


def test_a_form_saves_with_one_filled_button() -> None:
    assert render_to_string("parts/_form.html", PARTS["_form.html"]).count("button--fill") == 1


def test_an_objection_can_be_overruled_with_one_tap() -> None:
    objection = type("Objection", (), {"sentence": "This spike was seen as male.", "code": "male"})
    html = render_to_string("parts/_form.html", PARTS["_form.html"] | {"objections": [objection]})
    assert "This spike was seen as male." in html
    assert 'name="objections_seen" value="male"' in html
    assert '<button class="button button--fill button--wide" name="anyway" value="yes">Record it all the same' in html
    assert html.count("button--fill") == 1


def test_an_icon_speaks_only_where_it_stands_alone() -> None:
    def drawn(tag: str) -> str:
        return engines["django"].from_string("{% load tepal %}{% icon " + tag + " %}").render({"said": "<b> & moss"})

    use = '<use href="/static/icons/sprite.svg#drop"></use></svg>'
    assert drawn('"drop"') == f'<svg class="icon" focusable="false" aria-hidden="true">{use}'
    said = '<svg class="icon icon--big" focusable="false" role="img" aria-label="&lt;b&gt; &amp; moss">'
    assert drawn('"drop" title=said more="icon--big"') == said + use
