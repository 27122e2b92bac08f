"""Choosing pollen for a section: the best stands first, and nothing good is hidden behind what is past."""

from breeding.forms.sections import PollinateForm
from nursery.records.plants import plant_gone
from tests.making import Nursery


def test_fresh_pollen_first_then_what_keeps_shortest_then_what_is_past_then_unknown(nursery: Nursery):
    past = nursery.pollen(storage="bench", days_ago=30)
    long = nursery.pollen(storage="freezer", days_ago=3)
    short = nursery.pollen(storage="refrigerator", days_ago=3)
    fresh = nursery.spike(sex="male", seen="showing")
    values = [value for value, _ in PollinateForm().fields["pollen"].choices]
    wanted = [f"spike:{fresh.pk}", f"lot:{short.pk}", f"lot:{long.pk}", f"lot:{past.pk}", "unknown"]
    assert [value for value in values if value in wanted] == wanted


def test_a_male_on_a_plant_that_is_gone_is_not_offered(nursery: Nursery):
    male = nursery.spike(sex="male", seen="showing")
    assert f"spike:{male.pk}" in dict(PollinateForm().fields["pollen"].choices)
    nursery.record(plant_gone, plant=male.plant, why="died")
    assert f"spike:{male.pk}" not in dict(PollinateForm().fields["pollen"].choices)


def test_what_is_past_its_best_says_so(nursery: Nursery):
    lot = nursery.pollen(storage="bench", days_ago=30)
    [words] = [words for value, words in PollinateForm().fields["pollen"].choices if value == f"lot:{lot.pk}"]
    assert words.endswith("(on the bench, 30 days old, past its best)")
