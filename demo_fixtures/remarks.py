"""What the growers said, in their own words."""

from demo_fixtures.diary import Diary, The
from nursery.records.remarks import remarked

# thing, days ago, who, words
REMARKS = (
    ("a canvas", 671, "Teo", "Stand on the crate for this one. Not on the bench. Never again on the bench."),
    ("corduroy 1", 640, "Ines", "Fangs on every upper pitcher now. Do not cut this one."),
    ("tweed 1", 590, "Teo", "Needs a cane, I keep walking into it."),
    ("a skillet/1 seed", 545, "Ines", "Cleaned it with the dust mask on. Put it on before opening the bag!"),
    ("veitchii D 1", 505, "Marta", "Peristome stays striped for weeks. Want it as a parent, if it ever flowers."),
    ("warm heated", 430, "Teo", "Thermostat reads two degrees too much. Mat is fine."),
    ("a teapot/1 pot 2", 388, "Ines", "Best of the three, broad leaves, red from the start. Keep two aside."),
    ("anvil 2", 233, "Teo", "Scale under two leaves, wiped off with alcohol. Look again."),
    ("b gingham/1 pot 1", 130, "Marta", "First pitchers! Smaller than a grain of rice and already hairy."),
    ("mortar 1", 120, "Ines", "Smells of wet dog when the lids are open. Is that the pliers in it?"),
    ("d pliers pollen", 43, "Teo", "Forgot it on the bench over the weekend. Probably dead, but who knows."),
    ("hamata C 1", 35, "Marta", "Still no spike after four years. Patience."),
    ("apron 1", 12, "Teo", "Visitor asked whether it is for sale. I said no."),
    ("c canvas/2", 6, "Ines", "Wool is fading, it was green. Still the second from the bottom."),
    ("d corduroy", 1, "Marta", "Do not waste it on the old packets. The trowel is fresh."),
)


def write_remarks(diary: Diary) -> None:
    for thing, ago, by, words in REMARKS:
        diary.write(ago, remarked, by=by, thing=The(thing), words=words)
