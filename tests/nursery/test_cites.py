"""The strictest appendix among the ancestors of a clone.

N. rajah and N. khasiana are in Appendix I, the rest of the genus in Appendix II: the CITES appendices, as read in a
government text; the annotations are unchecked.
"""

import pytest

from nursery.cites import Strictest, cites_words, strictest
from nursery.parentage import Species, Unknown, one_of, parentage

II = ("lowii", "hamata", "veitchii", "hookeriana")
LISTED = {("Nepenthes", "rajah"): "I", ("Nepenthes", "khasiana"): "I"} | {("Nepenthes", one): "II" for one in II}


@pytest.mark.parametrize(
    ("tree", "found"),
    [
        ("lowii", Strictest("II", ("N. lowii",), False)),
        ("rajah", Strictest("I", ("N. rajah",), False)),
        (("lowii", "rajah"), Strictest("I", ("N. rajah",), False)),
        ((("lowii", "rajah"), ("khasiana", "rajah")), Strictest("I", ("N. rajah", "N. khasiana"), False)),
        (("lowii", "hamata"), Strictest("II", ("N. lowii", "N. hamata"), False)),
        (("lowii", "unknown"), Strictest("II", ("N. lowii",), True)),
        (("lowii", "nobodysname"), Strictest("II", ("N. lowii",), True)),
        (("lowii", Species("hookeriana", hybrid=True)), Strictest("II", ("N. lowii", "N. ×hookeriana"), False)),
        ("unknown", None),
        ("nobodysname", None),
        (("nobodysname", "unknown"), None),
    ],
)
def test_the_strictest_appendix_and_who_stands_in_it(tree, found):
    assert strictest(parentage(tree), LISTED) == found


def test_of_mixed_pollen_every_possible_father_counts():
    tree = parentage(("lowii", one_of("hamata", "rajah")))
    assert strictest(tree, LISTED) == Strictest("I", ("N. rajah",), False)


@pytest.mark.parametrize(
    ("tree", "words"),
    [
        ("lowii", "Appendix II"),
        (("lowii", "rajah"), "Its ancestors include N. rajah: Appendix I; shown, nothing concluded."),
        (
            ("lowii", "hamata"),
            "Its ancestors include N. lowii and N. hamata: Appendix II; shown, nothing concluded.",
        ),
        (
            ("rajah", "unknown"),
            "Its ancestors include N. rajah: Appendix I; shown, nothing concluded. Not all of its ancestors are known.",
        ),
        ("unknown", ""),
    ],
)
def test_it_is_shown_and_nothing_is_concluded(tree, words):
    assert cites_words(parentage(tree), LISTED) == words


def test_another_genus_is_no_ancestor_of_this_one():
    assert strictest(Species("rajah", genus="Sarracenia"), LISTED) is None


def test_a_word_of_its_own_hides_no_ancestor():
    assert strictest(parentage((Species("rajah", designation="anvil"), Unknown())), LISTED).appendix == "I"
