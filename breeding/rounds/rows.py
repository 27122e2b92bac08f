"""The open things as the rules see them: plain rows, with what the rules need and nothing else.

A row is made from columns in the order of its fields; PATHS says where a column is found that is not the kind's own.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import NamedTuple, NewType
from uuid import UUID

from django.utils import timezone

Written = NewType("Written", str)
"""A time as the database writes it: few rules ask for it, and to read it takes longer than all the rest of a row."""


class SpikeRow(NamedTuple):
    """A spike; ``dabbed_on`` is the last day on which one of its sections was pollinated.

    ``quarantine`` says why its plant is kept apart, empty when it is not. ``unready_on`` is the last day on which a
    look at its open flowers found nothing showing, the look that found them open left out.
    """

    kind = "spike"
    slug = "spikes"

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    place_id: int | None
    taxon_id: int | None
    clone_id: int | None
    position: str
    found_first: date | None
    found_last: date | None
    sex: str
    quarantine: str
    open_after: date | None
    open_by: date | None
    showing_on: date | None
    pollen_taken_on: date | None
    dabbed_on: date | None = None
    unready_on: date | None = None


class SectionRow(NamedTuple):
    """A pollinated section; ``none_readings`` counts the readings of take that found nothing swelling.

    ``seen_open`` is the last day on which a look at its pods found some open.
    """

    kind = "section"
    slug = "sections"

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    place_id: int | None
    taxon_id: int | None
    cross_id: int
    seed_parent_id: int | None
    pollen_parent_id: int | None
    spike_id: int
    order: int
    tie: str
    quarantine: str
    day0_first: date | None
    day0_last: date | None
    take: str
    bagged: bool
    turning_by: date | None
    open_after: date | None
    open_by: date | None
    harvested_on: date | None
    none_readings: int = 0
    seen_open: date | None = None


class PollenRow(NamedTuple):
    """A packet of pollen."""

    kind = "pollenlot"
    slug = "pollen"
    place_id = None

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    clone_id: int | None
    words: str
    storage: str
    collected_first: date | None
    collected_last: date | None
    best_before: date | None


class SeedRow(NamedTuple):
    """A bag or packet of seed; ``prepared_for`` is the last day for which pots of an open session wait for it."""

    kind = "seedlot"
    slug = "seed"
    place_id = None

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    cross_id: int
    seed_parent_id: int | None
    pollen_parent_id: int | None
    words: str
    storage: str
    ripe_first: date | None
    ripe_last: date | None
    prepared_for: date | None = None


class PotRow(NamedTuple):
    """A sown pot; ``ripe_first`` is the first day its seed can have been ripe, ``sowing`` the act that made it.

    ``split_last`` is the last day on which it can have been split, or split off from ``split_from_id``.
    """

    kind = "seedpot"
    slug = "pots"

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    place_id: int | None
    sown_first: date | None
    sown_last: date | None
    first_after: date | None
    first_by: date | None
    amount: str
    split_from_id: int | None
    split_first: date | None
    split_last: date | None
    sowing: UUID | None
    taxon_id: int | None
    cross_id: int
    seed_parent_id: int | None
    pollen_parent_id: int | None
    spike_id: int | None
    ripe_first: date | None


class RoutineRow(NamedTuple):
    """Something done again and again by a rule."""

    kind = "routine"
    slug = "routines"

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    place_id: int | None
    words: str
    rule: str
    starts: date
    done_on: date | None
    put_off_on: date | None


class SowingRow(NamedTuple):
    """A sowing session; it is sown at the potting bench, wherever its pots will stand."""

    kind = "sowingsession"
    slug = "sowings"
    place_id = None

    pk: int
    made_at: Written
    closed_on: date | None
    later_until: date | None
    last_look: date | None
    last_seen: str
    stage: str
    planned_for: date
    pots_planned: int
    pots_sown: int
    pots_cleared: int

    @property
    def waiting(self) -> int:
        return max(0, self.pots_planned - self.pots_sown - self.pots_cleared)


class FadingRow(NamedTuple):
    """Tags in use whose print fades, of all that stands at one place; ``pk`` is the place, 0 for what has none.

    ``prints`` are the days until which print can be read, the first one first, each with its number of tags. What is
    postponed is the place, so that nothing is that stands there.
    """

    kind = "place"
    slug = "places"
    closed_on = None
    last_look = None

    pk: int
    place_id: int | None
    later_until: date | None
    prints: tuple[tuple[date, int], ...]


Row = SpikeRow | SectionRow | PollenRow | SeedRow | PotRow | RoutineRow | SowingRow | FadingRow
KINDS: tuple[type[Row], ...] = (SpikeRow, SectionRow, PollenRow, SeedRow, PotRow, RoutineRow, SowingRow)

_CROSS = {
    "seed_parent_id": "cross__seed_parent_id",
    "pollen_parent_id": "cross__pollen_parent_id",
    "taxon_id": "cross__seed_parent__taxon_id",
}
POTS_LOT = "lot"
"""Where the last columns of a pot are found: those of its lot, which many pots share."""
PATHS: dict[type[Row], dict[str, str]] = {
    SpikeRow: {
        "place_id": "plant__place_id",
        "taxon_id": "plant__clone__taxon_id",
        "clone_id": "plant__clone_id",
        "quarantine": "plant__quarantine",
    },
    SectionRow: {"place_id": "spike__plant__place_id", "quarantine": "spike__plant__quarantine"} | _CROSS,
    PollenRow: {},
    SeedRow: _CROSS,
    RoutineRow: {},
    SowingRow: {},
    PotRow: {"sowing": "thing__born_by_id"}
    | {
        name: f"{POTS_LOT}__{path}"
        for name, path in {
            **_CROSS,
            "cross_id": "cross_id",
            "spike_id": "section__spike_id",
            "ripe_first": "ripe_first",
        }.items()
    },
}


def columns(row: type[Row]) -> list[str]:
    """What to ask of the table of this kind, in the order of the row's fields."""
    stored = [name for name in row._fields if name not in row._field_defaults]
    return [PATHS[row].get(name, "thing__made_at" if name == "made_at" else name) for name in stored]


def made_on(row: Row) -> date:
    """The nursery's own day on which it was entered."""
    return timezone.localdate(moment(row.made_at))


def moment(text: Written) -> datetime:
    """The time that is written; one without a zone is in UTC, as SQLite keeps them.

    >>> moment("2026-03-01 06:30:00").isoformat(), moment("2026-03-01 06:30:00.5+00").isoformat()
    ('2026-03-01T06:30:00+00:00', '2026-03-01T06:30:00.500000+00:00')
    """
    told = datetime.fromisoformat(text)
    return told if told.tzinfo else told.replace(tzinfo=UTC)
