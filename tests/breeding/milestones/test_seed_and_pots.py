"""What the acts of seed lots, pots, pollen and crosses say of them, one case a line."""

from datetime import timedelta
from typing import Any

import pytest

from breeding.milestones.crosses import Progress, progress
from breeding.milestones.pollen import pollen_lot
from breeding.milestones.pots import seed_pot
from breeding.milestones.seed import seed_lot
from nursery.days import Day
from nursery.seen import Seen
from tests.breeding.milestones.told import born, in_order, on, told

HARVESTED = born("harvested")
POTTED = born("sown", seeds=40)
UNKNOWN = Day.unknown()
FROZEN = {"storage": "freezer"}


def _has(columns: dict[str, Any], **expected: Any) -> None:
    assert {name: columns[name] for name in expected} == expected


def _sown(day: int, **more: Any) -> Seen:
    return told("sown", day, **more)


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        ([], {"stage": "waiting", "estimate": None, "storage": "room", "closed_on": None}),
        ([told("seed_cleaned", 3)], {"stage": "cleaned", "estimate": None}),
        ([told("seed_cleaned", 3, seeds=90, estimate_from="guessed")], {"estimate": 90, "estimate_from": "guessed"}),
        (
            [
                told("seed_cleaned", 3, seeds=90, estimate_from="guessed"),
                told("seed_cleaned", 5, seeds=70, estimate_from="counted"),
            ],
            {"estimate": 70, "estimate_from": "counted"},
        ),
        (
            [told("seed_cleaned", 3, seeds=90, estimate_from="counted"), told("seed_cleaned", 5, filled_percent=60)],
            {"estimate": 90},
        ),
        ([_sown(5, pots=3, seeds=20)], {"stage": "part_sown", "seeds_sown": 60, "pots_sown": 3, "closed_on": None}),
        ([_sown(5, pots=3)], {"seeds_sown": 0, "pots_sown": 3}),
        ([_sown(5), _sown(9, pots=2, seeds=10)], {"seeds_sown": 20, "pots_sown": 3, "last_look": on(9)}),
        ([_sown(5, all_of_it=True)], {"closed_on": on(5), "closed_why": "sown"}),
        ([told("seed_finished", 7)], {"closed_on": on(7), "closed_why": "finished"}),
        ([told("seed_stored", 2, storage="refrigerator")], {"storage": "refrigerator"}),
        (
            [
                told("seed_cleaned", 3, seeds=90, estimate_from="guessed"),
                told("seed_cleaned", UNKNOWN, seeds=70, estimate_from="counted"),
            ],
            {"estimate": 70, "estimate_from": "counted"},
        ),
        (
            [
                told("seed_cleaned", 9, seeds=90, estimate_from="guessed"),
                told("seed_cleaned", UNKNOWN, seeds=70, estimate_from="counted", recorded=8),
            ],
            {"estimate": 90},
        ),
        (
            [told("seed_stored", 2, storage="refrigerator"), told("seed_stored", UNKNOWN, storage="room")],
            {"storage": "room"},
        ),
        ([told("seed_finished", UNKNOWN, recorded=7)], {"closed_on": on(7), "closed_why": "finished"}),
    ],
)
def test_a_seed_lot(acts: list[Seen], expected: dict[str, Any]) -> None:
    _has(seed_lot(in_order(HARVESTED, *acts)), **expected)


