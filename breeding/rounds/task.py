"""A task as it is shown: what to do for one thing, when, why, and how it can be answered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from breeding.answers import Answer
from breeding.rounds.answers import MOST_PARTNERS, Link
from breeding.rounds.remarks import Said
from nursery.names import NamePart


@dataclass(frozen=True)
class Good:
    """Pollen that is good that day: whose, and its age and storage in words; or a female it could serve, and when."""

    name_parts: tuple[NamePart, ...]
    words: str
    url: str = ""
    number: int | None = None

    @property
    def name(self) -> str:
        return "".join(part.text for part in self.name_parts)


@dataclass(frozen=True)
class Task:
    """One thing to do for one thing, with its day, its reason and its answers.

    ``partners`` are pollen that is good for it, ``serves`` the females that its pollen is good for.

    ``due`` is the day it is asked for, whether that has come or not; ``until`` the last day that serves as well, None
    where there is none to name. ``look`` is true where walking past answers it. ``sowing`` is the act that a seed pot
    comes from; ``things`` are the pots that a task for several of them is about (see ``breeding.rounds.together``).
    ``beside`` are looks that the same visit may cover, none of them counted as due (see ``breeding.rounds.beside``).
    ``others`` are the rows on the same page that are about the same thing, which an answer may make untrue.
    ``remark`` is the newest on its thing, while it is new. ``when`` is what the day is called that it is told for:
    "today", or "that day" on the round of another day.
    """

    kind: str
    title: str
    thing_id: int
    slug: str
    number: int | None
    name_parts: tuple[NamePart, ...]
    sub: str
    place_id: int | None
    due: date
    until: date | None
    due_words: str
    tone: str
    urgency: float
    minutes: int
    reason: str
    icon: str
    look: bool
    partners: tuple[Good, ...] = ()
    serves: tuple[Good, ...] = ()
    act_id: UUID | None = None
    answers: tuple[Answer, ...] = ()
    extra_links: tuple[Link, ...] = ()
    cautions: tuple[str, ...] = ()
    sowing: UUID | None = None
    things: tuple[int, ...] = ()
    beside: tuple[Task, ...] = ()
    others: tuple[str, ...] = ()
    remark: Said | None = None
    when: str = "today"

    @property
    def row(self) -> str:
        """What its row on a page is called: "sections-12-bag"."""
        return f"{self.slug}-{self.thing_id}-{self.kind}"

    @property
    def walked(self) -> tuple[int, ...]:
        """The things that walking past it looks at."""
        return (self.things or (self.thing_id,)) if self.look else ()

    @property
    def url(self) -> str:
        """Of its thing; a task for several has none, and one that is about no thing."""
        return "" if self.things or not self.thing_id else f"/{self.slug}/{self.thing_id}/"

    @property
    def partners_named(self) -> tuple[Good, ...]:
        """As many as have a button of their own."""
        return self.partners[:MOST_PARTNERS]

    @property
    def partners_more(self) -> int:
        return len(self.partners) - len(self.partners_named)

    @property
    def serves_named(self) -> tuple[Good, ...]:
        """As many as are named on the page."""
        return self.serves[:MOST_PARTNERS]

    @property
    def serves_more(self) -> int:
        return len(self.serves) - len(self.serves_named)

    @property
    def name(self) -> str:
        return "".join(part.text for part in self.name_parts)

    @property
    def beside_words(self) -> str:
        """The looks of the same visit as a sentence, for where none has a button; empty where there are none."""
        named = [f"{one.title.lower()}, {one.sub} {one.number or ''}".rstrip() for one in self.beside]
        return f"While you are here: {'; '.join(named)}." if named else ""
