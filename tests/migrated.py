"""An empty database with every migration applied: made once for a run, copied by whoever needs one.

Migrating takes seconds and copying milliseconds. What migrating itself does is tested where a first start is
(tests/site/test_owner.py and others begin with an empty folder).
"""

import fcntl
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from nursery.site.databases import SQLITE_FILE
from tests.isolation import RUN
from tests.site.processes import manage


def migrated_copy(to: Path) -> Path:
    """Put an empty SQLite database of this version at ``to``."""
    to.parent.mkdir(parents=True, exist_ok=True)
    return Path(shutil.copyfile(_migrated(), to))


def migrated_folder(folder: Path) -> Path:
    """Make ``folder`` a data folder that has been started once: its records are empty and up to date."""
    migrated_copy(folder / SQLITE_FILE)
    return folder


@contextmanager
def alone(lock: Path) -> Iterator[None]:
    """Let one worker at a time do what is in the block."""
    with lock.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        yield


def _migrated() -> Path:
    """The file that is copied; the first to ask makes it, and the other workers wait."""
    folder = RUN / "migrated"
    with alone(RUN / "migrated.lock"):
        if not folder.exists():
            draft = RUN / "migrating"
            done = manage(draft, "migrate", "-v0")
            assert done.returncode == 0, done.stderr
            draft.rename(folder)
    return folder / SQLITE_FILE
