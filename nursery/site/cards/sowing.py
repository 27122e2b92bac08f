from datetime import date

from django.urls import reverse

from breeding.answers import WIDE, Answer, Asked
from breeding.care import care_of
from breeding.models import SowingSession
from breeding.science.sowing import density_words
from breeding.words import facts
from breeding.words.ages import day_words
from breeding.words.choices import choice_words
from nursery.site.cards.parts import MOST_ROWS, Card, Listing, acts_of, details, listing, named, row_of
from nursery.site.fetch import listed, things


def card(session: SowingSession, today: date) -> Card:
    """A sowing evening: how many of its pots are sown, which wait, and the ways to sow, print and close it."""
    own = [] if session.cancelled else [("Change day or medium", "change")]
    return Card(
        section="seed",
        facts=facts.sowing(session),
        asked=_asked(session),
        acts=acts_of(session, *own),
        details=_details(session, today),
        lists=[
            _pots(session, today, "Not sown yet", unsown=True, closed_on__isnull=True),
            _pots(session, today, "Sown", unsown=False),
            _pots(session, today, "Never sown", unsown=True, closed_on__isnull=False),
        ],
    )


def _asked(session: SowingSession) -> Asked:
    """In the order of the evening: its tags, the bench, what was not sown."""
    if session.cancelled or not session.pots_waiting:
        return Asked()
    here = {"pk": session.pk}
    answers = (
        Answer("Print its tags", href=f"{reverse('labels:waiting')}?sowing={session.pk}", icon="print"),
        Answer("Sow at the bench", href=reverse("sowing-bench", kwargs=here), icon="seedling"),
        Answer("Clear what is not sown", href=reverse("sowing-close", kwargs=here), size=WIDE),
    )
    return Asked("What is next?", answers, cautions=care_of("pot_sown"))


def _details(session: SowingSession, today: date) -> list:
    return details(
        ("Planned for", day_words(session.planned_for, today)),
        ("", named("Place", session.place)),
        ("Medium", session.medium),
        ("Density", "" if session.density is None else density_words(session.density)),
        ("Sterilised", choice_words(session, "sterilised")),
    )


def _pots(session: SowingSession, today: date, title: str, **which: bool) -> Listing:
    rows = things("seedpot").filter(session=session, cancelled=False, **which)
    rows = listed(rows.order_by("pk")[: MOST_ROWS + 1])
    return listing(title, [row_of(pot, today, where=True) for pot in rows])
