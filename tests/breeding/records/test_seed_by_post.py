import pytest

from breeding.models import SeedLot
from breeding.records.seed import seed_received
from nursery.records.errors import Refused
from nursery.records.undo import undone
from tests.making import Nursery, birth_of


def test_words_suffice(nursery: Nursery):
    lot = nursery.made(seed_received, words="something red, from the fair")
    assert (lot.words, str(lot.cross)) == ("something red, from the fair", "unknown × unknown")


def test_seed_of_nothing_known_asks_for_a_word(nursery: Nursery):
    with pytest.raises(Refused) as refused:
        nursery.record(seed_received)
    assert (refused.value.field, refused.value.sentence) == ("words", "Say whose seed it is, in words if need be.")
    assert not SeedLot.objects.exists()


def test_its_parents_cannot_be_taken_out_from_under_it(nursery: Nursery):
    mother = nursery.clone()
    nursery.made(seed_received, seed_parent=mother)
    with pytest.raises(Refused) as refused:
        nursery.record(undone, target=birth_of(mother))
    assert refused.value.code == "others_depend"
