"""The plants on the benches: most were here before the book was, so their days are vague."""

from demo_fixtures.diary import Diary, The
from demo_fixtures.told import NOT_KNOWN, in_month, in_season, in_year, on
from nursery.records.moves import moved
from nursery.records.plants import plant_arrived, plant_gone

# clone, place, pot, how many, since when as far as anybody remembers
OPENING_STOCK = (
    ("anvil", "cool north", "18 cm", 2, in_year(2300)),
    ("linen", "cool north", "18 cm", 2, in_year(2300)),
    ("lowii B", "cool north", "13 cm", 1, NOT_KNOWN),
    ("ladle", "cool north", "15 cm", 2, in_season(1500)),
    ("tweed", "cool north", "15 cm", 2, in_season(1500)),
    ("hamata C", "cool rail", "13 cm", 1, in_season(1500)),
    ("kettle", "cool south", "20 cm", 2, NOT_KNOWN),
    ("mallet", "cool south", "18 cm", 1, in_year(1900)),
    ("canvas", "cool south", "20 cm", 3, NOT_KNOWN),
    ("whisk", "cool south", "18 cm", 2, in_year(1500)),
    ("sanguinea A", "cool south", "18 cm", 1, NOT_KNOWN),
    ("thimble", "cool rail", "13 cm basket", 2, in_year(1900)),
    ("muslin", "cool rail", "13 cm basket", 2, in_year(1900)),
    ("sieve", "cool rail", "15 cm", 1, in_month(1120)),
    ("flannel", "cool rail", "13 cm", 1, in_month(1120)),
    ("chisel", "warm long", "20 cm", 2, NOT_KNOWN),
    ("bobbin", "warm long", "18 cm", 1, in_year(1900)),
    ("skillet", "warm door", "25 cm", 2, NOT_KNOWN),
    ("rasp", "warm door", "25 cm", 2, in_year(1500)),
    ("corduroy", "warm door", "30 cm", 2, in_year(2600)),
    ("pliers", "warm door", "30 cm", 2, in_year(1900)),
    ("teapot", "warm long", "20 cm", 2, in_season(1300)),
    ("trowel", "warm long", "20 cm", 2, NOT_KNOWN),
    ("veitchii D", "warm long", "13 cm", 1, NOT_KNOWN),
    ("gingham", "warm long", "15 cm", 1, in_month(900)),
    ("awl", "warm long", "15 cm", 2, in_month(900)),
    ("doormat", "warm long", "15 cm", 2, NOT_KNOWN),
    ("spatula", "warm long", "18 cm", 2, in_year(1200)),
    ("saw", "warm long", "18 cm", 1, in_year(1200)),
    ("oilcloth", "cool south", "15 cm", 2, in_year(1200)),
    ("mortar", "warm door", "18 cm", 1, in_year(1200)),
    ("felt", "cool south", "13 cm", 1, in_year(1000)),
    ("pestle", "warm long", "13 cm", 1, in_year(800)),
    ("apron", "warm long", "15 cm", 1, on(760)),
)

# plant that is struck, mother plant, place, pot, days ago
CUTTINGS = (
    ("teapot 3", "teapot 1", "nursing", "9 cm", 520),
    ("ladle 3", "ladle 1", "cool rail", "9 cm", 418),
    ("tweed 3", "tweed 2", "cool rail", "9 cm", 418),
    ("spatula 3", "spatula 1", "warm long", "9 cm", 260),
    ("corduroy 3", "corduroy 1", "warm door", "13 cm", 250),
    ("doormat 3", "doormat 1", "warm long", "9 cm", 96),
)

# plant, to where, days ago, why
MOVES = (
    ("teapot 3", "warm long", 470, "Rooted, out of quarantine."),
    ("hamata C 1", "cool north", 330, "Too dry on the rail."),
    ("pestle 1", "warm door", 44, ""),
)

# plant, days ago, why, what was said
GONE = (
    ("doormat 2", 350, "sold", "To the lady who came for the apron hybrid and left with this."),
    ("ladle 2", 214, "given", "Back to the friend who writes, for the pollen."),
)


def write_plants(diary: Diary) -> None:
    for clone, place, pot, how_many, since in OPENING_STOCK:
        for name in names(clone, how_many):
            diary.write(
                since.ago if 0 < since.ago < diary.opened else diary.opened,
                plant_arrived,
                by="Marta",
                told=since,
                makes=[name],
                clone=The(clone),
                place=The(place),
                pot=pot,
            )
    for plant, mother, place, pot, ago in CUTTINGS:
        clone = The(mother.rsplit(" ", 1)[0])
        facts = {"clone": clone, "place": The(place), "pot": pot, "struck_from": The(mother)}
        diary.write(ago, plant_arrived, makes=[plant], **facts)
    for plant, place, ago, why in MOVES:
        diary.write(ago, moved, thing=The(plant), place=The(place), note=why)
    for plant, ago, why, said in GONE:
        diary.write(ago, plant_gone, by="Marta", plant=The(plant), why=why, note=said)


def names(clone: str, how_many: int) -> list[str]:
    """What the plants of a clone are called in the tables: "anvil 1", "anvil 2"."""
    return [f"{clone} {number}" for number in range(1, how_many + 1)]
