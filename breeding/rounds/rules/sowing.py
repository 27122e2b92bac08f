"""A planned sowing is one task, on its day and until no pot waits any more."""

from __future__ import annotations

from datetime import date
from functools import partial

from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import waiting
from breeding.rounds.rows import SowingRow
from breeding.words.ages import plural

GETTING_READY, A_POT = 10, 2
"""Minutes for the bench and for each pot; our guesses, no source."""
PROMISED = 2
"""A planned evening comes before what is merely due: medium is warm and tags are printed. Our choice."""
SLOWLY = 14
"""Days over which an open session grows as pressing as it gets; our choice."""


def sow_session(row: SowingRow, books: Books, day: date) -> Next | None:
    minutes = GETTING_READY + A_POT * row.waiting
    return Next("sow", row.planned_for, waiting(PROMISED, row.planned_for, SLOWLY), partial(_tell, row), minutes)


def _tell(row: SowingRow, day: date) -> Told:
    planned = f"planned for {words.short(row.planned_for, day)}"
    sown = f"{row.pots_sown} of {plural(row.pots_planned, 'pot')} sown" if row.pots_sown else "none is sown yet"
    cleared = f"{row.pots_cleared} cleared" if row.pots_cleared else ""
    one = row.waiting == 1
    return Told(
        title=f"Sow: {plural(row.waiting, 'pot')} {'waits' if one else 'wait'}",
        reason=words.sentence(planned, sown, cleared, "what is not sown is cleared, so that no tag lies about"),
    )
