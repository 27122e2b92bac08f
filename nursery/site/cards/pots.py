from datetime import date

from breeding.answers import asked_of
from breeding.models import SeedPot
from breeding.words import facts
from breeding.words.ages import days_words, plural
from nursery.links import thing_url
from nursery.site.cards.parts import Card, Detail, acts_of, details, named


def card(pot: SeedPot, today: date) -> Card:
    """One pot: how long it has been sown, when the first seedling showed, how many; or what is planned for it."""
    return Card(
        section="seed",
        facts=facts.prepared_pot(pot) if pot.unsown else facts.pot(pot, today),
        asked=asked_of(pot),
        acts=acts_of(pot, *_own_acts(pot)),
        details=_details(pot, today),
    )


def _own_acts(pot: SeedPot) -> list[tuple[str, str]]:
    if pot.cancelled or pot.closed_why == "cleared":
        return []
    return [("Move", "move")] if pot.unsown else [("Move", "move"), ("Seedlings lost", "loss")]


def _details(pot: SeedPot, today: date) -> list:
    return details(
        ("", named("Cross", pot.lot.cross)),
        ("", Detail("Seed", _lot_words(pot), url=thing_url(pot.lot))),
        ("", named("Sowing", pot.session)),
        ("Pot", pot.pot_size),
        ("Sown", _sown_words(pot, today)),
        ("Seeds in it", plural(pot.seeds, "seed") if pot.seeds is not None else ""),
        ("Counted", plural(pot.counted, "seedling") if pot.counted is not None else ""),
        ("Lost", plural(pot.lost, "seedling") if pot.lost else ""),
    )


def _sown_words(pot: SeedPot, today: date) -> str:
    return "" if pot.unsown else days_words(pot.sown_first, pot.sown_last, today)


def _lot_words(pot: SeedPot) -> str:
    return pot.lot.words or "the lot it was sown from"
