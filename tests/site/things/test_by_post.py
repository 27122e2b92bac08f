"""The list of what was sent and what came of it, and of what came here."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.models import PollenLot
from breeding.records.pollen import pollen_received
from breeding.records.posted import outcome_told, pollen_sent, seed_sent, seed_split
from breeding.records.pots import pot_looked_at
from nursery.models import Act
from nursery.records.undo import undone
from tests.making import Nursery

PAGE = "/by-post/"


@pytest.fixture
def sent(nursery: Nursery) -> Act:
    return nursery.record(
        seed_sent, lot=nursery.seed(days_ago=90), to_whom="the friend who writes", seeds=40, days_ago=80
    )


def test_what_was_sent_stands_with_what_came_of_it(as_grower: Client, nursery: Nursery, sent: Act) -> None:
    [row] = as_grower.get(PAGE).context["sent"]
    assert row.words == "part of it to the friend who writes, 40 seeds"
    assert row.outcomes == []
    assert "Nothing was told of it yet." in as_grower.get(PAGE).content.decode()
    form = as_grower.get(row.url)
    assert form.context["form"]["sent"].value() == str(sent.pk)
    nursery.record(outcome_told, sent=sent, words="Twelve up.", told_by="a letter")
    [row] = as_grower.get(PAGE).context["sent"]
    assert [(one.words, one.told.endswith(", by a letter")) for one in row.outcomes] == [("Twelve up.", True)]


def test_an_undone_sending_is_not_listed(as_viewer: Client, nursery: Nursery, sent: Act) -> None:
    undone(act=nursery.act(), target=sent)
    assert as_viewer.get(PAGE).context["sent"] == []


def test_what_came_here_is_listed_with_what_it_gave(as_viewer: Client, nursery: Nursery) -> None:
    lot: PollenLot = nursery.made(pollen_received, words="lowii, from a fair", days_ago=20)
    for _ in range(2):
        nursery.section(lot=lot, days_ago=9)
    seed = nursery.seed_by_post(words="purple", days_ago=60)
    pots = nursery.pots(3, seed, days_ago=50)
    nursery.record(pot_looked_at, pot=pots[0], seen="first")
    gave = {row.words: row.gave for row in as_viewer.get(PAGE).context["came"]}
    assert gave == {"lowii, from a fair": "went on 2 sections", "purple": "3 pots sown, 1 up"}


def test_a_viewer_reads_and_is_not_led_to_a_form(as_viewer: Client, stranger: Client, sent: Act) -> None:
    [row] = as_viewer.get(PAGE).context["sent"]
    assert row.url == ""
    assert stranger.get(PAGE).status_code == 302


def test_it_has_a_tab_beside_seed_and_pots(as_viewer: Client, db: None) -> None:
    for page, current in (("/seed/", "Seed"), (PAGE, "By post")):
        tabs = as_viewer.get(page).context["tabs"]
        assert [tab["label"] for tab in tabs] == ["Seed", "Seed pots", "Sowings", "By post"]
        assert [tab["label"] for tab in tabs if tab["current"]] == [current]


def test_an_empty_list_says_so(as_viewer: Client, db: None) -> None:
    page = as_viewer.get(PAGE).content.decode()
    assert "Nothing was sent yet. Open a packet or a lot and tap “Send it”." in page
    assert "No pollen and no seed came from elsewhere yet." in page


def test_words_are_escaped(as_viewer: Client, nursery: Nursery, sent: Act) -> None:
    nursery.record(outcome_told, sent=sent, words="<script>alert(1)</script>", told_by="🌱 猪籠草")
    page = as_viewer.get(PAGE).content.decode()
    assert "<script>alert" not in page and "🌱 猪籠草" in page


def test_many_ask_no_more_than_few(as_viewer: Client, nursery: Nursery, sent: Act) -> None:
    def queries() -> int:
        with CaptureQueriesContext(connection) as seen:
            as_viewer.get(PAGE)
        return len(seen)

    nursery.record(pollen_sent, lot=nursery.pollen(), to_whom="another")
    nursery.record(outcome_told, sent=sent, words="Twelve up.")
    queries()
    few = queries()
    for _ in range(3):
        more = nursery.record(seed_sent, lot=nursery.seed(days_ago=9), to_whom="another")
        nursery.record(outcome_told, sent=more, words="Nothing.")
    assert queries() == few


def test_the_card_of_a_lot_tells_what_is_left_and_what_was_split_off(as_viewer: Client, nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9, estimate=100)
    nursery.record(seed_sent, lot=lot, to_whom="a friend", seeds=30)
    part = nursery.made(seed_split, lot=lot, seeds=20)
    page = as_viewer.get(f"/seed/{lot.pk}/")
    told = {one.label: one.value for one in page.context["details"]}
    assert (told["Sent or split off"], told["Left"]) == ("50 seeds", "about 50 seeds, by the estimate")
    [listed] = [one for one in page.context["lists"] if one.title == "Split off from it"]
    assert [row.url for row in listed.rows] == [f"/seed/{part.pk}/"]
    assert "the first lot" in as_viewer.get(f"/seed/{part.pk}/").content.decode()
