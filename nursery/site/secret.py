"""The secret that signs cookies: made on the first start, kept in the data folder, readable by its owner only."""

import os
import tempfile
from pathlib import Path

from django.utils.crypto import get_random_string

from nursery.site.env import BadSetting

NAME = "secret_key"
LENGTH = 64


def secret_key(folder: Path) -> str:
    """The key kept in ``folder``; a first start makes both, the folder and the key.

    Two processes that start together agree on one key: the file appears with its content or not at all.

    Raises:
        BadSetting: it is no folder, or none that can be made and written in.
    """
    file = folder / NAME
    try:
        if not file.exists():
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            _make(file)
        return file.read_text(encoding="ascii").strip()
    except OSError as error:
        raise BadSetting(
            f"Records cannot be kept in {folder} ({error.strerror}); "
            "set TEPAL_DATA to a folder that can be made and written in."
        ) from error


def _make(file: Path) -> None:
    """Write a new key beside ``file`` and link it into place, unless another process was faster."""
    descriptor, draft = tempfile.mkstemp(prefix=f"{NAME}.", dir=file.parent)  # mkstemp: 0600, whatever the umask
    with os.fdopen(descriptor, "w", encoding="ascii") as writer:
        writer.write(get_random_string(LENGTH) + "\n")
        writer.flush()
        os.fsync(writer.fileno())
    try:
        os.link(draft, file)
    except FileExistsError:
        return
    finally:
        os.unlink(draft)
