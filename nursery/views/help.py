"""The help page: a short text for each part of Tepal, with pictures of those screens that were drawn."""

from dataclasses import dataclass

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from nursery import cautions
from nursery.views.guards import signed_in


@dataclass(frozen=True)
class Topic:
    """A section of the page: its anchor and its title."""

    anchor: str
    title: str


TOPICS = (
    Topic("round", "The round"),
    Topic("plants", "Plants"),
    Topic("crosses", "Crosses"),
    Topic("seed", "Seed and pots"),
    Topic("tags", "Labels and tags"),
    Topic("places", "Places"),
    Topic("photos", "Photos"),
    Topic("office", "Office"),
    Topic("undo", "Undo"),
    Topic("days", "Vague days"),
    Topic("safety", "Safety"),
)


@dataclass(frozen=True)
class Picture:
    """A screen in static/help, for the topic of the help page that it belongs to, and what it shows in words."""

    file: str
    topic: str
    alt: str


PICTURES = (
    Picture("help/round.png", "round", "The round on a phone: tasks grouped by bench, each with a reason and answers."),
    Picture(
        "help/thing.png", "tags", "The page of a section: its number, what it is, what can be recorded, its story."
    ),
    Picture("help/form.png", "days", "A form with “Earlier” opened: yesterday, about a week, a month, not known."),
    Picture("help/story.png", "undo", "The story of a cross on a wide screen, from spike to seed pots."),
)


def pictures(topic: str) -> list[Picture]:
    """Those of a topic whose files are there; one that is missing is left out, never shown broken."""
    return [one for one in PICTURES if one.topic == topic and finders.find(one.file)]


@signed_in
@require_safe
def help_page(request: HttpRequest) -> HttpResponse:
    return render(
        request,
        "help.html",
        {
            "section": "office",
            "topics": TOPICS,
            "pictures": {topic.anchor: pictures(topic.anchor) for topic in TOPICS},
            "steps": list(cautions.STEPS.values()),
            "first": cautions.FIRST,
        },
    )
