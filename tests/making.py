"""Makes the things a test starts from, through the record functions, each as many days ago as the test says."""

import uuid
from collections.abc import Callable, Sequence
from copy import deepcopy
from datetime import date, timedelta
from functools import cache, cached_property
from typing import Any

from django.db.models import Model
from django.utils import timezone

from breeding.models import Cross, PollenLot, Routine, Section, SeedLot, SeedPot, SowingSession, Spike
from breeding.records import crosses, pods, pollen, pots, routines, sections, seed, sowing, spikes
from nursery.days import Day
from nursery.models import Act, Clone, LivingThing, Person, Place, Plant, Tag, Taxon, Thing
from nursery.records import clones, places, plants, registry
from nursery.records.core import NewAct
from nursery.records.prepared import Prepared
from tests.remembered import begins

_SPECIES = Prepared(lambda epithets: Taxon.objects.filter(genus="Nepenthes", epithet__in=epithets))
# Invented words for clones, in the order in which they are given out.
WORDS = ("hammer", "lantern", "velvet", "kettle", "chisel", "corduroy", "ladle", "anvil", "muslin", "whisk")


def ago(days: int) -> Day:
    """The exact day that many days before today."""
    return Day.on(today() - timedelta(days=days))


def today() -> date:
    return timezone.localdate()


def tag_of(thing: LivingThing) -> Tag:
    """The tag that a thing carries now."""
    return Tag.objects.get(thing_id=thing.pk, retired=False)


@cache
def _rows(model: type[Model]) -> Prepared:
    """Asked for everything that is made, and so built once."""
    return Prepared(lambda ids: model.objects.filter(pk__in=ids))


def row_of(thing_id: int) -> Any:
    """The row of its own kind that belongs to the Thing of this id, as it is stored."""
    [thing] = _rows(Thing).objects([thing_id])
    [row] = _rows(registry.thing_kind(thing.kind).model).objects([thing_id])
    return row


def birth_of(thing: LivingThing) -> Act:
    """The act that made a thing."""
    return type(thing).objects.select_related("thing__born_by").get(pk=thing.pk).thing.born_by


