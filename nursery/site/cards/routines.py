from datetime import date

from breeding.answers import asked_of
from breeding.models import Routine
from breeding.science.recurrence import next_day
from breeding.words.ages import day_words
from breeding.words.routines import rule_words
from nursery.site.cards.parts import Card, Fact, acts_of, details, named


def card(routine: Routine, today: date) -> Card:
    """Something done again and again: how often, when last, when next."""
    coming = next_day(routine.rule, routine.starts, today) if routine.is_open else None
    own = [] if routine.cancelled else [("Change it", "change")]
    return Card(
        section="office",
        facts=[
            Fact(day_words(routine.done_on, today) if routine.done_on else "not yet", "done last"),
            Fact(day_words(coming, today) if coming else "none", "next day after today"),
        ],
        asked=asked_of(routine),
        acts=acts_of(routine, *own),
        details=details(
            ("How often", rule_words(routine.rule)),
            ("Rule", routine.rule),
            ("From", day_words(routine.starts, today)),
            ("", named("Place", routine.place)),
        ),
    )
