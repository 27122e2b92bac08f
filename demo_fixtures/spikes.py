"""The flower spikes of two seasons and of now, and the looks that followed each of them."""

from dataclasses import dataclass

from breeding.records.spikes import spike_found, spike_looked
from demo_fixtures.diary import Diary, The
from demo_fixtures.looks import ages, gap, until_last_look

GAP_BEFORE, GAP_OPEN = 10, 7


@dataclass(frozen=True)
class Flowering:
    """What really happened to a spike.

    Found ``found`` days before today; it opened ``opens`` days later and was in flower for ``lasts`` days. Its buds
    told its sex ``buds`` days after finding. Where ``last_look`` is given, the last look was that many days ago.
    """

    name: str
    plant: str
    sex: str
    found: int
    opens: int
    lasts: int
    last_look: int = 0
    position: str = ""
    note: str = ""

    @property
    def buds(self) -> int:
        return self.opens * 6 // 10


M, F = "male", "female"

FIRST_SEASON = (
    Flowering("a trowel", "trowel 1", M, 722, 36, 28),
    Flowering("a ladle", "ladle 1", M, 715, 40, 30),
    Flowering("a anvil", "anvil 1", F, 712, 41, 31, position="second pitcher from the top"),
    Flowering("a linen", "linen 1", M, 709, 42, 30),
    Flowering("a teapot", "teapot 1", F, 708, 37, 29),
    Flowering("a canvas", "canvas 1", F, 703, 39, 32, note="Taller than the label says, stand on the crate."),
    Flowering("a pliers", "pliers 1", M, 702, 34, 28),
    Flowering("a kettle", "kettle 1", F, 700, 43, 30),
    Flowering("a thimble", "thimble 1", M, 698, 38, 25),
    Flowering("a skillet", "skillet 1", F, 696, 35, 31),
    Flowering("a chisel", "chisel 1", F, 694, 36, 32),
    Flowering("a rasp", "rasp 1", M, 690, 33, 27),
)

SECOND_SEASON = (
    Flowering("b awl", "awl 1", M, 366, 31, 26),
    Flowering("b corduroy", "corduroy 1", F, 362, 38, 33),
    Flowering("b gingham", "gingham 1", F, 358, 33, 30),
    Flowering("b mallet", "mallet 1", M, 355, 40, 30),
    Flowering("b whisk", "whisk 2", M, 352, 41, 27),
    Flowering("b muslin", "muslin 1", F, 350, 40, 31),
    Flowering("b oilcloth", "oilcloth 1", F, 347, 42, 30),
    Flowering("b rasp", "rasp 2", M, 340, 32, 27),
    # The flowers that are pods now.
    Flowering("c linen", "linen 2", M, 222, 43, 29),
    Flowering("c anvil", "anvil 2", F, 216, 41, 30),
    Flowering("c mallet", "mallet 1", M, 210, 40, 30),
    Flowering("c canvas", "canvas 2", F, 206, 38, 31),
    Flowering("c saw", "saw 1", M, 186, 35, 28),
    Flowering("c bobbin", "bobbin 1", M, 178, 36, 30),
    Flowering("c spatula", "spatula 1", F, 172, 36, 31, note="First spike on this one!"),
    Flowering("c skillet", "skillet 2", F, 164, 33, 30),
    Flowering("c teapot", "teapot 2", F, 160, 34, 32),
)

NOW = (
    Flowering("d pliers", "pliers 2", M, 84, 35, 29),
    Flowering("d chisel", "chisel 2", F, 88, 36, 30),
    Flowering("d oilcloth", "oilcloth 2", F, 84, 39, 32),
    Flowering("d mortar", "mortar 1", M, 66, 34, 34, last_look=2),
    Flowering("d gingham", "gingham 1", F, 52, 33, 30, last_look=3),
    Flowering("d trowel", "trowel 2", M, 49, 37, 29, last_look=3),
    Flowering("d ladle", "ladle 3", M, 47, 40, 28, last_look=4),
    Flowering("d canvas", "canvas 3", F, 45, 37, 31, last_look=2),
    Flowering("d corduroy", "corduroy 2", F, 44, 38, 33, last_look=1),
    Flowering("d thimble", "thimble 2", M, 41, 39, 26, last_look=8),
    Flowering("d tweed", "tweed 1", F, 38, 45, 30, last_look=12),
    Flowering("d kettle", "kettle 2", F, 31, 43, 30, last_look=9),
    Flowering("d whisk", "whisk 2", M, 24, 41, 30, last_look=6),
    Flowering("d rasp", "rasp 1", M, 15, 34, 27, last_look=4),
    Flowering("d sieve", "sieve 1", M, 11, 42, 27, last_look=11, position="growing point by the wall"),
    Flowering("d anvil", "anvil 1", F, 5, 41, 30),
)


def write_spikes(diary: Diary) -> None:
    for spike in (*FIRST_SEASON, *SECOND_SEASON, *NOW):
        write_spike(diary, spike)


def write_spike(diary: Diary, spike: Flowering) -> None:
    facts = {"plant": The(spike.plant), "position": spike.position, "note": spike.note}
    diary.write(spike.found, spike_found, makes=[spike.name], seen="growing", **facts)
    for age in until_last_look(_ages(spike), spike.found, spike.last_look):
        seen, sex, sex_from = _seen(spike, age)
        look = {"seen": seen, "sex": sex, "sex_from": sex_from}
        diary.write(spike.found - age, spike_looked, spike=The(spike.name), **look)


def _ages(spike: Flowering) -> list[int]:
    """Every ten days or so until it opens, weekly in flower, and once when it is over."""
    gap_before, gap_open = gap(GAP_BEFORE, spike.found), gap(GAP_OPEN, spike.found)
    over = spike.opens + spike.lasts
    before = list(ages(spike.name, 0, spike.opens, gap_before))
    return [*before, spike.opens + 1, *ages(f"{spike.name} open", spike.opens + 1, over, gap_open), over + 2]


def _seen(spike: Flowering, age: int) -> tuple[str, str, str]:
    """What a look at this age tells: state, sex, and what the sex was read from."""
    if age < spike.buds:
        return "growing", "", ""
    if age < spike.opens:
        return "buds", spike.sex, "buds"
    if age >= spike.opens + spike.lasts:
        return "over", "", ""
    return "open" if age < spike.opens + 4 else "showing", spike.sex, "flowers"