class Nursery:
    """A nursery in which ``by`` does everything, unless a call names somebody else.

    What a call leaves out is made for it: ``nursery.section()`` has a spike on a plant on a bench in a house. Plants
    for which nobody names a place stand together on one bench, and benches stand in one house, each made when first
    asked for: what a test tells of two places, it names.
    Every method that makes a thing returns the thing; ``record`` runs any record function and returns its act.
    """

    def __init__(self, by: Person):
        self.by = by
        self.begun = False
        self._words = self._numbers = 0

    def again(self) -> "Nursery":
        """The same nursery for one test: what it goes on to make leaves this one as it is."""
        return deepcopy(self)

    def _word(self) -> str:
        self._words += 1
        turn, place = divmod(self._words - 1, len(WORDS))
        return f"{WORDS[place]}{turn or ''}"

    def _number(self) -> int:
        self._numbers += 1
        return self._numbers

    # --- acts ---

    def act(self, *, days_ago: int = 0, day: Day | None = None, **more: Any) -> NewAct:
        """A new act, by ``by`` if nobody else is named, with an id of its own; ``day`` wins over ``days_ago``."""
        return NewAct(**{"id": uuid.uuid4(), "by": self.by, "day": day or ago(days_ago)} | more)

    def record(
        self,
        function: Callable[..., Act],
        *,
        days_ago: int = 0,
        day: Day | None = None,
        by: Person | None = None,
        replaces: Act | None = None,
        note: str = "",
        **facts: Any,
    ) -> Act:
        """Run a record function, for example ``nursery.record(bagged, section=section, days_ago=3)``."""
        act = self.act(days_ago=days_ago, day=day, by=by or self.by, replaces=replaces, note=note)
        return function(act=act, **facts)

    def made(self, function: Callable[..., Act], **facts: Any) -> Any:
        """The thing that the act of a record function is about, as ``record`` takes its arguments."""
        return row_of(self.record(function, **facts).thing_id)

    # --- people, places, plants ---

    def person(self, role: str = "grower", name: str = "") -> Person:
        return Person.objects.create_user(name=name or f"Hand {self._number()}", role=role)

    @begins
    def house(self, name: str = "", **facts: Any) -> Place:
        return self.made(places.place_made, name=name or f"House {self._number()}", size="house", **facts)

    @begins
    def bench(self, name: str = "", *, inside: Place | None = None, **facts: Any) -> Place:
        facts |= {"name": name or f"Bench {self._number()}", "inside": inside or self.home}
        return self.made(places.place_made, size="bench", **facts)

    def taxon(self, epithet: str = "lowii") -> Taxon:
        known = _SPECIES.objects([epithet])
        return known[0] if known else Taxon.objects.create(genus="Nepenthes", epithet=epithet)

    @begins
    def clone(self, epithet: str = "lowii", word: str = "", **facts: Any) -> Clone:
        """A clone of a species; with ``seed_parent`` or ``pollen_parent`` of those instead."""
        of_parents = facts.keys() & {"seed_parent", "pollen_parent"}
        taxon = None if of_parents else self.taxon(epithet)
        return self.made(clones.clone_made, taxon=taxon, designation=word or self._word(), **facts)

    @cached_property
    def home(self) -> Place:
        """The house in which benches stand for which nobody names another."""
        return self.house()

    @cached_property
    def usual_bench(self) -> Place:
        """The bench on which plants stand for which nobody names a place."""
        return self.bench()

    @begins
    def plant(self, clone: Clone | None = None, *, place: Place | None = None, **facts: Any) -> Plant:
        facts |= {"clone": clone or self.clone(), "place": place or self.usual_bench}
        return self.made(plants.plant_arrived, **{"days_ago": 400} | facts)

    # --- the breeding season ---

    @begins
    def spike(self, plant: Plant | None = None, *, sex: str = "", seen: str = "", **facts: Any) -> Spike:
        """A spike; with ``sex``, one whose open flowers show it."""
        facts |= {"seen": seen or ("open" if sex else "growing"), "sex": sex, "sex_from": "flowers" if sex else ""}
        return self.made(spikes.spike_found, plant=plant or self.plant(), **facts)

    @begins
    def male(self, clone: Clone | None = None, **facts: Any) -> Spike:
        return self.spike(self.plant(clone or self.clone("hamata")), sex="male", **facts)

    @begins
    def female(self, clone: Clone | None = None, **facts: Any) -> Spike:
        return self.spike(self.plant(clone), sex="female", **facts)

    @begins
    def pollen(self, spikes: Sequence[Spike] = (), **facts: Any) -> PollenLot:
        """A lot from these spikes, or from a new male one found on the same day."""
        spikes = spikes or [self.male(days_ago=facts.get("days_ago", 0))]
        return self.made(pollen.pollen_collected, spikes=spikes, **facts)

    @begins
    def section(self, spike: Spike | None = None, *, lot: PollenLot | None = None, **facts: Any) -> Section:
        """A section of this spike, or of a new female one found on the same day, with this lot or a new one."""
        when = facts.get("days_ago", 0)
        if lot is None and "from_spike" not in facts:
            lot = self.pollen(days_ago=when)
        return self.made(sections.section_pollinated, spike=spike or self.female(days_ago=when), lot=lot, **facts)

    @begins
    def cross(self, seed_parent: Clone | None = None, pollen_parent: Clone | None = None, **facts: Any) -> Cross:
        """A cross wished for."""
        parents = {"seed_parent": seed_parent or self.clone(), "pollen_parent": pollen_parent or self.clone("hamata")}
        return self.made(crosses.cross_planned, **parents, **facts)

    @begins
    def seed(self, section: Section | None = None, *, estimate: int | None = None, **facts: Any) -> SeedLot:
        """The seed of a whole section, which is pollinated 150 days before if none is given; cleaned if estimated."""
        when = facts.get("days_ago", 0)
        lot = self.made(pods.harvested, section=section or self.section(days_ago=when + 150), **facts)
        if estimate is not None:
            self.record(seed.seed_cleaned, lot=lot, seeds=estimate, estimate_from="counted", days_ago=when)
            lot.refresh_from_db()
        return lot

    @begins
    def seed_by_post(self, **facts: Any) -> SeedLot:
        return self.made(seed.seed_received, **facts)

    @begins
    def pots(self, count: int, lot: SeedLot | None = None, **facts: Any) -> list[SeedPot]:
        """Pots sown in one act, from seed harvested on the same day if none is given."""
        lot = lot or self.seed(days_ago=facts.get("days_ago", 0))
        act = self.record(pots.sown, lot=lot, pots=count, **facts)
        return list(SeedPot.objects.filter(thing__born_by=act).order_by("pk"))

    @begins
    def pot(self, lot: SeedLot | None = None, **facts: Any) -> SeedPot:
        [pot] = self.pots(1, lot, **facts)
        return pot

    @begins
    def sowing(self, *lines: sowing.Line, **facts: Any) -> SowingSession:
        """A sowing session; of one pot for 30 seeds of a new lot if no lines are given."""
        lines = lines or (sowing.Line(self.seed(days_ago=facts.get("days_ago", 0)), 1, seeds=30),)
        return self.made(sowing.sowing_planned, lines=lines, **facts)

    @begins
    def prepared_pot(self, lot: SeedLot | None = None, **facts: Any) -> SeedPot:
        """The one pot of a new session, not sown yet."""
        lot = lot or self.seed(days_ago=facts.get("days_ago", 0))
        return SeedPot.objects.get(session=self.sowing(sowing.Line(lot, 1, seeds=30), **facts))

    @begins
    def routine(self, words: str = "mist", rule: str = "FREQ=DAILY", **facts: Any) -> Routine:
        """Something to be done every day from the day of the act on, unless a rule says otherwise."""
        return self.made(routines.routine_made, words=words, rule=rule, **facts)
