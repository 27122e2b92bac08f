"""What an act said, as one hash, by which the same act sent twice is known: the same today and after any restart."""

import hashlib
import json
from datetime import date, time
from uuid import UUID

import pytest

from nursery.days import Day
from nursery.models import Person, Plant
from nursery.records.core import NewAct
from nursery.records.payloads import payload_hash

ACT = NewAct(UUID(int=1), Person(pk=2), day=Day.month(2026, 3), at=time(7, 30), note="wet")


def _hash(**said: object) -> str:
    return payload_hash(ACT, "spike_look", [Plant(pk=7)], said)


def test_hashes_of_records_stay_as_they_are() -> None:
    told = {
        "kind": "spike_look",
        "on": [7],
        "day": ["2026-03-01", "2026-03-31", "month"],
        "at": "07:30:00",
        "note": "wet",
        "replaces": None,
        "said": {"by": 2, "pair": [1, 2], "seen": "buds", "until": "2026-03-09"},
    }
    plain = hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()
    assert _hash(seen="buds", by=Person(pk=2), pair=(1, 2), until=date(2026, 3, 9)) == plain


@pytest.mark.parametrize("kind", [set, frozenset])
def test_a_set_is_told_in_one_order(kind: type) -> None:
    letters = [*"abcdefghijklm"]
    assert _hash(seen=kind(letters)) == _hash(seen=letters)
