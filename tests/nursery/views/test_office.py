"""The office's front page, the help, the licences."""

import re
import tomllib
from pathlib import Path

import pytest
from django.test import Client

from nursery import cautions
from nursery.cautions import STEPS, cautions_for
from nursery.models import Flag
from nursery.records.remarks import remarked
from nursery.views import help as help_views
from nursery.views.help import PICTURES, TOPICS, Picture
from nursery.views.office.about import PARTS
from nursery.views.office.index import DOORS
from tests.making import Nursery

ROOT = Path(__file__).resolve().parents[3]


def _labels(client: Client) -> list[str]:
    return [link["label"] for link in client.get("/office/").context["links"]]


def test_each_role_is_led_only_where_it_may_go(as_owner: Client, as_viewer: Client) -> None:
    only_owners = {door.label for door in DOORS if door.owner}
    assert {"People", "House", "Round", "Backup"} <= only_owners
    assert only_owners <= set(_labels(as_owner))
    assert set(_labels(as_owner)) - set(_labels(as_viewer)) == only_owners


def test_every_door_opens(as_owner: Client) -> None:
    for link in as_owner.get("/office/").context["links"]:
        assert as_owner.get(link["url"]).status_code == 200, link["url"]


@pytest.mark.parametrize(
    ("count", "words"),
    [(1, "1 record waits for somebody to look"), (2, "2 records wait for somebody to look")],
)
def test_the_front_page_counts_what_waits(as_viewer: Client, nursery: Nursery, count: int, words: str) -> None:
    bench = nursery.bench()
    for _ in range(count):
        act = nursery.record(remarked, thing=bench, words="Odd.")
        Flag.objects.create(act=act, thing_id=bench.pk, code="odd", sentence="This does not fit.")
    assert words in as_viewer.get("/office/").content.decode()


# --- help ---


def test_the_help_tells_of_each_part_in_order(as_viewer: Client) -> None:
    page = as_viewer.get("/help/").content.decode()
    assert re.findall(r'<section class="words" id="(\w+)"><h2>([^<]+)</h2>', page) == [
        (topic.anchor, topic.title) for topic in TOPICS
    ]
    assert all(f'href="#{topic.anchor}"' in page for topic in TOPICS)


def test_the_help_has_a_section_for_every_part_of_the_menu(as_viewer: Client) -> None:
    titles = " ".join(topic.title for topic in TOPICS)
    assert all(part in titles for part in ("round", "Plants", "Crosses", "Seed and pots", "Labels", "Office"))


def test_the_doors_that_the_help_names_are_there(as_viewer: Client) -> None:
    page = as_viewer.get("/help/").content.decode()
    office = page[page.index('id="office"') : page.index('id="undo"')]
    named = {name.removeprefix("The ").capitalize() for name in re.findall(r"<strong>([^<]+)</strong>", office)}
    assert named <= {door.label for door in DOORS}


def test_the_help_shows_every_caution_and_what_comes_first(as_viewer: Client) -> None:
    page = as_viewer.get("/help/").content.decode().replace("&#x27;", "'")
    assert cautions.FIRST in page
    for step in STEPS.values():
        assert all(sentence in page for sentence in step.sentences), step.words


def test_a_picture_that_is_not_there_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    there = Picture("icons/favicon.svg", "round", "Our mark.")
    monkeypatch.setattr(help_views, "PICTURES", (there, Picture("help/never-drawn.png", "round", "Nothing.")))
    assert help_views.pictures("round") == [there]


def test_every_picture_belongs_to_a_topic_and_says_what_it_shows() -> None:
    assert {one.topic for one in PICTURES} <= {topic.anchor for topic in TOPICS}
    assert all(one.alt.endswith(".") for one in PICTURES)


# --- cautions ---


def test_cautions_are_sentences() -> None:
    for step in STEPS.values():
        assert step.sentences and all(re.match(r"[A-Z].+\.$", sentence) for sentence in step.sentences)


def test_several_steps_give_each_sentence_once() -> None:
    both = cautions_for("moss", "sowing")
    assert len(both) == len(set(both)) == len(STEPS["sowing"].sentences)


def test_an_unknown_step_is_an_error() -> None:
    with pytest.raises(KeyError):
        cautions_for("juggling")


@pytest.mark.parametrize(
    ("step", "word"),
    [
        # Sporotrichosis among nursery workers: J. Infect. Dis. 176(2):499-504, 1997; gloves were protective.
        ("sowing", "sporotrichosis"),
        ("sowing", "gloves"),
        # Alcohol burns; bleach never with acids, ammonia or alcohol: government and extension pages.
        ("tools", "no flame"),
        ("tools", "ammonia"),
        # Ladders: extension pages.
        ("ladder", "both hands"),
        # From memory, unchecked: dust of dry pods, cobalt in desiccants, legionella in warm stored water.
        ("dry_pods", "dust mask"),
        ("desiccant", "without cobalt"),
        ("misting", "legionella"),
        ("feeding", "product's label"),
        ("cleaning", "Never mix bleach"),
        # Common practice: rate and re-entry stand on the product's label only.
        ("sprays", "product's label"),
        ("permits", "CITES"),
    ],
)
def test_the_step_that_needs_it_warns(step: str, word: str) -> None:
    assert word in " ".join(cautions_for(step))


# --- licences ---


def test_the_licences_name_everything_that_is_installed(as_viewer: Client) -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    needed = {re.split(r"[\[<>=]", one)[0].lower() for one in project["dependencies"]} - {"tzdata"}
    assert needed <= {part.name.lower() for part in PARTS}
    assert all((ROOT / part.shipped / "LICENSE").exists() for part in PARTS if part.shipped)
    assert "MIT licence" in as_viewer.get("/office/about/").content.decode()
