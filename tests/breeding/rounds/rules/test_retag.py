"""New tags where print fades: how long each print lasts is the nursery's own to say (labels), so only the rule is ours:
a month ahead, below everything else, one task for a place."""

from datetime import timedelta

import pytest
from django.test import Client

from breeding.rounds.ahead import coming
from breeding.rounds.tasks import Task, next_words, round_for
from nursery.models import LivingThing, Place
from nursery.records.tags import tags_printed
from nursery.records.watching import postponed, stopped, walked_past
from tests.breeding.rounds.rows import DAY, due_in, fading, next_of
from tests.making import Nursery, tag_of, today

PLENTY = 10_000


def test_it_is_asked_a_month_before_the_first_print_is_gone_and_waits_without_pressing():
    assert due_in("retag", fading((-40, 2), (-90, 5))) == 10
    assert due_in("retag", fading((-40, 2), later_until=DAY + timedelta(days=17))) == 17
    late = next_of("retag", fading((100, 2)))
    assert 0 < late.weigh(DAY) <= 2.1 and late.weigh(DAY) < late.weigh(DAY + timedelta(days=30))


@pytest.mark.parametrize(
    ("prints", "title", "reason"),
    [
        ([(-20, 1)], "", "Its print can be read until about Tue 4 Aug, by what it was printed on."),
        (
            [(-20, 2), (-25, 1), (-31, 7)],
            "Print 3 new tags",
            "The first of their prints can be read until about Tue 4 Aug, by what they were printed on.",
        ),
        ([(5, 1)], "", "Its print could be read until about Fri 10 Jul, by what it was printed on."),
        ([(-60, 3)], "Print 3 new tags", None),  # what a later day will ask
    ],
)
def test_it_says_how_many_and_until_when(prints, title, reason):
    told = next_of("retag", fading(*prints)).tell(DAY)
    assert told.title == title and (reason is None or told.reason == reason)


# --- through the books ---


def _prints(nursery: Nursery, days: int, *things: LivingThing) -> None:
    numbers = [tag_of(thing).number for thing in things]
    tags_printed(by=nursery.by, numbers=numbers, lasts_until=today() + timedelta(days=days))


def _asked() -> dict[int | None, Task]:
    found = round_for(today(), minutes=PLENTY)
    return {task.place_id: task for task in (*found.today, *found.rest) if task.kind == "retag"}


@pytest.mark.django_db
def test_one_task_a_place_until_another_print_is_recorded(nursery: Nursery) -> None:
    bench, tray = nursery.bench(), nursery.bench()
    plant, lot = nursery.plant(place=bench), nursery.seed(days_ago=30)
    spike, pot = nursery.spike(plant, days_ago=2), nursery.pot(lot, place=tray)
    section = nursery.section(nursery.female(days_ago=50), days_ago=45)
    gone = nursery.plant(place=tray)
    _prints(nursery, 20, plant, spike, bench, pot, lot, gone)
    _prints(nursery, 300, section)
    nursery.record(stopped, thing=gone)
    asked = _asked()
    assert {place: task.title for place, task in asked.items()} == {
        bench.pk: "Print 3 new tags",
        tray.pk: "Print a new tag",
        None: "Print a new tag",
    }
    assert [group.house for group in round_for(today(), minutes=PLENTY).groups][-1] == "Packets"
    assert (asked[None].url, asked[None].extra_links, len(asked[None].answers)) == ("", (), 1)
    ahead = [one for one in coming(today(), days=300) if one.title == "Print a new tag"]
    assert len(ahead) == 4 and ahead[-1].day == today() + timedelta(days=270), "the section's is a year away"
    tags_printed(by=nursery.by, numbers=[tag_of(one).number for one in (plant, spike, bench, lot)])
    assert _asked().keys() == {tray.pk}


@pytest.mark.django_db
def test_later_puts_off_the_place_and_nothing_that_stands_there(nursery: Nursery, as_grower: Client) -> None:
    bench = nursery.bench()
    spike = nursery.spike(nursery.plant(place=bench), days_ago=20)
    _prints(nursery, 5, spike)
    task = _asked()[bench.pk]
    printing, later = task.answers
    page = as_grower.get(printing.href).content.decode()
    assert f'value="{tag_of(spike).number}"' in page and "checked" in page
    html = as_grower.get("/?kind=retag").content.decode()
    assert "Print a new tag" in html and f'href="{printing.href}&amp;next=%2F' in html
    reply = as_grower.post(later.url, {"act_id": "", later.name: later.value}, headers={"HX-Request": "true"})
    assert reply.status_code == 200 and 'class="done"' in reply.content.decode()
    nursery.record(walked_past, place=bench, things=[spike])
    assert _asked() == {}, "walking past is no answer to it"
    until = today() + timedelta(days=3)
    assert Place.objects.get(pk=bench.pk).later_until == until
    assert next_words(Place.objects.get(pk=bench.pk), today()).startswith("print new tags")
    spike.refresh_from_db()
    assert spike.later_until is None
    nursery.record(postponed, thing=Place.objects.get(pk=bench.pk), until=today() + timedelta(days=30))
    assert "retag" not in {task.kind for task in round_for(until, minutes=PLENTY).today}
