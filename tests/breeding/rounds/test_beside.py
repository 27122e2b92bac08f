"""While you are here: looks that are not due yet, offered on the visit that something due asks for. Our own rule; no
source."""

import re
import uuid
from collections.abc import Iterable
from datetime import timedelta

import pytest
from django.test import Client

from breeding.models import Section
from breeding.records import pods
from breeding.rounds.beside import MOST_OFFERED, beside
from breeding.rounds.books import Next
from breeding.rounds.rows import Row
from breeding.rounds.tasks import Round, round_for
from nursery.models import Act
from nursery.records import house, watching
from tests.breeding.rounds.rows import DAY, before, pot, section, spike
from tests.making import Nursery, tag_of, today

SOWING, PLENTY = uuid.UUID(int=1), 10_000


def _asks(kind: str, due_in: int) -> list[Next]:
    return [Next(kind, DAY + timedelta(days=due_in), weigh=lambda day: 0.0, tell=lambda day: None)]


def _offered(hosts: Iterable[Row], asked: dict[Row, list[Next]]) -> list[tuple[int, int]]:
    """The place of the host and the id of each thing offered."""
    found = beside(list(hosts), list(asked), lambda row: asked[row], DAY)
    return [(one.host, one.row.pk) for one in found]


HOST = section(pk=10, spike_id=1, last_look=before(20))


@pytest.mark.parametrize(
    ("looked", "due_in", "kind", "facts", "offered"),
    [
        (9, 3, "pods", {}, True),  # a quarter of 12 days
        (8, 3, "pods", {}, False),
        (40, 5, "pods", {}, True),
        (40, 6, "pods", {}, False),  # a few days, however long the wait
        (20, 3, "take", {}, False),  # never before its time
        (20, 3, "harvest", {}, False),
        (20, -2, "take", {}, True),  # due, and rolled over for want of minutes
        (20, -2, "bag", {}, False),  # a job
        (20, 3, "pods", {"later_until": DAY + timedelta(days=3)}, False),  # somebody said later
        (20, 3, "pods", {"later_until": DAY}, True),
        (20, 3, "pods", {"spike_id": 2}, False),
    ],
)
def test_what_is_offered(looked, due_in, kind, facts, offered):
    other = section(pk=11, **{"spike_id": 1, "last_look": before(looked)} | facts)
    asked = {HOST: _asks("pods", 0), other: _asks(kind, due_in)}
    assert _offered([HOST], asked) == ([(0, 11)] if offered else [])


def test_a_spike_and_its_sections_are_one_visit_and_stand_beside_its_first_task():
    stem, first, second = spike(pk=1, last_look=before(20)), section(pk=2, spike_id=1), section(pk=3, spike_id=1)
    first, second = first._replace(last_look=before(20)), second._replace(last_look=before(20))
    elsewhere = section(pk=9, spike_id=8)
    asked = {stem: _asks("spikes", 2), first: _asks("pods", 0), second: _asks("pods", 4), elsewhere: _asks("pods", 0)}
    assert _offered([elsewhere, first], asked) == [(1, 1), (1, 3)], "what is due soonest first"
    assert _offered([elsewhere, first, second], asked) == [(1, 1)], "what stands in the list is not offered again"


def test_pots_are_one_visit_by_sowing_and_place_and_never_too_many():
    tray = [pot(pk=n, sowing=SOWING, place_id=1, last_look=before(30)) for n in range(1, 30)]
    away = pot(pk=40, sowing=SOWING, place_id=2, last_look=before(30))
    other = pot(pk=41, sowing=uuid.UUID(int=2), place_id=1, last_look=before(30))
    asked = {row: _asks("pots", 3) for row in (*tray, away, other)}
    assert _offered([tray[0]], asked) == [(0, n) for n in range(2, 2 + MOST_OFFERED)]


# --- through the books, and on the page ---


