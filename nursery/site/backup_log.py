"""When a backup was last made and last proved on this machine, as far as the command knows.

A note beside the records, not part of them: it is no promise that the file is still there.
"""

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

NAME = "backups.json"
WORDS = ("made", "proved")


@dataclass(frozen=True)
class Noted:
    """A backup was made, or proved by restoring it, at this moment, as this file."""

    at: datetime
    file: str


def note(folder: Path, what: str, file: Path) -> None:
    """Remember that ``file`` was just made or proved. A folder that cannot be written costs the note, nothing else."""
    entries = _raw(folder) | {what: {"at": datetime.now(UTC).isoformat(), "file": str(file.absolute())}}
    try:
        (folder / NAME).write_text(json.dumps(entries), encoding="utf-8")
    except OSError:
        return


def read(folder: Path) -> dict[str, Noted]:
    """What is known, by "made" and "proved"; what is not known is left out."""
    found = {}
    for what in WORDS:
        try:
            entry = _raw(folder)[what]
            found[what] = Noted(datetime.fromisoformat(entry["at"]), str(entry["file"]))
        except (KeyError, TypeError, ValueError):
            continue
    return found


def _raw(folder: Path) -> dict[str, dict[str, str]]:
    try:
        entries = json.loads((folder / NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return entries if isinstance(entries, dict) else {}
