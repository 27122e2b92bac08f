"""An open doubt about the sex of a spike stands where it is pollinated or gives pollen, and says of which act it is."""

import re

import pytest
from django.test import Client

from breeding.models import Spike
from breeding.records.spikes import spike_looked
from nursery.links import act_url, thing_url
from nursery.models import Flag
from nursery.records.flags import flag_settled
from tests.making import Nursery

pytestmark = pytest.mark.django_db

DOUBT = "Other spikes of lowii hammer were male, this one is female. A swapped tag?"


def _doubtful(nursery: Nursery) -> Spike:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.spike(plant, sex="male", days_ago=30)
    spike = nursery.spike(plant, seen="open", days_ago=9)
    nursery.record(spike_looked, spike=spike, seen="open", sex="female", sex_from="flowers", days_ago=5)
    return spike


def _flagged_again(nursery: Nursery, spike: Spike) -> None:
    """Flagged in the same words, as two people's looks at the same time are."""
    look = nursery.record(spike_looked, spike=spike, seen="showing", days_ago=2)
    Flag.objects.create(act=look, thing=spike.thing, code="clone_other_sex", sentence=DOUBT)


def test_it_stands_on_the_forms_that_pollinate_and_take_pollen(nursery: Nursery, as_grower: Client):
    spike = _doubtful(nursery)
    _flagged_again(nursery, spike)
    section = nursery.section(spike, days_ago=3)
    for url in (act_url(spike, "pollinate"), act_url(spike, "collect"), act_url(section, "dab")):
        assert as_grower.get(url).text.count(DOUBT) == 1, url
    assert DOUBT not in as_grower.get(act_url(spike, "look")).text
    for flag in Flag.objects.filter(thing=spike.pk):
        nursery.record(flag_settled, flag=flag)
    assert DOUBT not in as_grower.get(act_url(spike, "pollinate")).text


def test_told_of_two_acts_it_says_of_which(nursery: Nursery, as_grower: Client):
    spike = _doubtful(nursery)
    assert f"<p>{DOUBT}</p>" in as_grower.get(thing_url(spike)).text
    _flagged_again(nursery, spike)
    page = as_grower.get(thing_url(spike)).text
    assert f"<p>{DOUBT}</p>" not in page
    assert page.count(f"<p>{DOUBT} (") == len(set(re.findall(f"<p>{re.escape(DOUBT)} (.*?)</p>", page))) == 2
