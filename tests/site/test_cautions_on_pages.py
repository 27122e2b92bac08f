"""Each caution stands on the page of the step where it is needed."""

import pytest

from nursery.cautions import BRIEF, STEPS, brief_for, cautions_for
from nursery.site.pages import new_page, page_on

ON_PAGES = [
    ("spike", "look", {"ladder"}),
    ("spike", "collect", {"ladder", "tools", "desiccant"}),
    ("spike", "pollinate", {"ladder", "tools"}),
    ("section", "dab", {"ladder", "tools"}),
    ("section", "harvest", {"ladder", "dry_pods"}),
    ("pollenlot", "store", {"desiccant"}),
    ("seedlot", "clean", {"dry_pods"}),
    ("seedlot", "sow", {"sowing"}),
    ("seedlot", "store", {"desiccant"}),
    ("seedpot", "trouble", {"moss"}),
    ("clone", "plant", {"cuttings"}),
    ("plant", "cutting", {"cuttings"}),
    ("plant", "sample", {"cuttings"}),
    ("place", "event", {"sprays", "house"}),
]
ON_NEW = [
    ("pollen", {"permits", "desiccant"}),
    ("seed", {"permits", "desiccant"}),
    ("clones", {"permits"}),
    ("plants", {"permits"}),
    ("routines", {"misting", "feeding"}),
]
BY_WORDS = {"misting", "feeding", "cleaning"}
"""What the words of a routine call for, shown where it is done (see breeding.words.routines)."""


@pytest.mark.parametrize(("kind", "act", "steps"), ON_PAGES)
def test_a_step_shows_its_cautions(kind: str, act: str, steps: set[str]) -> None:
    assert set(page_on(kind, act).caution) == steps


@pytest.mark.parametrize(("slug", "steps"), ON_NEW)
def test_entering_something_shows_its_cautions(slug: str, steps: set[str]) -> None:
    assert set(new_page(slug).caution) == steps


def test_every_caution_stands_on_a_page() -> None:
    shown = set().union(*(steps for *_, steps in [*ON_PAGES, *ON_NEW]))
    assert shown | BY_WORDS == STEPS.keys()


def test_what_is_folded_keeps_its_most_dangerous_words() -> None:
    assert BRIEF.keys() == STEPS.keys()
    short = brief_for(cautions_for("ladder", "tools"))
    assert "ladder" in short and "Alcohol burns" in short and "Never mix bleach" in short
    assert brief_for(cautions_for("sowing")) == BRIEF["sowing"], "what another step says already is said once"
