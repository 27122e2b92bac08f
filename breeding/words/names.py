"""What each thing is called: name parts for screen and tag, from rows fetched with what FETCH lists."""

from datetime import date
from typing import Any

from breeding.words.descent import cross_tree, pollen_tree
from nursery.names import NamePart, label_parts
from nursery.stored_descent import from_stored


def name_parts(thing: Any) -> list[NamePart]:
    """The name of a thing of any kind; of what belongs to a cross, the name of the cross."""
    return _BY_KIND[thing.kind](thing)


def _of_clone(clone) -> list[NamePart]:
    return label_parts(from_stored(clone.tree))


def _of_cross(cross) -> list[NamePart]:
    return label_parts(cross_tree(cross))


def _of_pollen(lot) -> list[NamePart]:
    if lot.clone is None and lot.words:
        return [NamePart(lot.words)]
    return label_parts(pollen_tree(lot))


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


_BY_KIND = {
    "place": lambda place: [NamePart(place.name)],
    "clone": _of_clone,
    "plant": lambda plant: _of_clone(plant.clone),
    "spike": lambda spike: _of_clone(spike.plant.clone),
    "section": lambda section: _of_cross(section.cross),
    "pollenlot": _of_pollen,
    "cross": _of_cross,
    "seedlot": lambda lot: _of_cross(lot.cross),
    "seedpot": lambda pot: _of_cross(pot.lot.cross),
    "sowingsession": lambda session: [NamePart(f"Sowing of {_day(session.planned_for)}")],
    "routine": lambda routine: [NamePart(routine.words)],
}

_CROSS = ("seed_parent", "pollen_parent")

FETCH = {
    "place": ("inside",),
    "clone": (),
    "plant": ("clone", "place"),
    "spike": ("plant__clone", "plant__place"),
    "section": ("spike__plant__place", *(f"cross__{one}" for one in _CROSS)),
    "pollenlot": ("clone",),
    "cross": _CROSS,
    "seedlot": tuple(f"cross__{one}" for one in _CROSS),
    "sowingsession": ("place",),
    "routine": ("place",),
    "seedpot": ("place", *(f"lot__cross__{one}" for one in _CROSS)),
}
"""What ``select_related`` must bring along so that naming a thing of this kind asks nothing more; mixed pollen does."""
