"""One sowing evening, planned two days ago and broken off: some pots sown, some still waiting."""

from decimal import Decimal

from breeding.models import SeedLot
from breeding.records.sowing import Line, pot_sown, sowing_planned
from demo_fixtures.diary import Diary, InDays, The
from nursery.models import Act
from nursery.records.core import NewAct

PLANNED, SOWN = 2, 1
POTS = ("evening 1", "evening 2", "evening 3", "evening 4", "evening 5")


def write_sowing_evening(diary: Diary) -> None:
    diary.write(
        PLANNED,
        _evening_planned,
        by="Marta",
        makes=("evening", *POTS),
        fresh=The("c teapot/1 seed"),
        old=The("a anvil/1 seed"),
        place=The("tray 3"),
        planned_for=InDays(-SOWN),
        medium="milled sphagnum on long-fibre",
        sterilised="microwave",
        density=Decimal(1),
    )
    for pot, seeds in zip(POTS[:2], (35, 40), strict=True):
        diary.write(SOWN, pot_sown, by="Teo", pot=The(pot), seeds=seeds)


def _evening_planned(*, act: NewAct, fresh: SeedLot, old: SeedLot, **facts) -> Act:
    lines = [Line(fresh, 3, "7.5 cm (three-inch)", seeds=35), Line(old, 2, "7.5 cm (three-inch)", seeds=30)]
    return sowing_planned(act=act, lines=lines, **facts)
