"""Names beyond the published examples: clones' own words, other genera, lost knowledge, what people type."""

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from nursery.names import (
    Cross,
    NamePart,
    OneOf,
    Species,
    Unknown,
    composition,
    either_way,
    formal,
    label,
    label_parts,
    one_of,
    parentage,
    species,
)

LANTERN = Species("hamata", designation="lantern")
THIMBLE = Species("lowii", designation="thimble")
TANSY = Cross(Species("lowii"), Species("veitchii"), designation="ladle")

WORDS = st.sampled_from(["", "", "lantern", "ladle", "B"])
SPECIES = st.builds(Species, st.sampled_from(["lowii", "hamata", "veitchii"]), designation=WORDS)
TREES = st.recursive(
    SPECIES | st.builds(Unknown, WORDS),
    lambda inner: (
        st.builds(Cross, inner, inner, WORDS)
        | st.builds(OneOf, st.lists(inner, min_size=1, max_size=3).map(tuple), WORDS)
    ),
    max_leaves=8,
)


def _styled(tree):
    return [(part.text, part.style) for part in label_parts(tree)]


def test_it_works():
    assert _styled(Cross(LANTERN, Species("lowii"))) == [
        ("hamata", "taxon"),
        (" ", "plain"),
        ("lantern", "clone"),
        (" × ", "plain"),
        ("lowii", "taxon"),
    ]


def test_a_plain_part_is_the_default():
    assert NamePart(" × ") == NamePart(" × ", "plain")


@pytest.mark.parametrize(
    ("tree", "text"),
    [
        (LANTERN, "hamata lantern"),
        (Cross(LANTERN, THIMBLE), "hamata lantern × lowii thimble"),
        (TANSY, "lowii × veitchii ladle"),
        (Cross(TANSY, LANTERN), "(lowii × veitchii) ladle × hamata lantern"),
        (Cross(Cross(LANTERN, THIMBLE, "spool"), Unknown()), "(hamata × lowii) spool × unknown"),
        (Cross(Cross(LANTERN, THIMBLE), Unknown()), "(hamata lantern × lowii thimble) × unknown"),
        (Unknown("sieve"), "unknown sieve"),
        (Cross(LANTERN, Unknown("friend's red")), "hamata lantern × unknown friend's red"),
        (Species("lowii", cultivar="Canvas Apron"), "lowii 'Canvas Apron'"),
        (Species("lowii", designation="B", cultivar="Canvas Apron"), "lowii B"),
    ],
)
def test_the_words_of_clones_stand_behind_their_names(tree, text):
    assert label(tree) == text


def test_the_words_of_clones_can_be_left_away():
    assert label(Cross(TANSY, LANTERN), designations=False) == "(lowii × veitchii) × hamata"


@pytest.mark.parametrize(
    ("tree", "short", "full"),
    [
        (Cross(Species("lowii"), Species("lowii")), "lowii × lowii", "Nepenthes lowii"),
        (Cross(THIMBLE, Species("lowii")), "lowii thimble × lowii", "Nepenthes lowii"),
        (Cross(THIMBLE, Species("lowii", designation="awl"), "rake"), "lowii rake", "Nepenthes lowii rake"),
        (
            Cross(Cross(THIMBLE, Species("lowii", designation="awl")), Species("lowii", designation="rake")),
            "lowii ((thimble × awl) × rake)",
            "Nepenthes lowii",
        ),
        (
            Cross(Cross(THIMBLE, Species("lowii", designation="awl")), LANTERN),
            "lowii (thimble × awl) × hamata lantern",
            "Nepenthes lowii × N. hamata",
        ),
    ],
)
def test_crosses_within_one_species(tree, short, full):
    assert (label(tree), formal(tree)) == (short, full)


@pytest.mark.parametrize(
    ("tree", "short", "full"),
    [
        (
            Cross(LANTERN, OneOf((THIMBLE, Species("lowii", designation="awl")))),
            "hamata lantern × (lowii thimble or lowii awl)",
            "Nepenthes hamata × N. lowii",
        ),
        (one_of("lowii", "lowii", "hamata"), "lowii or hamata", "Nepenthes lowii or N. hamata"),
        (
            Cross(Species("hamata"), one_of(("lowii", "veitchii"), "unknown")),
            "hamata × ((lowii × veitchii) or unknown)",
            "Nepenthes hamata × ((N. lowii × N. veitchii) or unknown)",
        ),
        (OneOf((TANSY,), "tub"), "(lowii × veitchii) tub", "(Nepenthes lowii × N. veitchii) tub"),
    ],
)
def test_one_of_several(tree, short, full):
    assert (label(tree), formal(tree)) == (short, full)


