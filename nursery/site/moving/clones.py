"""Clones and taxa by what a table calls them; what is missing is made, parents as known by words only."""

from collections import defaultdict
from difflib import get_close_matches
from typing import Any

from breeding.words.names import name_parts
from nursery.models import Clone, Taxon
from nursery.parentage import species
from nursery.records.clones import clone_made
from nursery.records.taxa import facts_written_out, taxon_added
from nursery.site.models import Import, ImportedClone
from nursery.site.moving.making import Making, refused, thing_of
from nursery.site.moving.tables.errors import CellWrong, quoted
from nursery.site.moving.tables.names import Leaf, Name, Pair, key_of, name_told

LONGEST_WORD = 40


class Clones:
    """The clones that are entered, and those that this run has made or found, by their names and by their numbers.

    Those that an earlier run of the same import made are left out, so that a repeat takes the same way again.
    """

    def __init__(self, making: Making):
        self._making = making
        self._taxa = {(taxon.genus, taxon.epithet): taxon for taxon in Taxon.objects.all()}
        self._by_key: dict[str, list[Clone]] = defaultdict(list)
        self._by_parents: dict[tuple[int | None, int | None], list[Clone]] = defaultdict(list)
        self._by_ref = _numbers_of_earlier(making)
        for clone in _entered(making):
            self._learn(clone)

    # --- taxa ---

    def taxon(self, text: str, column: str) -> Taxon:
        """The species or named hybrid of this name; listed now if it is not yet."""
        try:
            read = species(text)
        except ValueError as error:
            raise refused(column, str(error)) from error
        key = (read.genus, read.epithet)
        if key not in self._taxa:
            self._tell_of_a_slip(read.epithet)
            self._taxa[key] = taxon_added(by=self._making.by, **facts_written_out(read))
            self._making.new_taxa.append(str(self._taxa[key]))
        return self._taxa[key]

    def _tell_of_a_slip(self, epithet: str) -> None:
        close = get_close_matches(epithet, [known for _, known in self._taxa], n=1, cutoff=0.85)
        if close:
            self._making.note(f"{epithet} is not listed yet. Is {close[0]} meant? Then correct the table.")

    def is_listed(self, text: str) -> bool:
        try:
            read = species(text)
        except ValueError:
            return False
        return (read.genus, read.epithet) in self._taxa

    # --- clones ---

    def by_ref(self, ref: str) -> Clone | None:
        return self._by_ref.get(ref.casefold())

    def remember_ref(self, ref: str, clone: Clone) -> None:
        self._by_ref[ref.casefold()] = clone
        self._making.refs[ref] = clone.pk

    def named(self, text: str) -> list[Clone]:
        """The clones that go by this name, in the order in which they were entered."""
        return list(self._by_key[key_of(text)])

    def make(self, part: str, **facts: Any) -> Clone:
        clone = thing_of(self._making.record(clone_made, part, **facts))
        self._learn(clone)
        return clone

    def parent(self, text: str, column: str) -> Clone | None:
        """The clone that a cell names as a parent; None where it is not known."""
        return self._of_name(_read(text, column), column, column)

    def pair(self, text: str, column: str) -> tuple[Clone | None, Clone | None]:
        """The two parents that a formula names."""
        name = _read(text, column)
        if not isinstance(name, Pair):
            sentence = f"{quoted(text)} is no formula. Write both parents, the female first: lowii × veitchii."
            raise refused(column, sentence)
        return self._of_name(name.seed, f"{column} seed", column), self._of_name(
            name.pollen, f"{column} pollen", column
        )

    def _of_name(self, name: Name, part: str, column: str) -> Clone | None:
        if name is None:
            return None
        if isinstance(name, Pair):
            seed = self._of_name(name.seed, f"{part} seed", column)
            pollen = self._of_name(name.pollen, f"{part} pollen", column)
            return self._of_pair(seed, pollen, part)
        return self._of_ref(name, part, column) if name.ref else self._of_leaf(name, part, column)

    def _of_pair(self, seed: Clone | None, pollen: Clone | None, part: str) -> Clone | None:
        """A parent that is itself a hybrid, known only by its own parents."""
        if seed is None and pollen is None:
            return None
        known = self._by_parents[(seed and seed.pk, pollen and pollen.pk)]
        return the_one(known) or self.make(f"{part} clone", seed_parent=seed, pollen_parent=pollen, words_only=True)

    def _of_ref(self, leaf: Leaf, part: str, column: str) -> Clone | None:
        """The clone of this number, or, where nobody knows the number, of the name before it."""
        known = self.by_ref(leaf.ref)
        if known is not None:
            return known
        if not leaf.text:
            raise refused(column, f"No clone of the number [{leaf.ref}] was brought in. Write its name.")
        return self._of_name(_read(leaf.text, column), part, column)

    def _of_leaf(self, leaf: Leaf, part: str, column: str) -> Clone:
        known = self._by_key[key_of(leaf.text)]
        found = the_one(known)
        if found is None and known:
            self._making.note(f"Several clones go by {quoted(leaf.text)}; which of them is left open.")
        return found or self.make(f"{part} clone", words_only=True, **self._facts_of(leaf, column))

    def _facts_of(self, leaf: Leaf, column: str) -> dict[str, Any]:
        """A taxon, a listed taxon with a word behind it, or only somebody's words."""
        first, _, rest = leaf.text.partition(" ")
        if self.is_listed(leaf.text) or (not rest and _is_species(first)):
            return {"taxon": self.taxon(leaf.text, column)}
        head, word = _split_at_word(leaf.text, self)
        facts = {"taxon": self.taxon(head, column), "designation": word} if head else {"designation": leaf.text}
        if len(facts["designation"]) > LONGEST_WORD:
            sentence = f"{quoted(leaf.text)} is too long for a name: {LONGEST_WORD} letters is the most. Shorten it."
            raise refused(column, sentence)
        return facts

    def _learn(self, clone: Clone) -> None:
        for key in keys_of(clone):
            self._by_key[key].append(clone)
        if not clone.designation and not clone.taxon_id:
            self._by_parents[(clone.seed_parent_id, clone.pollen_parent_id)].append(clone)


