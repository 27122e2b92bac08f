"""Genotypes, with the nursery's own words for them: tools, fabrics, kitchen things, and letters where nobody cared."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from demo_fixtures.diary import Diary, The
from nursery.models import Taxon
from nursery.records.clones import clone_made

FAIR = "plant fair, the table by the door"
NEIGHBOUR = "the grower two valleys on"
AUNT = "Marta's aunt, when she gave up her glasshouse"
IMPORTED = "import papers, blue folder"
BILL = "bill, blue folder"


@dataclass(frozen=True)
class Genotype:
    """A clone by its name in the tables; of a species, or of two parents that stand before it."""

    key: str
    taxon: str = ""
    word: str = ""
    origin: str = "unknown"
    source: str = ""
    document: str = ""
    seed_parent: str = ""
    pollen_parent: str = ""
    words_only: bool = False


FOUNDERS = (
    Genotype("anvil", "lowii", "anvil", "bought", NEIGHBOUR, BILL),
    Genotype("linen", "lowii", "linen", "bought", NEIGHBOUR, BILL),
    Genotype("lowii B", "lowii", "B", "gift", AUNT),
    Genotype("ladle", "hamata", "ladle", "bought", FAIR, IMPORTED),
    Genotype("tweed", "hamata", "tweed", "bought", FAIR, IMPORTED),
    Genotype("hamata C", "hamata", "C", "bought", FAIR, IMPORTED),
    Genotype("kettle", "burbidgeae", "kettle", "gift", AUNT),
    Genotype("mallet", "burbidgeae", "mallet", "bought", NEIGHBOUR, BILL),
    Genotype("canvas", "sanguinea", "canvas", "gift", AUNT),
    Genotype("whisk", "sanguinea", "whisk", "bought", FAIR),
    Genotype("sanguinea A", "sanguinea", "A"),
    Genotype("thimble", "glabrata", "thimble", "bought", NEIGHBOUR, BILL),
    Genotype("muslin", "glabrata", "muslin", "bought", NEIGHBOUR, BILL),
    Genotype("sieve", "jacquelineae", "sieve", "bought", FAIR, IMPORTED),
    Genotype("flannel", "jacquelineae", "flannel", "bought", FAIR, IMPORTED),
    Genotype("chisel", "boschiana", "chisel", "gift", AUNT),
    Genotype("bobbin", "boschiana", "bobbin", "bought", NEIGHBOUR, BILL),
    Genotype("skillet", "ampullaria", "skillet", "gift", AUNT),
    Genotype("rasp", "ampullaria", "rasp", "bought", FAIR),
    Genotype("corduroy", "bicalcarata", "corduroy", "permit", "", "collection permit, copy in the blue folder"),
    Genotype("pliers", "bicalcarata", "pliers", "bought", NEIGHBOUR, BILL),
    Genotype("teapot", "veitchii", "teapot", "bought", FAIR, BILL),
    Genotype("trowel", "veitchii", "trowel", "gift", AUNT),
    Genotype("veitchii D", "veitchii", "D"),
    Genotype("gingham", "thorelii", "gingham", "bought", NEIGHBOUR, BILL),
    Genotype("awl", "thorelii", "awl", "bought", NEIGHBOUR, BILL),
    # Nobody remembers what it is; the cuttings sell all the same.
    Genotype("doormat", word="doormat", source="came with the house"),
    # Known by what a friend wrote on a packet; we never had a plant.
    Genotype("letter friend", "hamata", "from the letter", "unknown", "a friend who writes", words_only=True),
)

# From crosses made before the book was begun.
RAISED = (
    Genotype("spatula", word="spatula", origin="raised", seed_parent="anvil", pollen_parent="trowel"),
    Genotype("saw", word="saw", origin="raised", seed_parent="anvil", pollen_parent="trowel"),
    Genotype("oilcloth", word="oilcloth", origin="raised", seed_parent="kettle", pollen_parent="ladle"),
    Genotype("mortar", word="mortar", origin="raised", seed_parent="teapot", pollen_parent="pliers"),
    Genotype("felt", word="felt", origin="raised", seed_parent="canvas", pollen_parent="thimble"),
    # Complex: a sibling of spatula put back on hamata.
    Genotype("pestle", word="pestle", origin="raised", seed_parent="spatula", pollen_parent="ladle"),
    # Bought as a seedling with only the mother on its label.
    Genotype("apron", word="apron", origin="bought", source=FAIR, seed_parent="gingham"),
)


def write_clones(diary: Diary, taxa: Mapping[str, Taxon]) -> None:
    for one in (*FOUNDERS, *RAISED):
        diary.write(diary.opened, clone_made, by="Marta", makes=[one.key], **_facts(one, taxa))


def _facts(one: Genotype, taxa: Mapping[str, Taxon]) -> dict[str, Any]:
    return {
        "taxon": taxa[one.taxon] if one.taxon else None,
        "designation": one.word,
        "seed_parent": The(one.seed_parent) if one.seed_parent else None,
        "pollen_parent": The(one.pollen_parent) if one.pollen_parent else None,
        "origin": one.origin,
        "source": one.source,
        "document": one.document,
        "words_only": one.words_only,
    }
