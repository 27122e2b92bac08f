"""What a change of a timing would do, before it is saved: to today's round, and to the looks at each thing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from breeding.learning.fits import Learning, finds_for, fitted_now, turning_of, waits_for
from breeding.learning.graces import grace_now
from breeding.rounds.books import Books
from breeding.rounds.expected import Expectations, Expected, prior_of
from breeding.rounds.gather import gather
from breeding.rounds.rules import nexts_for
from breeding.rounds.stored import stored
from breeding.science.cadence import Spent, looks_and_losses, turns

WATCHED = frozenset({"spike_open", "spike_over", "ripe", "germination", "germination_old"})
"""Steps whose end somebody looks for, lest something be lost."""


class Effect(NamedTuple):
    """How many things would be asked for today, now and then; how many sooner, later, or on the same day as now.

    ``spent`` is what the looks at each come to, of steps that are watched for what may be lost.
    """

    asked_now: int
    asked_then: int
    sooner: int
    later: int
    same: int
    now: Expected
    then: Expected
    spent_now: Spent | None
    spent_then: Spent | None


def effect_of(changed: Expected, *, taxon_id: int | None, day: date) -> Effect:
    """Of this row in the place of the one for its step and taxon, with what the log says on top of it."""
    found = stored()
    rows = {(taxon, row.step): row for taxon, row in found.rows}
    rows[taxon_id, changed.step] = changed
    before = found.expectations()
    learning = _learned_on_top(changed, taxon_id, found.learning())
    after = Expectations(((taxon, row) for (taxon, _), row in rows.items()), learning, found.heat)
    books = gather()
    dues_before, dues_after = (_dues(replace(books, expectations=one), day) for one in (before, after))
    now, then = before.of(changed.step, taxon_id), after.of(changed.step, taxon_id)
    now_then = [(due, dues_after.get(key, due)) for key, due in dues_before.items()]
    return Effect(
        asked_now=sum(due <= day for due in dues_before.values()),
        asked_then=sum(due <= day for due in dues_after.values()),
        sooner=sum(later < due for due, later in now_then),
        later=sum(later > due for due, later in now_then),
        same=sum(later == due for due, later in now_then),
        now=now,
        then=then,
        spent_now=spent_on(now, before.of("turning", taxon_id)),
        spent_then=spent_on(then, after.of("turning", taxon_id)),
    )


def spent_on(expected: Expected, turning: Expected, risk: float | None = None) -> Spent | None:
    """Looks at one thing, and the share lost unseen, by this risk or the accepted one, bare of a bag; None where
    nothing is watched for its end. Pods are waited for to turn (see ``breeding.rounds.rules.pods``)."""
    if expected.step not in WATCHED:
        return None
    law, grace = expected.timing, expected.graces(False)
    if expected.step == "ripe":
        law, grace = turns(law, grace, turning.timing)
    return looks_and_losses(law, grace, risk or expected.risk, expected.longest_gap)


def _learned_on_top(changed: Expected, taxon_id: int | None, learning: Learning) -> Learning:
    """What was learned, with the fit on top of this one window worked out afresh; nothing of it is kept."""
    prior = prior_of(taxon_id, changed)
    waits = waits_for(prior, learning)
    fits = {key: fit for key, fit in learning.fits.items() if key != (changed.step, taxon_id)}
    if waits and not changed.as_it_stands:
        fits[changed.step, taxon_id] = fitted_now(prior, waits)
    graces = dict(learning.graces)
    if prior.grace and (finds := finds_for(prior, learning)):
        graces[taxon_id] = grace_now(prior.grace, finds, turning_of(fits))
    return Learning(fits, learning.kinds, learning.failed, learning.waits, graces, learning.finds)


def _dues(books: Books, day: date) -> dict[tuple[int, str], date]:
    return dict(_each_due(books, day))


def _each_due(books: Books, day: date) -> Iterator[tuple[tuple[int, str], date]]:
    for row in books.rows:
        for found in nexts_for(row, books, day):
            yield (row.pk, found.kind), found.due
