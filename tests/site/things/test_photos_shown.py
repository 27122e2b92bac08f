"""Photos stand by day on the page of their thing and in the story of a cross; sexing a spike offers the camera."""

import re
import uuid

import pytest
from django.test import Client

from breeding.records.spikes import spike_looked
from nursery.links import act_url, thing_url
from nursery.models import LivingThing
from nursery.records.photos import photo_taken
from nursery.records.remarks import remarked
from nursery.records.undo import undone
from nursery.site.stories import PHOTOS_AT_FIRST, SHOWN_AT_FIRST
from tests.drawing import kept
from tests.making import Nursery, tag_of


def _photo(nursery: Nursery, thing: LivingThing, width: int, days_ago: int, **more):
    return nursery.record(photo_taken, thing=thing, photo=kept(width, 100), days_ago=days_ago, **more)


def _days(client: Client, thing: LivingThing, query: str = "") -> list[tuple[str, list[str]]]:
    days = client.get(thing_url(thing) + query).context["photo_days"]
    return [(day.day, [row.photo.url for row in day.rows]) for day in days]


def _shown(page: str) -> list[str]:
    return re.findall(r'src="/photos/small/(\w+)\.jpg"', page)


def test_they_stand_by_day_the_newest_first(nursery: Nursery, as_viewer: Client):
    spike = nursery.spike(days_ago=90)
    old = _photo(nursery, spike, 101, 60)
    one, two = _photo(nursery, spike, 102, 3), _photo(nursery, spike, 103, 3)
    days = _days(as_viewer, spike)
    assert [len(urls) for _, urls in days] == [2, 1]
    assert days[0][1] == [f"/photos/{act.photo.sha256}.jpg" for act in (two, one)]
    assert days[1][1] == [f"/photos/{old.photo.sha256}.jpg"]


def test_the_page_of_a_tag_shows_them_small_with_a_way_to_the_large_one(nursery: Nursery, as_viewer: Client):
    spike = nursery.spike()
    act = _photo(nursery, spike, 640, 0, note="Lowest <b>flower</b>")
    page = as_viewer.get(f"/t/{tag_of(spike).number}/").content.decode()
    name = act.photo.sha256
    assert re.search(rf'<a class="photo" href="/photos/{name}\.jpg"><img [^>]*src="/photos/small/{name}\.jpg"', page)
    assert 'width="320" height="50"' in page
    assert "Lowest &lt;b&gt;flower&lt;/b&gt;" in page


def test_without_photos_there_is_no_heading(nursery: Nursery, as_viewer: Client):
    assert "<h2>Photos</h2>" not in as_viewer.get(thing_url(nursery.spike())).content.decode()


def test_an_undone_photo_is_told_and_not_shown(nursery: Nursery, as_owner: Client):
    spike = nursery.spike()
    act = _photo(nursery, spike, 101, 0, note="Wrong plant.")
    undone(act=nursery.act(), target=act)
    page = as_owner.get(thing_url(spike)).content.decode()
    assert "/photos/" not in page
    assert "story__row--void" in page and "photo taken" in page and "Wrong plant." in page


def test_who_may_undo_a_photo_sees_it_there(nursery: Nursery, as_owner: Client, as_viewer: Client):
    spike = nursery.spike()
    act = _photo(nursery, spike, 101, 0)
    assert f"/acts/{act.pk}/undo/" in as_owner.get(thing_url(spike)).content.decode()
    assert f"/acts/{act.pk}/undo/" not in as_viewer.get(thing_url(spike)).content.decode()


def test_a_story_too_long_still_shows_the_latest_photos(nursery: Nursery, as_viewer: Client):
    spike = nursery.spike(days_ago=90)
    for number in range(PHOTOS_AT_FIRST + 2):
        _photo(nursery, spike, 101 + number, 80 - number)
    hidden = _photo(nursery, spike, 99, 60)
    undone(act=nursery.act(), target=hidden)
    for _ in range(SHOWN_AT_FIRST):
        nursery.record(remarked, thing=spike, words="Fine.")
    assert sum(len(urls) for _, urls in _days(as_viewer, spike)) == PHOTOS_AT_FIRST
    assert sum(len(urls) for _, urls in _days(as_viewer, spike, "?story=whole")) == PHOTOS_AT_FIRST + 2


