"""A number typed with one slip into any box that asks for a tag: what may have been meant stands beside it."""

import re
import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from breeding.records.pods import harvested, take_read
from nursery.damm import one_slip_away
from nursery.links import act_url
from nursery.models import Act, Tag
from nursery.records.flags import open_flags
from nursery.records.numbers import blank_tags_make
from nursery.records.plants import plant_gone
from nursery.templatetags.tepal import plate
from nursery.typed_tags import near_misses
from tests.making import Nursery, tag_of

pytestmark = pytest.mark.django_db
GRID = "/round/2026-03-09/grid/"


def _slip(number: int) -> str:
    """The number with its first two digits swapped, or with a wrong last one."""
    text = str(number)
    swapped = text[1] + text[0] + text[2:]
    return swapped if swapped != text else text[:-1] + str((int(text[-1]) + 1) % 10)


def _offered(html: str) -> dict[int, str]:
    """The numbers that a tap fills in, and the words beside each."""
    rows = re.findall(r'<li class="meant__row">(.*?)</li>', html, re.DOTALL)
    return {int(re.search(r'data-fills="[^"]+" value="(\d+)"', row)[1]): re.sub("<.*?>", "", row) for row in rows}


def _sent(client: Client, url: str, **values: Any) -> str:
    answer = client.post(url, {"act_id": str(uuid.uuid4()), "day_said": "today"} | values)
    assert answer.status_code == 422
    return answer.text


def _blank() -> int:
    [tag] = blank_tags_make(count=1)
    return tag.number


def test_where_a_blank_tag_is_bound_only_blank_ones_are_offered(nursery: Nursery, as_grower: Client) -> None:
    spike, blank = nursery.spike(), _blank()
    html = _sent(as_grower, act_url(spike, "tag"), number=_slip(blank))
    assert list(_offered(html)) == [blank] and "A blank tag" in _offered(html)[blank]
    assert 'data-fills="id_number"' in html and f'value="{_slip(blank)}"' in html
    assert not _offered(_sent(as_grower, act_url(spike, "tag"), number=_slip(tag_of(spike).number)))


def test_where_a_new_thing_gets_the_tag_in_the_hand(nursery: Nursery, as_grower: Client) -> None:
    plant, blank = nursery.plant(), _blank()
    html = _sent(as_grower, act_url(plant, "spike"), tag=_slip(blank), seen="buds")
    assert list(_offered(html)) == [blank]
    assert not Act.objects.filter(kind="spike_found").exists()


def test_pollen_by_its_number_offers_packets_and_spikes_only(nursery: Nursery, as_grower: Client) -> None:
    packet, spike = nursery.pollen(), nursery.female()
    html = _sent(as_grower, act_url(spike, "pollinate"), pollen_number=_slip(tag_of(packet).number))
    offered = _offered(html)
    assert tag_of(packet).number in offered and "pollen" in offered[tag_of(packet).number]
    html = _sent(as_grower, act_url(spike, "pollinate"), pollen_number=_slip(tag_of(nursery.plant()).number))
    assert not [number for number in _offered(html) if number == tag_of(nursery.plant()).number]


def test_two_swapped_tags_and_the_journal_ask_for_tags_in_use(nursery: Nursery, as_owner: Client) -> None:
    plant, other = nursery.plant(), nursery.plant(nursery.clone("lowii", "Thimble"))
    right = tag_of(other).number
    swapped = as_owner.get(f"/plants/{plant.pk}/swapped/", {"number": _slip(right), "day_said": "today"}).text
    assert right in _offered(swapped) and "Thimble" in _offered(swapped)[right]
    assert right in _offered(as_owner.get("/office/journal/", {"number": _slip(right)}).text)


def test_a_correction_of_another_thing_offers_its_kind(nursery: Nursery, as_owner: Client) -> None:
    empty, full = nursery.section(days_ago=80), nursery.section(days_ago=80)
    act = nursery.record(take_read, section=empty, swelling="all")
    values = {"swelling": "all", "other_number": _slip(tag_of(full).number)}
    assert list(_offered(_sent(as_owner, f"/acts/{act.pk}/correct/", **values))) == [tag_of(full).number]


