"""Clones by names that moving in understands: by name where it can mean one only, else with its number behind it."""

from collections import defaultdict

from nursery.models import Clone
from nursery.site.moving.clones import keys_of, name_of
from nursery.site.moving.tables.errors import CellWrong
from nursery.site.moving.tables.names import Leaf, key_of, may_be_several, name_told


class Names:
    """How each clone is written as a parent, in a table whose clones are numbered by their ids."""

    def __init__(self, clones: list[Clone]):
        self._by_key: dict[str, list[Clone]] = defaultdict(list)
        for clone in clones:
            for key in keys_of(clone):
                self._by_key[key].append(clone)

    def of(self, clone: Clone | None) -> str:
        """Empty for a parent that nobody knows."""
        if clone is None:
            return ""
        name = clone.designation if _is_word_only(clone) else name_of(clone)
        if _is_plain(name) and self._by_key[key_of(name)] == [clone]:
            return name
        return f"{_before_number(name)}[{clone.pk}]"


def _is_word_only(clone: Clone) -> bool:
    return not (clone.taxon_id or clone.seed_parent_id or clone.pollen_parent_id)


def _is_plain(name: str) -> bool:
    """Whether the name is read again as it is written."""
    try:
        return name_told(name) == Leaf(name) and not may_be_several(name)
    except CellWrong:
        return False


def _before_number(name: str) -> str:
    """The name, in brackets if it is a formula; nothing where it could be misread."""
    for written in (name, f"({name})"):
        try:
            if name_told(f"{written} [1]") == Leaf(written, "1") and not may_be_several(written):
                return f"{written} "
        except CellWrong:
            continue
    return ""
