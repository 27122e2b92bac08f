"""A row of seed pots: the seed they were sown with, the sowing, and what was seen in them."""

from breeding.models import SeedPot
from breeding.records.pots import pot_looked_at, sown
from breeding.records.seed import seed_received
from nursery.days import Day
from nursery.models import Act
from nursery.records.mind import thing_in_mind
from nursery.records.prepared import Prepared
from nursery.site.moving.making import refused, thing_of
from nursery.site.moving.places import path_words
from nursery.site.moving.rows.books import Books, how_many, one_blank_tag, parents
from nursery.site.moving.tables.columns import Told

UNTOLD = "seed of these pots"
_BORN = Prepared(lambda ids: SeedPot.objects.filter(thing__born_by__in=ids).order_by("pk"))


def bring(books: Books, told: Told) -> str:
    """Bring one row in; what it made, in words."""
    count = how_many(told, "pots")
    tag = one_blank_tag(told, count, "pots")
    _must_be_counted_by_pot(told, count)
    of = parents(books, told)
    untold = of.seed is None and of.pollen is None and not of.words
    facts = {"seed_parent": of.seed, "pollen_parent": of.pollen, "words": UNTOLD if untold else of.words}
    lot = thing_of(books.record(seed_received, "seed", day=told.day("harvested"), **facts))
    place = books.places.of(told.words("place"))
    act = books.record(
        sown,
        "sown",
        day=told.day("sown"),
        lot=lot,
        place=place,
        pots=count,
        seeds=told.value("seeds"),
        pods=told.value("pods"),
        pot_size=told.words("pot_size"),
        medium=told.words("medium"),
        all_of_it=True,
        tag=tag,
    )
    pots = _pots(act)
    _look(books, told, pots)
    books.remark(pots[0], told.remark)
    where = f", {path_words(place)}" if place else ""
    pots_words = "a seed pot" if count == 1 else f"{count} seed pots"
    return f"{pots_words} of {of}{where}{books.told_day(told.day('sown'), 'sown')}"


def _must_be_counted_by_pot(told: Told, count: int) -> None:
    """A number beside several pots is the number in all of them, or in each: nobody can tell."""
    if count > 1 and told.value("counted"):
        sentence = (
            f"{told.value('counted'):,} seedlings in {count} pots: give each pot a row of its own with its number, or "
            "keep this column as a remark."
        )
        raise refused("counted", sentence)


def _pots(act: Act) -> list[SeedPot]:
    return [thing_in_mind(pot.pk) or pot for pot in _BORN.objects([act.pk])]


def _look(books: Books, told: Told, pots: list[SeedPot]) -> None:
    """What was seen, if anything was, on the day that is told for it; a number alone is a look, too."""
    counted = told.value("counted")
    seen = told.words("seen") or ({None: "", 0: "nothing"}.get(counted, "few"))
    day: Day = told.day("looked")
    if seen:
        for number, pot in enumerate(pots, 1):
            books.record(pot_looked_at, f"look {number}", day=day, pot=pot, seen=seen, counted=counted)
