"""The books as they stood when the day began, for the line under the day's list.

The line is drawn by what was asked then (see ``breeding.rounds.order.cut``). Nothing is stored for that: of the few
things that something was recorded of since, the rows are worked out again from the acts before. Left as they are now
are pots prepared for a session, tags, and whatever grew on a plant that went since.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from datetime import date, datetime, time
from typing import Any

from django.utils import timezone

from breeding.milestones.sections import OPENED
from breeding.milestones.spikes import OPEN
from breeding.rounds.books import Books
from breeding.rounds.gather import rows_whenever, with_rows
from breeding.rounds.rows import KINDS, FadingRow, Row, SectionRow, SpikeRow
from nursery.models import Act, ActLink
from nursery.records import registry
from nursery.records.milestones import seen_before
from nursery.seen import Seen

MOST_TOLD = 2000
"""Things whose rows are worked out again; whoever records more in a day brings in a nursery, and walks no round."""
CODES = tuple(kind.kind for kind in KINDS)


def as_the_day_began(books: Books, day: date) -> Books | None:
    """The books without what was recorded since; None where nothing was, and for any day but today."""
    if day != timezone.localdate():
        return None
    moment = timezone.make_aware(datetime.combine(day, time.min))
    told = _told_since(moment)
    put_off = {pk for pk, (kind, _, acts) in told.items() if kind == FadingRow.kind and "postponed" in acts}
    told = {pk: one for pk, one in told.items() if one[0] in CODES}
    known = {pk: kind for pk, (kind, made_at, _) in told.items() if made_at < moment}
    as_it_is = [
        row._replace(later_until=None) if isinstance(row, FadingRow) and row.pk in put_off else row
        for row in books.rows
        if isinstance(row, FadingRow) or row.pk not in told
    ]
    if not known and not put_off and len(as_it_is) == len(books.rows):
        return None
    return with_rows(books, (*as_it_is, *_rows_before(dict(sorted(known.items())[:MOST_TOLD]), moment)))


def _told_since(moment: datetime) -> dict[int, tuple[str, datetime, set[str]]]:
    """By thing: its kind, when it was made, and the kinds of acts recorded since that name it."""
    told: dict[int, tuple[str, datetime, set[str]]] = {}
    acts = Act.objects.filter(recorded_at__gte=moment).order_by()
    links = ActLink.objects.filter(act__recorded_at__gte=moment).order_by()
    for found, act in ((acts, "kind"), (links, "act__kind")):
        for pk, kind, made_at, said in found.values_list("thing_id", "thing__kind", "thing__made_at", act).distinct():
            told.setdefault(pk, (kind, made_at, set()))[2].add(said)
    return told


def _rows_before(known: dict[int, str], moment: datetime) -> Iterator[Row]:
    seen = seen_before(known, moment) if known else {}
    for kind in KINDS:
        ids = [pk for pk, code in known.items() if code == kind.kind]
        for row in rows_whenever(kind, ids) if ids else ():
            columns = registry.thing_kind(kind.kind).milestones(seen[row.pk])
            was = row._replace(**{name: told for name, told in columns.items() if name in row._fields})
            if columns["closed_on"] is None and not columns["cancelled"]:
                yield was._replace(**_MORE[kind](seen[row.pk])) if kind in _MORE else was


def _more_of_spike(seen: Iterable[Seen]) -> dict[str, Any]:
    flowers = [one for one in seen if one.data.get("seen") in OPEN]
    unready = [one for one in flowers[1:] if one.data["seen"] == "open" and not one.data["sex"]]
    return {"dabbed_on": _last(seen, {"pollinated"}), "unready_on": max((one.latest for one in unready), default=None)}


def _more_of_section(seen: Iterable[Seen]) -> dict[str, Any]:
    none = [one for one in seen if one.data.get("swelling") == "none"]
    opened = [one for one in seen if one.kind == "pod_look" and one.data["seen"] in OPENED]
    return {"none_readings": len(none), "seen_open": max((one.latest for one in opened), default=None)}


def _last(seen: Iterable[Seen], kinds: Collection[str]) -> date | None:
    return max((one.last for one in seen if one.kind in kinds and one.last), default=None)


_MORE: dict[type[Row], Callable[[list[Seen]], dict[str, Any]]] = {
    SpikeRow: _more_of_spike,
    SectionRow: _more_of_section,
}
"""What other tables have to say of a row, from its acts."""
