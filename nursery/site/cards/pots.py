from datetime import date

from breeding.answers import asked_of
from breeding.models import SeedPot
from breeding.words import facts
from breeding.words.ages import day_words, plural
from nursery.links import thing_url
from nursery.site.cards.parts import Card, Detail, acts_of, details, named


def card(pot: SeedPot, today: date) -> Card:
    """One sown pot: how long it has been sown, when the first seedling showed, how many there are."""
    return Card(
        section="seed",
        facts=facts.pot(pot, today),
        asked=asked_of(pot),
        acts=acts_of(pot, *_own_acts(pot)),
        details=_details(pot, today),
    )


def _own_acts(pot: SeedPot) -> list[tuple[str, str]]:
    return [] if pot.cancelled else [("Move", "move"), ("Seedlings lost", "loss")]


def _details(pot: SeedPot, today: date) -> list:
    return details(
        ("", named("Cross", pot.lot.cross)),
        ("", Detail("Seed", _lot_words(pot), url=thing_url(pot.lot))),
        ("Sown", day_words(pot.sown_last, today) if pot.sown_last else "day not known"),
        ("Seeds in it", plural(pot.seeds, "seed") if pot.seeds is not None else ""),
        ("Counted", plural(pot.counted, "seedling") if pot.counted is not None else ""),
        ("Lost", plural(pot.lost, "seedling") if pot.lost else ""),
    )


def _lot_words(pot: SeedPot) -> str:
    return pot.lot.words or "the lot it was sown from"