def test_a_stocktake_names_what_may_have_been_meant(nursery: Nursery, as_grower: Client) -> None:
    bench, pot = nursery.bench(), nursery.pot()
    html = _sent(as_grower, act_url(bench, "stocktake"), others=_slip(tag_of(pot).number), listed="")
    assert f"Did you mean {plate(tag_of(pot).number)} (seed pot)" in html


def test_the_typed_round_offers_what_an_answer_can_be_typed_of(nursery: Nursery, as_grower: Client) -> None:
    pot, id = nursery.pot(days_ago=90), str(uuid.uuid4())
    right = tag_of(pot).number
    before = as_grower.get(f"{GRID}what/", {f"number-{id}": _slip(right)}).text
    assert right in _offered(before) and f'data-fills="number-{id}"' in before
    values = {"row": id, f"number-{id}": _slip(right), f"answer-{id}": "few", f"day-{id}": "2026-03-09"}
    sent = as_grower.post(GRID, values)
    assert sent.status_code == 422 and right in _offered(sent.text)
    assert "does not fit its last digit" in sent.text
    blank = as_grower.get(f"{GRID}what/", {f"number-{id}": _slip(_blank())}).text
    assert not [words for words in _offered(blank).values() if "A blank tag" in words]


def test_a_flagged_act_may_have_been_of_another_thing_with_a_near_number(nursery: Nursery, as_owner: Client) -> None:
    spike = nursery.female(days_ago=200)
    empty, full = [nursery.section(spike, days_ago=190) for _ in range(2)]
    nursery.record(take_read, section=empty, swelling="none", days_ago=150)
    nursery.record(harvested, section=empty, what="section", pods=9, days_ago=1)
    page = f"/flags/{open_flags().first().pk}/repair/another/"
    html = as_owner.get(page, {"number": _slip(tag_of(full).number)}).text
    told = html[html.index("Did you mean") :]
    assert f"?number={tag_of(full).number}" in told and f"?number={tag_of(empty).number}" not in told
    assert f"on={full.pk}&" in as_owner.get(page, {"number": tag_of(full).number})["Location"]


def test_a_number_that_is_taken_is_refused_beside_its_box_and_nothing_else_is_offered(
    nursery: Nursery, as_grower: Client
) -> None:
    spike, plant = nursery.spike(), nursery.plant()
    taken = tag_of(plant).number
    html = _sent(as_grower, act_url(spike, "tag"), number=str(taken))
    assert f"Tag {taken} is already on something: {plant}." in html and not _offered(html)
    assert re.search(r'<input[^>]*name="number"[^>]*aria-invalid="true"', html)


def test_a_form_that_was_filled_in_right_asks_nothing_more(nursery: Nursery, as_grower: Client) -> None:
    spike = nursery.spike()
    with CaptureQueriesContext(connection) as asked:
        as_grower.get(act_url(spike, "tag"))
    assert not [one for one in asked if '"nursery_tag"."number" IN' in one["sql"]]


def test_what_is_still_there_is_offered_first(nursery: Nursery) -> None:
    """Of two that are as near, though the tag of the one that ended was printed first."""
    ended, there, retired = nursery.plant(), nursery.plant(), nursery.plant()
    typed, now = "12263", timezone.now()
    near = one_slip_away(int(typed))[:3]
    for turn, (number, plant) in enumerate(zip(near, (ended, retired, there), strict=True)):
        printed = now + timedelta(minutes=turn)
        Tag.objects.create(number=number, thing=plant.thing, made_at=now, printed_at=printed)
    assert [tag.thing_id for tag in near_misses(typed)] == [ended.pk, retired.pk, there.pk]
    nursery.record(plant_gone, plant=ended, why="died")
    Tag.objects.filter(number=near[1]).update(retired=True)
    assert [tag.thing_id for tag in near_misses(typed)] == [there.pk, ended.pk, retired.pk]


@pytest.mark.parametrize("typed", ["", "moss", "0", "9" * 40, "١٢٣"])
def test_what_is_no_number_is_near_to_nothing(typed: str) -> None:
    assert near_misses(typed) == []
