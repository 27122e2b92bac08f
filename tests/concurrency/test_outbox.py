"""A phone that sends its outbox twice at the same moment, as one does when the signal comes and goes."""

import pytest

from nursery.models import Act, NeedsALook
from tests.concurrency.together import together
from tests.conftest import signed_in
from tests.making import Nursery
from tests.site.outbox.phone import send, tap

TIMES = 5


@pytest.mark.parametrize("_", range(TIMES))
def test_sent_twice_at_once_each_act_is_recorded_once(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    acts = [tap("pods", section, days_ago=day, values={"seen": "green"}) for day in (3, 2, 1)]
    phones = [signed_in(nursery.by) for _ in range(2)]
    results = together(*[lambda phone=phone: send(phone, *acts) for phone in phones])
    assert [[one["is"] for one in result] for result in results] == [["recorded"] * 3] * 2
    assert Act.objects.filter(kind="pod_look").count() == 3


@pytest.mark.parametrize("_", range(TIMES))
def test_what_needs_a_look_is_held_once(_: int, nursery: Nursery) -> None:
    bad = tap("pods", nursery.section(days_ago=100))
    phones = [signed_in(nursery.by) for _ in range(2)]
    results = together(*[lambda phone=phone: send(phone, bad) for phone in phones])
    assert [result[0]["is"] for result in results] == ["needs_a_look"] * 2
    assert NeedsALook.objects.count() == 1


@pytest.mark.parametrize("_", range(TIMES))
def test_two_versions_at_once_keep_one_and_hold_the_other(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    first = tap("pods", section, values={"seen": "green"})
    second = first | {"values": {"seen": "turning"}}
    phones = [signed_in(nursery.by) for _ in range(2)]
    results = together(lambda: send(phones[0], first), lambda: send(phones[1], second))
    assert sorted(result[0]["is"] for result in results) == ["other_values", "recorded"]
    assert NeedsALook.objects.get().why == "other_values"
