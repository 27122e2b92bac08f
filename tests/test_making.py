"""The helper that other tests start from gives things that are whole."""

from breeding.models import Cross, SeedPot
from tests.making import Nursery, ago, birth_of, tag_of


def test_a_pot_has_everything_before_it(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=10)
    assert pot.sown_first == ago(10).first
    assert pot.lot.ripe_first == ago(10).first
    assert pot.lot.section.day0_first == ago(160).first
    assert pot.lot.cross == Cross.objects.get()
    assert (pot.lot.section.spike.sex, pot.lot.cross.stage) == ("female", "sown")


def test_each_pot_of_a_sowing_has_its_tag_and_one_birth(nursery: Nursery) -> None:
    first, second = nursery.pots(2)
    assert birth_of(first) == birth_of(second)
    assert tag_of(first) != tag_of(second)
    assert SeedPot.objects.count() == 2


def test_an_estimate_is_on_the_lot(nursery: Nursery) -> None:
    assert nursery.seed(estimate=120).estimate == 120
