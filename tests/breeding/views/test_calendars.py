import re
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from icalendar import Calendar

from breeding.models import CalendarAddress
from breeding.records.calendars import MOST, address_made
from nursery.models import House
from tests.conftest import signed_in
from tests.making import tag_of, today

pytestmark = pytest.mark.django_db

OFFICE, END = "/office/calendar/", "/office/calendar/end/"


def made(client, words="my phone") -> str:
    """The path of a new address, as the page shows it once."""
    page = client.post(OFFICE, {"words": words}).content.decode()
    return re.search(r'value="https?://[^/]+(/calendar/[^"]+\.ics)"', page)[1]


def events(client, address) -> dict:
    answer = client.get(address)
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    return {event.decoded("dtstart"): event for event in Calendar.from_ical(answer.content).walk("VEVENT")}


def test_a_program_that_cannot_sign_in_reads_what_falls_due_and_where(as_grower, stranger, nursery):
    House.objects.update_or_create(pk=1, defaults={"public_address": "https://tags.example"})
    bench = nursery.bench("Bench 2", inside=nursery.house("Warm house"))
    section = nursery.section(nursery.spike(nursery.plant(place=bench)), days_ago=30)
    due = today() + timedelta(days=5)  # the take can be read from day 35 on
    found = events(stranger, made(as_grower))
    assert f"Read the take · {section.cross} · {tag_of(section).number}" in str(found[due]["description"])
    assert "Warm house, Bench 2:" in str(found[due]["description"])
    assert found[due]["url"] == f"https://tags.example/round/{due}/"


def test_what_is_overdue_counts_for_today_and_nothing_lies_beyond_six_weeks(as_grower, stranger, nursery):
    nursery.section(days_ago=40)
    nursery.routine("feed", rule="FREQ=MONTHLY;INTERVAL=2", starts=today() + timedelta(days=50))
    found = events(stranger, made(as_grower))
    assert "Read the take" in str(found[today()]["description"])
    assert max(found) <= today() + timedelta(days=42)
    assert not any("Feed" in str(event["description"]) for event in found.values())


def test_the_secret_is_shown_once_and_kept_nowhere(as_grower):
    secret = made(as_grower).split("/")[2].removesuffix(".ics")
    assert len(secret) >= 43  # 256 bits in base 64
    assert secret not in as_grower.get(OFFICE).content.decode()
    assert secret not in str(CalendarAddress.objects.values())


def test_ended_it_is_found_no_more_and_ending_twice_says_so(as_grower, stranger):
    address = made(as_grower)
    sent = {"address": CalendarAddress.objects.get().pk}
    assert stranger.get(address).status_code == 200
    assert as_grower.post(END, sent, follow=True).status_code == 200
    assert stranger.get(address).status_code == 404
    assert "is ended already" in as_grower.post(END, sent, follow=True).content.decode()
    assert stranger.get(f"/calendar/{'x' * 43}.ics").status_code == 404


def test_who_has_left_takes_their_addresses_along(as_grower, stranger, grower):
    address = made(as_grower)
    type(grower).objects.filter(pk=grower.pk).update(is_active=False)
    assert stranger.get(address).status_code == 404


def test_only_ones_own_are_seen_and_ended_but_an_owner_ends_any(owner, grower, viewer, stranger):
    address, _ = address_made(by=grower, words="kitchen tablet")
    other = signed_in(viewer)
    assert "kitchen tablet" not in other.get(OFFICE).content.decode()
    other.post(END, {"address": address.pk})
    assert CalendarAddress.objects.filter(pk=address.pk).exists()
    assert stranger.post(END, {"address": address.pk}).status_code == 401
    assert CalendarAddress.objects.filter(pk=address.pk).exists()
    assert "Tom Reed" in signed_in(owner).get(OFFICE).content.decode()
    signed_in(owner).post(END, {"address": address.pk})
    assert not CalendarAddress.objects.filter(pk=address.pk).exists()


def test_no_words_and_too_many_are_refused_beside_the_field(as_grower, grower):
    for words, said in (
        ("", "Say in a word or two"),
        ("x" * 61, "at most 60"),
        ("\x00", "There is a sign in it"),
    ):
        answer = as_grower.post(OFFICE, {"words": words})
        assert answer.status_code == 422
        assert said in answer.content.decode()
    for _ in range(MOST):
        address_made(by=grower, words="again")
    answer = as_grower.post(OFFICE, {"words": "one more"})
    assert answer.status_code == 422
    assert "End one that nobody reads" in answer.content.decode()


def test_the_queries_do_not_grow_with_what_is_due(as_grower, stranger, nursery, django_assert_num_queries):
    address = made(as_grower)
    nursery.section(days_ago=40)
    with CaptureQueriesContext(
        connection,
    ) as few:
        stranger.get(address)
    for _ in range(3):
        nursery.section(days_ago=40)
    with django_assert_num_queries(len(few)):
        stranger.get(address)
