"""The seasons before the two that the tables tell of: the same doings year after year, with other lengths each time.

A nursery remembers more than it can show. These seasons are made from two tables, who flowers when and who crosses
with whom, and from a fixed chance, so that each load tells the same. Every mother keeps a pace of her own, for that
is what the nursery's log is there to find out. All of it is over by now: what came of it was sold or given away.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp
from random import Random

from breeding.records.routines import routine_done, routine_made
from breeding.records.seed import seed_cleaned, seed_finished
from demo_fixtures.diary import Diary, The
from demo_fixtures.plants import OPENING_STOCK
from demo_fixtures.pollen import COLD, Packet, write_packet
from demo_fixtures.sections import Pods, write_section
from demo_fixtures.seed import Sowing, write_sowing
from demo_fixtures.spikes import F, Flowering, M, write_spike
from nursery.records.remarks import remarked
from nursery.records.watching import stopped

YEAR = 365
FIRST_FLOWERS = 735
"""Days ago of the first spike of the last of these seasons, had it been this late; each season is a year earlier."""

PACE = {
    "anvil": 1.18,
    "kettle": 1.10,
    "canvas": 1.02,
    "muslin": 1.00,
    "teapot": 0.80,
    "chisel": 0.76,
    "skillet": 0.69,
    "corduroy": 0.86,
}
"""How slow the pods of each mother are against 142 days: invented, within what is shipped for warm and cool kinds."""

RIPE, GERMINATES = 142, 62
SCATTER = 0.05
CUT_BY = 10
"""Days after the first pod opened by which somebody has cut it."""

SETTLED = 120
"""Days that a plant stands here before it flowers."""

SINCE = {clone: since for clone, _, _, _, since in OPENING_STOCK}

# mother, its plants, where its seed is sown, days after the first spike of the season
MOTHERS = (
    ("anvil", ("anvil 1", "anvil 2"), "cool seed", 6),
    ("kettle", ("kettle 1", "kettle 2"), "cool seed", 14),
    ("canvas", ("canvas 1", "canvas 2", "canvas 3"), "cool seed", 20),
    ("muslin", ("muslin 1", "muslin 2"), "cool seed", 26),
    ("teapot", ("teapot 1", "teapot 2"), "tray 1", 11),
    ("chisel", ("chisel 1", "chisel 2"), "tray 2", 17),
    ("skillet", ("skillet 1", "skillet 2"), "tray 1", 23),
    ("corduroy", ("corduroy 1", "corduroy 2"), "tray 2", 29),
)

# father, plant, days after the first spike
FATHERS = (
    ("linen", "linen 1", 0),
    ("trowel", "trowel 1", 3),
    ("pliers", "pliers 1", 5),
    ("thimble", "thimble 2", 6),
    ("rasp", "rasp 1", 8),
    ("bobbin", "bobbin 1", 10),
    ("mallet", "mallet 1", 12),
    ("ladle", "ladle 2", 13),
)

TIES = ("red wool", "blue wool", "green wool", "white wire")
TAKES = ("none", "third", "half", "half", "most", "most", "most", "all")
REMARKS = (
    "Good year for this one.",
    "Late again.",
    "Fewer flowers than last time.",
    "Stood too close to the door.",
    "Worth another try with more light.",
)
OF_PLANTS = (
    "New growing point low down.",
    "Fat pitchers this month.",
    "Two leaves with scale, wiped off.",
    "Pale. Moved the pot a hand's breadth from the glass.",
    "Repotted, roots are fine.",
    "Dry at noon, watered.",
    "Pitchers die back early, watch the air.",
    "Leans into the path. Cane.",
    "Somebody asked for a cutting.",
    "Nicest pitcher so far, photo next time.",
    "Moss has overgrown the pot, pulled it out with gloves on.",
    "Label hardly readable.",
)

# what is done, where, every how many days, how often
ROUTINES = (
    ("mist", "warm", 1, 140),
    ("read the low and high of the night", "cool", 1, 130),
    ("look for slugs at dusk", "warm long", 2, 90),
    ("open the vents", "cool", 1, 150),
    ("empty the drip trays", "warm long", 3, 60),
    ("feed the seedlings", "warm heated", 14, 20),
    ("change the sticky cards", "cool", 28, 11),
)
PUT_OFF, WEEKS = 0.06, 50
"""Share of the times that it was put off; weeks of a year in which somebody had something to say."""

GONE = ("Sold small, as a tray.", "All to the spring fair.", "Swapped.", "Given to the school.")


@dataclass(frozen=True)
class Season:
    """One year's flowering, ``back`` years before the first season of the tables."""

    back: int

    @property
    def first(self) -> int:
        """Days ago of its first spike."""
        return FIRST_FLOWERS + YEAR * self.back - 14 * (self.back % 2)

    def name(self, clone: str) -> str:
        return f"y{self.back} {clone}"

    def chance(self, what: str) -> Random:
        return Random(f"{self.back} {what}")

    def males(self) -> list[Flowering]:
        return [
            Flowering(self.name(clone), plant, M, self.first - later, self.chance(clone).randint(32, 41), 40)
            for clone, plant, later in FATHERS
            if _was_here(plant, self.first)
        ]

    def packets(self) -> list[Packet]:
        taken = {spike.name: spike.found - spike.opens - 4 for spike in self.males()}
        return [Packet(f"{name} pollen", name, ago, COLD, finished=ago - 90) for name, ago in taken.items()]

    def females(self) -> Iterator[tuple[str, str, Flowering]]:
        """Mother, where its seed goes, and its spike; each year another plant of hers."""
        for clone, plants, sown_in, later in MOTHERS:
            chance = self.chance(clone)
            plant = plants[self.back % len(plants)]
            if not _was_here(plant, self.first):
                continue
            lasts, opens = chance.randint(30, 40), chance.randint(31, 46)
            yield clone, sown_in, Flowering(self.name(clone), plant, F, self.first - later, opens, lasts)

    def sections(self, clone: str, spike: Flowering) -> Iterator[Pods]:
        """Up to three crosses on each spike, as soon as it is open and the pollen is there."""
        packets = self.packets()
        chosen = self.chance(f"{clone} fathers").sample(packets, min(3, len(packets)))
        for number, packet in enumerate(chosen, start=1):
            chance = self.chance(f"{clone} {number}")
            yield Pods(
                name=f"{spike.name}/{number}",
                pollen=packet.name,
                ago=min(spike.found - spike.opens - 8 - 2 * number, packet.ago),
                flowers=chance.randint(14, 44),
                tie=TIES[number - 1],
                take=chance.choice(TAKES),
                ripe=_days(chance, RIPE * PACE[clone]),
                dabs=(3, 6)[: chance.randint(0, 2)],
            )


