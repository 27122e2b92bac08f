"""Each caution stands where the step happens: on the page of the act, in the round, and by the tag that was scanned."""

import re
from collections.abc import Iterable

import pytest
from django.test import Client
from django.utils.html import escape

from breeding.answers import Answer, asked_of
from breeding.care import CARE
from breeding.records import pods
from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.tasks import Task, round_for
from nursery.cautions import BRIEF, STEPS, brief_for, cautions_for
from nursery.days import Day
from nursery.models import LivingThing
from nursery.pages import ActPage
from nursery.records import registry
from nursery.site import pages
from tests.labels.test_round_paper import pages as printed_pages
from tests.making import Nursery, today
from tests.site.things.samples import STAGES

STEPS_OF: dict[tuple[str | None, str], set[str]] = {
    ("plant", "spike"): {"ladder"},
    ("spike", "look"): {"ladder"},
    ("spike", "collect"): {"ladder", "tools", "desiccant"},
    ("spike", "pollinate"): {"ladder", "tools"},
    ("section", "dab"): {"ladder", "tools"},
    ("section", "take"): {"ladder"},
    ("section", "pods"): {"ladder"},
    ("section", "bag"): {"ladder"},
    ("section", "harvest"): {"ladder", "dry_pods"},
    ("pollenlot", "store"): {"desiccant"},
    ("pollenlot", "split"): {"desiccant"},
    ("pollenlot", "send"): {"permits"},
    ("seedlot", "clean"): {"dry_pods"},
    ("seedlot", "sow"): {"sowing", "tools"},
    ("seedlot", "store"): {"desiccant"},
    ("seedlot", "split"): {"desiccant"},
    ("seedlot", "send"): {"permits"},
    ("seedpot", "split"): {"sowing", "tools"},
    ("seedpot", "sown"): {"sowing", "tools"},
    ("seedpot", "clear"): {"moss"},
    ("seedpot", "gone"): {"moss", "permits"},
    ("seedpot", "trouble"): {"moss"},
    ("sowingsession", "planned"): {"sowing", "tools"},
    ("clone", "plant"): {"cuttings"},
    ("plant", "cutting"): {"cuttings"},
    ("plant", "sample"): {"cuttings"},
    ("plant", "gone"): {"permits"},
    ("place", "event"): {"sprays", "house"},
    (None, "pollen"): {"permits", "desiccant"},
    (None, "seed"): {"permits", "desiccant"},
    (None, "clones"): {"permits"},
    (None, "plants"): {"permits"},
    (None, "routines"): {"misting", "feeding"},
}
HURTS_NOBODY = {
    *(("any", act) for act in ("remark", "photo", "later", "stop", "resume", "tag")),
    *(("plant", act) for act in ("move", "missing", "quarantine", "release", "result")),
    *(("place", act) for act in ("move", "ended", "room", "rename", "stocktake")),
    *(("seedpot", act) for act in ("move", "missing", "look", "loss")),
    *((kind, act) for kind in ("pollenlot", "seedlot") for act in ("finish", "outcome")),
    ("clone", "redetermine"),
    ("sowingsession", "change"),
    ("routine", "change"),
    ("routine", "done"),  # what its words call for stands where it is asked
    (None, "places"),
    (None, "crosses"),
}
BY_WORDS = {"misting", "feeding", "cleaning"}
"""What the words of a routine call for, shown where it is done (see breeding.words.routines)."""

ALL_PAGES = (*pages.ALL, *pages.CORRECTING)


@pytest.mark.parametrize("page", ALL_PAGES, ids=lambda page: f"{page.on}-{page.slug}")
def test_a_page_shows_the_cautions_of_its_step(page: ActPage) -> None:
    key = (page.on, page.slug)
    assert (key in STEPS_OF) is not (key in HURTS_NOBODY), "a page stands in one of the tables"
    assert set(page.caution) == STEPS_OF.get(key, set())


