"""What a server does once it has started, before it answers."""

from __future__ import annotations

import gc


def settle() -> None:
    """Leave all that was loaded out of every later search for garbage: it stays for as long as the server runs.

    A page that makes thousands of small things makes Python search several times, each time through all of Django.
    """
    gc.collect()
    gc.freeze()