def write_earlier(diary: Diary, seasons: int) -> None:
    """So many seasons before the tables', the longest ago first."""
    for back in range(seasons, 0, -1):
        _write_season(diary, Season(back))


def _write_season(diary: Diary, season: Season) -> None:
    _write_routines(diary, season)
    _write_remarks(diary, season)
    for spike in season.males():
        write_spike(diary, spike)
    for packet in season.packets():
        write_packet(diary, packet)
    for clone, sown_in, spike in season.females():
        write_spike(diary, spike)
        words = season.chance(clone).choice(REMARKS)
        diary.write(spike.found - spike.opens - 20, remarked, thing=The(spike.name), words=words)
        for section in season.sections(clone, spike):
            write_section(diary, section)
            if section.take != "none":
                _write_seed(diary, season, clone, section, sown_in)


def _write_routines(diary: Diary, season: Season) -> None:
    """What had its days that year, done on nearly all of them, and ended when the weather turned."""
    for words, place, every, times in ROUTINES:
        name, rule = season.name(words), "FREQ=DAILY" if every == 1 else f"FREQ=DAILY;INTERVAL={every}"
        begun = season.first - 30
        diary.write(begun, routine_made, by="Marta", makes=[name], words=words, place=The(place), rule=rule)
        for turn in range(times):
            answer = "not_today" if season.chance(f"{words} {turn}").random() < PUT_OFF else "done"
            diary.write(begun - turn * every, routine_done, routine=The(name), answer=answer)
        diary.write(begun - times * every, stopped, thing=The(name))


def _write_remarks(diary: Diary, season: Season) -> None:
    """Something to say of a plant every week or so."""
    here = [f"{clone} 1" for clone in SINCE if _was_here(f"{clone} 1", season.first)]
    for week in range(WEEKS):
        chance = season.chance(f"week {week}")
        ago, plant = season.first - 7 * week - chance.randint(0, 6), The(chance.choice(here))
        diary.write(ago, remarked, thing=plant, words=chance.choice(OF_PLANTS))


def _write_seed(diary: Diary, season: Season, clone: str, section: Pods, sown_in: str) -> None:
    """Cleaned some days after it was cut, sown at once in three pots; the rest found takers."""
    chance = season.chance(section.seed)
    cut = section.ago - section.ripe - CUT_BY
    lot, seeds = The(section.seed), chance.randint(3, 12) * 100
    diary.write(cut - 2, seed_cleaned, lot=lot, seeds=seeds, estimate_from="guessed")
    up = tuple(_days(chance, GERMINATES * (0.7 + 0.3 * PACE[clone])) for _ in range(3))
    write_sowing(diary, Sowing(section.name, section.name, cut - 5, sown_in, 60, up, kept=True))
    diary.write(cut - 20, seed_finished, lot=lot, note=chance.choice(GONE))


def _days(chance: Random, middle: float) -> int:
    """A length in whole days, log-normal around ``middle``."""
    return round(middle * exp(chance.gauss(0, SCATTER)))


def _was_here(plant: str, ago: int) -> bool:
    """Whether it stood here so many days ago; of what came on a day not known, it did."""
    return not 0 < SINCE[plant.rsplit(" ", 1)[0]].ago < ago + SETTLED
