"""What a split-off packet, lot or pot has from the one that it came from: its day, its age, its parents."""

from collections.abc import Iterable
from datetime import date
from functools import cache
from typing import TypeVar

from breeding.models import PollenLot, SeedLot, SeedPot
from breeding.science.pollen import best_before
from nursery.records import locks, milestones
from nursery.records.errors import Refused
from nursery.records.prepared import Prepared
from nursery.seen import Seen

Lot = TypeVar("Lot", PollenLot, SeedLot, SeedPot)
Move = tuple[date, str]


def with_parts(lots: Iterable[Lot]) -> list[Lot]:
    """These lots and all that was split off from them, the first ones first."""
    found = {lot.pk: lot for lot in lots}
    last = list(found.values())
    while last:
        parts = type(last[0]).objects.filter(split_from__in=[lot.pk for lot in last]).order_by("pk")
        last = [part for part in parts if part.pk not in found]
        found |= {part.pk: part for part in last}
    return list(found.values())


def whole_of(lot: Lot) -> Lot:
    """The packet, lot or pot that this one was split off from, at any remove; itself where it is whole."""
    while lot.split_from is not None:
        lot = lot.split_from
    return lot


def must_not_be_its_own_part(lot: Lot, parts: Iterable[Lot]) -> None:
    """Only a correction can say so: what is split off for the first time has no parts yet.

    Raises:
        Refused: the lot is one of these, or was split off from one of them.
    """
    if lot.pk in {part.pk for part in with_parts(parts)}:
        raise Refused("own_part", "That came out of this one. Choose the one that was split.")


def settle_pollen(lot: PollenLot) -> None:
    """A part was collected when its packet was, and is good until as long as both storages let it."""
    if _is_part(lot):
        whole = lot.split_from
        _store(
            lot,
            collected_first=whole.collected_first,
            collected_last=whole.collected_last,
            best_before=_good_until(lot),
        )
    _settle_parts(lot, settle_pollen)


def settle_seed(lot: SeedLot) -> None:
    """A part was ripe when its lot was."""
    if _is_part(lot):
        _store(lot, ripe_first=lot.split_from.ripe_first, ripe_last=lot.split_from.ripe_last)
    _settle_parts(lot, settle_seed)


def settle_pot(pot: SeedPot) -> None:
    """A pot that was split off was sown when its pot was. Few pots are split: of others nothing is asked."""
    if pot.split_last is None:
        return
    if _is_part(pot):
        _store(pot, sown_first=pot.split_from.sown_first, sown_last=pot.split_from.sown_last)
    _settle_parts(pot, settle_pot)


def _is_part(lot: PollenLot | SeedLot | SeedPot) -> bool:
    """What was undone has nothing from the one it was split off from."""
    return lot.split_from is not None and not lot.cancelled


def _settle_parts(lot, settle) -> None:
    for part in _parts_of(type(lot)).objects([lot.pk]):
        locks.lock([part])
        settle(part)


@cache
def _parts_of(model: type[PollenLot | SeedLot | SeedPot]) -> Prepared:
    return Prepared(lambda ids: model.objects.filter(split_from__in=ids).order_by("pk"))


def _store(lot: PollenLot | SeedLot | SeedPot, **columns: date | None) -> None:
    changed = {name for name, value in columns.items() if getattr(lot, name) != value}
    for name in changed:
        setattr(lot, name, columns[name])
    if changed:
        lot.save(update_fields=changed)


def _good_until(lot: PollenLot) -> date | None:
    """None where the day of collecting is not known, as for any packet."""
    first, storage, moves = _history(lot)
    return best_before(first, storage, moves) if first else None


def _history(lot: PollenLot) -> tuple[date | None, str, list[Move]]:
    """Day of collecting, first storage, and each later move; of a part, its packet's until it was split off."""
    seen = milestones.seen_of([lot])[lot.pk]
    birth = next((one for one in seen if one.birth), None)
    own = [(one.latest, one.data["storage"]) for one in seen if one.kind == "pollen_stored"]
    if birth is None or lot.split_from is None:
        return (birth.first if birth else None), (birth.data["storage"] if birth else "unknown"), own
    first, storage, before = _history(lot.split_from)
    return first, storage, [*(move for move in before if move[0] <= birth.latest), _split(birth), *own]


def _split(birth: Seen) -> Move:
    return birth.latest, birth.data["storage"]
