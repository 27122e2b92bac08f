"""A lock holds, and two who take several never wait for each other in a circle."""

from django.db import connection, transaction

from breeding.models import Section, SeedPot, Spike
from breeding.records.pots import pot_looked_at
from breeding.records.sections import section_dabbed
from breeding.records.spikes import spike_looked
from nursery.models import Act, LivingThing, Place
from nursery.records import locks
from nursery.records.moves import moved
from nursery.records.numbers import next_numbers
from nursery.records.watching import walked_past
from tests.concurrency.together import Holder, together, waits_for
from tests.making import Nursery


def test_a_record_waits_until_the_thing_is_let_go(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=9)
    with Holder(lambda: locks.lock([Spike.objects.get(pk=spike.pk)])) as holder:
        [act] = waits_for(holder, lambda: spike_looked(act=nursery.act(), spike=spike, seen="buds"))
    assert isinstance(act, Act)


def test_a_record_waits_for_what_follows_from_its_thing(nursery: Nursery) -> None:
    """Looking at a pot rewrites the counts of its cross, so whoever holds the cross is waited for."""
    pot = nursery.pot()
    with Holder(lambda: locks.lock([pot.lot.cross])) as holder:
        [act] = waits_for(holder, lambda: pot_looked_at(act=nursery.act(), pot=pot, seen="first"))
    assert isinstance(act, Act)


def test_numbers_wait_for_each_other(nursery: Nursery) -> None:
    nursery.spike()
    first: list[int] = []
    with Holder(lambda: first.extend(next_numbers(1))) as holder:
        [later] = waits_for(holder, lambda: transaction.atomic()(next_numbers)(1))
    assert later[0] > first[0]


def test_what_was_recorded_while_waiting_is_seen(nursery: Nursery) -> None:
    """The second reads the thing after the first has committed, not as it was when it began to wait."""
    spike = nursery.spike(days_ago=9)

    def first() -> None:
        spike_looked(act=nursery.act(days_ago=1), spike=Spike.objects.get(pk=spike.pk), seen="over")

    with Holder(first) as holder:
        [act] = waits_for(holder, lambda: spike_looked(act=nursery.act(), spike=spike, seen="open"))
    assert [flag.sentence for flag in act.flags.all()] == ["This spike was over, stopped or aborted before."]


def test_another_thing_is_waited_for_on_sqlite_only(nursery: Nursery) -> None:
    """SQLite has one writer at a time; PostgreSQL holds the rows that were locked and no others."""
    held, free = nursery.spike(days_ago=9), nursery.spike(days_ago=9)
    with Holder(lambda: locks.lock([Spike.objects.get(pk=held.pk)])) as holder:
        look = lambda: spike_looked(act=nursery.act(), spike=free, seen="buds")  # noqa: E731
        [act] = waits_for(holder, look) if connection.vendor == "sqlite" else together(look)
    assert isinstance(act, Act)


def test_things_told_in_opposite_order_many_times_never_deadlock(nursery: Nursery) -> None:
    place = nursery.bench()
    things = [nursery.spike(), nursery.pot(), nursery.section(), nursery.plant()]

    def walk(order: list[LivingThing]) -> list[Act]:
        fresh = [type(thing).objects.get(pk=thing.pk) for thing in order]
        here = Place.objects.get(pk=place.pk)
        return [walked_past(act=nursery.act(), place=here, things=fresh) for _ in range(15)]

    forth, back = together(lambda: walk(things), lambda: walk(things[::-1]))
    assert (len(forth), len(back)) == (15, 15)


def test_acts_of_different_kinds_on_the_same_things_never_deadlock(nursery: Nursery) -> None:
    """A pot that moves, a dab that changes crosses, a look at a father's spike: each locks another handful."""
    section, pot, place = nursery.section(days_ago=30), nursery.pot(), nursery.bench()
    male = nursery.male()

    def dab() -> list[Act]:
        row = Section.objects.get(pk=section.pk)
        return [section_dabbed(act=nursery.act(), section=row, from_spike=male) for _ in range(10)]

    def look() -> list[Act]:
        row = Spike.objects.get(pk=male.pk)
        return [spike_looked(act=nursery.act(), spike=row, seen="open") for _ in range(10)]

    def move() -> list[Act]:
        row = SeedPot.objects.get(pk=pot.pk)
        return [moved(act=nursery.act(), thing=row, place=place) for _ in range(10)]

    results = together(dab, look, move)
    assert [len(acts) for acts in results] == [10, 10, 10]
