"""The round as a page: what each person sees of which day."""

import re
import uuid
from datetime import timedelta

import pytest
import time_machine
from django.test import Client
from django.utils import timezone

from breeding.records import pods
from breeding.rounds.tasks import round_for
from breeding.rounds.words import short
from nursery.models import Person
from nursery.records import house
from tests.making import Nursery, tag_of, today

CAN_ANSWER = 'name="seen" value="growing"'


def _html(client: Client, address: str = "/") -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def _words(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


@pytest.fixture
def spike(nursery: Nursery):
    """Found 12 days ago on Bench 2 of the Cool house, and not looked at since."""
    bench = nursery.bench("Bench 2", inside=nursery.house("Cool house", order=1))
    return nursery.spike(nursery.plant(nursery.clone("hamata", "lantern"), place=bench), days_ago=12)


def test_it_works(as_grower: Client, spike) -> None:
    html = _html(as_grower)
    words = _words(html)
    assert "Cool house Bench 2" in words
    assert "Look at spike" in words
    assert '<i class="name__taxon">hamata</i>' in html
    assert '<b class="name__clone">lantern</b>' in html
    assert str(tag_of(spike).number)[:3] in words
    assert (
        "Day 12 since it was found; usual is day 28 to 49, middle 37 (shipped, a paper) until the first flower opens"
        in words
    )
    assert CAN_ANSWER in html
    assert f'hx-post="/spikes/{spike.pk}/look/"' in html
    assert "1 min" in words


def test_a_stranger_is_asked_to_sign_in_and_comes_back(stranger: Client, spike) -> None:
    answer = stranger.get("/round/2026-07-15/")
    assert answer.status_code == 302
    assert answer.url == "/sign-in/?next=%2Fround%2F2026-07-15%2F"
    assert stranger.post(f"/walk/{spike.plant.place_id}/").status_code == 401


def test_a_viewer_sees_the_round_without_answers(as_viewer: Client, spike) -> None:
    html = _html(as_viewer)
    assert "Look at spike" in html
    assert '<form class="answers"' not in html
    assert "Nothing new here" not in html
    assert "Stop watching" not in html


def test_each_form_has_a_uuid_of_its_own(as_grower: Client, nursery: Nursery, spike) -> None:
    nursery.spike(spike.plant, days_ago=12)
    ids = re.findall(r'name="act_id" value="([^"]*)"', _html(as_grower))
    assert len(ids) >= 3
    assert len(set(ids)) == len(ids)
    assert all(uuid.UUID(one) for one in ids)


def test_an_answer_without_script_comes_back_to_the_round(as_grower: Client, spike) -> None:
    html = _html(as_grower)
    act_id = re.search(r'name="act_id" value="([^"]*)"[^>]*>\s*<input type="hidden" name="next" value="/"', html)[1]
    answer = as_grower.post(
        f"/spikes/{spike.pk}/look/", {"act_id": act_id, "seen": "growing", "next": "/"}, follow=True
    )
    assert answer.redirect_chain == [("/", 302)]
    words = _words(answer.content.decode())
    assert "spike looked at: growing" in words
    assert "Undo" in words
    assert "Nothing is due." in words


def test_an_empty_round_says_what_to_do(as_grower: Client) -> None:
    words = _words(_html(as_grower))
    assert "Nothing is due. What you see anyway can be recorded: find the thing by its number." in words


# --- other days ---


def test_another_day_shows_what_is_due_by_then_without_answers(as_grower: Client, nursery: Nursery) -> None:
    nursery.spike(days_ago=3)
    day = today() + timedelta(days=7)
    assert "Look at spike" not in _html(as_grower)
    html = _html(as_grower, f"/round/{day}/")
    assert "Look at spike" in html
    assert CAN_ANSWER not in html
    assert "What will be due by then, as the books stand today." in html


def test_only_todays_round_speaks_of_today(as_grower: Client, nursery: Nursery) -> None:
    nursery.routine(days_ago=9)
    nursery.female(days_ago=1)
    nursery.pollen(days_ago=1, storage="refrigerator")
    words = _words(_html(as_grower))
    assert "Good today:" in words and "Mist today" in words
    for step in (-1, 1):
        day = today() + timedelta(days=step)
        page = as_grower.get(f"/round/{day}/")
        tasks = [task for group in page.context["groups"] for task in group.tasks]
        [said] = [task.due_words for task in tasks if task.kind == "routine"]
        assert said == short(day, day)
        assert "Good today" not in _words(page.text)
    assert "Good that day:" in _words(page.text)


def test_a_day_gone_by_shows_what_is_still_open_from_then(as_grower: Client, spike) -> None:
    assert "Look at spike" in _html(as_grower, f"/round/{today() - timedelta(days=2)}/")
    html = _html(as_grower, f"/round/{today() - timedelta(days=3)}/")
    assert "Look at spike" not in html
    assert "What was due by then and is still open." in html


def test_the_days_before_and_after_are_one_tap_away(as_grower: Client) -> None:
    html = _html(as_grower)
    for step in (-1, 1):
        assert f'href="/round/{today() + timedelta(days=step)}/"' in html
    far = today() + timedelta(days=40)
    html = _html(as_grower, f"/round/{far}/")
    assert 'href="/"' in html
    assert f'href="/round/{far + timedelta(days=1)}/"' in html


def test_any_day_can_be_chosen(as_grower: Client) -> None:
    assert as_grower.get("/?day=2026-03-09").url == "/round/2026-03-09/"
    assert as_grower.get(f"/?day={today()}").url == "/"


@pytest.mark.parametrize(
    "text", ["2026-02-30", "1949-12-31", "2200-01-01", "0001-01-01", "tomorrow", "2026-3-9", "٢٠٢٦-03-09"]
)
def test_what_is_no_day_is_no_page(as_grower: Client, text: str) -> None:
    assert as_grower.get(f"/round/{text}/").status_code == 404
    assert as_grower.get("/", {"day": text}).status_code == 404


@pytest.mark.parametrize("text", ["1950-01-01", "2199-12-31"])
def test_the_first_and_the_last_day_are_pages(as_grower: Client, text: str) -> None:
    _html(as_grower, f"/round/{text}/")


# --- minutes, kinds ---


def test_what_does_not_fit_the_minutes_stands_under_if_there_is_time(
    as_grower: Client, nursery: Nursery, owner: Person, spike
) -> None:
    for _ in range(7):
        nursery.spike(spike.plant, days_ago=12)
    house.house_changed(by=owner, name="Ours", public_address="", minutes_a_day=5)
    words = _words(_html(as_grower))
    assert "5 min to do" in words and "a day went into" not in words
    assert "If there is time: 3 more, about 3 min" in words
    assert words.count("Look at spike") == 8


def test_what_was_answered_is_said_where_it_uses_up_the_day(
    as_grower: Client, nursery: Nursery, owner: Person, spike
) -> None:
    with time_machine.travel(timezone.now() - timedelta(days=1)):
        for _ in range(7):
            nursery.spike(spike.plant, days_ago=13)
    house.house_changed(by=owner, name="Ours", public_address="", minutes_a_day=5)
    assert "a day went into" not in _words(_html(as_grower))
    listed = [task.thing_id for task in round_for(today()).today if task.thing_id != spike.pk]
    for pk in listed[:3]:
        as_grower.post(f"/spikes/{pk}/look/", {"act_id": str(uuid.uuid4()), "seen": "growing"})
    words = _words(_html(as_grower))
    assert "2 min to do" in words and "If there is time: 3 more" in words
    assert "3 of the 5 min a day went into what was answered today." in words


def test_one_kind_of_task_can_be_shown(as_grower: Client, nursery: Nursery, spike) -> None:
    nursery.pot(days_ago=40)
    html = _html(as_grower)
    assert 'href="/?kind=spikes"' in html
    spikes_only = _html(as_grower, "/?kind=spikes")
    assert '<h3 class="task__title">Look at spike</h3>' in spikes_only
    assert '<h3 class="task__title">Look for seedlings</h3>' not in spikes_only
    assert "Nothing of this kind is due." in _html(as_grower, "/?kind=harvest")
    assert '<h3 class="task__title">Look for seedlings</h3>' in _html(as_grower, "/?kind=nonsense")


def test_only_looks_can_be_walked_past(as_grower: Client, nursery: Nursery, spike) -> None:
    section = nursery.section(nursery.female(nursery.clone(), days_ago=150), days_ago=140)
    nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=1)
    html = _html(as_grower)
    assert "Harvest" in html
    assert f'name="things" value="{spike.pk}"' in html
    assert f'name="things" value="{section.pk}"' not in html


