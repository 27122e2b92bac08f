import hashlib
import json
from collections.abc import Iterable
from typing import Any

from django.db.models import Model

from nursery.models import LivingThing


def payload_hash(act: Any, kind: str, on: Iterable[LivingThing], said: dict[str, Any]) -> str:
    payload = {
        "kind": kind,
        "on": [thing.pk for thing in on],
        "day": [act.day.first, act.day.last, act.day.said] if act.day else None,
        "at": act.at,
        "note": act.note,
        "replaces": act.replaces.pk if act.replaces else None,
        "said": said,
    }
    return hashlib.sha256(json.dumps(payload, sort_keys=True, default=_plain).encode()).hexdigest()


def _plain(value: Any) -> Any:
    if isinstance(value, Model):
        return value.pk
    if isinstance(value, set | frozenset):
        return sorted(value)  # the order of a set is another one after a restart
    return str(value)
