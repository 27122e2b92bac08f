import pytest

from nursery.models import Tag
from nursery.records.errors import Refused
from nursery.records.numbers import blank_tags_make
from nursery.records.tags import tags_printed

pytestmark = pytest.mark.django_db


def numbers(count: int) -> list[int]:
    return [tag.number for tag in blank_tags_make(count=count)]


def test_it_works(grower):
    first, second, third = numbers(3)
    assert tags_printed(by=grower, numbers=[first, third]) == 2
    assert set(Tag.objects.filter(printed_at=None).values_list("number", flat=True)) == {second}


def test_numbers_that_were_never_made_count_for_nothing(grower):
    assert tags_printed(by=grower, numbers=[999]) == 0


def test_whoever_only_reads_marks_nothing(viewer):
    [number] = numbers(1)
    with pytest.raises(Refused) as refusal:
        tags_printed(by=viewer, numbers=[number])
    assert refusal.value.sentence == "You may read here but not record. Ask an owner to make you a grower."
    assert Tag.objects.get(pk=number).printed_at is None
