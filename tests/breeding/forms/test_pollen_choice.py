"""Choosing pollen for a section: the best stands first, and nothing good is hidden behind what is past."""

from django.db import connection
from django.test.utils import CaptureQueriesContext

from breeding.forms.sections import PollinateForm
from nursery.records.plants import plant_gone
from nursery.templatetags.tepal import plate
from tests.making import Nursery, tag_of


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


def test_each_has_the_number_that_stands_on_it(nursery: Nursery):
    lot, male = nursery.pollen(), nursery.spike(sex="male", seen="showing")
    words = dict(PollinateForm().fields["pollen"].choices)
    assert words[f"lot:{lot.pk}"].startswith(f"{plate(tag_of(lot).number)} · {lot.clone} (")
    assert words[f"spike:{male.pk}"].startswith(f"{plate(tag_of(male).number)} · {male.plant.clone} (fresh")


def test_many_packets_cost_no_more_questions(nursery: Nursery):
    counts = []
    for _ in range(2):
        nursery.pollen(), nursery.spike(sex="male", seen="showing")
        with CaptureQueriesContext(connection) as asked:
            PollinateForm()
        counts.append(len(asked))
    assert counts[0] == counts[1]
