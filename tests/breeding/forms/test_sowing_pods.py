"""Sowing: pods and seeds may both be told, and more pods than were cut are asked about once."""

import pytest
from django.test import Client

from breeding.forms.seed import SowForm
from breeding.models import SeedPot
from breeding.records.pods import harvested
from nursery.links import act_url
from nursery.models import Act
from tests.making import Nursery

pytestmark = pytest.mark.django_db


def test_more_pods_than_were_cut_are_asked_about_once(nursery: Nursery, as_grower: Client):
    lot = nursery.made(harvested, section=nursery.section(days_ago=150), what="section", pods=6, days_ago=5)
    url, values = act_url(lot, "sow"), {"pots": 3, "pods": 4}
    asked = as_grower.post(url, values)
    assert [one.sentence for one in asked.context["objections"]] == ["12 pods sown, but 6 cut for this lot."]
    assert not Act.objects.filter(kind="sown").exists()
    assert as_grower.post(url, values | {"anyway": "yes", "objections_seen": "more_pods_than_cut"}).status_code == 302
    assert [flag.code for flag in Act.objects.get(kind="sown").flags.all()] == ["more_pods_than_cut"]


def test_of_a_prepared_pot_too(nursery: Nursery, as_grower: Client):
    lot = nursery.made(harvested, section=nursery.section(days_ago=150), what="section", pods=6, days_ago=5)
    pot: SeedPot = nursery.prepared_pot(lot, days_ago=1)
    asked = as_grower.post(act_url(pot, "sown"), {"pods": 7})
    assert [one.code for one in asked.context["objections"]] == ["more_pods_than_cut"]


def test_pods_and_seeds_are_no_choice_between_the_two(nursery: Nursery):
    form = SowForm({"pots": 1, "pods": 2, "seeds": 60}, thing=nursery.seed(days_ago=5))
    assert form.is_valid()
    assert not form.fields["seeds"].label.startswith("or ")
