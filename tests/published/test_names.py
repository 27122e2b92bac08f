"""Hybrid formulas, labels and compositions against the Codes (articles named here and in names.json)."""

import json
from fractions import Fraction
from pathlib import Path

import pytest

from nursery.names import Cross, Species, composition, either_way, formal, label, label_parts, one_of, parentage

DATA = json.loads(Path(__file__).with_name("names.json").read_text(encoding="utf-8"))


def _tree(row):
    if row.get("mixed_pollen"):
        return Cross(parentage(row["seed"]), one_of(*row["pollen"]))
    if row["seed"] == row["pollen"] == "sanguinea":
        return Cross(Species("sanguinea", designation="A"), Species("sanguinea", designation="B"))
    return parentage((row["seed"], row["pollen"]))


def _by_label(row):
    return row["label"]


@pytest.mark.parametrize("row", DATA["examples"], ids=_by_label)
def test_formal_name(row):
    # Source: ICN Art. H.2.1 with Ex. 1-2, Rec. H.2A.1; "unknown" and "or" are common practice, no source.
    assert formal(_tree(row)) == row["formal"]


@pytest.mark.parametrize("row", DATA["examples"], ids=_by_label)
def test_short_name_for_labels(row):
    # Common practice, no source: labels leave the genus away and keep the brackets.
    assert label(_tree(row)) == row["label"]
    assert "".join(part.text for part in label_parts(_tree(row))) == row["label"]


@pytest.mark.parametrize("row", DATA["examples"], ids=_by_label)
def test_composition_in_exact_fractions(row):
    # Source: half from each parent, worked by hand; the order is largest first, then alphabetical.
    expected = [(name, Fraction(share)) for name, share in row["composition"].items()]
    assert list(composition(_tree(row)).items()) == expected


@pytest.mark.parametrize("row", DATA["unknown_direction"], ids=_by_label)
def test_a_cross_of_unknown_direction_is_written_in_alphabetical_order(row):
    # Source: ICN Rec. H.2A.1.
    tree = either_way(*map(parentage, row["parents"]))
    assert (formal(tree), label(tree)) == (row["formal"], row["label"])


@pytest.mark.parametrize("row", DATA["with_signs"], ids=lambda row: row["formal"])
def test_signs_may_show_the_direction(row):
    # Source: ICN Rec. H.2A.1.
    assert formal(parentage((row["seed"], row["pollen"])), signs=True) == row["formal"]


def test_a_cultivar_epithet_stands_in_single_quotes_behind_the_name():
    # Source: ICNCP Art. 14 and 21, from memory; the epithet is invented.
    tree = Cross(Species("lowii"), Species("veitchii"), cultivar="Canvas Apron")
    assert formal(tree) == DATA["written"][0]["text"]


def test_a_designation_is_no_epithet_and_has_no_quotes():
    # Source: ICNCP 9th ed., summary of its rules for epithets; the place behind the name is common practice, no source.
    tree = Cross(Species("lowii"), Species("veitchii"), designation="B")
    assert (formal(tree), label(tree)) == (DATA["written"][1]["text"], DATA["written"][1]["label"])


def test_a_published_hybrid_name_has_the_sign_directly_before_its_epithet():
    # Source: ICN Art. H.3.1, Rec. H.3A.1; the example name from memory.
    assert formal(Species("hookeriana", hybrid=True)) == "Nepenthes ×hookeriana"


def test_the_sign_is_ignored_in_sorting():
    # Source: ICN Art. H.3.3.
    tree = Cross(Species("hookeriana", hybrid=True), Species("ampullaria"))
    other = Cross(Species("hookeriana", hybrid=True), Species("lowii"))
    assert list(composition(tree)) == ["ampullaria", "×hookeriana"]
    assert list(composition(other)) == ["×hookeriana", "lowii"]


def test_no_hyphen_ever_joins_two_epithets():
    # Source: ICN Art. H.10.2: epithets joined by a hyphen are a formula, not a name.
    assert [row["formal"] for row in DATA["examples"] if "-" in formal(_tree(row)) + label(_tree(row))] == []