def test_every_caution_stands_on_a_page() -> None:
    assert set().union(*STEPS_OF.values()) | BY_WORDS == STEPS.keys()


def test_the_table_names_acts_and_steps_that_there_are() -> None:
    assert CARE.keys() <= {page.act_kind for page in ALL_PAGES}
    assert {step for steps in CARE.values() for step in steps} <= STEPS.keys()


def test_what_is_folded_keeps_its_most_dangerous_words() -> None:
    assert BRIEF.keys() == STEPS.keys()
    short = brief_for(cautions_for("ladder", "tools"))
    assert "ladder" in short and "Alcohol burns" in short and "Never mix bleach" in short
    assert brief_for(cautions_for("sowing")) == BRIEF["sowing"], "what another step says already is said once"


# --- the round ---------------------------------------------------------------------------------------------------

IN_THE_ROUND = {
    "spikes": {"On a ladder", "mind your eyes"},
    "pollen": {"On a ladder", "Alcohol burns", "desiccant out of mouths", "cold packet warm up"},
    "pollinate": {"On a ladder", "Alcohol burns", "Never mix bleach"},
    "take": {"On a ladder"},
    "pods": {"On a ladder", "mind your eyes"},
    "bag": {"On a ladder"},
    "harvest": {"On a ladder", "Dust mask", "wear a dust mask"},
    "sow": {"Alcohol burns", "sporotrichosis", "It scalds", "Wet perlite down"},
    "routine": {"legionella"},
}
NO_CAUTION_IN_THE_ROUND = {"pots", "old_pollen", "retag"}


@pytest.fixture(scope="module")
def season(kept: Nursery) -> Nursery:
    """Something to do of every kind that can hurt, due today, and some that cannot."""
    kept.spike(days_ago=12)
    kept.male(days_ago=8, seen="showing")
    kept.female(days_ago=8)
    kept.section(days_ago=40)
    for seen in ("green", "turning", "opening"):
        section = kept.section(days_ago=140)
        kept.record(pods.pods_looked_at, section=section, seen=seen, days_ago=7)
    lot = kept.seed(days_ago=40, estimate=100)
    kept.pot(lot, days_ago=35)
    kept.sowing(days_ago=1)
    kept.routine("mist")
    kept.seed_by_post(words="from a friend", day=Day.unknown())
    return kept


def _tasks() -> list[Task]:
    return list(round_for(today(), minutes=10_000).today)


def _rows(page: str) -> dict[str, list[str]]:
    """The rows of the round by the title of their task, each as it is written."""
    found: dict[str, list[str]] = {}
    for row in re.split(r'(?=<details class="task)', page)[1:]:
        title = re.search(r'class="task__title">([^<]*)', row)[1]
        found.setdefault(title, []).append(row.partition('<form class="answers"')[0])
    return found


def test_every_kind_of_task_is_told_of() -> None:
    codes = {kind.code for kind in TASK_KINDS}
    assert IN_THE_ROUND.keys() | NO_CAUTION_IN_THE_ROUND == codes
    for kind in TASK_KINDS:
        assert bool(kind.cautions) is (kind.code in IN_THE_ROUND.keys() - {"routine"}), kind.code


def test_a_row_of_the_round_cautions_before_its_answers(season: Nursery, as_grower: Client) -> None:
    rows = _rows(as_grower.get("/").text)
    tasks = _tasks()
    assert {task.kind for task in tasks} >= IN_THE_ROUND.keys()
    for task in tasks:
        for row in rows[task.title]:
            missing = [words for words in IN_THE_ROUND.get(task.kind, ()) if words not in row]
            assert missing == [], (task.title, row)
            assert ("caution" in row) is (task.kind in IN_THE_ROUND), task.title


def test_a_row_that_is_closed_shows_none_of_it_and_an_open_one_the_fewest_words(
    season: Nursery, as_grower: Client
) -> None:
    for rows in _rows(as_grower.get("/").text).values():
        for row in rows:
            closed, _, opened = row.partition('<div class="task__body">')
            assert "caution" not in closed
            if "caution" in opened:
                assert 'class="caution caution--small"' in opened
                assert opened.index("<summary>") < opened.index('class="caution__list"')


