"""What the rows of a table may be, and what each kind of row may tell; choices come from the models."""

from breeding.models.pods import PodSeen, Swelling
from breeding.models.pollen import PollenStorage
from breeding.models.pots import PotSeen
from breeding.models.seed import SeedStorage
from nursery.models import Clone
from nursery.site.moving.tables.columns import REMARK, Column, Kind
from nursery.site.moving.tables.values import Option

_ALSO = {
    "refrigerator": ("fridge", "cold", "cool"),
    "freezer": ("frozen", "deep freeze"),
    "room": ("room", "room temperature"),
    "bench": ("bench", "fresh"),
    "dry_bench": ("dry", "desiccant"),
    "unknown": ("other",),
    "raised": ("raised", "own", "own cross", "own seed", "home"),
    "bought": ("purchase", "purchased", "trade"),
    "gift": ("given", "present", "swap", "swapped"),
    "permit": ("permit", "wild"),
    "green": ("green", "firm"),
    "turning": ("turning", "brown", "browning", "yellow"),
    "opening": ("opening", "cracked", "open"),
    "split": ("split", "fallen", "empty"),
    "nothing": ("nothing", "none", "not yet", "no", "0"),
    "first": ("first", "one"),
    "plenty": ("many", "lots"),
    "carpet": ("carpet", "full"),
    "third": ("third", "a third", "some", "partial"),
    "half": ("half",),
    "most": ("most",),
    "all": ("all", "full", "strong"),
    "none": ("none", "failed"),
}


def _options(choices) -> tuple[Option, ...]:
    return tuple((code, label, *_ALSO.get(code, ())) for code, label in choices.choices)


def _storage(choices) -> Column:
    return Column("storage", "Kept", ("storage", "stored", "where kept", "kept in"), "choice", _options(choices))


_TAG = Column(
    "tag",
    "Blank tag",
    ("blank tag number", "tag", "tag number"),
    "number",
    help="The number of a blank tag of ours that hangs on it already.",
)
_PLACE = Column(
    "place",
    "Place",
    ("where", "location", "bench", "stands", "house", "greenhouse", "tray"),
    help="From the house inwards: House 1 / Bench 2",
)
_REMARK = Column(REMARK, "Remark", ("remarks", "note", "notes", "comment", "comments"))
_SEED_PARENT = Column(
    "seed_parent",
    "Seed parent",
    ("female", "mother", "female parent", "mother plant", "pod parent", "seed parent female"),
)
_POLLEN_PARENT = Column(
    "pollen_parent", "Pollen parent", ("male", "father", "male parent", "pollen", "pollen parent male", "pollen from")
)
_CROSS = Column(
    "cross", "Cross", ("formula", "hybrid", "parents"), help="As a formula, the female first: lowii × veitchii"
)
_WORDS = Column("words", "In words", ("words", "label", "name on the packet", "name on packet", "from whom", "source"))
_SEEDS = Column("seeds", "Seeds", ("number of seeds", "seed count", "how many seeds", "amount", "estimate"), "number")

