"""Random acts for the properties: what a nursery may be told, in any order, late, vaguely, twice, corrected, undone."""

import uuid
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import Any

from hypothesis import strategies as st

from breeding.models import Cross, PollenLot, Section, SeedLot, SeedPot, SowingSession, Spike
from breeding.records import crosses, pods, pollen, posted, pots, sections, seed, sowing, spikes
from breeding.records.redetermined import clone_redetermined
from nursery.days import Day
from nursery.models import Act, Clone, LivingThing, Person, Place, Plant
from nursery.records import (
    clones,
    house_log,
    moves,
    places,
    plants,
    quarantine,
    registry,
    remarks,
    stocktakes,
    swapped,
    tags,
    undo,
    versions,
    watching,
)
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.numbers import blank_tags_make
from tests.making import today

DAYS_AGO = st.integers(0, 600)


def _vague(said: str, days_ago: int) -> Day:
    day = today() - timedelta(days=days_ago)
    ways = {
        "exact": Day.on,
        "week": Day.about_week,
        "month": lambda day: Day.month(day.year, day.month),
        "season": Day.season,
        "year": lambda day: Day.year(day.year),
        "unknown": lambda day: Day.unknown(),
    }
    return ways[said](day)


DAYS = st.builds(_vague, st.sampled_from(["exact"] * 4 + ["week", "month", "season", "year", "unknown"]), DAYS_AGO)

SPIKE_LOOKS = st.fixed_dictionaries(
    {"seen": st.sampled_from(["growing", "buds", "open", "showing", "over", "aborted", "cant_tell"])}
) | st.fixed_dictionaries(
    {
        "seen": st.sampled_from(["buds", "open"]),
        "sex": st.sampled_from(["female", "male"]),
        "sex_from": st.sampled_from(["buds", "flowers"]),
    }
)


SWELLING = ["none", "third", "half", "most", "all", "cant_tell"]


class One:
    """Stands in for a thing of a kind; the example picks one of those that are there when its turn comes."""

    def __init__(self, model: type[LivingThing], *, several: bool = False, maybe: bool = False):
        self.model, self.several, self.maybe = model, several, maybe


@dataclass(frozen=True)
class Told:
    """A kind of act: its record function, the things it is told of, and strategies for what is said."""

    record: Callable[..., Act]
    on: dict[str, One] = field(default_factory=dict)
    said: dict[str, st.SearchStrategy[Any]] = field(default_factory=dict)
    looks: st.SearchStrategy[dict[str, Any]] = field(default_factory=lambda: st.just({}))


SPIKE, SECTION, LOT, POLLEN, POT = (One(model) for model in (Spike, Section, SeedLot, PollenLot, SeedPot))
PLANT, PLACE, CLONE = One(Plant), One(Place), One(Clone)
NUMBER = st.none() | st.integers(0, 60)
EXTENT = st.sampled_from(["part", "all"])


def _sowing_planned(*, act: NewAct, lot: SeedLot, pots: int, seeds: int | None, **facts: Any) -> Act:
    return sowing.sowing_planned(act=act, lines=[sowing.Line(lot, pots, seeds=seeds)], **facts)


