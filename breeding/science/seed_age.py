"""Seed that lay long comes up like old seed, and has a timing of its own."""

from __future__ import annotations

from datetime import date

OLD_AFTER = 60
"""Days from ripe to sown; seed older than this is expected to come up like old seed. Our choice; no source."""


def germination_step(ripe_first: date | None, sown_last: date | None) -> str:
    """Which timing holds for a pot: that of old seed where it was old at sowing, or where nobody knows.

    >>> germination_step(date(2026, 1, 1), date(2026, 3, 2)), germination_step(None, date(2026, 3, 2))
    ('germination', 'germination_old')
    """
    if ripe_first is None or sown_last is None:
        return "germination_old"
    return "germination_old" if (sown_last - ripe_first).days > OLD_AFTER else "germination"
