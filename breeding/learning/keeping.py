"""Fits on the disk: one JSON file for each timing, in a folder that no backup takes, for it can be made again."""

from __future__ import annotations

import json
import logging
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Kept:
    """Something worked out, under the key of what it was worked out from."""

    key: str
    told: Any


def kept(name: str) -> Kept | None:
    """What was kept last under this name; None where nothing was, or where the file is broken."""
    path = _path(name)
    try:
        read = json.loads(path.read_text(encoding="utf-8"))
        return Kept(str(read["key"]), read["told"])
    except FileNotFoundError:
        return None
    except (OSError, ValueError, KeyError, TypeError) as error:
        log.warning("What was learned cannot be read from %s (%s). It is worked out again.", path, error)
        return None


def keep(name: str, key: str, told: Any) -> None:
    """Write it whole or not at all. A disk that refuses is logged: it is worked out again next time."""
    path = _path(name)
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        descriptor, draft = tempfile.mkstemp(prefix=".draft-", dir=path.parent)
        with os.fdopen(descriptor, "w", encoding="utf-8") as writer:
            json.dump({"key": key, "told": told}, writer)
        os.replace(draft, path)
    except OSError as error:
        log.warning("What was learned cannot be written to %s (%s). It is worked out again next time.", path, error)


def _path(name: str) -> Path:
    return Path(settings.LEARNED) / f"{name}.json"
