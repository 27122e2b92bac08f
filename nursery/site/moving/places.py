"""Places by their names from the house inwards; what is missing is made."""

import re

from nursery.models import Place
from nursery.records.mind import thing_in_mind
from nursery.records.places import place_made
from nursery.site.moving.making import Making, refused, thing_of

Path = tuple[str, ...]
MOST_DEEP = 6
SIZES = ("house", "bench", "tray")


class Places:
    """The places that stand, and those that this run has made.

    Those that an earlier run of the same import made are left out, so that a repeat takes the same way again.
    """

    def __init__(self, making: Making):
        self._making = making
        self._found = _standing(making)

    def of(self, text: str) -> Place | None:
        """The place that a cell names; None where it names none."""
        path = _path(text)
        if not path:
            return None
        if len(path) > MOST_DEEP:
            raise refused("place", f"“{text[:60]}” names more than {MOST_DEEP} places inside each other. Name fewer.")
        alone = self._alone(path[0]) if path == (" ".join(text.split()),) else None
        return alone or self._reached(path)

    def _alone(self, name: str) -> Place | None:
        """A single name may be a bench, if there is one of that name and no house."""
        if (name.casefold(),) in self._found:
            return None
        benches = [place for path, place in self._found.items() if path[-1] == name.casefold()]
        return benches[0] if len(benches) == 1 else None

    def _reached(self, path: Path) -> Place:
        place = None
        for depth in range(len(path)):
            key = tuple(name.casefold() for name in path[: depth + 1])
            if key not in self._found:
                self._found[key] = self._made(path[: depth + 1], place)
            place = self._found[key]
        return place

    def _made(self, path: Path, inside: Place | None) -> Place:
        size = SIZES[min(len(path) - 1, 2)]
        facts = {"name": path[-1], "size": size, "inside": inside}
        act = self._making.record(place_made, f"place {' / '.join(path)}", **facts)
        self._making.new_places.append(" / ".join(path))
        return thing_of(act)


def path_words(place: Place | None) -> str:
    """From the house inwards, as people read it: "House 1 / Bench 2"."""
    return " / ".join(_names(place))


def path_cell(place: Place | None) -> str:
    """As tables write it; a sign behind a single name says that no bench of that name is meant."""
    parts = [part for name in _names(place) for part in _SIGN.split(name)]
    cell = " / ".join(" ".join(part.split()) for part in parts if part.strip())
    return f"{cell} /" if len(_path(f"{cell}/")) == 1 else cell


def _names(place: Place | None) -> list[str]:
    names = []
    while place is not None:
        names.append(place.name)
        place = thing_in_mind(place.inside_id) or place.inside
    return names[::-1]


_SIGN = re.compile(r"[/>›»]")


def _path(text: str) -> Path:
    parts = _SIGN.split(text) if _SIGN.search(text) else text.split(",")
    return tuple(" ".join(part.split()) for part in parts if part.strip())


def _standing(making: Making) -> dict[Path, Place]:
    of_this_import = making.moving.acts.values("act")
    places = Place.objects.filter(cancelled=False).exclude(thing__born_by__in=of_this_import).select_related("inside")
    by_pk = {place.pk: place for place in places}
    return {_key(place, by_pk): place for place in places}


def _key(place: Place, by_pk: dict[int, Place]) -> Path:
    above = _key(by_pk[place.inside_id], by_pk) if place.inside_id in by_pk else ()
    return (*above, place.name.casefold())
