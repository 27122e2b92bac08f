"""Nothing new here: one look for each thing that the page listed, and for nothing else."""

import re
import uuid
from datetime import timedelta

import pytest
from django.test import Client

from nursery.models import Act, ActLink
from nursery.records import watching
from tests.making import Nursery, birth_of, today


@pytest.fixture
def bench(nursery: Nursery):
    """A bench with two spikes that are due and one that is not."""
    bench = nursery.bench()
    plant = nursery.plant(place=bench)
    bench.due = [nursery.spike(plant, days_ago=12), nursery.spike(plant, days_ago=12)]
    bench.fresh = nursery.spike(plant, days_ago=2)
    return bench


def _walk(client: Client, bench, things, **more):
    data = {"act_id": str(uuid.uuid4()), "things": [thing.pk for thing in things]} | more
    return client.post(f"/walk/{bench.pk}/", data)


def _listed(html: str, form: str) -> list[str]:
    """The things that the rows of a page add to this form."""
    name = re.search(r'^<form id="([^"]*)"', form)[1]
    return re.findall(rf'name="things" value="(\d+)" form="{name}"', html)


def _walked() -> list[Act]:
    return list(Act.objects.filter(kind="walked_past"))


def test_it_works_from_the_page(as_grower: Client, bench) -> None:
    html = as_grower.get("/").content.decode()
    form = re.search(rf'<form id="[^"]*" method="post" action="/walk/{bench.pk}/".*?</form>', html, re.S)[0]
    things = _listed(html, form)
    assert sorted(map(int, things)) == [thing.pk for thing in bench.due]
    act_id = re.search(r'name="act_id" value="([^"]+)"', form)[1]
    answer = as_grower.post(f"/walk/{bench.pk}/", {"act_id": act_id, "things": things, "next": "/"}, follow=True)
    [act] = _walked()
    assert str(act.pk) == act_id
    assert set(ActLink.objects.filter(act=act).values_list("thing_id", flat=True)) == set(map(int, things))
    html = answer.content.decode()
    assert "walked past: nothing new" in html
    assert f"2 things on {bench.inside.name}, {bench.name}" in html
    assert "Nothing is due." in html


def test_htmx_shows_what_is_left_on_the_bench(as_grower: Client, bench) -> None:
    data = {"act_id": str(uuid.uuid4()), "things": [bench.due[0].pk], "next": f"/#place-{bench.pk}"}
    html = as_grower.post(f"/walk/{bench.pk}/", data, headers={"HX-Request": "true"}).text
    assert "<html" not in html
    assert f"1 thing on {bench.inside.name}, {bench.name}" in html
    assert len(re.findall(r'<details class="task[ "]', html)) == 1


def test_htmx_shows_a_bench_on_which_nothing_is_left(as_grower: Client, bench) -> None:
    data = {"act_id": str(uuid.uuid4()), "things": [one.pk for one in bench.due], "next": f"/#place-{bench.pk}"}
    html = as_grower.post(f"/walk/{bench.pk}/", data, headers={"HX-Request": "true"}).text
    assert f'<section class="group" id="place-{bench.pk}"' in html
    assert "Nothing new here" not in html and "<details" not in html


def test_what_was_not_listed_is_not_looked_at(as_grower: Client, bench) -> None:
    _walk(as_grower, bench, bench.due[:1])
    for thing in (*bench.due, bench.fresh):
        thing.refresh_from_db()
    assert [thing.last_look == today() for thing in (*bench.due, bench.fresh)] == [True, False, False]


def test_what_was_answered_since_the_page_was_made_is_not_walked_over(as_grower: Client, bench) -> None:
    answered, waits = bench.due
    as_grower.post(f"/spikes/{answered.pk}/look/", {"act_id": str(uuid.uuid4()), "seen": "cant_tell"})
    _walk(as_grower, bench, bench.due)
    [act] = _walked()
    assert list(act.links.values_list("thing_id", flat=True)) == [waits.pk]
    answered.refresh_from_db()
    assert answered.last_seen == "cant_tell"


def test_what_was_put_off_since_stays_put_off(as_grower: Client, nursery: Nursery, bench) -> None:
    put_off, waits = bench.due
    nursery.record(watching.postponed, thing=put_off, until=today() + timedelta(days=3))
    _walk(as_grower, bench, bench.due)
    [act] = _walked()
    assert list(act.links.values_list("thing_id", flat=True)) == [waits.pk]


def test_where_all_was_answered_since_nothing_is_recorded_and_the_page_says_so(as_grower: Client, bench) -> None:
    for spike in bench.due:
        as_grower.post(f"/spikes/{spike.pk}/look/", {"act_id": str(uuid.uuid4()), "seen": "growing"})
    answer = as_grower.post(f"/walk/{bench.pk}/", {"things": [one.pk for one in bench.due]}, follow=True)
    assert "All that was listed here was answered or closed since" in answer.content.decode()
    assert _walked() == []


