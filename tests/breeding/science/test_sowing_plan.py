"""Planning a sowing, by table. Geometry is checked against a cylinder and a cone; suggestions against their sources."""

import math

import pytest

from breeding.science import sowing
from breeding.science.seed_age import OLD_AFTER
from breeding.science.sowing import BY_CODE, PotSize, Seed, Share, in_turn, shared, totals

CYLINDER = PotSize("x", "x", rim=10, base=10, height=12.54)
CONE = PotSize("x", "x", rim=6, base=0, height=10)


def test_the_volume_of_a_pot_is_that_of_a_cylinder_or_cone_where_it_is_one() -> None:
    """V = pi r^2 h, and a third of it for a cone: elementary geometry."""
    assert sowing.litres(CYLINDER) == pytest.approx(math.pi * 5**2 * 10 / 1000)
    depth = 10 - sowing.filled_to(CONE)
    assert sowing.litres(CONE) == pytest.approx(math.pi * (3 * depth / 10) ** 2 * depth / 3 / 1000)
    assert sowing.surface(CYLINDER) == pytest.approx(math.pi * 25)


def test_a_three_inch_pot_is_filled_to_an_inch_below_its_rim() -> None:
    """Common practice, no source; an inch is 2.54 cm by definition (1959)."""
    assert sowing.filled_to(BY_CODE["7cm"]) == 2.54
    assert BY_CODE["7cm"].rim == pytest.approx(3 * 2.54, abs=0.05)


def test_suggested_amounts_are_those_of_their_sources() -> None:
    """About 1 seed to a cm2 (one grower's page); 1 or 2 pods to a three-inch pot (common practice, no source)."""
    for size in sowing.POT_SIZES:
        assert sowing.seeds_a_pot(size) / sowing.surface(size) == pytest.approx(1, abs=0.05)
        assert sowing.seeds_a_pot(size, 0.0001) == 1
    assert sowing.pods_a_pot(BY_CODE["7cm"]) in {1, 2}


@pytest.mark.parametrize(
    ("count", "each", "most", "expected"),
    [
        (0, 36, 20, Share(0, 0, 0)),
        (1, 36, 20, Share(1, 1, 0)),
        (36, 36, 20, Share(1, 36, 0)),
        (37, 36, 20, Share(2, 18, 1)),
        (40, 36, 20, Share(2, 20, 0)),
        (1000, 36, 5, Share(5, 36, 820)),
        (3, 1, 20, Share(3, 1, 0)),
        (7, 2, 20, Share(3, 2, 1)),
        (None, 36, 20, Share(1, None, None)),
    ],
)
def test_seed_is_shared_out(count: int | None, each: int, most: int, expected: Share) -> None:
    found = shared(count, each=each, most=most)
    assert found == expected
    if count is not None:
        assert found.pots * (found.each or 0) + found.left == count, "no seed is lost or made"


def test_nothing_into_a_pot_or_no_pots_at_all_is_no_plan() -> None:
    with pytest.raises(ValueError, match="each and most must be 1 or more; got 0 and 3"):
        shared(10, each=0, most=3)


@pytest.mark.parametrize(
    ("first", "then"),
    [
        (Seed(9, 40, "room"), Seed(1, 3, "room")),
        (Seed(9, 3, "room"), Seed(1, 50, "refrigerator")),
        (Seed(9, 50, "refrigerator"), Seed(1, None)),
        (Seed(9, None), Seed(1, OLD_AFTER + 1, "room")),
        (Seed(9, OLD_AFTER + 1, "room"), Seed(1, 900, "room")),
        (Seed(9, 3, "room", wanted=20), Seed(1, 3, "room")),
        (Seed(1, 3, "room"), Seed(9, 3, "room")),
    ],
)
def test_the_oldest_fresh_seed_comes_first_and_says_why(first: Seed, then: Seed) -> None:
    for lots in ([first, then], [then, first]):
        assert [turn.seed for turn in in_turn(lots)] == [first, then]
    assert all(turn.why.endswith(".") and "None" not in turn.why for turn in in_turn([first, then]))


def test_totals_add_up_and_say_what_nobody_measured() -> None:
    one = totals([sowing.Planned(1, "7cm")])
    ten = totals([sowing.Planned(6, "7cm"), sowing.Planned(4, "7cm"), sowing.Planned(3, "other")])
    assert (ten.pots, ten.labels, ten.unmeasured) == (13, 13, 3)
    assert ten.litres == pytest.approx(10 * one.litres, abs=0.05)
    assert ten.bench == pytest.approx(10 * 0.076**2, abs=0.001)
    assert totals([]) == sowing.Totals(0, 0, 0, 0)
