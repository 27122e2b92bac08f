"""One tap for several things, sent twice at once, and two people answering the same bench at once."""

import uuid

import pytest

from breeding.models import SeedPot
from breeding.records.pots import pot_looked_at
from nursery.models import Act, Together, Void
from nursery.records.errors import AlreadySent
from nursery.records.together import recorded_together, undone_together
from tests.concurrency.together import together
from tests.making import Nursery

TIMES = 4


def _tap(nursery: Nursery, pots: list[SeedPot], submit: uuid.UUID, seen: str = "nothing") -> list[Act]:
    things = list(SeedPot.objects.filter(pk__in=[pot.pk for pot in pots]).order_by("?"))
    return recorded_together(
        submit=submit,
        things=things,
        record=lambda pot, id: pot_looked_at(act=nursery.act(id=id), pot=pot, seen=seen),
    )


@pytest.mark.parametrize("_", range(TIMES))
def test_the_same_tap_at_once_is_one_act_each_and_both_succeed(_: int, nursery: Nursery) -> None:
    pots, submit = nursery.pots(4, days_ago=60), uuid.uuid4()
    first, second = together(*[lambda: _tap(nursery, pots, submit)] * 2)
    assert {act.pk for act in first} == {act.pk for act in second}
    assert (Act.objects.filter(kind="pot_look").count(), Together.objects.count()) == (4, 4)


@pytest.mark.parametrize("_", range(TIMES))
def test_two_versions_of_one_tap_keep_one_of_them_whole(_: int, nursery: Nursery) -> None:
    pots, submit = nursery.pots(4, days_ago=60), uuid.uuid4()
    results = together(lambda: _tap(nursery, pots, submit), lambda: _tap(nursery, pots, submit, seen="few"))
    assert sorted(type(result) for result in results if isinstance(result, AlreadySent)) == [AlreadySent]
    assert Act.objects.filter(kind="pot_look").values("potlook__seen").distinct().count() == 1


@pytest.mark.parametrize("_", range(TIMES))
def test_two_people_who_answer_the_same_pots_at_once_never_wait_in_a_circle(_: int, nursery: Nursery) -> None:
    pots = nursery.pots(6, days_ago=60)
    results = together(*[lambda: _tap(nursery, pots, uuid.uuid4())] * 3)
    assert [len(result) for result in results] == [6, 6, 6]


@pytest.mark.parametrize("_", range(TIMES))
def test_undone_by_two_at_once_is_undone_once(_: int, nursery: Nursery) -> None:
    pots, submit = nursery.pots(4, days_ago=60), uuid.uuid4()
    _tap(nursery, pots, submit)
    results = together(*[lambda: undone_together(act=nursery.act(), submit=submit)] * 2)
    assert not [result for result in results if isinstance(result, Exception)]
    assert Void.objects.count() == 4
