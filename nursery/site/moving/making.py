"""One run of an import: gives each act the id that follows from its row, and keeps count of what came of it."""

import uuid
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from nursery.days import Day
from nursery.models import Act, Person
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.mind import thing_in_mind
from nursery.site.models import Import
from nursery.site.moving.tables.errors import CellWrong


@dataclass
class Making:
    """Where a run stands: the row at hand, the acts so far, what was newly listed, and what to tell about rows.

    ``grown_from`` are earlier tables of which this one is a longer one: what they numbered and named is the same here.
    """

    moving: Import
    by: Person
    row: int = 0
    acts: list[tuple[int, Act]] = field(default_factory=list)
    new_places: list[str] = field(default_factory=list)
    new_taxa: list[str] = field(default_factory=list)
    notes: list[tuple[int, str]] = field(default_factory=list)
    refs: dict[str, int] = field(default_factory=dict)
    grown_from: frozenset[uuid.UUID] = frozenset()
    _known: set[uuid.UUID] = field(default_factory=set)

    def record(self, function: Callable[..., Act], part: str, *, day: Day | None = None, **facts: Any) -> Act:
        """Run a record function; ``part`` tells this act from the others of its row."""
        new = NewAct(
            id=uuid.uuid5(self.moving.id, f"row {self.row} {part}"),
            by=self.by,
            day=day or Day.unknown(),
            note=self._note(),
        )
        act = function(act=new, **facts)
        if act.pk not in self._known:
            self._known.add(act.pk)
            self.acts.append((self.row, act))
        return act

    def note(self, sentence: str) -> None:
        """Something that a person should know about the row at hand."""
        self.notes.append((self.row, sentence))

    def _note(self) -> str:
        return f"Moved in: {self.moving.name}, row {self.row}." if self.row else f"Moved in: {self.moving.name}."


def thing_of(act: Act) -> Any:
    """The thing that an act is about."""
    return thing_in_mind(act.thing_id) or registry.instance_of(act.thing)


def refused(column: str, wrong: CellWrong | str) -> Refused:
    """A refusal of one cell, by the name of its column."""
    return Refused("cell", str(wrong), field=column)
