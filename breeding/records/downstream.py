"""What came of a clone: the trace from it to everything that bears its name."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import Model, Q, QuerySet

from breeding.models import Cross, PollenLot, Section, SeedLot, SeedPot, Spike
from nursery.models import Clone, Plant


@dataclass(frozen=True)
class Downstream:
    """Ids by kind of thing, of all that counts still; the clones are those raised from it, at any remove."""

    by_kind: dict[str, tuple[int, ...]]

    def __iter__(self) -> Iterator[int]:
        for ids in self.by_kind.values():
            yield from ids


def raised_from(clone: Clone) -> list[int]:
    """Clones of which this one is an ancestor, at any remove, itself not among them; nearest first.

    Undone ones lead on no further: what they had, nobody raised.
    """
    found: dict[int, None] = {}
    last = [clone.pk]
    while last:
        born_of = Q(seed_parent__in=last) | Q(pollen_parent__in=last)
        children = Clone.objects.filter(born_of, cancelled=False).exclude(pk=clone.pk).order_by("pk")
        last = [pk for pk in children.values_list("pk", flat=True) if pk not in found]
        found |= dict.fromkeys(last)
    return list(found)


def downstream_of(clone: Clone) -> Downstream:
    """All that bears this clone's name: its plants, spikes and pollen, the crosses it has a part in, their sections,
    seed and pots, the clones raised from it, and again what those have.
    """
    raised = raised_from(clone)
    clones = [clone.pk, *raised]
    crosses = Cross.objects.filter(Q(seed_parent__in=clones) | Q(pollen_parent__in=clones) | Q(candidates__in=clones))
    of_crosses = crosses.filter(cancelled=False).values("pk")
    rows: dict[str, QuerySet[Any]] = {
        "plant": Plant.objects.filter(clone__in=clones),
        "spike": Spike.objects.filter(plant__clone__in=clones),
        "pollenlot": PollenLot.objects.filter(Q(clone__in=clones) | Q(candidates__in=clones)),
        "cross": Cross.objects.filter(pk__in=of_crosses),
        "section": Section.objects.filter(cross__in=of_crosses),
        "seedlot": SeedLot.objects.filter(cross__in=of_crosses),
        "seedpot": SeedPot.objects.filter(lot__cross__in=of_crosses),
    }
    return Downstream({"clone": tuple(raised)} | {code: _ids(found) for code, found in rows.items()})


def _ids(rows: QuerySet[Model]) -> tuple[int, ...]:
    return tuple(rows.filter(cancelled=False).order_by("pk").values_list("pk", flat=True).distinct())
