"""A plant kept apart: what goes on with it is asked once, taken and flagged, and never refused."""

from collections.abc import Callable

import pytest

from breeding.records.pollen import pollen_collected
from breeding.records.posted import pollen_sent, pollen_split, seed_sent
from breeding.records.sections import section_dabbed, section_pollinated
from nursery.days import Day
from nursery.models import Act, Plant
from nursery.records.errors import Refused
from nursery.records.flags import open_flags
from nursery.records.plants import plant_arrived, plant_gone
from nursery.records.quarantine import quarantined, released, sample_result, sample_sent
from nursery.records.undo import undone
from tests.keeping import fresh
from tests.making import Nursery, ago

SENTENCE = "In quarantine: lowii hammer (mosaic)."


@pytest.fixture(scope="module")
def kept_apart(kept: Nursery) -> Plant:
    plant = kept.plant(kept.clone("lowii", "hammer"))
    kept.record(quarantined, plant=plant, reason="mosaic", days_ago=10)
    plant.refresh_from_db()
    return plant


@pytest.fixture
def plant(kept_apart: Plant) -> Plant:
    """Lowii hammer, kept apart for 10 days."""
    return fresh(kept_apart)


def _flags(act: Act) -> list[str]:
    return [flag.sentence for flag in act.flags.all() if flag.code == "in_quarantine"]


def test_it_is_kept_apart_until_it_is_released(nursery: Nursery, plant: Plant) -> None:
    assert (plant.quarantine, plant.quarantine_on) == ("mosaic", ago(10).first)
    out = nursery.record(released, plant=plant)
    plant.refresh_from_db()
    assert (plant.quarantine, plant.quarantine_on) == ("", None)
    undone(act=nursery.act(), target=out)
    plant.refresh_from_db()
    assert plant.quarantine == "mosaic"


def test_a_quarantine_without_a_reason_is_refused(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(quarantined, plant=nursery.plant(), reason=" ")
    assert refusal.value.sentence == "Say why it is in quarantine."


MAKES: dict[str, Callable[[Nursery, Plant], Act]] = {
    "taking its pollen": lambda n, p: n.record(pollen_collected, spikes=[n.spike(p, sex="male")]),
    "pollinating it": lambda n, p: n.record(section_pollinated, spike=n.spike(p, sex="female"), lot=n.pollen()),
    "pollinating with its pollen": lambda n, p: n.record(
        section_pollinated, spike=n.female(), lot=n.pollen([n.spike(p, sex="male")])
    ),
    "dabbing straight from it": lambda n, p: n.record(
        section_dabbed, section=n.section(), from_spike=n.spike(p, sex="male")
    ),
    "a cutting": lambda n, p: n.record(plant_arrived, clone=p.clone, struck_from=p),
    "selling it": lambda n, p: n.record(plant_gone, plant=p, why="sold"),
    "pollinating with what was split off from its pollen": lambda n, p: n.record(
        section_pollinated, spike=n.female(), lot=n.made(pollen_split, lot=n.pollen([n.spike(p, sex="male")]))
    ),
    "sending its pollen": lambda n, p: n.record(
        pollen_sent, lot=n.pollen([n.spike(p, sex="male")]), to_whom="the friend who writes"
    ),
    "sending seed of it": lambda n, p: n.record(
        seed_sent, lot=n.seed(n.section(n.spike(p, sex="female"))), to_whom="the friend who writes"
    ),
    "giving it away": lambda n, p: n.record(plant_gone, plant=p, why="given"),
}


@pytest.mark.parametrize("what", MAKES)
def test_it_is_taken_and_flagged(what: str, nursery: Nursery, plant: Plant) -> None:
    assert _flags(MAKES[what](nursery, plant)) == [SENTENCE]
    assert open_flags().filter(code="in_quarantine").exists()


@pytest.mark.parametrize("what", MAKES)
def test_after_its_release_nothing_is_flagged(what: str, nursery: Nursery, plant: Plant) -> None:
    nursery.record(released, plant=plant)
    plant.refresh_from_db()
    assert _flags(MAKES[what](nursery, plant)) == []


def test_one_that_dies_or_is_thrown_away_spreads_nothing(nursery: Nursery, plant: Plant) -> None:
    assert _flags(nursery.record(plant_gone, plant=plant, why="died")) == []


def test_what_was_before_the_quarantine_is_not_flagged_however_late_it_is_told(nursery: Nursery, plant: Plant) -> None:
    assert _flags(nursery.record(plant_arrived, clone=plant.clone, struck_from=plant, days_ago=11)) == []
    assert _flags(nursery.record(plant_arrived, clone=plant.clone, struck_from=plant, days_ago=10)) == [SENTENCE]
    unknown = nursery.record(plant_arrived, clone=plant.clone, struck_from=plant, day=Day.unknown())
    assert _flags(unknown) == [SENTENCE], "it may have been since"


def test_two_that_are_kept_apart_make_one_flag(nursery: Nursery, plant: Plant) -> None:
    other = nursery.plant(nursery.clone("hamata", "kettle"))
    nursery.record(quarantined, plant=other, reason="thrips", days_ago=3)
    female, male = nursery.spike(plant, sex="female"), nursery.spike(other, sex="male")
    act = nursery.record(section_pollinated, spike=female, from_spike=male)
    assert _flags(act) == ["In quarantine: lowii hammer (mosaic), hamata kettle (thrips)."]


# --- samples ---


def test_a_result_belongs_to_a_sample_and_releases_nothing(nursery: Nursery, plant: Plant) -> None:
    sent = nursery.record(sample_sent, plant=plant, to_whom="the plant clinic", what_for="mosaic virus", days_ago=5)
    nursery.record(sample_result, plant=plant, sample=sent.samplesent, found="no", words="clear")
    plant.refresh_from_db()
    assert sent.samplesent.results.get().found == "no"
    assert plant.quarantine == "mosaic"


def test_a_result_of_another_plants_sample_is_refused(nursery: Nursery, plant: Plant) -> None:
    other = nursery.record(sample_sent, plant=nursery.plant(), to_whom="the plant clinic")
    with pytest.raises(Refused) as refusal:
        nursery.record(sample_result, plant=plant, sample=other.samplesent, found="yes")
    assert refusal.value.sentence == "That sample was of another plant. Choose one of this plant."


def test_a_result_stays_with_its_sample_when_that_is_corrected(nursery: Nursery, plant: Plant) -> None:
    sent = nursery.record(sample_sent, plant=plant, to_whom="the plant clinic")
    nursery.record(sample_result, plant=plant, sample=sent.samplesent, found="no")
    right = nursery.record(sample_sent, plant=plant, to_whom="the plant clinic", what_for="mosaic", replaces=sent)
    assert right.samplesent.results.get().found == "no"
