"""Whatever is told: every open thing has a task within its longest gap, or says in words why not."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.db import transaction
from django.utils import timezone
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from breeding.models import PollenLot, Section, SeedLot, SeedPot, SowingSession, Spike
from breeding.rounds.tasks import Outlook, Task, round_for, tasks_for
from breeding.science.pollen import keeping
from breeding.science.shipped import shipped
from nursery.models import LivingThing, Person
from tests.breeding.acting import OF_SECTIONS, Story
from tests.making import Nursery, today

WATCHED = (Spike, Section, PollenLot, SeedLot, SeedPot, SowingSession)
STEPS = st.integers(8, 30)
TAKE_OPENS = timedelta(days=shipped("take").low)
TAKE_GIVES_WAY = timedelta(days=shipped("take").high + shipped("take").grace_plain)


@pytest.fixture
def people(nursery: Nursery, owner: Person) -> list[Person]:
    """A nursery with one of everything."""
    nursery.pot(nursery.seed(nursery.section(days_ago=200), days_ago=60), days_ago=50)
    nursery.male(days_ago=20)
    return [owner, nursery.person("owner")]


@pytest.fixture
def section(nursery: Nursery) -> Section:
    return nursery.section(days_ago=200)


def _tries(many: int) -> settings:
    return settings(
        max_examples=many,
        deadline=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow, HealthCheck.data_too_large],
    )


@_tries(12)
@given(data=st.data(), steps=STEPS)
def test_whatever_is_told_every_open_thing_is_asked_about_in_time(
    people: list[Person], data: st.DataObject, steps: int
) -> None:
    with transaction.atomic():
        story = Story(data, people)
        for _ in range(steps):
            story.step()
        things = [thing for model in WATCHED for thing in model.objects.all()]
        for thing in things:
            outlook = tasks_for(thing, today())
            is_asked_in_time_or_says_why_not(thing, outlook)
            says_it_in_sentences(outlook)
        the_round_holds_what_each_thing_says(things, today() + timedelta(days=data.draw(st.integers(0, 150))))
        transaction.set_rollback(True)


@_tries(60)
@given(data=st.data(), steps=st.integers(2, 5))
def test_whatever_is_told_of_a_section_it_is_asked_about_in_time(
    section: Section, owner: Person, data: st.DataObject, steps: int
) -> None:
    """Short stories of one section, so that a dab after a reading of take, or a reading on no known day, is drawn."""
    with transaction.atomic():
        story = Story(data, [owner], OF_SECTIONS)
        for _ in range(steps):
            story.tell()
        told = Section.objects.get(pk=section.pk)
        outlook = tasks_for(told, today())
        is_asked_in_time_or_says_why_not(told, outlook)
        says_it_in_sentences(outlook)
        transaction.set_rollback(True)


def is_asked_in_time_or_says_why_not(thing: LivingThing, outlook: Outlook) -> None:
    if not thing.is_open or _plant_is_closed(thing):
        assert outlook.why_not.endswith(".")
        assert outlook.tasks == ()
        return
    if thing.kind == "seedpot" and thing.stage == "prepared":
        assert outlook.tasks == ()
        assert outlook.why_not.endswith(".")
        return
    assert outlook.tasks, f"{thing} is open, and nothing is asked"
    first = min(task.due for task in outlook.tasks)
    if thing.later_until and thing.later_until > today():
        assert first >= thing.later_until
        assert outlook.why_not.startswith("It was put off until ")
    latest = max(_latest(thing), thing.later_until or date.min, today())  # what was told today can be late already
    assert first <= latest, f"{thing}: {first} is later than {latest}"


def _plant_is_closed(thing: LivingThing) -> bool:
    plant = {"spike": lambda: thing.plant, "section": lambda: thing.spike.plant}.get(thing.kind, lambda: None)()
    return plant is not None and plant.closed_on is not None


def says_it_in_sentences(outlook: Outlook) -> None:
    for task in outlook.tasks:
        assert task.reason.endswith(".")
        assert task.reason[0].isupper()
        assert "None" not in task.reason
        assert "-" not in task.reason.replace("leaf-mould", ""), "no negative number of days"
        assert (task.answers[-1].label == "Later") is (task.due <= today())
        assert task.due_words
        assert task.urgency >= 0


def the_round_holds_what_each_thing_says(things: list[LivingThing], day: date) -> None:
    """The same tasks, word for word, and no others; but for remarks, which a thing's own page has in its story, and for
    what the same visit may cover."""
    found = round_for(day, minutes=100_000)
    in_round: dict[int, list[Task]] = {}
    for task in found.today:
        in_round.setdefault(task.thing_id, []).append(replace(task, remark=None, beside=()))
    said = {thing.pk: tasks_for(thing, day).due(day) for thing in things}
    assert found.rest == ()
    assert _in_order(in_round) == _in_order({pk: tasks for pk, tasks in said.items() if tasks})


def _in_order(tasks: Mapping[int, Iterable[Task]]) -> dict[int, list[Task]]:
    return {pk: sorted(found, key=lambda task: task.kind) for pk, found in tasks.items()}


def _latest(thing: LivingThing) -> date:
    """The last day by which something must be asked, worked out from what the timings promise."""
    made = timezone.localdate(thing.thing.made_at)
    looked = thing.last_look or made
    match thing:
        case Spike():
            return _known_since(looked, thing.open_by) + timedelta(days=10)
        case Section():
            since = max(looked, thing.harvested_on or looked)
            take = thing.day0_first + TAKE_OPENS if thing.day0_first and thing.stage == "pollinated" else since
            unread = thing.day0_first + TAKE_GIVES_WAY if thing.day0_first and not thing.take else since
            return max(since + timedelta(days=28), take, unread)
        case PollenLot():
            return (thing.best_before or made + timedelta(days=keeping(thing.storage).days)) + timedelta(days=1)
        case SeedLot():
            gap = 90 if thing.storage == "refrigerator" else 28
            sessions = SowingSession.objects.filter(pots__lot=thing).values_list("planned_for", flat=True)
            return max(looked, thing.ripe_last or made, made, *sessions) + timedelta(days=gap)
        case SowingSession():
            return thing.planned_for
        case SeedPot():
            gap = 90 if thing.stage == "up" else 28
            return (thing.last_look or thing.sown_last or made) + timedelta(days=gap)
    raise AssertionError(f"{thing.kind} is not watched.")


def _known_since(looked: date, seen_open: date | None) -> date:
    return max(looked, seen_open or looked)
