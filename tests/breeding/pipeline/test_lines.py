"""Lines from rows made by hand: what each stage says, when its window is, and what is late."""

from datetime import date
from typing import Any

import pytest

from breeding.pipeline.gather import Gathered, Lot, Pots, Wish
from breeding.pipeline.lines import Line, lines
from breeding.pipeline.parts import window_of
from breeding.rounds.books import Books
from breeding.rounds.expected import from_shipped
from breeding.rounds.naming import Names
from breeding.rounds.place_order import Walked
from breeding.science.timings import Timing
from tests.breeding.rounds.rows import DAY, before, pot, section, seed, spike

HERE = Walked(7, 0, "Warm house", "Bench 2")


def gathered(**changes: Any) -> Gathered:
    """What was gathered: nothing but what the test says; sections stand on plants that are there."""
    usual = {
        "sections": [],
        "lots": [],
        "pots": [],
        "wishes": [],
        "alive": frozenset(one.pk for one in changes.get("sections", ())),
        "names": Names(),
        "places": {7: HERE},
        "books": Books(),
        "taxa": {},
        "spikes_open": 0,
    }
    return Gathered(**usual | changes)


def one(**changes: Any) -> Line:
    [line] = lines(gathered(**changes), DAY)
    return line


def of_section(**facts: Any) -> Line:
    return one(sections=[section(place_id=7, **facts)])


def of_pots(*pots: Pots) -> Line:
    lot = seed(pk=5, stage="part_sown", closed_on=before(200), ripe_first=before(300))
    return one(lots=[Lot(lot, None, None)], pots=list(pots))


def pots(count: int, **facts: Any) -> Pots:
    return Pots(pot(**{"ripe": 20} | facts), 5, count)


@pytest.mark.parametrize(
    ("facts", "stage", "words", "late"),
    [
        ({"day0": 10}, "take", "take to read", ""),
        ({"day0": 50}, "take", "take to read", "take not read by day 49"),
        ({"day0": 60, "stage": "no_take", "take": "none"}, "none", "nothing swelling", ""),
        ({"day0": 60, "stage": "swelling", "take": "most"}, "pods", "pods ripening", ""),
        ({"day0": 240, "stage": "swelling"}, "pods", "pods ripening", ""),
        ({"day0": 241, "stage": "swelling"}, "pods", "pods ripening", "past the usual window (day 80 to 240)"),
        ({"day0": 120, "stage": "turning"}, "pods", "pods turning", ""),
        ({"day0": 300, "stage": "opening", "open_by": DAY}, "open", "first pods opening", ""),
        ({"stage": "swelling"}, "pods", "pods ripening", ""),
    ],
)
def test_a_section_tells_its_stage_and_what_is_late(facts: dict[str, Any], stage: str, words: str, late: str):
    line = of_section(**facts)
    assert (line.stage, line.stage_words, line.late) == (stage, words, late)


@pytest.mark.parametrize(
    ("some", "stage", "words", "late"),
    [
        ([pots(6, sown=40)], "sown", "0 of 6 pots up", ""),
        ([pots(1, sown=60, stage="up", first_by=before(3)), pots(5, sown=60)], "up", "1 of 6 pots up", ""),
        (
            [pots(4, sown=216)],
            "silent",
            "0 of 4 pots up",
            "nothing in 4 pots, 7 months, past the usual window (day 28 to 112)",
        ),
        (
            [pots(2, sown=130, stage="up", first_by=before(60)), pots(1, sown=130)],
            "up",
            "2 of 3 pots up",
            "nothing in 1 of 3 pots, 4 months, past the usual window (day 28 to 112)",
        ),
        ([pots(3, sown=130, ripe=400)], "sown", "0 of 3 pots up", ""),
        (
            [pots(1, stage="up", closed_on=before(2)), pots(2, stage="up", split_from_id=1, split_last=before(2))],
            "up",
            "1 of 1 pot up, 2 pots split off",
            "",
        ),
    ],
)
def test_pots_are_told_together(some: list[Pots], stage: str, words: str, late: str):
    line = of_pots(*some)
    assert (line.stage, line.stage_words, line.late) == (stage, words, late)


def test_a_pot_that_was_split_goes_on_in_its_new_ones_and_is_over_with_the_last():
    whole = pots(1, sown=400, stage="up", first_by=before(390), closed_on=before(9), split_last=before(9))
    part = {"sown": 400, "stage": "up", "split_from_id": 1, "split_last": before(9), "last_look": before(9)}
    line = of_pots(whole, pots(3, **part))
    assert (line.pots_open, line.windows, line.next_words) == (3, (), "Look at seedlings on Sun 4 Oct")
    lot = seed(pk=5, stage="part_sown", closed_on=before(200))
    assert lines(gathered(lots=[Lot(lot, None, None)], pots=[whole, pots(3, **part, closed_on=before(1))]), DAY) == []