KINDS = [
    Told(plants.plant_arrived, {"clone": CLONE, "place": PLACE}),
    Told(plants.plant_gone, {"plant": PLANT}, {"why": st.sampled_from(["died", "sold"])}),
    Told(clones.clone_made, {"seed_parent": CLONE, "pollen_parent": CLONE}, {"designation": st.just("thimble")}),
    Told(clone_redetermined, {"clone": CLONE, "pollen_parent": CLONE}, {"why": st.just("its flowers")}),
    Told(clone_redetermined, {"clone": CLONE}, {"words": st.just("a hybrid"), "why": st.just("its pitchers")}),
    Told(places.place_renamed, {"place": PLACE}, {"name": st.sampled_from(["Shelf", "Ledge"]), "order": st.just(2)}),
    Told(places.room_told, {"place": PLACE}, {"pots": NUMBER}),
    Told(spikes.spike_found, {"plant": PLANT}, looks=SPIKE_LOOKS),
    Told(spikes.spike_looked, {"spike": SPIKE}, looks=SPIKE_LOOKS),
    Told(spikes.spike_looked, {"spike": SPIKE}, looks=SPIKE_LOOKS),
    Told(pollen.pollen_collected, {"spikes": One(Spike, several=True)}, {"storage": st.just("refrigerator")}),
    Told(pollen.pollen_received, {"clone": CLONE}),
    Told(pollen.pollen_received, {}, {"words": st.just("pollen of a friend")}),
    Told(pollen.pollen_stored, {"lot": POLLEN}, {"storage": st.sampled_from(["freezer", "bench"])}),
    Told(pollen.pollen_finished, {"lot": POLLEN}),
    Told(posted.pollen_split, {"lot": POLLEN}, {"storage": st.sampled_from(["freezer", "bench"])}),
    Told(posted.pollen_sent, {"lot": POLLEN}, {"to_whom": st.just("a friend"), "extent": EXTENT}),
    Told(posted.seed_split, {"lot": LOT}, {"storage": st.just("room"), "seeds": NUMBER}),
    Told(posted.seed_sent, {"lot": LOT}, {"to_whom": st.just("a friend"), "extent": EXTENT, "seeds": NUMBER}),
    Told(crosses.cross_planned, {"seed_parent": CLONE, "pollen_parent": CLONE}, {"wanted": NUMBER}),
    Told(sections.section_pollinated, {"spike": SPIKE, "lot": POLLEN}, {"flowers": NUMBER}),
    Told(sections.section_pollinated, {"spike": SPIKE, "from_spike": SPIKE}),
    Told(sections.section_pollinated, {"spike": SPIKE}),
    Told(sections.section_dabbed, {"section": SECTION, "lot": POLLEN}),
    Told(sections.section_dabbed, {"section": SECTION, "from_spike": One(Spike, maybe=True)}),
    Told(pods.take_read, {"section": SECTION}, {"swelling": st.sampled_from(SWELLING)}),
    Told(
        pods.pods_looked_at,
        {"section": SECTION},
        {
            "seen": st.sampled_from(["green", "turning", "opening", "split", "cant_tell"]),
            "extent": st.sampled_from(["all", "some"]),
            "bagged": st.sampled_from([None, True, False]),
            "pods_left": NUMBER,
        },
    ),
    Told(pods.bagged, {"section": SECTION}),
    Told(pods.harvested, {"section": SECTION}, {"what": st.sampled_from(["section", "pods"]), "pods_open": NUMBER}),
    Told(seed.seed_received, {"seed_parent": CLONE, "pollen_parent": One(Clone, maybe=True)}, {"seeds": NUMBER}),
    Told(seed.seed_cleaned, {"lot": LOT}, {"seeds": NUMBER, "estimate_from": st.just("counted")}),
    Told(seed.seed_stored, {"lot": LOT}, {"storage": st.just("refrigerator")}),
    Told(seed.seed_finished, {"lot": LOT}),
    Told(
        pots.sown,
        {"lot": LOT, "place": PLACE},
        {"pots": st.integers(1, 3), "seeds": NUMBER, "all_of_it": st.booleans()},
    ),
    Told(_sowing_planned, {"lot": LOT, "place": PLACE}, {"pots": st.integers(1, 2), "seeds": NUMBER}),
    Told(sowing.sowing_changed, {"session": One(SowingSession)}, {"medium": st.just("moss")}),
    Told(sowing.pot_sown, {"pot": POT}, {"seeds": NUMBER, "all_of_it": st.booleans()}),
    Told(sowing.pot_sown, {"pot": POT}, {"seeds": NUMBER}),
    Told(sowing.pot_cleared, {"pot": POT}, {"why": st.just("no_time")}),
    Told(
        pots.pot_looked_at,
        {"pot": POT},
        {"seen": st.sampled_from(["nothing", "first", "few", "carpet", "cant_tell"]), "counted": NUMBER},
    ),
    Told(pots.seedlings_lost, {"pot": POT}, {"lost": st.integers(1, 9)}),
    Told(
        pots.pot_split,
        {"pot": POT, "place": PLACE},
        {"pots": st.integers(1, 3), "seedlings": st.none() | st.integers(1, 20), "extent": EXTENT},
    ),
    Told(pots.trouble_seen, {"pot": POT}, {"what": st.just("algae")}),
    Told(pots.pot_gone, {"pot": POT}, {"why": st.sampled_from(["nothing_up", "sold"])}),
    Told(moves.moved, {"thing": POT, "place": PLACE}),
    Told(moves.moved, {"thing": PLANT, "place": PLACE}),
    Told(quarantine.quarantined, {"plant": PLANT}, {"reason": st.sampled_from(["mosaic", "thrips"])}),
    Told(quarantine.released, {"plant": PLANT}),
    Told(stocktakes.stocktake_taken, {"place": PLACE, "seen": One(Plant, several=True)}),
    Told(stocktakes.not_found, {"thing": POT, "place": PLACE}),
    Told(moves.place_moved, {"place": PLACE, "inside": PLACE}),
    Told(house_log.house_event, {"place": PLACE}, {"what": st.sampled_from(["power", "frost"])}),
]
"""Looks at spikes stand twice: they are what is told most often."""

