"""How long an open pod keeps, as the page of the step of ripe pods shows it."""

from __future__ import annotations

from typing import Any

from breeding.learning.fits import Learning
from breeding.models import Expectation
from breeding.rounds.expected import GRACED, Expectations, source_words
from breeding.science.grace import Grace
from breeding.science.shipped import graces
from breeding.words import graces as words

SHARES = (0.1, 0.5, 0.9)


def grace_part(rows: list[Expectation], expectations: Expectations, learning: Learning) -> dict[str, Any] | None:
    """A table for each row of the step, the one for all first; None of a step of which no grace is learned."""
    if not rows or rows[0].step != GRACED:
        return None
    tables = [_table(row, expectations, learning) for row in sorted(rows, key=lambda row: row.taxon_id or 0)]
    return {"rule": words.RULE, "bags": words.BAGS, "tables": tables}


def _table(row: Expectation, expectations: Expectations, learning: Learning) -> dict[str, Any]:
    expected = expectations.own(row.step, row.taxon_id)
    set_here = graces(row.step, row.grace_plain, bagged=False)
    said = source_words(row.step, row.low, row.high, row.strength)
    lines = [_line("bare, before anything is found", set_here, said)]
    if expected.finds:
        lines.append(_line("bare, as found here", expected.graces(False), expected.grace_said(bagged=False)))
    lines += [
        _line("bare, in a hot spell", expected.in_heat.graces(False), expected.in_heat.grace_said(bagged=False)),
        _line("in a bag", expected.graces(True), said),
    ]
    return {"who": str(row.taxon) if row.taxon else "", "learned": _learned(row, set_here, learning), "lines": lines}


def _learned(row: Expectation, set_here: Grace, learning: Learning) -> str:
    found = learning.graces.get(row.taxon_id)
    if row.as_it_stands:
        return words.AS_IT_STANDS
    if found is None:
        return words.NOTHING_YET
    return words.learned_words(found.n, found.split, found.grace.mean - set_here.mean)


def _line(who: str, grace: Grace, said: str) -> dict[str, Any]:
    return {"who": who, "days": [grace.keeps(but=share) for share in SHARES], "said": said}
