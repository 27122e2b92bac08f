"""Two owners who step down at the same moment leave one of them an owner."""

import pytest

from nursery.models import Person, SignInCode
from nursery.records.errors import Refused
from nursery.records.people import code_shown, code_used, person_changed
from tests.concurrency.together import together
from tests.making import Nursery


@pytest.mark.parametrize("_", range(3))
def test_two_owners_who_step_down_at_once_are_not_both_let(_: int, nursery: Nursery) -> None:
    ida, una = nursery.by, nursery.person("owner")

    def steps_down(person: Person) -> str:
        try:
            return person_changed(by=person, person=person, name=person.name, role="grower", is_active=True).role
        except Refused as refused:
            return refused.code

    done = together(lambda: steps_down(ida), lambda: steps_down(una))
    assert sorted(done) == ["grower", "last_owner"]
    assert Person.objects.filter(role="owner").count() == 1


@pytest.mark.parametrize("_", range(3))
def test_a_code_typed_on_two_phones_at_once_works_on_one(_: int, nursery: Nursery) -> None:
    code = code_shown(by=nursery.by, person=nursery.by)
    done = together(lambda: code_used(code=code), lambda: code_used(code=code))
    assert sorted(person is not None for person in done) == [False, True]
    assert SignInCode.objects.get().used_at is not None