def test_on_paper_each_row_has_the_fewest_words_and_the_sentences_stand_once(
    season: Nursery, as_grower: Client
) -> None:
    told = " ".join(printed_pages(as_grower.get(f"/labels/round/{today()}/?rest=yes").content))
    assert told.count("On a ladder both hands for it.") > 4
    for sentence in cautions_for("ladder", "tools", "desiccant", "dry_pods", "sowing", "misting"):
        assert told.count(sentence) == 1, sentence


# --- what one tap records ----------------------------------------------------------------------------------------


def _unsaid(kind: str, answers: Iterable[Answer], cautions: Iterable[str]) -> list[str]:
    """Sentences that the page of an act has and that are missing where one tap spares that page."""
    acts = {answer.url.rstrip("/").rpartition("/")[2] for answer in answers if answer.url}
    said = {one for act in acts for one in cautions_for(*pages.page_on(kind, act).caution)}
    return sorted(said - set(cautions))


def test_no_tap_in_the_round_spares_the_cautions_of_its_page(season: Nursery) -> None:
    kinds = {kind.slug: code for code, kind in registry.thing_kinds().items()}
    for task in _tasks():
        if task.thing_id:
            assert _unsaid(kinds[task.slug], task.answers, task.cautions) == [], task.title


@pytest.mark.parametrize("stage", STAGES)
def test_no_tap_by_a_tag_spares_the_cautions_of_its_page(nursery: Nursery, stage: str) -> None:
    thing = STAGES[stage][0](nursery)
    asked = asked_of(thing)
    assert _unsaid(thing.kind, (*asked.answers, *asked.more, *asked.later), asked.cautions) == []


# --- scanned -----------------------------------------------------------------------------------------------------

SCANNED = {
    "a spike": (lambda nursery: nursery.spike(days_ago=1), {"On a ladder", "mind your eyes"}),
    "a male in flower": (
        lambda nursery: nursery.male(days_ago=8, seen="showing"),
        {"On a ladder", "70% alcohol", "it burns", "desiccant"},
    ),
    "a section": (lambda nursery: nursery.section(days_ago=1), {"On a ladder"}),
    "pods opening": (lambda nursery: _opening(nursery), {"On a ladder", "dust mask"}),
    "seed": (lambda nursery: nursery.seed(days_ago=3), {"sporotrichosis", "It scalds", "70% alcohol"}),
    "a pot to sow": (lambda nursery: nursery.prepared_pot(), {"sporotrichosis", "It scalds", "70% alcohol"}),
}


def _opening(nursery: Nursery) -> LivingThing:
    section = nursery.section(days_ago=140)
    nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=1)
    section.refresh_from_db()
    return section


@pytest.mark.parametrize("what", SCANNED)
def test_a_scanned_tag_cautions_before_its_question(nursery: Nursery, as_grower: Client, what: str) -> None:
    make, expected = SCANNED[what]
    page = as_grower.get(f"/t/{make(nursery).thing.tags.get().number}/").text
    before, question, _ = page.partition('<form class="answers"')
    assert question and [words for words in expected if escape(words) not in before] == []
    assert 'class="caution caution--small"' in before


def test_pots_that_are_looked_at_caution_of_nothing(nursery: Nursery, as_grower: Client) -> None:
    pot = nursery.pot(days_ago=60)
    assert "caution" not in as_grower.get(f"/t/{pot.thing.tags.get().number}/").text


def test_several_at_once_caution_before_their_answers(nursery: Nursery, as_grower: Client) -> None:
    spike = nursery.spike(days_ago=12)
    before, answers, _ = as_grower.get(f"/places/{spike.plant.place_id}/several/").text.partition('class="answers"')
    assert answers and "On a ladder" in before
