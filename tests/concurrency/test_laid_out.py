"""Two people who lay out labels of one begun sheet at the same moment: at least one learns of the other."""

import uuid

import pytest

from labels import shipped
from labels.contents import tagged
from labels.grouping import OnStock
from labels.laid_out import laid_out
from labels.models import LaidOut, Stock
from labels.records import printed
from nursery.models import Person
from tests.concurrency.together import together
from tests.making import Nursery, tag_of

TIMES = 3


@pytest.fixture
def group(nursery: Nursery) -> OnStock:
    """One label, from the fourth on."""
    shipped.add_missing(Stock.objects)
    return OnStock(Stock.objects.filter(kind="sheet").first(), tuple(tagged([tag_of(nursery.house()).number])), 4, 1)


@pytest.mark.parametrize("_", range(TIMES))
def test_of_two_who_lay_out_the_same_labels_at_once_one_is_told(_: int, nursery: Nursery, group: OnStock) -> None:
    def lays_out(person: Person) -> list[Person]:
        return [other.by for other in laid_out(by=person, look=uuid.uuid4(), groups=[group])[group.stock.pk]]

    ida, una = nursery.by, nursery.person("owner")
    told = together(lambda: lays_out(ida), lambda: lays_out(una))
    assert sorted(told, key=len) in ([[], [ida]], [[], [una]])


@pytest.mark.parametrize("_", range(TIMES))
def test_two_prints_told_at_once_leave_one_sheet(_: int, nursery: Nursery, group: OnStock) -> None:
    def prints(first: int) -> int:
        look, [tag] = uuid.uuid4(), group.tags
        here = OnStock(group.stock, group.tags, first, 1)
        laid_out(by=nursery.by, look=look, groups=[here])
        laid = LaidOut.objects.get(look=look)
        told = {"numbers": [tag.number], "stock": group.stock, "address": "", "printer": None}
        return printed(id=look, by=nursery.by, laid=laid, **told)

    assert together(lambda: prints(4), lambda: prints(9)) == [1, 1]
    [left] = group.stock.sheets_left.all()
    assert left.first in (5, 10)
    assert not LaidOut.objects.exists()