@pytest.mark.parametrize("remarks", [0, SHOWN_AT_FIRST])
def test_many_photos_ask_no_more_than_few(
    nursery: Nursery, as_viewer: Client, django_assert_max_num_queries, remarks: int
):
    counts = []
    as_viewer.get("/more/")
    for photos in (1, 6):
        spike = nursery.spike()
        for number in range(photos):
            _photo(nursery, spike, 101 + number, number)
        for _ in range(remarks):
            nursery.record(remarked, thing=spike, words="Fine.")
        with django_assert_max_num_queries(30) as asked:
            assert len(_shown(as_viewer.get(thing_url(spike)).content.decode())) == photos
        counts.append(len(asked))
    assert counts[0] == counts[1]


def test_the_story_of_a_cross_shows_those_of_its_sections_and_seed(nursery: Nursery, as_viewer: Client):
    section = nursery.section(days_ago=100)
    bag = nursery.seed(section)
    acts = [_photo(nursery, section, 101, 50), _photo(nursery, bag, 102, 0), _photo(nursery, section.cross, 103, 0)]
    page = as_viewer.get(thing_url(section.cross)).content.decode()
    assert set(_shown(page)) == {act.photo.sha256 for act in acts}


# --- sexing offers the camera ---


def _answered(client: Client, spike, quick: str, **headers) -> str:
    said = {"act_id": uuid.uuid4(), "quick": quick}
    answer = client.post(act_url(spike, "look"), said, headers=headers)
    return (answer if headers else client.get(answer.headers["Location"])).content.decode()


def test_whoever_judged_a_sex_may_take_a_photo_at_once(nursery: Nursery, as_grower: Client):
    spike = nursery.spike(days_ago=20)
    page = _answered(as_grower, spike, "buds-female-buds")
    offer = f"{act_url(spike, 'photo')}?next={thing_url(spike).replace('/', '%2F')}"
    assert f'href="{offer}">Take a photo</a>' in page
    assert as_grower.get(offer).status_code == 200


def test_on_the_round_the_answered_row_offers_it_and_leads_back(nursery: Nursery, as_grower: Client):
    spike = nursery.spike(days_ago=20)
    hx = {"HX-Request": "true", "HX-Current-URL": "http://testserver/?kind=look"}
    row = _answered(as_grower, spike, "buds-male-buds", **hx)
    assert f"{act_url(spike, 'photo')}?next=%2F%3Fkind%3Dlook" in row


def test_another_server_is_no_way_back(nursery: Nursery, as_grower: Client):
    spike = nursery.spike(days_ago=20)
    hx = {"HX-Request": "true", "HX-Current-URL": "https://elsewhere.example/"}
    assert "elsewhere" not in _answered(as_grower, spike, "buds-male-buds", **hx)


@pytest.mark.parametrize("quick", ["growing", "buds", "open", "cant_tell"])
def test_where_nothing_was_judged_none_is_offered(nursery: Nursery, as_grower: Client, quick: str):
    spike = nursery.spike(days_ago=20)
    assert "?next=" not in _answered(as_grower, spike, quick)
    assert "photo" not in _answered(as_grower, spike, quick, **{"HX-Request": "true"})


def test_a_spike_found_with_its_sex_offers_it_too(nursery: Nursery, as_grower: Client):
    said = {"act_id": uuid.uuid4(), "seen": "open", "sex": "male", "sex_from": "flowers"}
    answer = as_grower.post(act_url(nursery.plant(), "spike"), said)
    url = answer.headers["Location"]
    assert url.startswith("/spikes/")
    assert f'href="{url}photo/?next=' in as_grower.get(url).content.decode()


def test_a_look_without_the_form_offers_it_only_once(nursery: Nursery, as_grower: Client):
    """The strip shows once; afterwards the link among the acts is the way."""
    spike = nursery.spike(days_ago=20)
    nursery.record(spike_looked, spike=spike, seen="open", sex="male", sex_from="flowers")
    page = as_grower.get(thing_url(spike)).content.decode()
    assert "?next=" not in page and f'href="{act_url(spike, "photo")}"' in page
