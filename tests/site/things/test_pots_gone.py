"""A seed pot that left with all that was in it: dropped, sold, or given up because nothing came up."""

import uuid

import pytest
from django.test import Client
from django.utils import timezone

from breeding.models import SeedPot
from breeding.records.pots import pot_looked_at, pot_split
from breeding.rounds.why_not import why_not
from nursery.links import act_url, thing_url
from nursery.models import Flag, Place
from nursery.records.stocktakes import stocktake_taken
from nursery.site.repairs import WAYS, offers
from tests.making import Nursery


@pytest.fixture
def bench(nursery: Nursery) -> Place:
    return nursery.bench("Rail")


@pytest.fixture
def pot(nursery: Nursery, bench: Place) -> SeedPot:
    return nursery.pots(1, nursery.seed(days_ago=400), place=bench, days_ago=390)[0]


def _gone(client: Client, pot: SeedPot, why: str, **more: object):
    return client.post(act_url(pot, "gone"), {"act_id": uuid.uuid4(), "why": why, "day_said": "today"} | more)


def test_it_is_told_from_its_page_and_stands_nowhere_any_more(pot: SeedPot, bench: Place, as_grower: Client):
    assert act_url(pot, "gone") in as_grower.get(thing_url(pot)).text
    assert thing_url(pot) in as_grower.get(thing_url(bench)).text
    assert _gone(as_grower, pot, "dropped").status_code == 302
    pot.refresh_from_db()
    assert (pot.closed_why, pot.closed_on) == ("dropped", timezone.localdate())
    assert "dropped or spilt" in as_grower.get(thing_url(pot)).text
    assert thing_url(pot) not in as_grower.get(thing_url(bench)).text
    assert why_not(pot, timezone.localdate()).startswith("It was dropped or spilt")


def test_the_round_that_asks_whether_to_keep_it_leads_there(pot: SeedPot, as_grower: Client):
    row = as_grower.get("/").text
    assert "so say whether to keep it" in row and f'href="{act_url(pot, "gone")}?next=%2F' in row


def test_that_nothing_came_up_after_all_is_asked_once(nursery: Nursery, pot: SeedPot, as_grower: Client):
    nursery.record(pot_looked_at, pot=pot, seen="few", days_ago=90)
    answer = _gone(as_grower, pot, "nothing_up")
    assert answer.status_code == 422 and "Seedlings were seen here before." in answer.text
    assert _gone(as_grower, pot, "died").status_code == 302


def test_what_is_gone_twice_is_flagged(pot: SeedPot, as_grower: Client):
    _gone(as_grower, pot, "sold")
    answer = _gone(as_grower, pot, "thrown", anyway="yes", objections_seen=["gone_twice"])
    assert answer.status_code == 302
    assert Flag.objects.get().sentence == "This pot was already gone. Was the tag on another pot?"


def test_seen_again_it_is_still_here(nursery: Nursery, pot: SeedPot, bench: Place, as_owner: Client):
    _gone(as_owner, pot, "thrown")
    pot.refresh_from_db()
    flag = Flag.objects.get(act=nursery.record(stocktake_taken, place=bench, seen=[pot]))
    as_owner.post(f"/flags/{flag.pk}/repair/still-here/", {"act_id": uuid.uuid4()})
    pot.refresh_from_db()
    assert (pot.closed_on, pot.closed_why, pot.place) == (None, "", bench)


def test_a_pot_that_was_emptied_into_others_is_not_called_back(nursery: Nursery, pot: SeedPot, bench: Place):
    nursery.record(pot_split, pot=pot, pots=2, seedlings=3, extent="all")
    pot.refresh_from_db()
    flag = Flag.objects.get(act=nursery.record(stocktake_taken, place=bench, seen=[pot]))
    offered = {offer.label for offer in offers(flag, flag.act, may_correct=True)}
    assert "It is still here" in {way.label for way in WAYS[flag.code]}
    assert "It is still here" not in offered and offered