def test_a_line_covers_a_section_with_all_that_came_of_it():
    """Half its pods still ripen while the first harvest is sown and partly up."""
    lot = seed(pk=5, stage="part_sown", ripe_first=before(70))
    line = one(
        sections=[section(pk=3, day0=150, stage="swelling", place_id=7)],
        lots=[Lot(lot, 3, None)],
        pots=[pots(1, sown=50, stage="up", first_by=before(5)), pots(5, sown=50)],
    )
    assert line.stage_words == "pods ripening; seed waiting; 1 of 6 pots up"
    assert line.stages == {"pods", "seed", "up"} and line.stage == "up"
    assert line.start == before(150) and line.end is None
    assert [window.what for window in line.windows] == ["ripe", "first seedlings"]
    assert (line.lots_open, line.pots_open, line.where) == (1, 6, {HERE})


def test_what_is_over_is_a_line_only_where_it_is_asked_for():
    over = gathered(sections=[section(day0=200, stage="lost", closed_on=before(40))])
    assert lines(over, DAY) == []
    [line] = lines(over, DAY, finished=True)
    assert (line.stage_words, line.end, line.windows, line.next_words) == ("finished", before(40), (), "")


def test_a_section_on_a_plant_that_is_gone_waits_for_nothing():
    gone = gathered(sections=[section(day0=60, stage="swelling")], alive=frozenset())
    [line] = lines(gone, DAY, finished=True)
    assert (line.stage, line.due, line.may_open) == ("over", None, False)


def test_seed_without_a_section_is_one_line_a_cross():
    own = [Lot(seed(pk=pk, words=f"packet {pk}"), None, 4) for pk in (5, 6)]
    line = one(lots=own)
    assert (line.stage_words, line.sub, line.lots_open) == ("seed waiting, 2 lots", "seed without a section", 2)
    assert one(lots=own[:1]).sub == "seed, packet 5"


def test_a_wish_is_a_line_until_something_was_done_and_its_number_stays():
    wish = Wish(9, 1, None, None, 4, 200, "planned", None)
    assert one(wishes=[wish]).stage_words == "wished for"
    begun = one(wishes=[wish], sections=[section(day0=3)])
    assert (begun.stage, begun.wanted) == ("take", 200)


def test_the_next_task_is_the_rounds_own():
    line = of_section(day0=10)
    assert (line.due, line.next_words) == (date(2026, 8, 9), "Read the take on Sun 9 Aug")
    late = of_section(day0=60, stage="swelling", take="most", later_until=date(2026, 9, 1))
    assert late.due == date(2026, 9, 1)


def test_a_window_partly_past_is_that_of_what_has_not_come():
    """Expected: quantiles of the conditioned log-normal, from ``Timing``, which is held against a table elsewhere."""
    law = Timing(80, 240)
    fresh = window_of("ripe", law, (before(100), before(100)), before(100))
    assert [(day - before(100)).days for day in (fresh.low, fresh.middle, fresh.high)] == [80, 139, 240]
    looked = window_of("ripe", law, (before(200), before(200)), DAY)
    assert [(day - before(200)).days for day in (looked.low, looked.high)] == [206, 335] and looked.low > DAY


def test_a_vague_start_widens_the_window():
    law = from_shipped("ripe").timing
    vague = window_of("ripe", law, (before(130), before(100)), None)
    assert (vague.low, vague.high) == (before(50), before(-140))


@pytest.mark.parametrize(("day0", "may"), [(72, False), (73, True), (150, True)])
def test_a_section_may_open_when_its_window_begins_within_a_week(day0: int, may: bool):
    assert of_section(day0=day0, stage="swelling").may_open is may


@pytest.mark.parametrize(
    ("facts", "stage", "words", "what", "late"),
    [
        ({"stage": "growing", "found": 5}, "forming", "spike growing", "first flower", ""),
        ({"stage": "buds", "sex": "female", "found": 30}, "forming", "spike in bud, female", "first flower", ""),
        ({"stage": "", "found": 5}, "forming", "spike forming", "first flower", ""),
        ({"stage": "growing", "found": 90}, "forming", "spike growing", "first flower", "past the usual window ("),
        ({"stage": "growing"}, "forming", "spike growing", "", ""),
        ({"stage": "open", "sex": "female", "found": 40, "open_by": DAY}, "flower", "in flower, female", "over", ""),
    ],
)
def test_a_spike_begins_its_line_before_it_is_pollinated(facts, stage: str, words: str, what: str, late: str):
    found = before(facts.pop("found")) if "found" in facts else None
    line = one(spikes=[spike(pk=9, place_id=7, taxon_id=5, clone_id=8, found_first=found, found_last=found, **facts)])
    assert (line.stage, line.stage_words, line.url) == (stage, words, "/spikes/9/")
    assert [window.what for window in line.windows] == [what] * bool(what)
    assert line.late.startswith(late) and bool(line.late) == bool(late)
    assert (line.start, line.taxon_id, line.clone_id, line.where) == (found, 5, 8, {HERE})


def test_the_first_flower_is_predicted_from_what_was_not_seen_yet():
    day = before(20)
    seen = one(spikes=[spike(stage="buds", found_first=day, found_last=day, open_after=before(0))])
    law = from_shipped("spike_open").timing
    assert seen.windows == (window_of("first flower", law, (day, day), DAY),)
    assert seen.next_words.startswith("Look at spike")


def test_a_male_spike_is_nobodys_seed_parent():
    male = one(spikes=[spike(stage="buds", sex="male", taxon_id=5, clone_id=8)])
    assert (male.taxon_id, male.clone_id) == (None, None)
