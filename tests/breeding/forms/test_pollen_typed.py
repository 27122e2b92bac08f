"""A pollen that is typed counts, though another choice stands ready and cannot be taken off."""

import pytest
from django.test import Client

from breeding.forms.sections import DabForm, PollinateForm
from breeding.models import Section
from breeding.records.pollen import pollen_finished
from breeding.records.sections import section_dabbed
from nursery.links import act_url
from nursery.models import Act, Flag
from tests.making import Nursery, birth_of, tag_of
from tests.site.acts.posting import form_on

pytestmark = pytest.mark.django_db


def test_a_wrong_pollen_is_corrected_to_a_typed_number(nursery: Nursery, as_owner: Client):
    section, right = nursery.section(days_ago=2), nursery.pollen(days_ago=5)
    url = f"/acts/{birth_of(section).pk}/correct/"
    values = form_on(as_owner.get(url).content.decode())
    assert values["pollen"] != [f"lot:{right.pk}"]
    answer = as_owner.post(url, values | {"pollen_number": tag_of(right).number})
    assert answer.status_code == 302, answer.context["form"].errors
    assert Section.objects.get().cross.pollen_parent == right.clone


def test_a_number_typed_beside_the_choice_of_the_round_counts(nursery: Nursery, as_grower: Client):
    spike, ready, typed = nursery.female(days_ago=5), nursery.pollen(days_ago=3), nursery.pollen(days_ago=3)
    url = f"{act_url(spike, 'pollinate')}?pollen=lot:{ready.pk}"
    values = form_on(as_grower.get(url).content.decode())
    assert values["pollen"] == [f"lot:{ready.pk}"]
    as_grower.post(url, values | {"pollen_number": tag_of(typed).number})
    assert Section.objects.get().cross.pollen_parent == typed.clone


def test_a_number_of_no_pollen_is_not_passed_over_for_the_choice(nursery: Nursery):
    spike, lot = nursery.female(days_ago=5), nursery.pollen(days_ago=3)
    form = PollinateForm({"pollen": f"lot:{lot.pk}", "pollen_number": tag_of(spike.plant).number}, thing=spike)
    assert list(form.errors) == ["pollen_number"]


def test_neither_pollen_nor_its_number_is_called_optional(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=2)
    for url in (act_url(section.spike, "pollinate"), act_url(section, "dab")):
        page = as_grower.get(url).content.decode()
        assert '<legend class="field__label">Pollen</legend>' in page
        assert "male spike</label>" in page
        assert "pollen" in as_grower.post(url, {"pollen": ""}).context["form"].errors


def test_the_father_that_a_section_had_stands_ready_for_the_next_dab(nursery: Nursery):
    father = nursery.clone("hamata")
    first = nursery.pollen([nursery.male(father, days_ago=20)], days_ago=9)
    section = nursery.section(lot=first, days_ago=6)
    nursery.record(section_dabbed, section=section, lot=nursery.pollen(days_ago=8), days_ago=4)
    assert DabForm(thing=section)["pollen"].value() == f"lot:{first.pk}", "and not what went on by mistake"
    more = nursery.pollen([nursery.male(father, days_ago=20)], days_ago=3)
    nursery.record(section_dabbed, section=section, lot=more, days_ago=2)
    assert DabForm(thing=section)["pollen"].value() == f"lot:{more.pk}"
    nursery.record(pollen_finished, lot=more)
    assert DabForm(thing=section)["pollen"].value() == f"lot:{first.pk}"
    fresh = nursery.pollen([nursery.male(father, days_ago=9)], days_ago=1)
    nursery.record(pollen_finished, lot=first)
    assert DabForm(thing=section)["pollen"].value() == f"lot:{fresh.pk}", "or another packet of that father"
    assert DabForm(thing=section, initial={"pollen": "unknown"})["pollen"].value() == "unknown"


def test_what_is_chosen_already_stands_first(nursery: Nursery):
    lots = [nursery.pollen(days_ago=days) for days in (9, 8, 7)]
    section = nursery.section(lot=lots[2], days_ago=6)
    assert DabForm(thing=section).fields["pollen"].choices[0][0] == f"lot:{lots[2].pk}"
    plain = [value for value, _ in PollinateForm(thing=section.spike).fields["pollen"].choices]
    assert plain[0] != f"lot:{lots[1].pk}"
    for form in (
        PollinateForm(thing=section.spike, initial={"pollen": f"lot:{lots[1].pk}"}),
        PollinateForm({"pollen": f"lot:{lots[1].pk}"}, thing=section.spike),
    ):
        values = [value for value, _ in form.fields["pollen"].choices]
        assert values == [f"lot:{lots[1].pk}", *(value for value in plain if value != f"lot:{lots[1].pk}")]


def test_another_father_is_asked_about_once_and_then_flagged(nursery: Nursery, as_grower: Client):
    section, other = nursery.section(days_ago=6), nursery.pollen(days_ago=3)
    url = act_url(section, "dab")
    values = form_on(as_grower.get(url).content.decode()) | {"pollen": f"lot:{other.pk}"}
    asked = as_grower.post(url, values)
    assert [one.code for one in asked.context["objections"]] == ["another_father"]
    assert Act.objects.filter(kind="pollinated").count() == 1
    as_grower.post(url, values | {"anyway": "yes", "objections_seen": "another_father"})
    assert [flag.code for flag in Act.objects.get(pk=values["act_id"][0]).flags.all()] == ["another_father"]


def test_a_dab_with_what_stands_ready_is_no_question(nursery: Nursery, as_grower: Client):
    url = act_url(nursery.section(days_ago=6), "dab")
    assert as_grower.post(url, form_on(as_grower.get(url).content.decode())).status_code == 302
    assert not Flag.objects.exists()
