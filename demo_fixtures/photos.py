"""The few photos that the growers took."""

from demo_fixtures.diary import Diary, The
from demo_fixtures.pictures import Drawn
from nursery.records.photos import photo_taken

# thing, days ago, who, what it shows, caption
PHOTOS = (
    ("corduroy 1", 640, "Ines", "pitcher", "Upper pitcher, two weeks old."),
    ("a teapot/1 pot 2", 388, "Ines", "seedlings", "Red from the start."),
    ("a teapot/1 pot 2", 360, "Teo", "seedlings", ""),
    ("veitchii D 1", 210, "Marta", "pitcher", "Still striped."),
    ("d gingham", 10, "Teo", "female", "Buds longer than wide. Marta agrees."),
    ("d gingham", 3, "Teo", "female", ""),
    ("d trowel", 9, "Ines", "male", "Pollen on the third ring."),
)


def write_photos(diary: Diary) -> None:
    for number, (thing, ago, by, subject, caption) in enumerate(PHOTOS):
        photo = Drawn(subject, f"{thing} {number}")
        diary.write(ago, photo_taken, by=by, thing=The(thing), photo=photo, note=caption)
