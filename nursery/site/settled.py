"""What a server does once it has started, before it answers."""

from __future__ import annotations

import gc

LARGE = 100_000
"""Things made between two searches for garbage. Python's own number is 700; a large page makes a hundred thousand, of
which none is garbage before it is done."""


def settle() -> None:
    """Search for garbage seldom, and never among what was loaded: that stays for as long as the server runs."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(LARGE)
