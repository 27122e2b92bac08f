"""What was recorded and does not fit together: shown, settled, corrected, undone."""

import uuid

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.models import Section
from breeding.records.pods import harvested, take_read
from nursery.models import Act, Flag, Person
from nursery.records.flags import open_flags
from tests.making import Nursery

PAGE = "/office/to-sort-out/"


@pytest.fixture
def flagged(nursery: Nursery, grower: Person) -> Act:
    """Tom Reed cut 30 pods where 20 flowers had been counted, today."""
    section = nursery.section(days_ago=150, flowers=20)
    return nursery.record(harvested, section=section, what="section", pods=30, by=grower)


def _rows(client: Client) -> list:
    return client.get(PAGE).context["rows"]


def test_it_works(as_owner: Client, flagged: Act) -> None:
    [row] = _rows(as_owner)
    # A real contradiction of the records: more pods than flowers were counted.
    assert row.sentence == "30 pods, but 20 flowers were counted at pollination."
    assert row.words.startswith("harvested: the whole section, 30 pods (")
    assert row.who == "Tom Reed"
    assert row.thing.url.startswith(("/seed/", "/sections/"))


def test_it_is_so_settles_it_and_comes_back(as_owner: Client, flagged: Act) -> None:
    [row] = _rows(as_owner)
    answer = as_owner.post(row.settle_url, {"act_id": str(row.settle_id), "next": PAGE})
    assert answer["Location"] == PAGE
    assert not open_flags().exists()
    assert Flag.objects.get().settled_by.get().act_id == row.settle_id
    assert "Nothing waits." in as_owner.get(PAGE).content.decode()


def test_settling_twice_settles_once(as_owner: Client, flagged: Act) -> None:
    [row] = _rows(as_owner)
    for _ in range(2):
        answer = as_owner.post(row.settle_url, {"act_id": str(row.settle_id), "next": PAGE})
        assert answer.status_code == 302
    assert Act.objects.filter(kind="flag_settled").count() == 1


def test_undoing_the_act_takes_its_flag_away(as_owner: Client, flagged: Act) -> None:
    [row] = _rows(as_owner)
    answer = as_owner.post(row.undo_url, {"act_id": str(uuid.uuid4()), "next": PAGE})
    assert answer["Location"] == PAGE
    assert _rows(as_owner) == []


def test_correcting_leads_to_the_acts_form(as_owner: Client, flagged: Act) -> None:
    [row] = _rows(as_owner)
    assert as_owner.get(row.correct_url).status_code == 200


def test_a_viewer_sees_it_without_buttons(as_viewer: Client, flagged: Act) -> None:
    answer = as_viewer.get(PAGE)
    [row] = answer.context["rows"]
    assert (row.settle_url, row.undo_url, row.correct_url) == ("", "", "")
    page = answer.content.decode()
    assert row.sentence in page and "It was so" not in page


def test_a_grower_may_settle_but_not_undo_what_others_recorded_before(
    as_grower: Client, nursery: Nursery, flagged: Act
) -> None:
    Act.objects.filter(pk=flagged.pk).update(by=nursery.by, recorded_at="2026-01-05T08:00:00Z")
    [row] = _rows(as_grower)
    assert row.settle_url
    assert (row.undo_url, row.correct_url) == ("", "")


def test_the_oldest_hundred_are_shown_and_the_rest_counted(as_owner: Client, flagged: Act) -> None:
    Flag.objects.bulk_create(
        Flag(act=flagged, thing_id=flagged.thing_id, code=f"odd-{turn}", sentence=f"Odd {turn}.") for turn in range(104)
    )
    answer = as_owner.get(PAGE)
    assert len(answer.context["rows"]) == 100
    assert "5 more come up when these are done." in answer.content.decode()


def test_sentences_are_escaped(as_owner: Client, flagged: Act) -> None:
    Flag.objects.update(sentence="<img src=x onerror=alert(1)>")
    page = as_owner.get(PAGE).content.decode()
    assert "<img src=x" not in page and "&lt;img src=x" in page


def test_many_ask_no_more_than_few(as_owner: Client, nursery: Nursery, flagged: Act) -> None:
    def queries() -> int:
        with CaptureQueriesContext(connection) as seen:
            as_owner.get(PAGE)
        return len(seen)

    queries()
    few = queries()
    for _ in range(3):
        nursery.record(harvested, section=nursery.section(days_ago=150, flowers=20), what="section", pods=30)
    assert len(_rows(as_owner)) == 4
    assert queries() == few


def test_what_fits_does_not_stand_here(as_owner: Client, nursery: Nursery) -> None:
    section: Section = nursery.section(days_ago=50)
    nursery.record(take_read, section=section, swelling="most")
    assert _rows(as_owner) == []


def test_an_id_that_was_used_for_something_else_is_said_and_settles_nothing(as_owner: Client, flagged: Act) -> None:
    [row] = _rows(as_owner)
    answer = as_owner.post(row.settle_url, {"act_id": str(flagged.pk), "next": PAGE}, follow=True)
    assert "This was already recorded, with other values." in answer.content.decode()
    assert open_flags().exists()
