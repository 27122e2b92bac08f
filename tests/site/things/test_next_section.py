"""From a section that was just pollinated to the next one on its spike, without the way back over the spike."""

import pytest
from django.test import Client

from breeding.models import Section
from breeding.records.pods import take_read
from breeding.records.spikes import spike_looked
from nursery.links import act_url, thing_url
from nursery.records.undo import undone
from tests.making import Nursery, birth_of

pytestmark = pytest.mark.django_db

WORDS = "Pollinate the next section"


def _offered(client: Client, section: Section) -> list[str]:
    section.refresh_from_db()
    return [link.url for link in client.get(thing_url(section)).context["acts"] if link.label == WORDS]


def test_it_is_offered_until_the_take_is_read(nursery: Nursery, as_grower: Client) -> None:
    section = nursery.section(days_ago=3)
    assert _offered(as_grower, section) == [act_url(section.spike, "pollinate")]
    assert as_grower.get(act_url(section.spike, "pollinate")).status_code == 200
    nursery.record(take_read, section=section, swelling="most")
    assert _offered(as_grower, section) == []


def test_not_where_the_spike_is_over_nor_of_a_section_that_was_undone(nursery: Nursery, as_grower: Client) -> None:
    over, undone_one = nursery.section(days_ago=3), nursery.section(days_ago=3)
    nursery.record(spike_looked, spike=over.spike, seen="over")
    undone(act=nursery.act(), target=birth_of(undone_one))
    assert _offered(as_grower, over) == _offered(as_grower, undone_one) == []


def test_who_only_looks_is_offered_nothing(nursery: Nursery, as_viewer: Client) -> None:
    assert _offered(as_viewer, nursery.section(days_ago=3)) == []
