"""The seed that may be sown, each lot with its turn and what is suggested for it."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Count, F, OuterRef, Q, QuerySet, Subquery, Sum

from breeding.models import SeedCleaned, SeedLot
from breeding.science import sowing
from breeding.words.names import FETCH, name_parts
from nursery.models import Tag
from nursery.names import NamePart

MOST_LOTS = 100
"""Lots listed at most, the next in turn first; more would be no plan for one evening."""

_WAITING = Q(pots__unsown=True, pots__cancelled=False, pots__closed_on=None)
_FILLED = SeedCleaned.objects.filter(
    act__thing=OuterRef("pk"), act__voided_by=None, filled_percent__isnull=False
).order_by(F("act__day_last").desc(nulls_last=True), "-act__recorded_at")
_TAG = Tag.objects.filter(thing=OuterRef("pk"), retired=False).order_by("-made_at", "-number")


@dataclass(frozen=True)
class Choice:
    """A lot that may be sown: why now, how much is free of it, of how many pods it came, how many pots got of it."""

    lot: SeedLot
    number: int | None
    name_parts: tuple[NamePart, ...]
    why: str
    free: int | None
    pods: int | None
    sown: int = 0

    def share(self, size: sowing.PotSize, density: float) -> sowing.Share:
        """The share in seeds, or in pods where nobody counted the seeds but somebody the pods."""
        most = MOST_POTS_A_LINE
        if self.free is None and self.pods:
            return sowing.shared(self.pods, each=sowing.pods_a_pot(size), most=most)
        return sowing.shared(self.free, each=sowing.seeds_a_pot(size, density), most=most)

    @property
    def in_pods(self) -> bool:
        return self.free is None and bool(self.pods)


MOST_POTS_A_LINE = 100


def choices(today: date, *, also: Collection[int] = ()) -> list[Choice]:
    """Open lots in turn, and those of these ids, open or not; three queries however many there are."""
    wanted = _lots().filter(Q(closed_on=None) | Q(pk__in=also), cancelled=False)
    lots = {lot.pk: lot for lot in wanted}
    turns = sowing.in_turn([_seed(lot, today) for lot in lots.values()])
    shown = [turn for place, turn in enumerate(turns) if place < MOST_LOTS or turn.seed.pk in also]
    return [_choice(lots[turn.seed.pk], turn) for turn in shown]


def _lots() -> QuerySet[SeedLot]:
    rows = SeedLot.objects.select_related(*FETCH["seedlot"], "thing__born_by__harvested")
    return rows.prefetch_related("cross__candidates").annotate(
        number=Subquery(_TAG.values("number")[:1]),
        filled=Subquery(_FILLED.values("filled_percent")[:1]),
        waiting=Count("pots", filter=_WAITING),
        reserved=Sum("pots__planned_seeds", filter=_WAITING),
    )


def _seed(lot: Any, today: date) -> sowing.Seed:
    return sowing.Seed(
        pk=lot.pk,
        age=(today - lot.ripe_first).days if lot.ripe_first else None,
        storage=lot.storage,
        left=lot.left,
        filled_percent=lot.filled,
        wanted=lot.cross.wanted,
        waiting=lot.waiting,
    )


def _choice(lot: Any, turn: sowing.Turn) -> Choice:
    free = None if lot.left is None else max(0, lot.left - (lot.reserved or 0))
    harvest = getattr(lot.thing.born_by, "harvested", None)
    return Choice(
        lot, lot.number, tuple(name_parts(lot)), turn.why, free, harvest.pods if harvest else None, lot.pots_sown
    )