OF_SECTIONS = [told for told in KINDS if told.on.get("section") is SECTION]
"""What is told of a section once it is there: dabs, readings of its take, looks at its pods, harvests."""

WATCHABLE = (Spike, Section, PollenLot, SeedLot, SeedPot, Plant, Cross)
ASIDE = [
    told
    for model in WATCHABLE
    for told in (
        Told(watching.postponed, {"thing": One(model)}, {"until": st.just(today() + timedelta(days=7))}),
        Told(watching.stopped, {"thing": One(model)}),
        Told(watching.resumed, {"thing": One(model)}),
        Told(remarks.remarked, {"thing": One(model)}, {"words": st.just("leaning over")}),
        Told(watching.walked_past, {"place": PLACE, "things": One(model, several=True)}),
    )
]


@dataclass(frozen=True)
class Sent:
    """One submit as a phone would keep it, with the act that it became."""

    told: Told
    new: NewAct
    facts: dict[str, Any]
    act: Act


class Story:
    """Plays random acts in a nursery, of all kinds or of some, and keeps what was sent."""

    def __init__(self, data: st.DataObject, people: list[Person], kinds: list[Told] = KINDS):
        self.data = data
        self.people = people
        self.kinds = kinds
        self.sent: list[Sent] = []
        self.voids = 0
        self.others = 0
        self.told_again: list[Act] = []
        self.refusals: list[Refused] = []

    def step(self) -> None:
        """One more act: mostly a new one, else a repeat, a correction, an undo, another tag or two exchanged."""
        others = [self.tell_aside, self.repeat, self.correct, self.correct, self.undo, self.tag, self.swap]
        steps = [self.tell] * 8 + others
        try:
            self.data.draw(st.sampled_from(steps))()
        except Refused as refusal:
            self.refusals.append(refusal)

    def tell(self) -> None:
        self._send(self.data.draw(st.sampled_from(self.kinds)))

    def tell_aside(self) -> None:
        self._send(self.data.draw(st.sampled_from(ASIDE)))

    def repeat(self) -> None:
        if self.sent:
            before = self.data.draw(st.sampled_from(self.sent))
            assert before.told.record(act=before.new, **before.facts) == before.act

    def correct(self) -> None:
        """The same kind of act with other facts in place of one before."""
        if self.sent:
            before = self.data.draw(st.sampled_from(self.sent))
            self._send(before.told, keep=before.facts, replaces=before.act)

    def undo(self) -> None:
        if not self.sent:
            return
        target = self.data.draw(st.sampled_from([*(one.act for one in self.sent), *self.told_again]))
        target = Act.objects.get(pk=target.pk)
        already, before = hasattr(target, "voided_by"), versions.stands_again(target)
        void = undo.undone(act=self._new(), target=target)
        self.voids += not already
        if before is not None and not already:
            again = Act.objects.get(pk=versions.id_told_again(void.pk))
            says_the_same(again, before)
            self.told_again.append(again)

    def tag(self) -> None:
        model = self.data.draw(st.sampled_from([Spike, Section, SeedPot]))
        thing = self._pick(One(model))
        if thing is not None:
            [blank] = blank_tags_make(count=1)
            self._send(Told(tags.tag_bound, {}, {}), keep={"thing": thing, "number": blank.number})

    def swap(self) -> None:
        """Two things of a kind change tags, and some of what came through them goes along."""
        model = self.data.draw(st.sampled_from([Plant, Spike, Section, SeedPot]))
        one, other = self._pick(One(model)), self._pick(One(model))
        if one is None or other is None or one.pk == other.pk:
            return
        through = swapped.recorded_through(one, other, None)
        moved = self.data.draw(st.lists(st.sampled_from(through), max_size=2, unique=True)) if through else []
        new = self._new()
        swapped.tags_swapped(act=new, thing=one, other=other, moved=moved)
        self.others += 1 + len(moved)
        self.voids += len(moved)
        if self.data.draw(st.booleans()):
            undo.undone(act=self._new(), target=Act.objects.get(pk=new.id))
            self.others += len(moved)
            self.voids += 1 + len(moved)

    def _send(self, told: Told, *, keep: dict[str, Any] | None = None, replaces: Act | None = None) -> None:
        facts = self._facts(told)
        if facts is None:
            return
        if keep is not None:
            changed = {name: value for name, value in facts.items() if self.data.draw(st.booleans())}
            facts = keep | changed
        new = replace(self._new(), day=self.data.draw(st.none() | DAYS), replaces=replaces)
        act = told.record(act=new, **facts)
        self.sent.append(Sent(told, new, facts, act))
        self.voids += replaces is not None

    def _facts(self, told: Told) -> dict[str, Any] | None:
        things = {name: self._pick(one) for name, one in told.on.items()}
        if any(thing is None and not told.on[name].maybe for name, thing in things.items()):
            return None
        said = {name: self.data.draw(strategy) for name, strategy in told.said.items()}
        return things | said | self.data.draw(told.looks)

    def _pick(self, one: One) -> Any:
        """Only what is in the lists can be told of; what was undone cannot."""
        there = list(one.model.objects.filter(cancelled=False).order_by("pk"))
        if one.several:
            return self.data.draw(st.lists(st.sampled_from(there), max_size=3, unique_by=lambda x: x.pk)) or None
        if not there or (one.maybe and self.data.draw(st.booleans())):
            return None
        return self.data.draw(st.sampled_from(there))

    def _new(self) -> NewAct:
        return NewAct(id=uuid.uuid4(), by=self.data.draw(st.sampled_from(self.people)))


def says_the_same(again: Act, before: Act) -> None:
    """What an undo told again has the kind, day, note and details of the version that it brings back."""
    for name in ("kind", "day_first", "day_last", "said", "at", "note"):
        assert getattr(again, name) == getattr(before, name)
    detail = registry.act_kind(again.kind).detail
    if detail is not None:
        rows = [detail.objects.filter(pk=act.pk).values().get() | {"act_id": None} for act in (again, before)]
        assert rows[0] == rows[1]


def every_thing() -> list[LivingThing]:
    """All things of all kinds, cancelled ones too."""
    return [row for kind in registry.thing_kinds().values() for row in kind.model.objects.order_by("pk")]