# --- what is never in the page ---


def test_typed_words_are_escaped(as_grower: Client, nursery: Nursery) -> None:
    bench = nursery.bench("<b>Bench</b>", inside=nursery.house("<script>alert(1)</script>"))
    nursery.spike(nursery.plant(nursery.clone("lowii", "<i>x</i>"), place=bench), days_ago=12, position="<u>top</u>")
    html = _html(as_grower)
    assert "<script>alert(1)" not in html
    assert "&lt;u&gt;top&lt;/u&gt;" in html
    assert "<i>x</i>" not in html


def test_no_style_and_no_script_stands_in_the_page(as_grower: Client, spike) -> None:
    html = _html(as_grower)
    assert not re.search(r"\sstyle=|\son[a-z]+=|hx-on|<style|<script(?![^>]*\ssrc=)", html)


def test_the_page_asks_the_database_as_often_for_few_rows_as_for_many(
    as_grower: Client, nursery: Nursery, django_assert_max_num_queries, spike
) -> None:
    nursery.pot(days_ago=40)
    house.house()
    counts = []
    for _ in range(2):
        with django_assert_max_num_queries(30) as counted:
            _html(as_grower)
        counts.append(len(counted))
        for _ in range(4):
            nursery.spike(spike.plant, days_ago=12)
            nursery.pot(days_ago=40)
    assert counts[0] == counts[1]