PLANTS = Kind(
    "plants",
    "Plants with their clones",
    "Each row is a clone and the plants you have of it; rows of the same name are plants of one clone.",
    (
        Column("species", "Species", ("taxon", "name", "plant", "epithet", "species or hybrid", "what", "plant name")),
        Column(
            "word",
            "Own word",
            (
                "clone",
                "clone name",
                "name",
                "designation",
                "clone word",
                "letter",
                "clone letter",
                "cultivar",
                "individual",
            ),
            help="Your word or letter for the clone. Without one, each row is a clone of its own.",
        ),
        Column(
            "ref",
            "Clone number",
            ("accession", "accession number", "clone id", "id", "same clone"),
            help="Rows of one number are one clone.",
        ),
        _SEED_PARENT,
        _POLLEN_PARENT,
        Column("origin", "Origin", ("how it came", "came as"), "choice", _options(Clone.Origin)),
        Column("source", "From whom", ("source", "from", "supplier", "bought from", "breeder", "donor")),
        Column("document", "Document", ("permit", "permit number", "paper", "papers", "invoice", "cites")),
        Column(
            "words_only",
            "Known by words only",
            ("words only",),
            "yes_no",
            help="Yes for a parent that never stood here.",
        ),
        Column("plants", "Plants", ("number of plants", "how many", "quantity", "qty", "count", "pots"), "number"),
        Column(
            "came",
            "Here since",
            (
                "since",
                "date",
                "came",
                "arrived",
                "acquired",
                "bought",
                "bought on",
                "date acquired",
                "date bought",
                "received",
            ),
            "day",
        ),
        _PLACE,
        Column("pot", "Pot", ("pot size", "size")),
        _TAG,
        _REMARK,
    ),
)
POTS = Kind(
    "pots",
    "Seed pots",
    "Each row is a sowing and the pots it is in.",
    (
        _CROSS,
        _SEED_PARENT,
        _POLLEN_PARENT,
        _WORDS,
        Column("harvested", "Harvested", ("date harvested", "ripe", "seed from", "harvest"), "day"),
        Column("sown", "Sown", ("date sown", "sowing date", "sown on", "date", "sowed"), "day"),
        Column("pots", "Pots", ("number of pots", "how many", "quantity", "qty", "count"), "number"),
        Column("seeds", "Seeds in each pot", ("seeds", "seeds sown", "number of seeds"), "number"),
        Column("pods", "Pods in each pot", ("pods", "pods sown"), "number"),
        _PLACE,
        Column("pot_size", "Pot size", ("pot", "size")),
        Column("medium", "Medium", ("mix", "substrate", "soil")),
        Column("seen", "Seedlings", ("germination", "up", "seen", "state", "status"), "choice", _options(PotSeen)),
        Column("counted", "Seedlings counted", ("counted", "number of seedlings"), "number"),
        Column("looked", "Looked on", ("seen on", "counted on", "last look", "as of"), "day"),
        _TAG,
        _REMARK,
    ),
)
SEED = Kind(
    "seed",
    "Seed in store",
    "Each row is a packet of seed.",
    (
        _CROSS,
        _SEED_PARENT,
        _POLLEN_PARENT,
        _WORDS,
        Column("harvested", "Harvested", ("date harvested", "date", "ripe", "harvest", "collected"), "day"),
        _storage(SeedStorage),
        _SEEDS,
        _TAG,
        _REMARK,
    ),
)
POLLEN = Kind(
    "pollen",
    "Pollen in store",
    "Each row is a packet of pollen.",
    (
        Column(
            "clone", "Pollen of", ("clone", "plant", "name", "male", "father", "pollen parent", "species", "pollen")
        ),
        _WORDS,
        Column("collected", "Collected", ("date collected", "date", "collected on", "taken"), "day"),
        _storage(PollenStorage),
        _TAG,
        _REMARK,
    ),
)
SECTIONS = Kind(
    "sections",
    "Sections with pods half ripe",
    "Each row is the part of a spike that one pollen went on, with the pods on it.",
    (
        Column(
            "plant",
            "Plant",
            ("female", "mother", "seed parent", "on plant", "female parent", "pod parent", "plant name", "on"),
            help="The clone it flowers on. Where you have several plants of it, the place tells which.",
        ),
        _PLACE,
        Column(
            "spike", "Spike", ("spike number", "which spike"), help="Rows of one plant and one word here are one spike."
        ),
        _POLLEN_PARENT,
        Column(
            "pollinated", "Pollinated", ("date pollinated", "date", "pollinated on", "crossed", "date crossed"), "day"
        ),
        Column("tie", "Tie", ("thread", "colour", "mark", "tie colour")),
        Column("flowers", "Flowers", ("number of flowers", "flowers pollinated"), "number"),
        Column("take", "Take", ("swelling", "took"), "choice", _options(Swelling)),
        Column("pods", "Pods", ("number of pods", "pods left"), "number"),
        Column("seen", "How the pods are", ("pod state", "state", "status", "ripeness"), "choice", _options(PodSeen)),
        Column("bagged", "Bagged", ("bag", "in a bag"), "yes_no"),
        Column("looked", "Looked on", ("seen on", "last look", "as of"), "day"),
        _TAG,
        _REMARK,
    ),
)

KINDS = {kind.code: kind for kind in (PLANTS, POTS, SEED, POLLEN, SECTIONS)}
