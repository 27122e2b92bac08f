"""The order in which a person walks: a place takes its turn one earlier or one later among its neighbours."""

import uuid
from dataclasses import replace

from django.db import transaction

from nursery.models import Act, Place
from nursery.records import locks, rights
from nursery.records.core import NewAct
from nursery.records.places import place_renamed


@transaction.atomic
def turn_changed(*, act: NewAct, place: Place, earlier: bool) -> list[Act]:
    """Let a place change turns with the neighbour before it (``earlier``) or behind it.

    Each place whose turn changes gets an act of its own; the sent UUID names the first of them, so the same tap twice
    moves once. At the end of the row nothing happens.

    Raises:
        Refused: ``act.by`` is no owner.
    """
    rights.must_be_owner(act.by)
    row = list(Place.objects.filter(inside=place.inside_id, cancelled=False))
    locks.lock(row)
    if Act.objects.filter(pk=act.id).exists():
        return []
    turns = _turns_after(sorted(row, key=walking_key), place, earlier=earlier)
    changed = [(one, turn) for one, turn in turns if one.order != turn]
    ids = [act.id, *(uuid.uuid5(act.id, str(one.pk)) for one, _ in changed[1:])]
    return [
        place_renamed(act=replace(act, id=pk), place=one, name=one.name, order=turn)
        for pk, (one, turn) in zip(ids, changed, strict=False)
    ]


def walking_key(place: Place) -> tuple[int, str, int]:
    """Sorts the places of one row as they are walked; the same turn twice goes by name."""
    return (place.order, place.name.casefold(), place.pk)


def _turns_after(row: list[Place], place: Place, *, earlier: bool) -> list[tuple[Place, int]]:
    """Every place of the row with the turn it then has, counted from 1."""
    here = row.index(place)
    there = here - 1 if earlier else here + 1
    if 0 <= there < len(row):
        row[here], row[there] = row[there], row[here]
        return [(one, turn) for turn, one in enumerate(row, start=1)]
    return []