def test_an_answered_row_leaves_the_list_and_its_undo_brings_it_back(as_grower: Client, bench) -> None:
    spike, walk = bench.due[0], f"place-{bench.pk}-walk"
    listed = f'name="things" value="{spike.pk}" form="{walk}"'
    assert listed in as_grower.get("/").text
    sent = {"act_id": str(uuid.uuid4()), "seen": "growing", "rows": f"spikes-{spike.pk}-spikes", "walk": walk}
    html = as_grower.post(f"/spikes/{spike.pk}/look/", sent, headers={"HX-Request": "true"}).text
    assert listed not in html
    undo = dict(re.findall(r'name="(rows|walk)" value="([^"]*)"', html)) | {"act_id": str(uuid.uuid4())}
    html = as_grower.post(f"/acts/{sent['act_id']}/undo/", undo, headers={"HX-Request": "true"}).text
    assert listed in html


def test_a_form_that_no_page_has_is_not_named(as_grower: Client, bench) -> None:
    sent = {"act_id": str(uuid.uuid4()), "seen": "growing", "rows": f"spikes-{bench.due[0].pk}-spikes", "walk": "<b>"}
    html = as_grower.post(f"/spikes/{bench.due[0].pk}/look/", sent, headers={"HX-Request": "true"}).text
    assert 'name="walk"' not in html


def test_htmx_twice_is_once_and_shows_the_bench_again(as_grower: Client, bench) -> None:
    data = {"act_id": str(uuid.uuid4()), "things": [one.pk for one in bench.due], "next": f"/#place-{bench.pk}"}
    shown = [as_grower.post(f"/walk/{bench.pk}/", data, headers={"HX-Request": "true"}).text for _ in range(2)]
    assert ["2 things on" in html for html in shown] == [True, True]
    assert len(_walked()) == 1


def test_twice_is_once(as_grower: Client, bench) -> None:
    act_id = str(uuid.uuid4())
    for _ in range(2):
        assert _walk(as_grower, bench, bench.due, act_id=act_id).status_code == 302
    assert len(_walked()) == 1


def test_the_same_page_with_another_list_is_refused_and_says_so(as_grower: Client, bench) -> None:
    act_id = str(uuid.uuid4())
    _walk(as_grower, bench, bench.due, act_id=act_id)
    answer = as_grower.post(
        f"/walk/{bench.pk}/", {"act_id": act_id, "things": [bench.fresh.pk], "next": "/"}, follow=True
    )
    assert "This page was answered before, with another list. Look at what is due now." in answer.content.decode()
    assert len(_walked()) == 1


def test_sent_again_after_something_was_closed_it_is_still_the_same_walk(
    as_grower: Client, nursery: Nursery, bench
) -> None:
    act_id = str(uuid.uuid4())
    _walk(as_grower, bench, bench.due, act_id=act_id)
    nursery.record(watching.stopped, thing=bench.due[1])
    answer = as_grower.post(
        f"/walk/{bench.pk}/", {"act_id": act_id, "things": [thing.pk for thing in bench.due], "next": "/"}, follow=True
    )
    assert "answered before" not in answer.content.decode()
    assert len(_walked()) == 1


@pytest.mark.parametrize("things", [[], ["x"], ["-1"], ["99999999999999999999"], ["<b>"], ["999999"]])
def test_a_list_of_nothing_says_so_and_records_nothing(as_grower: Client, bench, things: list[str]) -> None:
    answer = as_grower.post(f"/walk/{bench.pk}/", {"things": things, "act_id": "no uuid"}, follow=True)
    assert answer.redirect_chain == [("/", 302)]
    assert "Nothing was listed here, so there is nothing to record." in answer.content.decode()
    assert _walked() == []


def test_what_cannot_be_looked_at_or_was_closed_since_is_left_out(as_grower: Client, nursery: Nursery, bench) -> None:
    stopped = bench.due[1]
    nursery.record(watching.stopped, thing=stopped)
    _walk(as_grower, bench, [*bench.due, stopped.plant, nursery.seed_by_post(words="by post")])
    [act] = _walked()
    assert list(act.links.values_list("thing_id", flat=True)) == [bench.due[0].pk]


def test_it_is_undone_like_any_act(as_grower: Client, bench) -> None:
    _walk(as_grower, bench, bench.due)
    [act] = _walked()
    as_grower.post(f"/acts/{act.pk}/undo/", {"act_id": str(uuid.uuid4())})
    bench.due[0].refresh_from_db()
    assert bench.due[0].last_look == today() - timedelta(days=12)
    assert birth_of(bench.due[0]).kind == "spike_found"


def test_a_viewer_may_not(as_viewer: Client, bench) -> None:
    assert _walk(as_viewer, bench, bench.due).status_code == 403
    assert _walked() == []


def test_a_place_that_is_none_is_not_found(as_grower: Client, bench) -> None:
    assert as_grower.post(f"/walk/{bench.due[0].pk}/", {}).status_code == 404


def test_it_is_only_posted(as_grower: Client, bench) -> None:
    assert as_grower.get(f"/walk/{bench.pk}/").status_code == 405


def test_it_goes_on_to_no_other_host(as_grower: Client, bench) -> None:
    assert _walk(as_grower, bench, bench.due, next="https://elsewhere.example/").url == "/"
