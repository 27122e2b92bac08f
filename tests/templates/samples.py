"""One sample of what each partial takes, in the words of an invented nursery."""

from types import SimpleNamespace as Row
from typing import Any

from django import forms
from django.core.paginator import Paginator

SAID = [("today", "Today"), ("yesterday", "Yesterday"), ("on", "On this day"), ("unknown", "Day not known")]
NAME = [
    Row(text="hamata", style="taxon"),
    Row(text=" ", style="plain"),
    Row(text="lantern", style="clone"),
    Row(text=" × ", style="plain"),
    Row(text="lowii", style="taxon"),
]


class Sample(forms.Form):
    """A form with each kind of widget that the partials know."""

    day_said = forms.ChoiceField(label="When", choices=SAID, widget=forms.RadioSelect, initial="today")
    day_on = forms.DateField(label="Day", required=False, widget=forms.DateInput(attrs={"type": "date"}))
    order = forms.IntegerField(label="Order", help_text="1 is the lowest.", min_value=1)
    size = forms.ChoiceField(label="Size", choices=[("u10", "Under 10")], widget=forms.RadioSelect)
    covered = forms.BooleanField(label="Covered before", required=False)


def answered(**values: str) -> Sample:
    """The form, sent with these values and checked."""
    form = Sample(values)
    form.is_valid()
    return form


def answer(**changes: Any) -> Row:
    """A quick answer that posts."""
    usual = {"label": "Turning", "hint": "then: bag it", "icon": "pod-turning", "size": "", "href": ""}
    return Row(**(usual | {"name": "seen", "value": "turning", "url": "/pods/7/"} | changes))


def task(**changes: Any) -> Row:
    """A row of the round."""
    usual = {
        "icon": "pod-green",
        "title": "Look at pods",
        "due_words": "today",
        "tone": "today",
        "name_parts": NAME,
        "sub": "section 1",
        "number": 208746,
        "url": "/t/208746",
        "reason": "Day 131; hers open between day 126 and 171.",
        "answers": [answer()],
        "act_id": "a-1",
        "extra_links": [Row(label="Stop watching", url="/stop/")],
        "cautions": [],
    }
    return Row(**(usual | changes))


STORY = [
    Row(
        day="2 Oct",
        words="sown, one pod",
        who="Tom Reed",
        url="/t/208698",
        note="",
        flags=[Row(sentence="More than the lot held.", repairs=[])],
        undo_url="/undo/3/",
        undo_id="u-1",
        void=False,
    )
]
PHOTO = Row(url="/photos/ab.jpg", small_url="/photos/small/ab.jpg", width=320, height=240, alt="Photo, 2 Oct")
DONE = Row(words="Take: most", next="look again Tue 1 Dec", url="/t/208738", undo_url="/undo/3/", undo_id="u-1")
PERSON = Row(is_authenticated=True, name="Tom Reed", role="grower")

PARTS: dict[str, dict[str, Any]] = {
    "_act_id.html": {"act_id": "a-1"},
    "_answer.html": {"answer": answer(), "target": "closest [data-row]"},
    "_answers.html": {"answers": [answer(), answer(href="/only-some/")], "act_id": "a-1"},
    "_caution.html": {"cautions": ["Alcohol burns. No flame near it."]},
    "_closings.html": {
        "closings": [Row(words="House 2 is closed until 14:00 today, as typed.", place_url="/p/", end_url="/e/")]
    },
    "_day.html": {"form": Sample()},
    "_done.html": {"done": DONE},
    "_empty.html": {"icon": "plant", "words": "Your plants will stand here.", "url": "/new/", "label": "Add one"},
    "_errors.html": {"errors": ["Give a day that is not in the future."], "id": "id_day_error"},
    "_facts.html": {"facts": [Row(value="54", label="days sown")]},
    "_failed.html": {},
    "_field.html": {"field": answered(order="-4")["order"]},
    "_find.html": {},
    "_flag.html": {"flag": Row(sentence="Seedlings before sowing.", repairs=[Row(label="Misread", url="/r/")])},
    "_form.html": {"form": Sample(), "label": "Record it", "act_id": "a-1", "cautions": ["Let it cool."]},
    "_keypad.html": {},
    "_not_recorded.html": {"form": answered(order="-4")},
    "_not_recorded_field.html": {"field": answered(order="-4")["order"]},
    "_name.html": {"parts": NAME},
    "_hands.html": {
        "strip": Row(
            owner=Row(name="Ida Fern"),
            hands=Row(name="Tom Reed", pk=2),
            is_lent=True,
            people=[Row(name="Ida Fern", pk=1), Row(name="Tom Reed", pk=2)],
            next="/",
        ),
        "section": "office",
    },
    "_nav.html": {"section": "seed", "person": PERSON},
    "_pager.html": {"page": Paginator(range(45), 20).page(2), "query": "q=lowii&"},
    "_photo.html": {"photo": PHOTO},
    "_pill.html": {"words": "by Fri", "tone": "soon"},
    "_plate.html": {"number": 208746, "url": "/t/208746"},
    "_remark.html": {"remark": Row(words="Hold it up to the light.", by="Tom Reed", when="Thu 26 Nov")},
    "_search.html": {"q": "lowii"},
    "_status.html": {"messages": [], "undo": Row(words="Take: most", url="/undo/3/", act_id="u-1")},
    "_story.html": {"rows": STORY},
    "_story_acts.html": {"row": STORY[0]},
    "_tabs.html": {"tabs": [Row(label="Open", url="?open", current=True, count=31)]},
    "_task.html": {"task": task(), "open": True},
    "_waiting.html": {"wait": "Bringing the rows in."},
    "_undo.html": {"undo": Row(words="Take: most", url="/undo/3/", act_id="u-1")},
}
