from datetime import date

from breeding.answers import asked_of
from breeding.models import SeedPot
from breeding.words import facts
from breeding.words.ages import days_words, plural
from nursery.links import thing_url
from nursery.site.cards.parts import (
    MOST_ROWS,
    Card,
    Detail,
    acts_of,
    details,
    listing,
    named,
    pots_of_acts,
    printing,
    row_of,
)
from nursery.site.fetch import listed, things
from nursery.templatetags.tepal import plate


def card(pot: SeedPot, today: date) -> Card:
    """One pot: how long it has been sown, when the first seedling showed, how many; or what is planned for it."""
    parts = _parts(pot)
    return Card(
        section="seed",
        facts=facts.prepared_pot(pot) if pot.unsown else facts.pot(pot, today),
        asked=asked_of(pot),
        acts=[*acts_of(pot, *_own_acts(pot)), *pots_of_acts(parts), *printing(parts)],
        details=_details(pot, today),
        lists=[listing("Split off from it", [row_of(one, today, text="Seed pot", where=True) for one in parts])],
    )


def _parts(pot: SeedPot) -> list:
    """Only a pot that was split has some."""
    if pot.split_last is None:
        return []
    return listed(things("seedpot").filter(split_from=pot.pk, cancelled=False).order_by("pk")[: MOST_ROWS + 1])


def _own_acts(pot: SeedPot) -> list[tuple[str, str]]:
    if pot.cancelled or pot.closed_why == "cleared":
        return []
    if pot.unsown:
        return [("Move", "move")]
    return [("Move", "move"), ("Seedlings lost", "loss"), ("Pot split", "split"), ("Gone", "gone")]


def _details(pot: SeedPot, today: date) -> list:
    return details(
        ("", named("Cross", pot.lot.cross)),
        ("", Detail("Seed", _lot_words(pot), url=thing_url(pot.lot))),
        ("", named("Sowing", pot.session)),
        ("", _split_from(pot)),
        ("Pot", pot.pot_size),
        ("Sown", _sown_words(pot, today)),
        ("Seeds in it", plural(pot.seeds, "seed") if pot.seeds is not None else ""),
        ("Counted", plural(pot.counted, "seedling") if pot.counted is not None else ""),
        ("Lost", plural(pot.lost, "seedling") if pot.lost else ""),
    )


def _sown_words(pot: SeedPot, today: date) -> str:
    return "" if pot.unsown else days_words(pot.sown_first, pot.sown_last, today)


def _split_from(pot: SeedPot) -> Detail | None:
    """The pot it came from, by its number."""
    if pot.split_from is None:
        return None
    [whole] = listed(things("seedpot").filter(pk=pot.split_from_id))
    number = f" {plate(whole.number)}" if whole.number else ""
    return Detail("Split from", f"seed pot{number}", url=thing_url(whole))


def _lot_words(pot: SeedPot) -> str:
    return pot.lot.words or "the lot it was sown from"
