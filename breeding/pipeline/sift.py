"""Which lines are shown, in which order, and what they come to. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date
from typing import Any
from urllib.parse import urlencode

from breeding.pipeline.lines import Line
from breeding.pipeline.parts import STAGES
from breeding.rounds.place_order import Walked
from nursery.lookups import LARGEST_ID

SORTS: dict[str, tuple[str, Callable[[Line], Any]]] = {
    "cross": ("Cross", lambda line: line.name.casefold()),
    "stage": ("Stage", lambda line: list(STAGES).index(line.stage)),
    "window": ("Predicted window", lambda line: line.predicted),
    "next": ("Next", lambda line: line.due),
    "wanted": ("Wanted", lambda line: line.wanted),
}


@dataclass(frozen=True)
class Choice:
    """What was chosen; the defaults choose everything that is under way, the next due first.

    ``parent`` is "t" and a taxon's id, or "c" and a clone's. ``sort`` begins with "-" to turn the order round.
    """

    stage: str = ""
    parent: str = ""
    place: str = ""
    late: str = ""
    finished: str = ""
    q: str = ""
    sort: str = "next"

    @classmethod
    def of(cls, asked: Mapping[str, str]) -> Choice:
        """From an address; what nobody could have chosen is left out.

        >>> Choice.of({"stage": "ripe?", "sort": "-wanted", "late": "yes"})
        Choice(stage='', parent='', place='', late='yes', finished='', q='', sort='-wanted')
        """
        stage, sort = asked.get("stage", ""), asked.get("sort", "")
        place, parent = asked.get("place", ""), asked.get("parent", "")
        return cls(
            stage=stage if stage in STAGES else "",
            parent=parent if parent[:1] in {"t", "c"} and _is_id(parent[1:]) else "",
            place=place if _is_id(place) else "",
            late="yes" if asked.get("late") == "yes" else "",
            finished="yes" if asked.get("finished") == "yes" else "",
            q=asked.get("q", "").replace("\0", "").strip()[:100],
            sort=sort if sort.removeprefix("-") in SORTS else "next",
        )

    def query(self, **changes: str) -> str:
        """The address's part for this choice, with changes; defaults are left away.

        >>> Choice(late="yes").query(sort="wanted")
        '?late=yes&sort=wanted'
        """
        usual = asdict(Choice())
        told = {name: value for name, value in asdict(replace(self, **changes)).items() if value != usual[name]}
        return f"?{urlencode(told)}"

    @property
    def narrows(self) -> bool:
        """Whether it leaves out anything that is under way."""
        return any((self.stage, self.parent, self.place, self.late, self.q))


def sifted(found: Iterable[Line], choice: Choice, places: Mapping[int, Walked]) -> list[Line]:
    """The lines that were chosen, in their order; what has nothing to sort by stands last either way."""
    chosen = [line for line in found if _fits(line, choice, places)]
    key = SORTS[choice.sort.removeprefix("-")][1]
    with_key = [line for line in chosen if key(line) is not None]
    with_key.sort(key=lambda line: (line.name.casefold(), line.pk))
    with_key.sort(key=key, reverse=choice.sort.startswith("-"))
    without = sorted((line for line in chosen if key(line) is None), key=lambda line: (line.name.casefold(), line.pk))
    return [*with_key, *without]


def _fits(line: Line, choice: Choice, places: Mapping[int, Walked]) -> bool:
    if choice.stage and choice.stage not in (line.stages or {line.stage}):
        return False
    if choice.late and not line.is_late:
        return False
    if choice.parent and not _of_parent(line, choice.parent):
        return False
    if choice.place and not _in(line, places.get(int(choice.place))):
        return False
    return all(word in f"{line.name} {line.sub} {line.stage_words}".casefold() for word in choice.q.casefold().split())


def _of_parent(line: Line, parent: str) -> bool:
    return int(parent[1:]) == (line.taxon_id if parent[0] == "t" else line.clone_id)


def _in(line: Line, place: Walked | None) -> bool:
    """Whether anything of it stands in this place or in one inside of it."""
    if place is None:
        return False
    return any(
        one.house == place.house and f"{one.within}, ".startswith(f"{place.within}, " if place.within else "")
        for one in line.where
    )


def _is_id(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 20 and int(text) <= LARGEST_ID


@dataclass(frozen=True)
class Totals:
    """What all lines come to, filtered or not."""

    spikes_open: int
    forming: int
    take: int
    ripening: int
    lots: int
    pots: int
    may_open: int
    not_bagged: int


def totals(found: Iterable[Line], spikes_open: int) -> Totals:
    """Sections, lots and pots that are open on these lines, beside the spikes in flower."""
    found = list(found)
    opening = [line for line in found if line.may_open]
    return Totals(
        spikes_open=spikes_open,
        forming=sum("forming" in line.stages for line in found),
        take=sum("take" in line.stages for line in found),
        ripening=sum("pods" in line.stages for line in found),
        lots=sum(line.lots_open for line in found),
        pots=sum(line.pots_open for line in found),
        may_open=len(opening),
        not_bagged=sum(not line.bagged for line in opening),
    )


def under_way(found: Iterable[Line]) -> list[Line]:
    return [line for line in found if line.stage != "over"]


def first_day(found: Iterable[Line]) -> date | None:
    """The first day on which any of them began."""
    return min((line.start for line in found if line.start), default=None)