def test_seed_by_post_brings_its_own_guess_storage_and_unknown_day() -> None:
    came = born("seed_received", Day.unknown(), seeds=30, storage="refrigerator")
    _has(
        seed_lot([came]), estimate=30, estimate_from="guessed", storage="refrigerator", ripe_first=None, ripe_last=None
    )


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        ([], {"stage": "sown", "first_after": on(0), "first_by": None, "seeds": 40, "amount": "", "lost": 0}),
        ([told("pot_look", 30)], {"stage": "sown", "first_after": on(30), "first_by": None, "amount": "nothing"}),
        (
            [told("pot_look", 30), told("pot_look", 44, seen="first")],
            {"stage": "up", "first_after": on(30), "first_by": on(44), "amount": "first"},
        ),
        ([told("pot_look", 44, seen="plenty")], {"first_after": on(0), "first_by": on(44)}),
        ([told("pot_look", 44, seen="cant_tell")], {"first_after": on(0), "first_by": None, "last_seen": "cant_tell"}),
        ([told("walked_past", 44)], {"first_after": on(44), "first_by": None}),
        ([told("pot_look", 44, seen="few"), told("walked_past", 50)], {"first_after": on(0), "first_by": on(44)}),
        (
            [told("pot_look", 44, seen="few"), told("pot_look", 60, seen="nothing")],
            {"stage": "up", "first_by": on(44), "amount": "nothing"},
        ),
        ([told("pot_look", 60, seen="few", counted=7), told("pot_look", 70, seen="plenty")], {"counted": 7}),
        ([told("pot_loss", 60, lost=3), told("pot_loss", 70, lost=2)], {"lost": 5}),
        ([told("moved", 5, place_id=9)], {"place_id": 9}),
        ([told("moved", 5, place_id=9), told("moved", UNKNOWN, place_id=7)], {"place_id": 7}),
        ([told("moved", 5, place_id=9), told("moved", UNKNOWN, place_id=7, recorded=4)], {"place_id": 9}),
        (
            [told("pot_look", 60, seen="few", counted=7), told("pot_look", UNKNOWN, seen="few", counted=12)],
            {"counted": 12},
        ),
        (
            [told("pot_look", Day.month(2026, 4), seen="first")],
            {"first_after": on(0), "first_by": Day.month(2026, 4).last},
        ),
    ],
)
def test_a_seed_pot(acts: list[Seen], expected: dict[str, Any]) -> None:
    _has(seed_pot(in_order(POTTED, *acts)), **expected)


def _gone(when: Any, why: str) -> Seen:
    return told("pot_gone", when, why=why)


def _counted(day: int, number: int) -> Seen:
    return told("pot_look", day, seen="few", counted=number)


def _split(day: int | Day, seedlings: int | None = None, **more: Any) -> Seen:
    return told("pot_split", day, seedlings=seedlings, **more)


ALL = {"extent": "all"}
GOES_ON = {"closed_on": None, "closed_why": ""}


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        # Whoever splits a pot has seen seedlings in it: that ends the germination watch, on that day at the latest.
        ([told("pot_look", 30), _split(44)], {"stage": "up", "first_after": on(30), "first_by": on(44)}),
        ([_split(44)], GOES_ON | {"last_look": on(44), "split_last": on(44), "amount": "", "counted": None}),
        ([_counted(40, 41), _split(44, 10)], GOES_ON | {"counted": 21, "raised": 41}),
        ([_counted(40, 41), _split(44, 10), _counted(60, 19)], {"counted": 19, "raised": 39}),
        ([_counted(40, 41), _split(44)], {"counted": None, "raised": 41}),  # how many went, nobody knows
        ([_counted(40, 41), _split(44), _counted(60, 9)], {"counted": 9, "raised": 41}),
        ([_counted(40, 5), _split(44, 10)], {"counted": 0, "raised": 20}),
        ([_split(44, 10, **ALL)], {"counted": None, "raised": 20, "closed_on": on(44), "closed_why": "split"}),
        ([_split(44, 10), _split(50, 8, **ALL)], {"raised": 36, "closed_on": on(50), "split_last": on(50)}),
        ([_counted(40, 41), _split(44, **ALL)], {"raised": 41, "closed_why": "split"}),
        ([_split(44, **ALL), told("pot_look", 60, seen="few")], GOES_ON | {"amount": "few"}),
        ([_split(44, **ALL), told("pot_look", 60)], {"closed_on": on(44)}),
        ([_split(44, **ALL), told("pot_look", UNKNOWN, seen="few")], {"closed_on": on(44)}),
        ([_split(44, **ALL), _split(60)], GOES_ON),
        ([_split(UNKNOWN, recorded=70)], {"split_first": None, "split_last": on(70), "last_look": None}),
        ([told("postponed", 40, until=on(90)), _split(44)], {"later_until": None}),
        ([_split(44), _gone(60, "thrown")], {"closed_on": on(60), "closed_why": "thrown"}),
        ([_split(44, **ALL), _gone(60, "thrown")], {"closed_on": on(60), "closed_why": "thrown"}),
        ([_gone(30, "dropped"), _split(44, **ALL)], {"closed_on": on(44), "closed_why": "split"}),
    ],
)
def test_a_pot_that_was_split(acts: list[Seen], expected: dict[str, Any]) -> None:
    _has(seed_pot(in_order(POTTED, *acts)), **expected)


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        ([_gone(70, "nothing_up")], {"closed_on": on(70), "closed_why": "nothing_up", "first_after": on(70)}),
        ([_gone(70, "dropped")], {"closed_why": "dropped", "first_after": on(0)}),
        ([_gone(UNKNOWN, "sold")], {"closed_first": None, "closed_why": "sold"}),
        ([_gone(70, "dropped"), told("pot_look", 80, seen="few")], GOES_ON | {"stage": "up"}),
        ([_gone(70, "dropped"), told("pot_look", 70, seen="few")], {"closed_why": "dropped"}),
        ([_gone(70, "died"), _gone(80, "thrown")], {"closed_on": on(80), "closed_why": "thrown"}),
    ],
)
def test_a_pot_that_is_gone(acts: list[Seen], expected: dict[str, Any]) -> None:
    _has(seed_pot(in_order(POTTED, *acts)), **expected)


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        ([], {"stage": "up", "place_id": 4, "seeds": None, "amount": "", "counted": 12, "raised": None}),
        ([], GOES_ON | {"first_after": None, "first_by": None, "last_look": on(90), "split_last": on(90)}),
        ([told("pot_look", 99, seen="few")], {"first_by": None, "amount": "few", "counted": 12}),
        ([_counted(99, 11), told("pot_loss", 99, lost=1)], {"counted": 11, "lost": 1, "raised": None}),
        ([_split(120, 4)], GOES_ON | {"counted": 4, "split_last": on(120)}),
        ([_split(120, 6, **ALL)], {"counted": None, "closed_on": on(120), "closed_why": "split"}),
        ([told("pot_cleared", 99)], GOES_ON),
    ],
)
def test_a_pot_that_was_split_off(acts: list[Seen], expected: dict[str, Any]) -> None:
    part = born("pot_split", 90, seedlings=12, main=False, extent="all")
    columns = seed_pot(in_order(part, *acts))
    _has(columns, **expected)
    assert not columns.keys() & {"sown_first", "sown_last"}, "it has those from the pot it came from"


