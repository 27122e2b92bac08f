"""Seed lots: cleaned, estimated, put away; and what was sown of them."""

from dataclasses import dataclass
from random import Random

from breeding.records.pots import sown
from breeding.records.seed import seed_cleaned, seed_finished, seed_stored
from demo_fixtures import pots, sections
from demo_fixtures.diary import Diary, The

MOSS = "milled sphagnum on long-fibre, steamed"
MIX = "sphagnum and perlite, 3 to 1, steamed"


@dataclass(frozen=True)
class Sowing:
    """A sowing ``ago`` days before today, of ``lot``, ``seeds`` into each pot.

    ``up`` has one age a pot, at which its first seedling shows; 0 where none has yet. Where ``last_look`` is given,
    silent pots were last looked at that many days ago. What was not sown is ``kept``, or soon gone.
    ``potted_on`` says whether that was done when it was time.
    """

    name: str
    lot: str
    ago: int
    place: str
    seeds: int | None
    up: tuple[int, ...]
    pods: int | None = None
    medium: str = MOSS
    kept: bool = False
    last_look: int = 0
    potted_on: bool = True
    note: str = ""

    @property
    def pots(self) -> list[str]:
        return [f"{self.name} pot {number}" for number in range(1, len(self.up) + 1)]


# lot, seeds as estimated (None: nobody did), how, percent filled (None: nobody looked)
CLEANED = (
    ("a anvil/1", 900, "weighed", 70),
    ("a anvil/2", 400, "guessed", None),
    ("a teapot/1", 1200, "guessed", 60),
    ("a teapot/2", 500, "guessed", None),
    ("a teapot/3", 1100, "weighed", 75),
    ("a canvas/1", 800, "guessed", None),
    ("a canvas/2", 240, "counted", 55),
    ("a canvas/3", 600, "guessed", None),
    ("a skillet/1", 2500, "guessed", 80),
    ("a skillet/2", 1700, "guessed", None),
    ("a kettle/1", 700, "weighed", 65),
    ("a kettle/2", 180, "counted", 40),
    ("a chisel/1", 600, "guessed", None),
    ("a chisel/2", 800, "guessed", 70),
    ("a chisel/3", None, "", None),
    ("b corduroy/1", 120, "guessed", None),
    ("b corduroy/2", 1100, "guessed", 60),
    ("b gingham/1", 1300, "weighed", 80),
    ("b gingham/2", 500, "guessed", None),
    ("b muslin/1", 600, "weighed", 72),
    ("b muslin/2", 220, "counted", 50),
    ("b oilcloth/1", 480, "guessed", None),
    ("b oilcloth/2", 700, "guessed", 66),
    ("c skillet/1", 2200, "guessed", None),
    ("c skillet/2", 1500, "guessed", 75),
    ("c teapot/1", 1000, "guessed", None),
)

COLD_STORE = ("a anvil/1", "a anvil/2", "a canvas/2", "a kettle/1", "a chisel/2", "b corduroy/2", "b muslin/1")

REST_GONE_AFTER, MUCH = 7, 0.7
REST = (
    "The rest to the friend who writes.",
    "The rest swapped for moss.",
    "The rest thrown out: pale and flat.",
    "The rest given to the school.",
)

# lot, days ago, why nothing is left of it
FINISHED = (
    ("a chisel/3", 420, "Mouldy in the bag. Dry it first next time."),
    ("a canvas/3", 300, "Given away."),
    ("a kettle/2", 415, "Swapped for two plastic benches."),
)

