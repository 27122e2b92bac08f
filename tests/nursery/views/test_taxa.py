"""Species and named hybrids: listed, added, corrected, and the names of clones that follow."""

import uuid
from importlib import import_module

import pytest
from django.apps import apps
from django.test import Client

from nursery.models import Clone, Taxon
from tests.making import Nursery

NEW = "/office/taxa/new/"


def _payload(**changes: str) -> dict[str, str]:
    return {"epithet": "glabrata", "genus": "Nepenthes", "rank": "species", "cites": "II", "note": ""} | changes


def test_a_grower_adds_one(as_grower: Client) -> None:
    assert as_grower.post(NEW, _payload(note="From the hills."))["Location"] == "/office/taxa/"
    taxon = Taxon.objects.get(epithet="glabrata")
    assert (str(taxon), taxon.rank, taxon.cites, taxon.note) == (
        "Nepenthes glabrata",
        "species",
        "II",
        "From the hills.",
    )


def test_nobody_gets_an_appendix_that_nobody_chose(as_grower: Client) -> None:
    page = as_grower.get(NEW)
    assert page.context["form"]["cites"].value() is None
    assert as_grower.post(NEW, _payload(cites="")).status_code == 422


@pytest.mark.parametrize(("epithet", "appendix"), [("rajah", "I"), ("khasiana", "I"), ("ampullaria", "II")])
def test_a_species_written_out_with_a_plant_gets_its_appendix(as_owner: Client, epithet: str, appendix: str) -> None:
    """Source: the CITES appendices."""
    values = {"act_id": uuid.uuid4(), "taxon_typed": epithet, "designation": "thimble", "origin": "unknown"}
    assert as_owner.post("/plants/new/", values).status_code == 302
    assert Taxon.objects.get().cites == appendix


@pytest.mark.django_db
def test_what_was_listed_under_two_without_asking_is_put_right() -> None:
    for epithet, cites in (("rajah", "II"), ("lowii", "II"), ("khasiana", "I")):
        Taxon.objects.create(epithet=epithet, cites=cites)
    import_module("nursery.migrations.0017_appendix_one").list_under_one(apps, None)
    assert dict(Taxon.objects.values_list("epithet", "cites")) == {"rajah": "I", "lowii": "II", "khasiana": "I"}


@pytest.mark.parametrize(
    ("typed", "epithet", "rank"),
    [
        ("N. lowii", "lowii", "species"),
        ("Nepenthes Lowii", "lowii", "species"),
        ("× hookeriana", "hookeriana", "hybrid"),
        ("x hookeriana", "hookeriana", "hybrid"),
    ],
)
def test_what_stands_round_the_epithet_is_understood(as_owner: Client, typed: str, epithet: str, rank: str) -> None:
    as_owner.post(NEW, _payload(epithet=typed))
    taxon = Taxon.objects.get()
    assert (taxon.epithet, taxon.rank) == (epithet, rank)


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"epithet": ""}, "epithet", "Write something here."),
        (
            {"epithet": "lowii x veitchii"},
            "epithet",
            "Write one species as a single word, such as lowii; got “lowii x veitchii”.",
        ),
        ({"epithet": "猪笼草"}, "epithet", "Write one species as a single word, such as lowii; got “猪笼草”."),
        ({"genus": "nepenthes"}, "genus", "Write the genus as one word with a capital, such as Nepenthes."),
        ({"rank": "king"}, "rank", "What was chosen is not offered here, or not any more. Choose again."),
        ({"cites": "III"}, "cites", "What was chosen is not offered here, or not any more. Choose again."),
        ({"note": "n" * 501}, "note", "Write at most 500 characters; these are 501."),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(as_owner: Client, changes: dict, field: str, sentence: str) -> None:
    answer = as_owner.post(NEW, _payload(**changes))
    assert (answer.status_code, answer.context["form"].errors[field]) == (422, [sentence])
    assert not Taxon.objects.exists()


def test_the_same_twice_is_refused(as_owner: Client, nursery: Nursery) -> None:
    nursery.taxon("glabrata")
    answer = as_owner.post(NEW, _payload())
    assert answer.context["form"].non_field_errors() == ["This taxon is already listed."]


def test_a_corrected_name_is_written_into_its_clones_and_their_offspring(as_owner: Client, nursery: Nursery) -> None:
    mother = nursery.clone("lowi", "hammer")
    child = nursery.clone(word="kettle", seed_parent=mother, pollen_parent=nursery.clone("hamata", "lantern"))
    grandchild = nursery.clone(word="ladle", seed_parent=nursery.clone("veitchii", "anvil"), pollen_parent=child)
    as_owner.post(f"/office/taxa/{mother.taxon_id}/", _payload(epithet="lowii"))
    assert str(Clone.objects.get(pk=mother.pk)) == "lowii hammer"
    assert Clone.objects.get(pk=child.pk).tree["seed"]["species"] == "lowii"
    assert str(Clone.objects.get(pk=grandchild.pk)) == "veitchii × (lowii × hamata) ladle"


def test_a_corrected_note_leaves_the_names(as_owner: Client, nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "hammer")
    as_owner.post(f"/office/taxa/{clone.taxon_id}/", _payload(epithet="lowii", cites="I", note="Look again."))
    taxon = Taxon.objects.get(pk=clone.taxon_id)
    assert (taxon.cites, taxon.note, str(Clone.objects.get(pk=clone.pk))) == ("I", "Look again.", "lowii hammer")


def test_a_circle_of_parents_does_not_go_on_for_ever(as_owner: Client, nursery: Nursery) -> None:
    mother = nursery.clone("lowi", "hammer")
    child = nursery.clone(word="kettle", seed_parent=mother)
    Clone.objects.filter(pk=mother.pk).update(pollen_parent=child)
    answer = as_owner.post(f"/office/taxa/{mother.taxon_id}/", _payload(epithet="lowii"))
    assert answer.status_code == 422
    assert "A parent of this clone would come from the clone itself." in answer.text


def test_the_list_shows_names_in_italics_and_the_appendix(as_owner: Client, as_viewer: Client) -> None:
    hybrid = Taxon.objects.create(epithet="hookeriana", rank="hybrid", cites="I")
    row = as_owner.get("/office/taxa/").context["rows"][0]
    texts = [(part.text, part.style) for part in row["cells"][0]["name_parts"]]
    assert texts == [("Nepenthes", "taxon"), (" ", "plain"), ("×", "plain"), ("hookeriana", "taxon")]
    assert row["cells"][2]["text"] == "Appendix I"
    assert row["url"] == f"/office/taxa/{hybrid.pk}/"
    assert as_viewer.get("/office/taxa/").context["rows"][0]["url"] == ""


def test_many_ask_no_more_than_few(as_viewer: Client, nursery: Nursery, django_assert_num_queries) -> None:
    nursery.taxon("lowii")
    as_viewer.get("/office/taxa/")
    with django_assert_num_queries(4):
        as_viewer.get("/office/taxa/")
    for letter in "abcdefgh":
        nursery.taxon(f"lowi{letter}")
    with django_assert_num_queries(4):
        as_viewer.get("/office/taxa/")
