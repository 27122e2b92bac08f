"""Sections: which pollen went on which part of which spike, whether it took, when the pods opened, what was cut."""

from dataclasses import dataclass

from breeding.records.pods import bagged, harvested, pods_looked_at, take_read
from breeding.records.sections import section_dabbed, section_pollinated
from demo_fixtures.diary import Diary, The
from demo_fixtures.looks import ages, gap, until_last_look
from nursery.records.watching import stopped

TAKE_AT, TURNS_BEFORE = 42, 9
GAP_GREEN, GAP_WARY, GAP_TURNING = 27, 9, 4
WARY_FROM = 26  # days before the first opening, as far as anybody knows this seed parent


@dataclass(frozen=True)
class Pods:
    """What really happened to a section.

    Pollinated ``ago`` days before today and dabbed again ``dabs`` days after that; ``take`` as read at six weeks. The
    first pod opens ``ripe`` days after pollination; where ``take`` or ``ripe`` is left out, nobody was there yet.
    Where ``last_look`` is given, the last look was that many days ago.
    ``bag`` and ``cut`` say whether somebody bagged and harvested it once it was time.
    """

    name: str
    pollen: str
    ago: int
    flowers: int
    tie: str
    take: str = ""
    ripe: int = 0
    dabs: tuple[int, ...] = (4,)
    last_look: int = 0
    bag: bool = True
    cut: bool = True
    note: str = ""

    @property
    def spike(self) -> str:
        return self.name.split("/")[0]

    @property
    def seed(self) -> str:
        return f"{self.name} seed"


FIRST_SEASON = (
    Pods("a anvil/1", "a trowel pollen", 666, 22, "red wool", "most", 168, (3, 8)),
    Pods("a anvil/2", "a ladle pollen", 664, 18, "blue wool", "half", 172),
    Pods("a anvil/3", "a thimble pollen", 652, 14, "", "none", note="Stigmas nearly dry."),
    Pods("a teapot/1", "a pliers pollen", 660, 30, "red wool", "all", 108, (5,)),
    Pods("a teapot/2", "a ladle pollen", 659, 26, "green wool", "half", 114),
    Pods("a teapot/3", "a trowel pollen", 656, 35, "white wire", "most", 112, (3, 6)),
    Pods("a canvas/1", "a thimble pollen", 653, 28, "red wool", "most", 144),
    Pods("a canvas/2", "a ladle pollen", 651, 24, "blue wool", "third", 151),
    Pods("a canvas/3", "a linen pollen", 648, 31, "white wire", "half", 149),
    Pods("a skillet/1", "a rasp pollen", 650, 45, "red wool", "all", 97, (2, 4)),
    Pods("a skillet/2", "a pliers pollen", 648, 40, "blue wool", "most", 103),
    Pods("a kettle/1", "a ladle pollen", 650, 20, "red wool", "most", 155),
    Pods("a kettle/2", "a linen pollen", 648, 17, "green wool", "third", 161),
    Pods("a kettle/3", "a trowel pollen", 645, 15, "", "none"),
    Pods("a chisel/1", "a trowel pollen", 651, 25, "red wool", "half", 106),
    Pods("a chisel/2", "a pliers pollen", 649, 23, "blue wool", "most", 110),
    Pods("a chisel/3", "a rasp pollen", 646, 19, "green wool", "third", 101, (1,)),
)

SECOND_SEASON = (
    Pods("b corduroy/1", "b awl pollen", 318, 33, "red wool", "half", 118),
    Pods("b corduroy/2", "b rasp pollen", 303, 29, "white wire", "most", 121),
    Pods("b gingham/1", "b awl pollen", 320, 24, "red wool", "all", 95, (3, 6)),
    Pods("b gingham/2", "b rasp pollen", 302, 21, "blue wool", "half", 99),
    Pods("b muslin/1", "b whisk pollen", 305, 16, "red wool", "most", 141),
    Pods("b muslin/2", "b mallet pollen", 302, 18, "blue wool", "third", 146),
    Pods("b muslin/3", "b mallet more", 296, 12, "", "none", note="Last flowers at the tip."),
    Pods("b oilcloth/1", "b mallet pollen", 300, 20, "red wool", "half", 150),
    Pods("b oilcloth/2", "b whisk pollen", 298, 22, "blue wool", "most", 148),
    # Pods now, in the cool house: some turning, some still green.
    Pods("c anvil/1", "c linen pollen", 174, 21, "red wool", "most", 178, (3, 7), last_look=3, bag=False),
    Pods("c anvil/2", "c mallet pollen", 164, 19, "blue wool", "half", 174, (4,), last_look=4),
    Pods("c canvas/1", "c linen pollen", 164, 27, "red wool", "half", 158, cut=False),
    Pods("c canvas/2", "c mallet pollen", 160, 25, "green wool", "third", 173, last_look=15),
    # Pods now, in the warm house: the first are in the paper bag.
    Pods("c spatula/1", "c saw pollen", 133, 18, "red wool", "most", 126, (3,)),
    Pods("c spatula/2", "c bobbin pollen", 130, 16, "blue wool", "half", 124, (5,), cut=False),
    Pods("c skillet/1", "c saw pollen", 128, 42, "red wool", "all", 102, (2, 5)),
    Pods("c skillet/2", "c bobbin pollen", 126, 38, "blue wool", "most", 108),
    Pods("c teapot/1", "c bobbin pollen", 123, 28, "red wool", "most", 111, (4,)),
    Pods("c teapot/2", "a trowel frozen", 121, 24, "white wire", "third", 126, last_look=2, bag=False),
    Pods("c teapot/3", "c saw pollen", 118, 22, "green wool", "half", 128, last_look=7),
)

