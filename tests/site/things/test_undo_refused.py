"""An undo that is refused because more was told of what the act made says of which thing, and leads there."""

import uuid

import pytest
from django.contrib.messages import get_messages
from django.test import Client

from breeding.models import SeedPot
from breeding.records.pots import pot_looked_at, pot_split
from nursery.links import thing_url, undo_url
from nursery.models import Act
from nursery.records.errors import Refused
from nursery.records.undo import undone
from nursery.templatetags.tepal import plate
from tests.making import Nursery, tag_of


@pytest.fixture
def split(nursery: Nursery) -> tuple[Act, SeedPot]:
    """A split, and the pot it made, of which more was told."""
    act = nursery.record(pot_split, pot=nursery.pot(days_ago=60), pots=1, seedlings=10, days_ago=3)
    [new] = SeedPot.objects.filter(thing__born_by=act)
    nursery.record(pot_looked_at, pot=new, seen="few")
    return act, new


def test_it_names_the_other_thing_by_its_number(nursery: Nursery, split: tuple[Act, SeedPot]) -> None:
    act, new = split
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=act)
    number = plate(tag_of(new).number)
    assert refusal.value.sentence == f"More was recorded about the seed pot {number}. Undo that first, newest first."
    assert refusal.value.about == new


def test_the_page_leads_to_it(as_owner: Client, split: tuple[Act, SeedPot]) -> None:
    act, new = split
    answer = as_owner.post(undo_url(act), {"act_id": uuid.uuid4()})
    [message] = map(str, get_messages(answer.wsgi_request))
    assert message.endswith(f'<a href="{thing_url(new)}">Open the seed pot</a>')
    assert message in as_owner.get(answer.url).text


def test_the_answered_row_leads_to_it_too(as_owner: Client, split: tuple[Act, SeedPot]) -> None:
    act, new = split
    answer = as_owner.post(undo_url(act), {"act_id": uuid.uuid4()}, headers={"HX-Request": "true"})
    assert f'<a href="{thing_url(new)}">Open the seed pot</a>' in answer.text


def test_what_was_told_is_escaped(nursery: Nursery, as_owner: Client) -> None:
    """A name that somebody typed stands among the reasons, beside the link."""
    act = nursery.record(pot_split, pot=nursery.pot(days_ago=60), pots=1, seedlings=10, days_ago=3)
    [new] = SeedPot.objects.filter(thing__born_by=act)
    nursery.record(pot_split, pot=new, pots=1, seedlings=2, medium="<b>moss</b>", days_ago=1)
    answer = as_owner.post(undo_url(act), {"act_id": uuid.uuid4()})
    [message] = map(str, get_messages(answer.wsgi_request))
    assert "<b>" not in message and "&lt;b&gt;" in message
