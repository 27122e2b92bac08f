"""What a cross gave, from rows made by hand: only what was counted counts, and the count stands beside it."""

from datetime import date, timedelta
from types import SimpleNamespace as Row

import pytest

from breeding.words.rates import Cut, percent, rates

DAY = date(2026, 3, 1)


def _section(pk: int, **facts) -> Row:
    usual = {"take": "", "stage": "pollinated", "flowers": None, "day0_first": DAY, "day0_last": DAY}
    return Row(pk=pk, **(usual | {"harvested_on": None} | facts))


def _lot(pk: int, **facts) -> Row:
    return Row(pk=pk, **({"estimate": None, "estimate_from": "", "split_from_id": None} | facts))


def _pot(**facts) -> Row:
    usual = {"stage": "sown", "first_by": None, "sown_first": DAY, "sown_last": DAY}
    return Row(**(usual | {"raised": None, "seeds": None, "lost": 0, "split_from_id": None} | facts))


def _told(sections=(), cuts=(), lots=(), pots=()) -> dict[str, str]:
    return {rate.label: rate.value for rate in rates(sections, cuts, lots, pots)}


def test_nothing_seen_tells_nothing():
    assert _told() == {} and _told([_section(1)]) == {}


def test_sections_that_nobody_read_are_not_counted_as_failed():
    told = _told([_section(1, take="half"), _section(2, take="none"), _section(3), _section(4)])
    assert told["Take"] == "1 of 2 sections read had pods swelling"


def test_pods_per_flower_only_where_both_were_counted_to_the_end():
    """Left out: one harvest uncounted, flowers uncounted, not cut to the end."""
    sections = [
        _section(1, stage="harvested", flowers=20),
        _section(2, stage="harvested", flowers=30),
        _section(3, stage="harvested"),
        _section(4, stage="opening", flowers=40),
    ]
    cuts = [Cut(1, 11, 5), Cut(1, 12, 7), Cut(2, 13, 9), Cut(2, 14, None), Cut(3, 15, 3), Cut(4, 16, 1)]
    assert _told(sections, cuts)["Pods"] == (
        "25 pods cut in 5 counted harvests; 12 from 20 flowers (1 section counted whole)"
    )


def test_a_vague_pollination_gives_no_days_to_harvest():
    cut = {"stage": "harvested", "harvested_on": DAY + timedelta(days=110)}
    exact, vague = _section(1, **cut), _section(2, day0_last=DAY + timedelta(days=6), **cut)
    assert _told([exact, vague])["Pollination to harvest"] == "110 days, from 1 section"
    assert "Pollination to harvest" not in _told([vague])


def test_seeds_a_pod_leave_out_lots_whose_pods_or_seeds_nobody_counted():
    lots = [_lot(1, estimate=300, estimate_from="weighed"), _lot(2, estimate=80, estimate_from="guessed"), _lot(3)]
    told = _told([], [Cut(1, 1, 15), Cut(1, 2, None), Cut(1, 3, 4)], lots)
    assert told["Seed"] == "380 seeds in 2 lots, guessed, weighed; about 20 a pod, from 15 pods"


def test_pots_up_are_counted_one_by_one():
    assert _told(pots=[_pot(stage="up"), *[_pot()] * 5])["Pots up"] == "1 of 6 pots"


def test_days_to_the_first_seedling_are_a_middle_with_its_ends():
    pots = [_pot(stage="up", first_by=DAY + timedelta(days=days)) for days in (41, 60, 43)]
    vague = _pot(stage="up", first_by=DAY + timedelta(days=9), sown_last=DAY + timedelta(days=5))
    assert _told(pots=[*pots, vague])["Sown to first seedling"] == "43 days (41 to 60), from 3 pots"


def test_percent_is_of_seeds_sown_and_only_where_they_were_counted():
    pots = [_pot(stage="up", raised=30, seeds=100), _pot(stage="up", raised=12), _pot()]
    assert _told(pots=pots)["Seedlings"] == "42 counted in 2 of 3 pots; 30% of 100 seeds sown in 1 pot"


@pytest.mark.parametrize("lost,words", [(0, None), (1, "1 seedling"), (4, "4 seedlings")])
def test_losses(lost: int, words: str | None):
    assert _told(pots=[_pot(lost=lost)]).get("Lost") == words


@pytest.mark.parametrize(
    "part,whole,words", [(0, 7, "0%"), (7, 7, "100%"), (1, 500, "under 1%"), (499, 500, "over 99%")]
)
def test_a_percent_never_says_none_or_all_of_what_is_not(part: int, whole: int, words: str):
    assert percent(part, whole) == words


def test_what_was_split_off_is_counted_once():
    lots = [_lot(1, estimate=100), _lot(2, estimate=30, split_from_id=1), _lot(3, estimate=5, split_from_id=4)]
    assert _told(lots=lots)["Seed"] == "105 seeds in 2 lots"


def test_a_vague_harvest_gives_no_days_to_harvest():
    section = _section(1, stage="harvested", harvested_on=DAY + timedelta(days=110))
    assert "Pollination to harvest" not in _told([section], [Cut(1, 11, None, exact=False)])


def test_pots_that_were_split_off_are_not_counted_among_those_sown():
    whole = _pot(stage="up", raised=41, seeds=100, lost=2, first_by=DAY + timedelta(days=40))
    parts = [_pot(stage="up", split_from_id=7, lost=1) for _ in range(4)]
    told = _told(pots=[whole, *parts, _pot()])
    assert (told["Pots up"], told["Lost"]) == ("1 of 2 pots", "6 seedlings")
    assert told["Seedlings"] == "41 counted in 1 of 2 pots; 41% of 100 seeds sown in 1 pot"
    assert told["Sown to first seedling"] == "40 days, from 1 pot"