SOWINGS = (
    Sowing("a skillet/1", "a skillet/1", 546, "tray 1", 120, (44, 49)),
    Sowing("a teapot/1", "a teapot/1", 544, "tray 1", 150, (52, 55, 63)),
    Sowing("a skillet/2", "a skillet/2", 538, "tray 1", None, (51,), pods=2),
    Sowing("a teapot/3", "a teapot/3", 537, "tray 1", 150, (58, 60)),
    Sowing("a chisel/1", "a chisel/1", 535, "tray 1", None, (57,), pods=2),
    Sowing("a teapot/2", "a teapot/2", 533, "tray 1", 100, (66,)),
    Sowing("a canvas/1", "a canvas/1", 500, "cool seed", 120, (70, 74)),
    Sowing("a canvas/2", "a canvas/2", 492, "cool seed", 80, (86, 0)),
    Sowing("a anvil/1", "a anvil/1", 489, "cool seed", 150, (82, 95), kept=True),
    Sowing("a kettle/1", "a kettle/1", 487, "cool seed", 110, (77,), kept=True, potted_on=False),
    # Old seed from the refrigerator, a year silent: the twelve-month question is due.
    Sowing("a anvil/2", "a anvil/2", 368, "cool seed", 100, (0, 214), medium=MIX, last_look=23),
    # Half a year silent.
    Sowing("a chisel/2", "a chisel/2", 184, "tray 2", 130, (0, 98), medium=MIX, last_look=16),
    Sowing("b gingham/1", "b gingham/1", 216, "tray 2", 140, (41, 43, 50)),
    Sowing("b gingham/2", "b gingham/2", 196, "tray 2", 90, (55, 61)),
    Sowing("b corduroy/1", "b corduroy/1", 188, "tray 2", 100, (72, 80), kept=True),
    Sowing("b corduroy/2", "b corduroy/2", 176, "tray 2", 100, (85, 91), kept=True),
    Sowing("b muslin/1", "b muslin/1", 155, "cool seed", 90, (63, 70), kept=True),
    Sowing("b oilcloth/1", "b oilcloth/1", 141, "cool seed", 80, (69, 88)),
    Sowing("b oilcloth/2", "b oilcloth/2", 143, "cool seed", 80, (66, 92, 110)),
    # A quarter silent.
    Sowing("b muslin/2", "b muslin/2", 94, "cool seed", 60, (0, 71), medium=MIX, last_look=12),
    # The last weeks: some are just coming up.
    Sowing("a kettle/1 again", "a kettle/1", 74, "cool seed", 90, (70, 0), last_look=3),
    Sowing("b muslin/1 again", "b muslin/1", 52, "cool seed", 90, (0, 0), last_look=24),
    Sowing("a anvil/1 again", "a anvil/1", 47, "cool seed", 120, (0, 0), kept=True, last_look=28),
    Sowing("b corduroy/2 again", "b corduroy/2", 40, "tray 3", 100, (0, 0), last_look=12),
    Sowing("c skillet/1", "c skillet/1", 19, "tray 3", 140, (0, 0, 0)),
    Sowing("c skillet/2", "c skillet/2", 10, "tray 3", 120, (0, 0)),
)


def write_seed(diary: Diary) -> None:
    ripe = {one.name: _harvested(one) for one in (*sections.FIRST_SEASON, *sections.SECOND_SEASON)}
    for name, seeds, how, filled in CLEANED:
        facts = {"seeds": seeds, "estimate_from": how, "filled_percent": filled}
        diary.write(ripe[name] - 3, seed_cleaned, lot=The(f"{name} seed"), **facts)
    for name in COLD_STORE:
        diary.write(ripe[name] - 4, seed_stored, lot=The(f"{name} seed"), storage="refrigerator")
    for name, ago, why in FINISHED:
        diary.write(ago, seed_finished, lot=The(f"{name} seed"), note=why)
    for sowing in SOWINGS:
        write_sowing(diary, sowing)


def write_sowing(diary: Diary, sowing: Sowing) -> None:
    facts = {"seeds": sowing.seeds, "pods": sowing.pods, "medium": sowing.medium}
    diary.write(
        sowing.ago,
        sown,
        makes=sowing.pots,
        lot=The(f"{sowing.lot} seed"),
        place=The(sowing.place),
        pots=len(sowing.up),
        pot_size="8 cm",
        all_of_it=not sowing.kept and not _much_left(sowing),
        note=sowing.note,
        **facts,
    )
    if not sowing.kept and _much_left(sowing):
        rest = Random(sowing.name).choice(REST)
        diary.write(sowing.ago - REST_GONE_AFTER, seed_finished, lot=The(f"{sowing.lot} seed"), note=rest)
    for name, up in zip(sowing.pots, sowing.up, strict=True):
        pots.write_looks(diary, name, sown=sowing.ago, up=up, last_look=sowing.last_look, potted_on=sowing.potted_on)


def _much_left(sowing: Sowing) -> bool:
    estimate = {lot: seeds for lot, seeds, _, _ in CLEANED}.get(sowing.lot)
    return bool(estimate and sowing.seeds and sowing.seeds * len(sowing.up) < MUCH * estimate)


def _harvested(section: sections.Pods) -> int:
    """About the day, in days ago, on which a section was cut."""
    return section.ago - section.ripe - 3
