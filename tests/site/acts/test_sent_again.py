"""A form that comes twice, on a bad line or by a double tap, ends at what it recorded the first time."""

import uuid

from django.test import Client

from breeding.models import SeedPot
from breeding.records.spikes import spike_looked
from nursery.links import act_url, thing_url
from nursery.models import Act, Clone, Flag, Plant, Taxon
from nursery.records.numbers import blank_tags_make
from tests.making import Nursery

NEW_PLANT = "/plants/new/"


def test_sowing_all_of_a_lot_twice_is_one_sowing_and_nothing_is_asked(nursery: Nursery, as_grower: Client):
    lot = nursery.seed(days_ago=3)
    values = {"act_id": uuid.uuid4(), "pots": 2, "place": nursery.bench().pk, "all_of_it": "on"}
    first, second = (as_grower.post(act_url(lot, "sow"), values) for _ in range(2))
    assert (first.status_code, first.headers["Location"]) == (302, second.headers["Location"])
    assert (second.status_code, SeedPot.objects.count(), Flag.objects.count()) == (302, 2, 0)


def test_with_other_values_it_shows_both_and_asks_nothing_else(nursery: Nursery, as_grower: Client):
    lot = nursery.seed(days_ago=3)
    values = {"act_id": uuid.uuid4(), "pots": 2, "place": nursery.bench().pk, "all_of_it": "on"}
    as_grower.post(act_url(lot, "sow"), values)
    answer = as_grower.post(act_url(lot, "sow"), values | {"pots": 3})
    assert answer.status_code == 409
    assert SeedPot.objects.count() == 2


def test_what_is_new_is_still_asked_about(nursery: Nursery, as_grower: Client):
    lot = nursery.seed(days_ago=3)
    values = {"pots": 2, "place": nursery.bench().pk, "all_of_it": "on"}
    as_grower.post(act_url(lot, "sow"), values | {"act_id": uuid.uuid4()})
    answer = as_grower.post(act_url(lot, "sow"), values | {"act_id": uuid.uuid4()})
    assert (answer.status_code, [one.code for one in answer.context["objections"]]) == (422, ["lot_was_finished"])


def test_it_says_that_it_was_recorded_before_and_that_it_was_undone_since(nursery: Nursery, as_grower: Client):
    pot, values = nursery.pot(days_ago=70), {"act_id": uuid.uuid4(), "seen": "few"}
    url = act_url(pot, "look")
    assert "recorded before" not in as_grower.post(url, values, follow=True).text
    assert "This was recorded before, and counts once." in as_grower.post(url, values, follow=True).text
    as_grower.post(f"/acts/{values['act_id']}/undo/", {"act_id": uuid.uuid4()})
    assert "This was recorded before and undone since." in as_grower.post(url, values, follow=True).text


def test_one_tap_for_several_is_the_same_tap_whatever_was_told_since(nursery: Nursery, as_grower: Client):
    spikes = [nursery.spike(seen="growing", days_ago=9) for _ in range(2)]
    values = {"act_id": uuid.uuid4(), "things": [spike.pk for spike in spikes], "seen": "buds"}
    assert as_grower.post("/several/spikes/look/", values).status_code == 302
    nursery.record(spike_looked, spike=spikes[0], seen="aborted")
    acts = Act.objects.count()
    assert as_grower.post("/several/spikes/look/", values).status_code == 302
    assert Act.objects.count() == acts


def test_a_plant_that_is_refused_leaves_no_clone_and_no_species(nursery: Nursery, as_grower: Client):
    [blank] = blank_tags_make(count=1)
    taken = nursery.plant().thing.tags.get().number
    clones, plants = Clone.objects.count(), Plant.objects.count()
    values = {"act_id": uuid.uuid4(), "taxon_typed": "ampullaria", "designation": "thimble", "origin": "unknown"}
    refused = as_grower.post(NEW_PLANT, values | {"tag": taken})
    assert refused.status_code == 422
    assert "tag" in refused.context["form"].errors
    assert (Clone.objects.count(), Plant.objects.count()) == (clones, plants)
    assert not Taxon.objects.filter(epithet="ampullaria").exists()
    for _ in range(2):
        made = as_grower.post(NEW_PLANT, values | {"tag": blank.number})
        plant = Plant.objects.get(clone__designation="thimble")
        assert (made.status_code, made.headers["Location"]) == (302, thing_url(plant))
        assert (Clone.objects.count(), Plant.objects.count()) == (clones + 1, plants + 1)


def test_a_plant_with_a_number_that_no_tag_has_leaves_no_clone(nursery: Nursery, as_grower: Client):
    [blank] = blank_tags_make(count=1)
    unknown = blank.number
    blank.delete()
    values = {"act_id": uuid.uuid4(), "taxon_typed": "ampullaria", "designation": "thimble", "origin": "unknown"}
    assert as_grower.post(NEW_PLANT, values | {"tag": unknown}).status_code == 422
    assert not Clone.objects.filter(designation="thimble").exists()
    assert as_grower.post(NEW_PLANT, values).status_code == 302
    assert Clone.objects.filter(designation="thimble").count() == 1
    assert Plant.objects.filter(clone__designation="thimble").count() == 1
