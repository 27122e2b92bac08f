import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from nursery.models import House
from nursery.records.numbers import blank_tags_make
from tests.making import tag_of

pytestmark = pytest.mark.django_db


def test_what_waits_is_listed_ticked_with_what_its_label_says(as_grower, stocks, nursery):
    pot = nursery.pot(seeds=40)
    page = as_grower.get("/labels/").content.decode()
    number = tag_of(pot).number
    assert f'<input type="checkbox" name="numbers" value="{number}" checked>' in page
    assert "40 seeds" in page
    assert "<h1>Labels</h1>" in page


def test_nothing_waiting_says_what_will_be_here(as_grower, stocks, nursery):
    page = as_grower.get("/labels/").content.decode()
    assert "Every tag that was made is printed." in page
    assert "The tag of each new spike, section, seed and pot waits here until it is printed." in page


def test_one_kind_can_be_shown_alone(as_grower, stocks, nursery):
    pot, plant = nursery.pot(), nursery.plant()
    page = as_grower.get("/labels/?show=Seed+pot").content.decode()
    assert f'value="{tag_of(pot).number}"' in page
    assert f'value="{tag_of(plant).number}"' not in page


def test_a_viewer_reads_the_list_and_finds_no_button(as_viewer, stocks, nursery):
    pot = nursery.pot(seeds=40)
    page = as_viewer.get("/labels/").content.decode()
    assert "40 seeds" in page
    assert "You may read here; growers and owners print." in page
    assert 'type="checkbox"' not in page
    assert tag_of(pot).printed_at is None


def test_a_stranger_is_asked_to_sign_in_and_led_back(stranger: Client):
    answer = stranger.get("/labels/")
    assert (answer.status_code, answer.url) == (302, "/sign-in/?next=%2Flabels%2F")


def test_one_tag_is_printed_again_from_its_number(as_grower, stocks, nursery):
    number = tag_of(nursery.plant()).number
    page = as_grower.get(f"/labels/print/{number}/").content.decode()
    assert f'value="{number}" checked' in page
    assert page.count('name="numbers"') == 1
    assert "its number and its code stay the same" in page
    assert "Tags that wait to be printed" not in page


def test_a_number_that_was_never_made_is_not_found(as_grower, stocks):
    assert as_grower.get("/labels/print/999/").status_code == 404


def test_a_viewer_may_not_print_one(as_viewer, stocks, nursery):
    number = tag_of(nursery.plant()).number
    assert as_viewer.get(f"/labels/print/{number}/").status_code == 403


def test_a_lasting_address_gives_no_caution(as_grower, stocks, nursery):
    nursery.plant()
    assert "caution" not in as_grower.get("/labels/").content.decode()


def test_an_address_that_will_not_last_is_told(as_grower, stocks, nursery):
    nursery.plant()
    House.objects.update(public_address="http://192.168.1.20:8000")
    page = as_grower.get("/labels/").content.decode()
    for part in ("is a number that changes", "holds the port 8000", "begins with http://"):
        assert part in page


def test_without_an_address_the_one_in_use_is_told(as_grower, stocks, nursery):
    nursery.plant()
    House.objects.update(public_address="")
    page = as_grower.get("/labels/").content.decode()
    assert "No public address is set, so tags will carry the one in use now, http://testserver." in page


@pytest.mark.parametrize("query", ["?stock=abc", "?stock=999999", "?show=<b>", "?stock=²"])
def test_nonsense_in_the_address_does_no_harm(as_grower, stocks, nursery, query: str):
    nursery.plant()
    answer = as_grower.get(f"/labels/{query}")
    assert answer.status_code == 200
    assert b"<b>" not in answer.content.replace(b'<b class="name__clone">', b"")


def test_as_many_queries_for_many_as_for_few(as_grower, stocks, nursery):
    counts = set()
    for pots in (2, 20):
        nursery.pots(pots, seeds=40)
        with CaptureQueriesContext(connection) as asked:
            as_grower.get("/labels/")
        counts.add(len(asked))
    assert len(counts) == 1


def test_names_are_escaped(as_grower, stocks, nursery):
    nursery.plant(nursery.clone("lowii", "<script>x</script>"))
    page = as_grower.get("/labels/").content.decode()
    assert "&lt;script&gt;x&lt;/script&gt;" in page
    assert "<script>x" not in page


def test_blank_tags_are_listed_last_and_say_so(as_grower, stocks, nursery):
    nursery.plant()
    [blank] = blank_tags_make(count=1)
    page = as_grower.get("/labels/").content.decode()
    assert (
        page.rindex('type="checkbox" name="numbers"')
        < page.index(f'value="{blank.number}"')
        < page.index("Blank, to be put on")
    )


def test_all_can_be_unticked_and_ticked_again(as_grower, stocks, nursery):
    nursery.plant()
    page = as_grower.get("/labels/?show=Place").content.decode()
    assert '<a href="?show=Place&amp;ticks=none">Untick all</a>' in page
    page = as_grower.get("/labels/?show=Place&ticks=none").content.decode()
    assert "checked" not in page
    assert '<a href="?show=Place&amp;ticks=all">Tick all</a>' in page


def test_the_order_of_parents_is_told_once_where_crosses_are_shown(as_grower, stocks, nursery):
    nursery.plant()
    assert "Female parent first." not in as_grower.get("/labels/").content.decode()
    nursery.pots(2)
    assert as_grower.get("/labels/").content.decode().count("Female parent first.") == 1
