"""Planning a sowing: which seed first, how much into a pot, and what that takes of moss, labels and bench.

Lengths in cm, areas in cm2, volumes in litres. Numbers are suggestions, each with where it comes from; the grower's
own log beats them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from breeding.science.seed_age import OLD_AFTER


@dataclass(frozen=True)
class PotSize:
    """A round pot: its width at the rim and at the base, and its height, inside."""

    code: str
    words: str
    rim: float
    base: float
    height: float


POT_SIZES = (
    PotSize("5cm", "5 cm (two-inch)", 5.0, 3.8, 5.0),
    PotSize("7cm", "7.5 cm (three-inch)", 7.6, 5.4, 7.0),
    PotSize("9cm", "9 cm (three-and-a-half-inch)", 9.0, 6.3, 8.0),
    PotSize("10cm", "10 cm (four-inch)", 10.0, 7.2, 9.0),
    PotSize("13cm", "13 cm (five-inch)", 13.0, 9.4, 11.5),
)
"""Widths by name; bases and heights of usual round pots from memory, unchecked. A square one holds about a quarter
more."""

BY_CODE = {size.code: size for size in POT_SIZES}
USUAL_SIZE = BY_CODE["7cm"]
"""A three-inch pot is what the suggestions are told for (common practice, no source)."""
BELOW_RIM = 2.54
"""A three-inch pot is filled to about one inch below the rim (common practice, no source)."""
MOST_BELOW = 0.4
"""Of the height of a smaller pot, at most; our choice."""

SEEDS_A_CM2 = 1.0
SEEDS_A_CM2_SOURCE = "about 1 seed to a square centimetre: one grower's page"
PODS_A_POT = 2
PODS_A_POT_SOURCE = "1 or 2 pods of a large-seeded species to a three-inch pot: common practice, no source"
SUGGESTED = f"suggested: {SEEDS_A_CM2_SOURCE}"
SOURCES = (SEEDS_A_CM2_SOURCE, PODS_A_POT_SOURCE)


def filled_to(size: PotSize) -> float:
    """How far below the rim the medium ends, in cm.

    >>> filled_to(BY_CODE["10cm"]), round(filled_to(BY_CODE["5cm"]), 2)
    (2.54, 2.0)
    """
    return min(BELOW_RIM, size.height * MOST_BELOW)


def surface(size: PotSize) -> float:
    """The area on which seed lies, in cm2: a circle as wide as the pot is where the medium ends.

    >>> round(surface(USUAL_SIZE), 1)
    36.3
    """
    return math.pi / 4 * _width_at(size, filled_to(size)) ** 2


def litres(size: PotSize) -> float:
    """The medium in one pot as it lies there, in litres; moss that is pressed down takes more.

    A frustum of a cone of height h, D wide at the top and d at the base: V = pi h (D^2 + D d + d^2) / 12.
    Source: elementary geometry; for example a cylinder where D = d.

    >>> round(litres(USUAL_SIZE), 3)
    0.131
    """
    top, depth = _width_at(size, filled_to(size)), size.height - filled_to(size)
    return math.pi * depth * (top**2 + top * size.base + size.base**2) / 12 / 1000


def bench(size: PotSize) -> float:
    """The bench under one pot in m2, pots standing rim to rim in rows.

    >>> round(bench(USUAL_SIZE), 5)
    0.00578
    """
    return (size.rim / 100) ** 2


def seeds_a_pot(size: PotSize, density: float = SEEDS_A_CM2) -> int:
    """Seeds for one pot at so many to a cm2, at least one.

    >>> seeds_a_pot(USUAL_SIZE), seeds_a_pot(USUAL_SIZE, 0.5)
    (36, 18)
    """
    return max(1, round(surface(size) * density))


def density_words(density: float | Decimal) -> str:
    """What was chosen, in seeds to a cm2, beside what is suggested.

    >>> density_words(0.5)
    "0.5 seeds to a square centimetre, chosen here (suggested: about 1 seed to a square centimetre: one grower's page)"
    >>> density_words(Decimal("1.00"))
    "1 seed to a square centimetre, as suggested: about 1 seed to a square centimetre: one grower's page"
    """
    each = f"{float(density):g}"
    words = f"{each} {'seed' if each == '1' else 'seeds'} to a square centimetre"
    return f"{words}, as {SUGGESTED}" if float(density) == SEEDS_A_CM2 else f"{words}, chosen here ({SUGGESTED})"


def pods_a_pot(size: PotSize) -> int:
    """Pods of a large-seeded species for one pot: two for a three-inch pot, others by their surface, at least one.

    >>> [pods_a_pot(size) for size in POT_SIZES]
    [1, 2, 3, 4, 6]
    """
    return max(1, round(PODS_A_POT * surface(size) / surface(USUAL_SIZE)))


@dataclass(frozen=True)
class Share:
    """How seed is shared out: into so many pots, so much into each, and what is left over (None: nobody counted)."""

    pots: int
    each: int | None = None
    left: int | None = None


def shared(count: int | None, *, each: int, most: int) -> Share:
    """As many pots as ``count`` seeds (or pods) need at ``each`` a pot at most, alike in all; at most ``most`` pots.

    One pot more or fewer, whichever leaves less over. Where nobody counted, one pot. Zero seeds need no pot.

    >>> shared(300, each=36, most=20), shared(300, each=36, most=2), shared(None, each=36, most=20)
    (Share(pots=9, each=33, left=3), Share(pots=2, each=36, left=228), Share(pots=1, each=None, left=None))
    >>> shared(5, each=36, most=20), shared(0, each=36, most=20), shared(13, each=2, most=20)
    (Share(pots=1, each=5, left=0), Share(pots=0, each=0, left=0), Share(pots=6, each=2, left=1))
    """
    if each < 1 or most < 1:
        raise ValueError(f"each and most must be 1 or more; got {each} and {most}.")
    if count is None:
        return Share(1)
    if count == 0:
        return Share(0, 0, 0)
    more, fewer = min(math.ceil(count / each), most), min(count // each, most)
    ways = [_alike(count, pots, each) for pots in (more, fewer) if pots]
    return min(ways, key=lambda way: way.left)


def _alike(count: int, pots: int, each: int) -> Share:
    in_each = min(each, count // pots)
    return Share(pots, in_each, count - pots * in_each)


@dataclass(frozen=True)
class Planned:
    """So many pots of one size (its code; None where it is no size of ours)."""

    pots: int
    size: str | None = None


@dataclass(frozen=True)
class Totals:
    """What a plan takes. ``unmeasured`` pots are of a size whose moss and room nobody can work out."""

    pots: int
    litres: float
    bench: float
    unmeasured: int

    @property
    def labels(self) -> int:
        """No pot without a label."""
        return self.pots


def totals(lines: Iterable[Planned]) -> Totals:
    """
    >>> totals([Planned(10, "7cm"), Planned(2)])
    Totals(pots=12, litres=1.31, bench=0.058, unmeasured=2)
    """
    lines = list(lines)
    measured = [(line.pots, BY_CODE[line.size]) for line in lines if line.size in BY_CODE]
    return Totals(
        pots=sum(line.pots for line in lines),
        litres=round(sum(pots * litres(size) for pots, size in measured), 2),
        bench=round(sum(pots * bench(size) for pots, size in measured), 3),
        unmeasured=sum(line.pots for line in lines if line.size not in BY_CODE),
    )


@dataclass(frozen=True)
class Seed:
    """A lot as its turn depends on it: days since it was ripe (None: not known), where it is kept, who waits for it."""

    pk: int
    age: int | None
    storage: str = "unknown"
    left: int | None = None
    filled_percent: int | None = None
    wanted: int | None = None
    waiting: int = 0


@dataclass(frozen=True)
class Turn:
    """A lot with its turn, and why in one sentence."""

    seed: Seed
    why: str


FRESH_WARM, FRESH_COLD, UNKNOWN, OLD = range(4)


def in_turn(lots: Sequence[Seed]) -> list[Turn]:
    """The oldest fresh seed first: it is the next to be old. What lies cold keeps, so it waits; old seed comes last.

    Fresh seed is faster and stronger (common practice, no source); one species lost most within a year at 25 C and
    kept more than five years at 5 C (Seed viability studies in Nepenthes khasiana). Where fresh ends is our choice.
    Among lots of one age, that of a cross whose plants are wanted comes first.
    """
    return [Turn(seed, why(seed)) for seed in sorted(lots, key=_turn)]


def why(seed: Seed) -> str:
    """
    >>> why(Seed(1, 35, "room", 300, 80))
    'Fresh, 35 days old and not in the cold: sow it before it ages; 300 seeds left, 80% of them filled.'
    >>> why(Seed(1, 400, "refrigerator", wanted=50))
    'Old, 400 days: comes up late and thin, though cold slows that; number of seeds not known; 50 plants wanted.'
    """
    told = [_REASONS[_rank(seed)].format(_days(seed.age)), _seeds(seed)]
    if _rank(seed) == OLD and seed.storage == "refrigerator":
        told[0] += ", though cold slows that"
    told += [f"{seed.wanted:,} plants wanted"] if seed.wanted else []
    told += [f"{_pots(seed.waiting)} prepared for it already"] if seed.waiting else []
    return "; ".join(told) + "."


_REASONS = {
    FRESH_WARM: "Fresh, {} old and not in the cold: sow it before it ages",
    FRESH_COLD: "Fresh, {} old and in the refrigerator, where it keeps",
    UNKNOWN: "Age not known, so it may be fresh or old",
    OLD: "Old, {}: comes up late and thin",
}


def _turn(seed: Seed) -> tuple[int, int, int, int]:
    rank = _rank(seed)
    age = seed.age or 0
    return rank, age if rank == OLD else -age, -(seed.wanted or 0), seed.pk


def _rank(seed: Seed) -> int:
    if seed.age is None:
        return UNKNOWN
    if seed.age > OLD_AFTER:
        return OLD
    return FRESH_COLD if seed.storage == "refrigerator" else FRESH_WARM


def _seeds(seed: Seed) -> str:
    if seed.left is None:
        return "number of seeds not known"
    filled = f", {seed.filled_percent}% of them filled" if seed.filled_percent is not None else ""
    return f"{seed.left:,} {'seed' if seed.left == 1 else 'seeds'} left{filled}"


def _days(age: int | None) -> str:
    return "" if age is None else f"{age} day{'' if age == 1 else 's'}"


def _pots(count: int) -> str:
    return f"{count} pot{'' if count == 1 else 's'}"


def _width_at(size: PotSize, below_rim: float) -> float:
    """The width of a pot so far below its rim; its sides are straight."""
    return size.rim - (size.rim - size.base) * below_rim / size.height
