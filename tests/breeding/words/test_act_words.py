"""Acts in words: numbers as on tags and in thousands, no comma behind a full stop, a day without the year it is in."""

from datetime import timedelta

from breeding.records import seed
from nursery.records.house_log import house_event
from nursery.records.numbers import blank_tags_make
from nursery.records.tags import tag_bound
from nursery.records.telling import tell
from nursery.records.watching import postponed
from nursery.templatetags.tepal import plate
from nursery.words import joined
from tests.making import Nursery, today


def test_the_number_of_a_tag_is_told_as_on_the_tag(nursery: Nursery) -> None:
    [tag] = blank_tags_make(count=1)
    act = nursery.record(tag_bound, thing=nursery.plant(), number=tag.number)
    assert tell(act).startswith(f"tag put on: {plate(tag.number)} (")


def test_a_thousand_seeds_have_their_comma(nursery: Nursery) -> None:
    act = nursery.record(seed.seed_cleaned, lot=nursery.seed(days_ago=9), seeds=1200, estimate_from="weighed")
    assert "1,200 seeds weighed" in tell(act)


def test_words_that_end_in_a_full_stop_lose_it_where_more_follows(nursery: Nursery) -> None:
    event = {"what": "treatment", "words": "Against thrips.", "product": "insecticidal soap"}
    act = nursery.record(house_event, place=nursery.house(), days_ago=1, **event)
    assert "Against thrips, insecticidal soap" in tell(act)
    assert joined("Against thrips.", "") == "Against thrips."


def test_a_thing_put_off_tells_the_day_as_other_days_are_told(nursery: Nursery) -> None:
    until = today() + timedelta(days=3)
    act = nursery.record(postponed, thing=nursery.spike(), until=until)
    year = "" if until.year == today().year else f" {until.year}"
    assert tell(act).startswith(f"later: ask again on {until:%-d %b}{year} (")
