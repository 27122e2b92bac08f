import pytest

from labels import shipped
from labels.models import Stock
from nursery.models import House, Person
from tests.making import Nursery


@pytest.fixture
def stocks(db: None) -> dict[str, Stock]:
    """One shipped sheet and one roll; entered again where an earlier test emptied every table."""
    shipped.add_missing(Stock.objects)
    return {columns["kind"]: Stock.objects.get(name=columns["name"]) for columns in shipped.FIRST}


@pytest.fixture
def nursery(owner: Person) -> Nursery:
    """Ida Fern's, with an address that tags can carry for years."""
    House.objects.update_or_create(id=1, defaults={"public_address": "https://tags.example"})
    return Nursery(owner)
