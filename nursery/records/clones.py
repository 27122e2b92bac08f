from nursery.models import Act, Clone, CloneMade, Taxon
from nursery.records.core import Entry, NewAct, recorded


@recorded
def clone_made(
    *,
    act: NewAct,
    taxon: Taxon | None = None,
    designation: str = "",
    seed_parent: Clone | None = None,
    pollen_parent: Clone | None = None,
    origin: str = "unknown",
    source: str = "",
    document: str = "",
    words_only: bool = False,
) -> Act:
    """Enter a genotype: a plant of ours, or a parent known by words only (``words_only``)."""
    facts = {
        "taxon": taxon,
        "designation": designation.strip(),
        "seed_parent": seed_parent,
        "pollen_parent": pollen_parent,
        "origin": origin,
        "source": source.strip(),
        "document": document.strip(),
        "words_only": words_only,
    }
    entry = Entry(act, "clone_made", on=[seed_parent, pollen_parent], said=facts)
    if sent := entry.sent_before():
        return sent
    clone = entry.born(Clone, **facts)
    return entry.keep(clone, CloneMade(**facts), touched=[seed_parent, pollen_parent])
