"""A mixed choice goes on the stock of each kind, in one PDF or each stock alone, and is told of stock by stock."""

import pypdfium2
import pytest

from labels.models import KindStock, Printing, SheetLeft
from labels.records import kind_stocks_chosen, printed
from nursery.models import Tag
from nursery.records.errors import Refused
from nursery.records.numbers import blank_tags_make
from tests.making import tag_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def tags(nursery, stocks, owner) -> dict[str, list[int]]:
    """Two pots and two places, that the owner wants on the roll and on the sheet."""
    pots, places = nursery.pots(2, seeds=40), [nursery.house("Fern house"), nursery.house("Moss house")]
    chosen = {"seedpot": stocks["roll"], "place": stocks["sheet"]}
    kind_stocks_chosen(by=owner, chosen=chosen)
    return {"pots": [tag_of(pot).number for pot in pots], "places": [tag_of(one).number for one in places]}


def test_each_kind_goes_on_its_own_and_each_stock_is_a_print(as_grower, grower, tags, stocks):
    roll, sheet = stocks["roll"], stocks["sheet"]
    choosing = as_grower.get("/labels/").text
    assert "each kind on what it is used to" in choosing and f'name="first_{sheet.pk}" value="1"' in choosing
    sent = {"numbers": [*tags["pots"], *tags["places"]], "stock": "", "copies": 1, f"first_{sheet.pk}": 24}
    look = as_grower.post("/labels/sheet/", sent)
    for words in ("2 labels on the roll", "2 labels on 2 sheets of", "Most printers take one size at a time", "100 %"):
        assert words in look.text
    whole = pypdfium2.PdfDocument(as_grower.post("/labels/sheet/pdf/", sent).getvalue())
    assert [round(page.get_width() / 72 * 25.4) for page in whole] == [54, 54, 210, 210]
    alone = pypdfium2.PdfDocument(as_grower.post("/labels/sheet/pdf/", sent | {"only": sheet.pk}).getvalue())
    assert [round(page.get_width() / 72 * 25.4) for page in alone] == [210, 210]

    right = {"printing": look.context["printing_id"], "copies": 1, "numbers": sent["numbers"][1:]}
    right |= {f"of_{group.stock.pk}": group.numbers for group in look.context["groups"]}
    for _ in range(2):
        answer = as_grower.post("/labels/sheet/right/", right)
        assert answer.url == "/labels/"
    assert SheetLeft.objects.get().first == 2
    kept = {one.stock: sorted(tag.tag_id for tag in one.tags.all()) for one in Printing.objects.all()}
    assert kept == {roll: tags["pots"][1:], sheet: sorted(tags["places"])}
    assert Tag.objects.get(pk=tags["pots"][0]).printed_at is None
    assert Tag.objects.get(pk=tags["pots"][1]).lasts_until < Tag.objects.get(pk=tags["places"][0]).lasts_until


def test_what_was_used_last_is_remembered_unless_an_owner_chose(tags, owner, grower, stocks):
    [blank] = blank_tags_make(count=1)
    numbers = [tags["pots"][0], blank.number]
    printed(
        id="7d9f4f5e-6f0a-4a52-8f0b-0d3f4bb0c0aa",
        by=grower,
        numbers=numbers,
        stock=stocks["sheet"],
        address="",
        printer=None,
    )
    assert KindStock.objects.get(pk="blank").stock == stocks["sheet"]
    assert KindStock.objects.get(pk="seedpot").stock == stocks["roll"]
    kind_stocks_chosen(by=owner, chosen={"seedpot": None})
    printed(
        id="8d9f4f5e-6f0a-4a52-8f0b-0d3f4bb0c0aa",
        by=grower,
        numbers=numbers,
        stock=stocks["sheet"],
        address="",
        printer=None,
    )
    assert KindStock.objects.get(pk="seedpot").stock == stocks["sheet"]
    with pytest.raises(Refused, match="Only an owner"):
        kind_stocks_chosen(by=grower, chosen={"seedpot": stocks["roll"]})


def test_an_owner_chooses_what_each_kind_goes_on(as_owner, as_grower, tags, stocks):
    page = as_owner.get("/labels/kinds/").text
    assert "what was used last" in page and "Seed pot" in page
    assert as_owner.post("/labels/kinds/", {"seedpot": stocks["sheet"].pk, "place": ""}).status_code == 302
    told = dict(KindStock.objects.values_list("kind", "chosen"))
    assert told == {"seedpot": True, "place": False}
    refused = as_owner.post("/labels/kinds/", {"seedpot": "999999"})
    assert refused.status_code == 422 and "This stock is not there any more." in refused.text
    assert as_grower.get("/labels/kinds/").status_code == 403


def test_one_stock_for_all_is_one_print(as_grower, tags, stocks):
    sent = {"numbers": tags["pots"] + tags["places"], "stock": stocks["sheet"].pk, "copies": 1} | {
        f"first_{stocks['sheet'].pk}": 3
    }
    look = as_grower.post("/labels/sheet/", sent)
    assert [group.first for group in look.context["groups"]] == [3]
    assert "Most printers take one size" not in look.text