def test_two_fathers_of_one_species_leave_the_composition_certain():
    tree = Cross(LANTERN, OneOf((THIMBLE, Species("lowii", designation="awl"))))
    assert composition(tree) == {"hamata": Fraction(1, 2), "lowii": Fraction(1, 2)}


def test_one_of_none_is_refused():
    with pytest.raises(ValueError, match="“One of these” needs at least one choice; for none, use Unknown."):
        OneOf(())


def test_another_genus_is_written_out():
    tree = Cross(Species("purpurea", genus="Sarracenia"), Species("flava", genus="Sarracenia"))
    assert formal(tree) == "Sarracenia purpurea × S. flava"
    assert label(tree) == "Sarracenia purpurea × Sarracenia flava"
    assert list(composition(tree)) == ["Sarracenia flava", "Sarracenia purpurea"]


def test_genera_with_the_same_initial_are_never_shortened():
    tree = parentage((Species("lowii"), (Species("gigantea", genus="Nuphar"), "lowii")))
    assert formal(tree) == "Nepenthes lowii × (Nuphar gigantea × Nepenthes lowii)"


def test_the_sign_and_the_rank_are_upright():
    assert _styled(Species("hookeriana", hybrid=True)) == [("×", "plain"), ("hookeriana", "taxon")]
    assert _styled(Species("lowii var. alba")) == [("lowii", "taxon"), (" var. ", "plain"), ("alba", "taxon")]


def test_what_is_no_parentage_is_refused():
    with pytest.raises(ValueError, match=r"A parentage is an epithet, a pair or “unknown”; got 3\."):
        parentage((3, "lowii"))


@pytest.mark.parametrize(
    ("typed", "taxon"),
    [
        ("lowii", Species("lowii")),
        ("  Lowii ", Species("lowii")),
        ("LOWII", Species("lowii")),
        ("N. lowii", Species("lowii")),
        ("n.lowii", Species("lowii")),
        ("Nepenthes  lowii", Species("lowii")),
        ("NEPENTHES LOWII", Species("lowii")),
        ("nepenthes lowii", Species("lowii")),
        ("Nepenthes × hookeriana", Species("hookeriana", hybrid=True)),
        ("×hookeriana", Species("hookeriana", hybrid=True)),
        ("N. x hookeriana", Species("hookeriana", hybrid=True)),
        ("xhookeriana", Species("xhookeriana")),
        ("Sarracenia purpurea", Species("purpurea", genus="Sarracenia")),
        ("lowii var. alba", Species("lowii var. alba")),
        ("novae-angliae", Species("novae-angliae")),
    ],
)
def test_typed_species_are_cleaned(typed, taxon):
    assert species(typed) == taxon


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "   ",
        "Nepenthes",
        "N.",
        "lowii × veitchii",
        "lowii x veitchii",
        "(lowii",
        "<b>lowii</b>",
        "猪笼草",
        "🪴",
        "1",
    ],
)
def test_what_is_no_single_species_is_refused(typed):
    with pytest.raises(ValueError) as refusal:
        species(typed)
    assert str(refusal.value) == f"Write one species as a single word, such as lowii; got “{typed.strip()}”."


def test_the_initial_of_another_genus_is_refused():
    with pytest.raises(ValueError) as refusal:
        species("S. purpurea")
    assert str(refusal.value) == "Write the genus in full where it is not Nepenthes; got “S. purpurea”."


@given(TREES)
def test_shares_add_up_to_one(tree):
    assert sum(composition(tree).values()) == 1


@given(TREES)
def test_the_parts_of_a_label_are_well_formed(tree):
    parts = label_parts(tree)
    assert "".join(part.text for part in parts) == label(tree)
    assert all(part.text for part in parts)
    assert not any(one.style == other.style == "plain" for one, other in zip(parts, parts[1:], strict=False))


@given(TREES)
def test_every_bracket_is_closed(tree):
    for text in (label(tree), formal(tree)):
        depths = [text[:end].count("(") - text[:end].count(")") for end in range(len(text) + 1)]
        assert min(depths) == 0 == depths[-1]


@given(TREES, TREES)
@example(Cross(Unknown(), Unknown(), "lantern"), Cross(Unknown(), Unknown("lantern")))
def test_a_cross_of_unknown_direction_does_not_depend_on_the_order(one, other):
    assert label(either_way(one, other)) == label(either_way(other, one))


@given(SPECIES)
def test_a_formal_name_reads_back_as_its_species(leaf):
    bare = Species(leaf.epithet)
    assert species(formal(bare)) == bare