@pytest.mark.parametrize(
    ("acts", "expected"),
    [
        ([], {"stage": "kept", "storage": "bench", "collected_first": on(0), "closed_on": None}),
        ([told("pollen_stored", 1, storage="freezer")], {"storage": "freezer"}),
        ([told("pollen_stored", UNKNOWN, storage="freezer")], {"storage": "freezer"}),
        ([told("pollen_stored", 5, storage="bench"), told("pollen_stored", UNKNOWN, storage="freezer")], FROZEN),
        ([told("pollen_stored", UNKNOWN, storage="freezer", recorded=2)], FROZEN | {"best_before": on(2 + 182)}),
        ([told("pollen_finished", 9)], {"closed_on": on(9), "closed_why": "finished"}),
        ([told("pollinated", 4, main=False)], {"storage": "bench", "closed_on": None}),
    ],
)
def test_a_pollen_lot(acts: list[Seen], expected: dict[str, Any]) -> None:
    _has(pollen_lot(in_order(born("pollen_collected"), *acts)), **expected)


def test_pollen_of_unknown_age_has_no_day_to_be_used_by() -> None:
    assert pollen_lot([born("pollen_received", Day.unknown(), storage="freezer")])["best_before"] is None


def test_cold_pollen_keeps_longer() -> None:
    bench, cold = (pollen_lot([born("pollen_collected", storage=one)])["best_before"] for one in ("bench", "freezer"))
    assert on(0) < bench < bench + timedelta(days=1) < cold


def _below(**changes: Any) -> Progress:
    return Progress(**{"planned": False, "sections": {}, "lots": {}, "pots": 0, "pots_up": 0} | changes)


@pytest.mark.parametrize(
    ("below", "stage", "cancelled"),
    [
        (_below(), "", True),
        (_below(planned=True), "planned", False),
        (_below(sections={"pollinated": 1}), "pollinated", False),
        (_below(sections={"pollinated": 2, "turning": 1, "no_take": 1}), "turning", False),
        (_below(sections={"no_take": 1}), "no_take", False),
        (_below(sections={"harvested": 1}, lots={"waiting": 1}), "seed", False),
        (_below(lots={"part_sown": 1}, pots=6), "sown", False),
        (_below(lots={"part_sown": 1}, pots=6, pots_up=1), "up", False),
    ],
)
def test_how_far_a_cross_is(below: Progress, stage: str, cancelled: bool) -> None:
    _has(progress(below), stage=stage, cancelled=cancelled)
