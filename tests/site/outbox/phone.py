"""A phone's outbox, as a test fills and sends it."""

import uuid
from datetime import timedelta
from typing import Any

from django.test import Client
from django.utils import timezone

from nursery.models import LivingThing


def tapped(days_ago: int = 0) -> str:
    """The moment of a tap, with the offset of the nursery's own time."""
    return (timezone.localtime() - timedelta(days=days_ago)).replace(microsecond=0).isoformat()


def tap(act: str, thing: LivingThing | None = None, *, days_ago: int = 0, **changes: Any) -> dict[str, Any]:
    """One act as a phone keeps it: ``tap("pods", section, values={"seen": "green"})``."""
    told = {"id": str(uuid.uuid4()), "act": act, "values": {}, "tapped_at": tapped(days_ago)}
    return told | ({"thing": thing.pk} if thing else {}) | changes


def post(client: Client, *acts: Any, **more: Any) -> Any:
    """The response to one sending."""
    return client.post("/acts/", {"acts": list(acts)}, content_type="application/json", **more)


def send(client: Client, *acts: Any) -> list[dict[str, Any]]:
    """What became of each act."""
    response = post(client, *acts)
    assert response.status_code == 200, response.content
    return response.json()["acts"]
