from nursery.models import Act, Clone, CloneMade, Taxon
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.descent import descends_from
from nursery.records.errors import Refused


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
    _no_loop(act, [seed_parent, pollen_parent])
    clone = entry.born(Clone, **facts)
    return entry.keep(clone, CloneMade(**facts), touched=[seed_parent, pollen_parent])


def _no_loop(act: NewAct, parents: list[Clone | None]) -> None:
    """Only a correction can close a circle: a new clone is nobody's parent yet."""
    if act.replaces is not None and any(descends_from(parent, act.replaces.thing_id) for parent in parents):
        raise Refused("parent_is_offspring", "That parent comes from this clone itself. Choose another parent.")
