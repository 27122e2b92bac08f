"""Load the demo nursery: ``load_demo(today)``. One transaction, always the same nursery for the same day."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from breeding.models import Cross, PollenLot, Section, SeedLot, SeedPot, Spike
from demo_fixtures.awkward import write_awkward
from demo_fixtures.clones import write_clones
from demo_fixtures.crosses import write_wishes
from demo_fixtures.diary import Diary
from demo_fixtures.earlier import YEAR, write_earlier
from demo_fixtures.house_log import write_house_log
from demo_fixtures.people import OWNER, PASSWORD, PEOPLE, add_people
from demo_fixtures.photos import write_photos
from demo_fixtures.places import write_places
from demo_fixtures.plants import write_plants
from demo_fixtures.pollen import write_pollen
from demo_fixtures.prints import write_prints
from demo_fixtures.remarks import write_remarks
from demo_fixtures.routines import write_routines
from demo_fixtures.sections import write_sections
from demo_fixtures.seed import write_seed
from demo_fixtures.sowing import write_sowing_evening
from demo_fixtures.spikes import write_spikes
from demo_fixtures.taxa import list_taxa
from nursery.models import Act, Clone, Person, Place, Plant, Tag, Taxon
from nursery.records.house import demo_opened, house_changed
from nursery.records.mind import keeping_in_mind
from nursery.records.numbers import blank_tags_make

__all__ = ["PASSWORD", "Loaded", "fill", "load_demo", "whole_diary"]

NAME = "Drizzle Lane Nursery"
ADDRESS = "https://drizzle.example"
MINUTES_A_DAY = 75
EARLIER = 5
OPENED = 745
"""Days ago that the book was begun, were there no earlier seasons."""
BLANK_TAGS = 12


@dataclass(frozen=True)
class Loaded:
    """Who may sign in (name and role, all with ``password``), and how many there are of what."""

    people: tuple[tuple[str, str], ...]
    password: str
    counts: dict[str, int]


def load_demo(today: date, *, earlier: int = EARLIER) -> Loaded:
    """Fill an empty database with two seasons that end the day before ``today``, and so many earlier ones.

    Raises:
        Refused: the database holds records already.
    """
    with transaction.atomic():
        fill(today, earlier=earlier)
        return Loaded(PEOPLE, PASSWORD, dict(_counts()))


def fill(today: date, *, earlier: int = 0) -> Diary:
    """What ``load_demo`` does, within a transaction of the caller's; returns the diary, which knows every thing.

    ``earlier`` is how many seasons come before the two that the tables tell of and that are still under way.
    """
    demo_opened()
    add_people()
    house_changed(by=_owner(), name=NAME, public_address=ADDRESS, minutes_a_day=MINUTES_A_DAY)
    diary = whole_diary(today, list_taxa(), earlier=earlier)
    diary.blanks = [tag.number for tag in blank_tags_make(count=BLANK_TAGS)]
    with keeping_in_mind(all_or_nothing=True):
        diary.into_the_books()
    write_prints(today, by=_owner(), address=ADDRESS)
    return diary


def whole_diary(today: date, taxa: Mapping[str, Taxon], *, earlier: int = 0) -> Diary:
    """All lines, in the order in which they are written down where they fall on one day."""
    diary = Diary(today, opened=OPENED + YEAR * earlier)
    write_places(diary)
    write_clones(diary, taxa)
    write_plants(diary)
    write_wishes(diary)
    write_spikes(diary)
    write_pollen(diary)
    write_sections(diary)
    write_seed(diary)
    write_awkward(diary)
    write_house_log(diary)
    write_remarks(diary)
    write_photos(diary)
    write_routines(diary)
    write_sowing_evening(diary)
    write_earlier(diary, earlier)
    return diary


def _owner() -> Person:
    return Person.objects.get(name=OWNER)


def _counts() -> Iterator[tuple[str, int]]:
    for model in (Place, Clone, Plant, Spike, PollenLot, Cross, Section, SeedLot, SeedPot):
        yield str(model._meta.verbose_name_plural), model.objects.filter(cancelled=False).count()
    yield "acts", Act.objects.count()
    yield "blank tags", Tag.objects.filter(thing__isnull=True).count()
