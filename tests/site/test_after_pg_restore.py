"""Records that PostgreSQL's own tools brought back still need their tag numbers moved on."""

from io import StringIO

from django.core.management import call_command

from nursery.damm import number_with_digit
from nursery.models import House
from nursery.records.house import house
from nursery.records.numbers import JUMP_ON_RESTORE, next_numbers


def test_it_works(db):
    epoch, [last] = house().epoch, next_numbers(1)
    said = StringIO()
    call_command("restore", "--after-pg-restore", stdout=said)
    assert next_numbers(1) == [number_with_digit(last // 10 + 1 + JUMP_ON_RESTORE)]
    assert House.objects.get().epoch != epoch
    assert said.getvalue().startswith("Tag numbers go on above any that may have been printed since,")