def name_of(clone: Clone) -> str:
    """The name by which tables and lists call a clone."""
    return "".join(part.text for part in name_parts(clone))


def keys_of(clone: Clone) -> set[str]:
    """What a clone is found by: its name, and its own word alone."""
    return {key_of(name_of(clone)), key_of(clone.designation)} - {""}


def the_one(known: list[Clone]) -> Clone | None:
    """The only one that stood here, else one known by words only; None where several may be meant."""
    lived = [clone for clone in known if not clone.words_only]
    if len(lived) == 1:
        return lived[0]
    return next((clone for clone in known if clone.words_only), None)


def _read(text: str, column: str) -> Name:
    try:
        return name_told(text)
    except CellWrong as wrong:
        raise refused(column, wrong) from wrong


def _split_at_word(text: str, clones: Clones) -> tuple[str, str]:
    """A listed taxon at the beginning, and the word behind it: ("N. hamata", "lantern")."""
    parts = text.split()
    for count in range(len(parts) - 1, 0, -1):
        head = " ".join(parts[:count])
        if clones.is_listed(head):
            return head, " ".join(parts[count:])
    return "", text


def _is_species(text: str) -> bool:
    try:
        species(text)
    except ValueError:
        return False
    return True


def _numbers_of_earlier(making: Making) -> dict[str, Clone]:
    """The clone numbers of tables of plants brought in before, for tables that name their parents by them.

    Another table of plants counts for itself: its number 12 may be another clone. Not so one that this one grew from.
    """
    numbered = ImportedClone.objects.filter(moving__state=Import.State.BROUGHT, clone__cancelled=False)
    if making.moving.kind == Import.Kind.PLANTS:
        numbered = numbered.filter(moving__in=making.grown_from)
    found: dict[str, list[Clone]] = defaultdict(list)
    for one in numbered.select_related("clone"):
        found[one.ref.casefold()].append(one.clone)
    return {ref: clones[0] for ref, clones in found.items() if len(clones) == 1}


def _entered(making: Making):
    of_this_import = making.moving.acts.values("act")
    return Clone.objects.filter(cancelled=False).exclude(thing__born_by__in=of_this_import).order_by("pk")
