"""Two small glasshouses, in the order in which Teo walks them."""

from demo_fixtures.diary import Diary, The
from nursery.records.places import place_made, place_renamed, room_told

# name in the tables, what it is called, size, inside what, its turn
PLACES = (
    ("cool", "Cool house", "house", None, 1),
    ("cool north", "North bench", "bench", "cool", 1),
    ("cool south", "South bench", "bench", "cool", 2),
    ("cool rail", "Hanging rail", "bench", "cool", 3),
    ("cool seed", "Seed tray by the fan", "tray", "cool south", 1),
    ("warm", "Warm house", "house", None, 2),
    ("warm door", "Door bench", "bench", "warm", 1),
    ("warm long", "Long bench", "bench", "warm", 2),
    ("warm heated", "Heated bench", "bench", "warm", 3),
    ("tray 1", "Tray 1", "tray", "warm heated", 1),
    ("tray 2", "Tray 2", "tray", "warm heated", 2),
    ("tray 3", "Tray 3", "tray", "warm heated", 3),
    ("nursing", "Sick corner", "bench", "warm", 4),
)
# Three-inch pots that a tray takes; nobody has counted the benches.
ROOM = {"tray 1": 24, "tray 2": 24, "tray 3": 24, "cool seed": 15}


def write_places(diary: Diary) -> None:
    for key, name, size, inside, order in PLACES:
        diary.write(
            diary.opened,
            place_made,
            by="Marta",
            makes=[key],
            name=name,
            size=size,
            inside=The(inside) if inside else None,
            order=order,
        )
    for key, pots in ROOM.items():
        diary.write(diary.opened, room_told, by="Marta", place=The(key), pots=pots)
    # The shelf got a fan and another name when thrips came in on a new plant.
    diary.write(
        402,
        place_renamed,
        by="Marta",
        place=The("nursing"),
        name="Quarantine shelf",
        order=9,
        note="Nothing new goes onto the benches before four weeks here.",
    )
