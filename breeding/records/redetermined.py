from breeding.records.downstream import downstream_of
from nursery.identity_words import thought
from nursery.models import Act, Clone, Redetermined, Taxon
from nursery.names import label
from nursery.records.core import Contradiction, Entry, NewAct, recorded
from nursery.records.descent import descends_from, descent
from nursery.records.errors import Refused
from nursery.records.flags import open_flags
from nursery.records.milestones import without

CODE = "parent_redetermined"
LONGEST = 300
"""Letters of a flag's sentence."""


@recorded
def clone_redetermined(
    *,
    act: NewAct,
    clone: Clone,
    taxon: Taxon | None = None,
    seed_parent: Clone | None = None,
    pollen_parent: Clone | None = None,
    words: str = "",
    why: str = "",
) -> Act:
    """A clone is thought to be something else than it came as, since the act's day.

    Everything that bears its name is flagged once, so that its tag can be printed again.
    """
    told = Redetermined(
        taxon=taxon, seed_parent=seed_parent, pollen_parent=pollen_parent, words=words.strip(), why=why.strip()
    )
    said = {name: getattr(told, name) for name in ("taxon", "seed_parent", "pollen_parent", "words", "why")}
    entry = Entry(act, "redetermined", on=[clone, seed_parent, pollen_parent], said=said)
    if sent := entry.sent_before():
        return sent
    if not told.why:
        raise Refused("no_why", "Say why, so that others can judge it later.", field="why")
    _must_not_be_own_parent(clone, [seed_parent, pollen_parent])
    return entry.keep(clone, told, touched=[seed_parent, pollen_parent], flags=_for_new_tags(clone, told, act.replaces))


def _must_not_be_own_parent(clone: Clone, parents: list[Clone | None]) -> None:
    if any(descends_from(parent, clone.pk) for parent in parents):
        raise Refused("parent_is_offspring", "That parent comes from this clone itself. Choose another parent.")


def _for_new_tags(clone: Clone, told: Redetermined, replaces: Act | None) -> list[Contradiction]:
    before, now = label(descent(without(clone, replaces))), thought(told)
    sentence = f"Parent redetermined: {before} is now thought {now}. Look whether its tag must be printed again."
    if len(sentence) > LONGEST:
        sentence = f"{sentence[: LONGEST - 1]}…"
    looked_at = _looked_at(replaces) if replaces and thought(replaces.redetermined) == now else set()
    return [Contradiction(CODE, sentence, thing=pk) for pk in downstream_of(clone) if pk not in looked_at]


def _looked_at(replaces: Act) -> set[int]:
    """What somebody has seen to already; a correction that leaves the name as it is asks for it no second time."""
    flagged = set(replaces.flags.filter(code=CODE).values_list("thing", flat=True))
    return flagged - set(open_flags().filter(act=replaces, code=CODE).values_list("thing", flat=True))