NOW = (
    Pods("d chisel/1", "d pliers cold", 44, 24, "red wool", "most", 107),
    Pods("d chisel/2", "d mortar early", 28, 20, "blue wool"),
    Pods("d oilcloth/1", "d pliers cold", 43, 19, "red wool", dabs=(3, 6)),
    Pods("d oilcloth/2", "d pliers cold", 39, 17, "blue wool"),
    Pods("d oilcloth/3", "d mortar pollen", 24, 15, "green wool"),
    Pods("d gingham/1", "d mortar pollen", 17, 22, "red wool", dabs=(3, 7)),
    Pods("d gingham/2", "d mortar pollen", 12, 18, "blue wool", dabs=()),
    Pods("d gingham/3", "d trowel pollen", 8, 16, "white wire"),
    Pods("d canvas/1", "d trowel pollen", 5, 20, "red wool", dabs=(2,)),
)


def write_sections(diary: Diary) -> None:
    for section in (*FIRST_SEASON, *SECOND_SEASON, *NOW):
        write_section(diary, section)


def write_section(diary: Diary, section: Pods) -> None:
    _write_dabs(diary, section)
    _write_take(diary, section)
    if section.take == "none":
        diary.write(section.ago - TAKE_AT - 9, stopped, thing=The(section.name))
    elif section.ripe:
        _write_pods(diary, section)


def _write_dabs(diary: Diary, section: Pods) -> None:
    pollen = The(section.pollen)
    facts = {"tie": section.tie, "flowers": section.flowers, "size": _size(section.flowers), "note": section.note}
    cover = {"covered_before": section.ago % 3 == 0, "covered_after": True}
    diary.write(
        section.ago, section_pollinated, makes=[section.name], spike=The(section.spike), lot=pollen, **facts, **cover
    )
    for later in section.dabs:
        diary.write(section.ago - later, section_dabbed, section=The(section.name), lot=pollen)


def _size(flowers: int) -> str:
    return next((size for size in ("10", "25", "50", "100") if flowers < int(size)), "more")


def _write_take(diary: Diary, section: Pods) -> None:
    """Brown stigmas at three weeks where somebody wrote them down; swelling at six."""
    if section.ago % 4 == 0:
        brown = "some" if section.take in {"none", "third"} else "most"
        diary.write(section.ago - 21, take_read, section=The(section.name), brown=brown)
    if section.take:
        diary.write(section.ago - TAKE_AT, take_read, section=The(section.name), swelling=section.take)


def _write_pods(diary: Diary, section: Pods) -> None:
    thing = The(section.name)
    turned = False
    for age in _look_ages(section):
        ago = section.ago - age
        seen = _seen(section, age)
        diary.write(ago, pods_looked_at, section=thing, seen=seen)
        if seen == "turning" and not turned and section.bag:
            diary.write(ago - 1, bagged, section=thing)
        turned = turned or seen == "turning"
        if seen == "opening":
            _write_harvest(diary, section, ago)
            return


def _look_ages(section: Pods) -> list[int]:
    wary, turns = section.ripe - WARY_FROM, section.ripe - TURNS_BEFORE
    green = list(ages(section.name, TAKE_AT, wary, gap(GAP_GREEN, section.ago)))
    close = list(ages(f"{section.name} wary", wary - 1, turns + 3, gap(GAP_WARY, section.ago)))
    ripening = list(ages(f"{section.name} turning", turns + 1, section.ripe + 9, GAP_TURNING))
    return until_last_look(sorted({*green, *close, turns + 1, *ripening}), section.ago, section.last_look)


def _seen(section: Pods, age: int) -> str:
    if age >= section.ripe:
        return "opening"
    return "turning" if age >= section.ripe - TURNS_BEFORE else "green"


def _write_harvest(diary: Diary, section: Pods, ago: int) -> None:
    if section.cut:
        pods = section.flowers * {"third": 4, "half": 6, "most": 8, "all": 10}[section.take] // 11
        cut = {"what": "section", "pods": pods, "pods_open": min(2, pods)}
        diary.write(ago - 1, harvested, makes=[section.seed], section=The(section.name), **cut)
