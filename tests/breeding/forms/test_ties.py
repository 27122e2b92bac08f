"""The tie of a section: asked about where it tells nothing apart, and offered where it is in use."""

import pytest
from django.test import Client

from breeding.forms.sections import PollinateForm
from breeding.records.pods import harvested
from nursery.links import act_url
from nursery.models import Act
from tests.making import Nursery

pytestmark = pytest.mark.django_db


def test_a_tie_that_another_section_of_the_spike_has_is_asked_about_once(nursery: Nursery, as_grower: Client):
    section = nursery.section(tie="red wool", days_ago=6)
    url, values = act_url(section.spike, "pollinate"), {"pollen": "unknown", "tie": "red wool"}
    asked = as_grower.post(url, values)
    assert [one.code for one in asked.context["objections"]] == ["same_tie"]
    assert Act.objects.filter(kind="pollinated").count() == 1
    assert as_grower.post(url, values | {"anyway": "yes", "objections_seen": "same_tie"}).status_code == 302
    assert [flag.code for flag in Act.objects.filter(kind="pollinated").latest("recorded_at").flags.all()] == [
        "same_tie"
    ]
    assert as_grower.post(url, values | {"tie": "blue wool"}).status_code == 302


def test_ties_in_use_are_offered_those_used_most_first(nursery: Nursery):
    here = nursery.section(tie="red wool", days_ago=6)
    for tie in ("blue wool", "white wire", "white wire", "red wool", ""):
        nursery.section(tie=tie, days_ago=6)
    over = nursery.section(tie="green wool", days_ago=150)
    nursery.record(harvested, section=over, what="section")
    assert PollinateForm(thing=here.spike).fields["tie"].offered == ["white wire", "blue wool"]
    assert PollinateForm(thing=over.spike).fields["tie"].offered == ["red wool", "white wire", "blue wool"]
