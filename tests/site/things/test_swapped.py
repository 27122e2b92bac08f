"""Two swapped tags: asked, shown with what may go over, exchanged, and undone."""

import uuid
from typing import Any

import pytest
from django.test import Client

from nursery.models import Act, Flag, Plant
from nursery.records.flags import open_flags
from nursery.records.moves import moved
from nursery.records.plants import plant_gone
from nursery.records.remarks import remarked
from tests.making import Nursery, tag_of


@pytest.fixture
def pair(nursery: Nursery) -> tuple[Plant, Plant]:
    """The first was moved, and the second talked about, both today and by Ida Fern."""
    one, other = nursery.plant(), nursery.plant()
    nursery.record(moved, thing=one, place=nursery.bench("Top"))
    nursery.record(remarked, thing=other, words="leans over")
    return one, other


def _page(pair: tuple[Plant, Plant]) -> str:
    return f"/plants/{pair[0].pk}/swapped/"


def _values(pair: tuple[Plant, Plant], **more: Any) -> dict[str, Any]:
    return {"number": str(tag_of(pair[1]).number), "day_said": "today", "day_on": ""} | more


def _ticks(client: Client, pair: tuple[Plant, Plant], **more: Any) -> list[Any]:
    page = client.get(_page(pair), _values(pair, **more))
    return [tick for side in page.context["sides"] for tick in side.ticks]


def test_it_works(as_owner: Client, pair: tuple[Plant, Plant]) -> None:
    before = [tag_of(one).number for one in pair]
    ticks = _ticks(as_owner, pair)
    assert [tick.words.split(" (")[0] for tick in ticks] == ["moved: to Top", "remark: leans over"]
    assert all(tick.ticked for tick in ticks)
    act_id = uuid.uuid4()
    sent = _values(pair, act_id=str(act_id), moved=[str(tick.id) for tick in ticks])
    for _ in range(2):
        assert as_owner.post(_page(pair), sent)["Location"] == f"/plants/{pair[0].pk}/"
    assert [tag_of(one).number for one in pair] == before[::-1]
    assert Plant.objects.get(pk=pair[1].pk).place.name == "Top"
    assert Act.objects.get(kind="remarked", voided_by=None).thing_id == pair[0].pk
    assert Act.objects.filter(kind="tags_swapped").count() == 1
    as_owner.post(f"/acts/{act_id}/undo/", {"act_id": str(uuid.uuid4())})
    assert [tag_of(one).number for one in pair] == before
    assert Plant.objects.get(pk=pair[0].pk).place.name == "Top"


def test_what_is_not_ticked_stays(as_owner: Client, pair: tuple[Plant, Plant]) -> None:
    as_owner.post(_page(pair), _values(pair, act_id=str(uuid.uuid4())))
    assert Plant.objects.get(pk=pair[0].pk).place.name == "Top"
    assert Act.objects.filter(kind="tags_swapped").exists()


def test_what_may_be_older_is_shown_and_not_ticked(as_owner: Client, pair: tuple[Plant, Plant]) -> None:
    assert [tick.ticked for tick in _ticks(as_owner, pair, day_said="unknown")] == [False, False]


def test_a_grower_cannot_tick_what_is_not_theirs_to_undo(as_grower: Client, pair: tuple[Plant, Plant]) -> None:
    Act.objects.filter(kind="moved").update(recorded_at="2026-01-05T08:00:00Z")
    ticks = _ticks(as_grower, pair, day_said="unknown")
    assert [tick.barred for tick in ticks] == [True, False]
    page = as_grower.get(_page(pair), _values(pair, day_said="unknown")).content.decode()
    assert "ask an owner to move it" in page
    sent = _values(pair, day_said="unknown", act_id=str(uuid.uuid4()), moved=[str(ticks[0].id)])
    refused = as_grower.post(_page(pair), sent)
    assert refused.status_code == 422
    assert "Somebody else recorded this on another day. Ask them or an owner." in refused.content.decode()
    assert not Act.objects.filter(kind="tags_swapped").exists()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "Type the number on the other tag."),
        ("12", "12 does not fit its last digit, so one digit is wrong or missing. Look at the tag again."),
        ("лови́я 猪籠草", "A tag number has digits only. Type the digits on the tag, the last one too."),
        ("<script>alert(1)</script>", "A tag number has digits only. Type the digits on the tag, the last one too."),
        ("🌱", "A tag number has digits only. Type the digits on the tag, the last one too."),
        ("9" * 5000, "Write at most 40 characters"),
    ],
)
@pytest.mark.parametrize("method", ["get", "post"])
def test_a_number_that_leads_nowhere_is_said(
    method: str, typed: str, sentence: str, as_owner: Client, pair: tuple[Plant, Plant]
) -> None:
    page = getattr(as_owner, method)(_page(pair), _values(pair, number=typed))
    assert page.status_code == 422
    assert sentence in page.content.decode()
    assert "<script>alert" not in page.content.decode()
    assert not Act.objects.filter(kind="tags_swapped").exists()


def test_its_own_number_is_not_the_other(as_owner: Client, pair: tuple[Plant, Plant]) -> None:
    page = as_owner.get(_page(pair), _values(pair, number=str(tag_of(pair[0]).number)))
    assert "That is the same thing. Give the number of the other one." in page.content.decode()


def test_ticks_that_are_none_of_these_records_move_nothing(as_owner: Client, pair: tuple[Plant, Plant]) -> None:
    sent = _values(pair, act_id=str(uuid.uuid4()), moved=["x", "🌱", str(uuid.uuid4()), "9" * 5000])
    assert as_owner.post(_page(pair), sent).status_code == 302
    assert Plant.objects.get(pk=pair[0].pk).place.name == "Top"


def test_of_two_kinds_only_the_tags_change(as_owner: Client, nursery: Nursery, pair: tuple[Plant, Plant]) -> None:
    pot = nursery.pot()
    page = as_owner.get(_page(pair), _values(pair, number=str(tag_of(pot).number)))
    assert "These are of two kinds, so only the tags change places; what was recorded stays." in page.content.decode()
    assert page.context["sides"][0].ticks == []


def test_it_settles_the_flag_that_led_here_and_undone_opens_it(
    as_owner: Client, nursery: Nursery, pair: tuple[Plant, Plant]
) -> None:
    nursery.record(plant_gone, plant=pair[0], why="died", days_ago=5)
    pair[0].refresh_from_db()
    nursery.record(plant_gone, plant=pair[0], why="died")
    flag, act_id = Flag.objects.get(code="gone_twice"), uuid.uuid4()
    answer = as_owner.post(f"{_page(pair)}?flag={flag.pk}", _values(pair, act_id=str(act_id)))
    assert answer["Location"] == "/office/to-sort-out/"
    assert not open_flags().exists()
    as_owner.post(f"/acts/{act_id}/undo/", {"act_id": str(uuid.uuid4())})
    assert open_flags().get() == flag


def test_only_who_records_may(as_viewer: Client, stranger: Client, pair: tuple[Plant, Plant]) -> None:
    assert as_viewer.get(_page(pair)).status_code == 403
    assert as_viewer.post(_page(pair), _values(pair)).status_code == 403
    assert stranger.post(_page(pair), _values(pair)).status_code == 401


def test_nothing_is_there_of_no_such_thing(as_owner: Client) -> None:
    assert as_owner.get("/plants/999999/swapped/").status_code == 404
