"""What the traces are put together from: things of several kinds, each with the reason why it is listed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from nursery.site import fetch
from nursery.site.cards.parts import Row, row_of

MOST = 300
"""Rows of each trace; more than anybody looks at in one day."""


@dataclass(frozen=True)
class Trace:
    """One of the questions with its answer; ``lead`` says how the answer was found."""

    title: str
    rows: tuple[Row, ...]
    empty: str
    lead: str = ""


def trace_of(
    title: str,
    reasons: Sequence[tuple[int, str]],
    kinds: Iterable[str],
    today: date,
    *,
    empty: str,
    lead: str = "",
) -> Trace:
    """The things of these ids and kinds, in the order given, each with its reason. One query a kind."""
    shown = reasons[:MOST]
    wanted = {pk for pk, _ in shown}
    named = {one.pk: one for kind in kinds for one in fetch.listed(fetch.things(kind).filter(pk__in=wanted))}
    rows = tuple(row_of(named[pk], today, sub=reason) for pk, reason in shown if pk in named)
    count = f": {len(reasons)}" if len(reasons) <= MOST else f" (the first {MOST} of {len(reasons)})"
    return Trace(title + (count if reasons else ""), rows, empty, lead)
