"""What Marta wishes for: some of it done, some waiting for two spikes to meet."""

from breeding.records.crosses import cross_planned
from demo_fixtures.diary import Diary, The

# seed parent, pollen parent, days ago, plants wanted, what for, name of the family
WISHES = (
    ("anvil", "trowel", 715, 40, "Big lids with stripes, and quicker than lowii.", ""),
    ("teapot", "pliers", 700, 25, "", "kitchen fangs"),
    ("skillet", "rasp", 690, 60, "Red carpet for the door.", ""),
    ("corduroy", "awl", 340, 30, "Fangs on something that fits a windowsill.", "windowsill"),
    ("spatula", "saw", 180, 20, "See what comes apart again.", ""),
    # Not done yet: these have never flowered together.
    ("tweed", "linen", 90, 30, "The strangest peristome we can think of.", ""),
    ("tweed", "ladle", 60, 50, "Our own hamata, so that nobody needs to dig one up.", ""),
    ("canvas", "trowel", 20, 25, "", "sailcloth"),
)


def write_wishes(diary: Diary) -> None:
    for seed_parent, pollen_parent, ago, wanted, aim, family in WISHES:
        diary.write(
            ago,
            cross_planned,
            by="Marta",
            seed_parent=The(seed_parent),
            pollen_parent=The(pollen_parent),
            wanted=wanted,
            aim=aim,
            family=family,
        )