@pytest.fixture
def spike_of_three(nursery: Nursery) -> list[Section]:
    """Three sections of one spike: one due, one due in a few days, one looked at yesterday."""
    plant = nursery.plant(place=nursery.bench("Long bench"))
    stem = nursery.spike(plant, sex="female", days_ago=160)
    sections = [nursery.section(stem, days_ago=140) for _ in range(3)]
    for one in sections:
        nursery.record(pods.take_read, section=one, swelling="most", days_ago=100)
    for one, seen in zip(sections, (14, 8, 1), strict=True):
        nursery.record(pods.pods_looked_at, section=one, seen="green", days_ago=seen)
    nursery.record(watching.postponed, thing=stem, until=today() + timedelta(days=60))
    return sections


def _due_days(found: Round) -> dict[int, int]:
    return {task.thing_id: (task.due - found.day).days for task in found.today}


def test_the_round_offers_without_counting(nursery: Nursery, spike_of_three: list[Section]) -> None:
    due, near, fresh = (one.pk for one in spike_of_three)
    found = round_for(today(), minutes=PLENTY, kind="pods")
    [task] = found.today
    [offered] = task.beside
    assert (task.thing_id, offered.thing_id) == (due, near)
    assert (found.minutes_needed, found.counts["pods"], found.rest_count) == (1, 1, 0)
    assert 0 < (offered.due - found.day).days <= 5 and offered.answers, offered
    assert task.beside_words == f"While you are here: look at pods, section 2 {tag_of(spike_of_three[1]).number}."
    later = round_for(offered.due, minutes=PLENTY)
    assert {due, near} <= _due_days(later).keys(), "offered or not, it is due on its day"
    assert fresh not in _due_days(later)


def test_it_is_answered_in_place_and_walked_past_with_the_bench(
    nursery: Nursery, spike_of_three: list[Section], as_grower: Client
) -> None:
    due, near, fresh = (one.pk for one in spike_of_three)
    page = as_grower.get("/?kind=pods")
    [bench] = page.context["groups"]
    [task] = bench.tasks
    [offered] = task.beside
    html = page.content.decode()
    listed = re.findall(rf'name="things" value="(\d+)" form="{bench.walk}"', html)
    assert listed == [str(due), str(near)], "what the page lists, and nothing else"
    assert html.index(f'formaction="/sections/{due}/pods/"') < html.index("While you are here")
    assert html.index("While you are here") < html.index(f'formaction="/sections/{near}/pods/"')
    sent = {"act_id": offered.act_id, "seen": "green"}
    reply = as_grower.post(offered.answers[0].url, sent, headers={"HX-Request": "true"})
    assert reply.status_code == 200 and 'class="done"' in reply.content.decode()
    assert Act.objects.get(pk=offered.act_id).thing_id == near
    assert round_for(today(), kind="pods").today[0].beside == ()


def test_what_rolls_over_stands_beside_the_visit_and_not_below_as_well(
    nursery: Nursery, as_grower: Client, as_viewer: Client, owner
) -> None:
    stem, lot = nursery.female(days_ago=45), nursery.pollen(days_ago=40, storage="freezer")
    for _ in range(8):
        nursery.section(stem, lot=lot, days_ago=40)
    house.house_changed(by=owner, name="Ours", public_address="", minutes_a_day=5)
    shown = as_grower.get("/?kind=take").context
    tasks = [task for group in shown["groups"] for task in group.tasks]
    below = [task for group in shown["later"].groups for task in group.tasks] if shown["later"] else []
    beside_it = [one for task in tasks for one in task.beside]
    assert len(tasks) + len(beside_it) == 8 and {one.kind for one in beside_it} == {"take"}
    listed = [(one.thing_id, one.kind) for one in (*tasks, *beside_it, *below)]
    assert len(listed) == len(set(listed))
    assert (below, shown["later"]) == ([], None)
    [quiet] = as_viewer.get("/?kind=take").context["groups"]
    assert {one.answers for task in quiet.tasks for one in task.beside} == {()} and quiet.walk == ""
