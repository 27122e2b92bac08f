"""What happened to a thing, newest first: each act in words with its day and hand, undone ones struck and kept."""

import uuid
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from itertools import groupby

from django.db.models import F, Q, QuerySet
from django.urls import reverse
from django.utils import timezone

from nursery.days import Day
from nursery.links import undo_url
from nursery.models import Act, ActLink, Flag, LivingThing, Person, Thing
from nursery.pictures import SMALL_SIDE
from nursery.records import registry, rights
from nursery.records.flags import open_flags
from nursery.records.prepared import Prepared
from nursery.records.telling import tell
from nursery.records.versions import id_told_again
from nursery.site import pages
from nursery.site.cards.parts import Link
from nursery.site.named import Named, named

SHOWN_AT_FIRST = 40
SHOWN_AT_MOST = 2000
PHOTOS_AT_FIRST = 12

PHOTO = "photo_taken"
APART = frozenset({"remarked", PHOTO})

ON_PLACES = frozenset({"place_moved", "house_event", "house_event_ended", "stocktake"})

# What telling an act asks of other tables beside its own details.
_TOLD_WITH = {
    "pollinated": ("pollinated__lot__clone", "pollinated__from_spike__plant__clone"),
    "moved": ("moved__place",),
    "place_moved": ("placemoved__inside", "thing__place"),
    "house_event": ("thing__place",),
    "stocktake": ("thing__place",),
    "not_found": ("notfound__place",),
    "sample_result": ("sampleresult__sample",),
    "house_event_ended": ("houseeventended__event", "thing__place"),
    "flag_settled": ("settled__flag",),
    "redetermined": ("redetermined__taxon", "redetermined__seed_parent", "redetermined__pollen_parent"),
}


@dataclass(frozen=True)
class ShownPhoto:
    """A photo small, with the way to the large one; measures in pixels."""

    url: str
    small_url: str
    width: int
    height: int
    alt: str


@dataclass(frozen=True)
class StoryRow:
    """One act as a story shows it. ``void_words`` say by whom it was undone or that it was corrected."""

    kind: str
    day: str
    words: str
    who: str
    url: str = ""
    note: str = ""
    void: bool = False
    void_words: str = ""
    undo_url: str = ""
    undo_id: uuid.UUID | None = None
    correct_url: str = ""
    photo: ShownPhoto | None = None


@dataclass(frozen=True)
class PhotoDay:
    """The photos of one day, as it was told."""

    day: str
    rows: tuple[StoryRow, ...]


@dataclass(frozen=True)
class FlagRow:
    """A contradiction that waits for a person; ``settle_url`` takes their word that nothing more is needed.

    ``repairs`` lead to what probably puts it right; ``about`` names the thing where that is not the page's own.
    """

    sentence: str
    about: Named | None = None
    settle_url: str = ""
    settle_id: uuid.UUID | None = None
    repairs: tuple[Link, ...] = ()


@dataclass(frozen=True)
class Story:
    """``photos`` are those that still count; they may be older than the ``rows``."""

    rows: tuple[StoryRow, ...]
    photos: tuple[StoryRow, ...] = ()
    more: bool = False

    @property
    def remarks(self) -> tuple[StoryRow, ...]:
        return tuple(row for row in self.rows if row.kind == "remarked" and not row.void)

    @property
    def acts(self) -> tuple[StoryRow, ...]:
        """The rows without the remarks and photos that stand by themselves."""
        return tuple(row for row in self.rows if row.kind not in APART or row.void)

    @property
    def photo_days(self) -> tuple[PhotoDay, ...]:
        by_day = groupby(self.photos, key=lambda row: row.day)
        return tuple(PhotoDay(day, tuple(rows)) for day, rows in by_day)


@dataclass(frozen=True)
class Reader:
    """Who reads a story on which day. ``change`` puts ways to undo and correct on all of it, not just on today's."""

    person: Person
    today: date
    change: bool = False

    def may_change(self, act: Act) -> bool:
        if not self.change and timezone.localdate(act.recorded_at) != self.today:
            return False
        return rights.may_undo(self.person, act, self.today)


def story_of(
    thing: LivingThing, reader: Reader, *, whole: bool = False, around: Mapping[uuid.UUID, bool] | None = None
) -> Story:
    """The acts on a thing and those that touched it; the latest ones unless the ``whole`` story is wanted.

    ``around`` names acts on the places in which it stood, False where that is not sure.
    """
    most = SHOWN_AT_MOST if whole else SHOWN_AT_FIRST
    around = around or {}
    acts = list(told(acts_about([thing.pk], beside=around))[: most + 1]) if around else _acts_of(thing.pk, most + 1)
    more = len(acts) > most
    photos = _photos_of(thing) if more else [act for act in acts if act.kind == PHOTO and not hasattr(act, "voided_by")]
    rows = (row_of(act, reader, on=thing.pk, sure=around.get(act.pk, True)) for act in acts[:most])
    return Story(tuple(rows), tuple(row_of(act, reader, on=thing.pk) for act in photos), more)


def _acts_of(pk: int, most: int) -> list[Act]:
    """The latest acts about one thing, ready to be told."""
    kinds = frozenset(row["kind"] for row in _KINDS_ABOUT.rows([pk]))
    return _told_of_kinds(kinds, most).objects([pk])


@lru_cache(maxsize=500)
def _told_of_kinds(codes: frozenset[str], most: int) -> Prepared:
    return Prepared(lambda ids: _told(acts_about(ids), sorted(codes))[:most])


def _photos_of(thing: LivingThing) -> QuerySet[Act]:
    """The latest photos, for a story so long that it is cut."""
    photos = Act.objects.filter(thing_id=thing.pk, kind=PHOTO, voided_by__isnull=True)
    return newest_first(photos.select_related("thing", "by", "phone_of", "photo", "voided_by"))[:PHOTOS_AT_FIRST]


def acts_about(pks: Iterable[int], *, beside: Iterable[uuid.UUID] = ()) -> QuerySet[Act]:
    """The acts on these things or touching them, and those ``beside``; undone ones too, but not the undoing itself."""
    pks = list(pks)
    links = ActLink.objects.filter(thing_id__in=pks).values("act_id")
    about = Q(thing_id__in=pks) | Q(pk__in=links)
    return Act.objects.filter(about | Q(pk__in=list(beside)) if beside else about).exclude(kind="void")


_KINDS_ABOUT = Prepared(lambda ids: acts_about(ids).order_by().values("kind").distinct())


def told(acts: QuerySet[Act]) -> QuerySet[Act]:
    """These acts, newest first, with all that telling them needs: one query to see which kinds there are, one for all.

    Only the details of kinds that occur are joined, because a database joins a limited number of tables (SQLite 64).
    """
    return _told(acts, acts.order_by().values_list("kind", flat=True).distinct())


def _told(acts: QuerySet[Act], codes: Iterable[str]) -> QuerySet[Act]:
    kinds = [registry.act_kind(code) for code in codes]
    details = [kind.accessor for kind in kinds if kind.accessor]
    beside = [path for kind in kinds for path in _TOLD_WITH.get(kind.code, ())]
    rows = acts.select_related("thing", "by", "voided_by__act__by", "replaced_by", *details, *beside)
    return newest_first(rows)


def newest_first(acts: QuerySet[Act]) -> QuerySet[Act]:
    return acts.order_by(F("day_last").desc(nulls_last=True), "-recorded_at", "pk")


def row_of(act: Act, reader: Reader, *, on: int, sure: bool = True) -> StoryRow:
    """One act for the story of the thing ``on``; if it is about another thing, it leads there.

    What befell a place names it; unless ``sure``, the thing may have stood elsewhere that day.
    """
    void = getattr(act, "voided_by", None)
    may_change = void is None and reader.may_change(act)
    return StoryRow(
        kind=act.kind,
        day=Day(act.day_first, act.day_last, act.said).words(reader.today),
        words=_words(act) if act.thing_id == on else _words_elsewhere(act, sure),
        who=act.by.name,
        url=_main_url(act) if act.thing_id != on else "",
        note=act.note,
        void=void is not None,
        void_words=void_words(act, reader.today) if void else "",
        undo_url=undo_url(act) if may_change else "",
        undo_id=uuid.uuid4() if may_change else None,
        correct_url=correct_url(act) if may_change else "",
        photo=_photo(act, reader.today) if act.kind == PHOTO and void is None else None,
    )


def _photo(act: Act, today: date) -> ShownPhoto:
    """Undone photos are not shown, so their files are not asked for."""
    photo = act.photo
    shrink = min(1, SMALL_SIDE / max(photo.width, photo.height))
    return ShownPhoto(
        url=reverse("photo", kwargs={"sha256": photo.sha256}),
        small_url=reverse("photo-small", kwargs={"sha256": photo.sha256}),
        width=max(1, round(photo.width * shrink)),
        height=max(1, round(photo.height * shrink)),
        alt=f"Photo, {Day(act.day_first, act.day_last, act.said).words(today)}",
    )


def flags_of(pks: Iterable[int], person: Person) -> list[FlagRow]:
    """The open contradictions in what was told of these things; those of another thing name it."""
    own = set(pks)
    flags = _open_flags_of.objects(own)
    others = named(Thing.objects.filter(pk__in=found)) if (found := {one.thing_id for one in flags} - own) else {}
    often = {said for said, times in Counter(flag.sentence for flag in flags).items() if times > 1}
    return [_flag(flag, person, others.get(flag.thing_id), told_when=flag.sentence in often) for flag in flags]


@Prepared
def _open_flags_of(ids: Sequence[int]) -> QuerySet[Flag]:
    touched = ActLink.objects.filter(thing_id__in=ids).values("act_id")
    of_the_act = Q(act_id__in=touched, thing=F("act__thing"))  # not what it says of a third thing
    return open_flags().filter(Q(thing_id__in=ids) | of_the_act).select_related("act")


def _flag(flag: Flag, person: Person, about: Named | None, *, told_when: bool) -> FlagRow:
    """What several acts are flagged for in the same words is told with their words and days."""
    sentence = f"{flag.sentence} ({tell(flag.act)})" if told_when else flag.sentence
    if not person.may_record:
        return FlagRow(sentence, about)
    repairs = (Link("Put it right", f"{reverse('sort-out')}#flag-{flag.pk}"),)
    return FlagRow(sentence, about, reverse("settle", kwargs={"pk": flag.pk}), uuid.uuid4(), repairs)


def _words(act: Act) -> str:
    kind = registry.act_kind(act.kind)
    words = kind.tell(act)
    if act.kind == "remarked":
        return words
    return f"{kind.words}: {words}" if words else kind.words


def _words_elsewhere(act: Act, sure: bool) -> str:
    place = f"{act.thing.place.name}, " if act.kind in ON_PLACES else ""
    return f"{place}{_words(act)}{'' if sure else ' (perhaps while it stood there)'}"


def correct_url(act: Act) -> str:
    """Where an act is corrected; empty where it cannot be."""
    return reverse("correct", kwargs={"pk": act.pk}) if pages.can_be_corrected(act) else ""


def void_words(act: Act, today: date) -> str:
    """When and by whom an act was undone or corrected."""
    undoing = act.voided_by.act
    day = Day.on(timezone.localdate(undoing.recorded_at)).words(today)
    after = getattr(act, "replaced_by", None)
    if after is None:
        return f"Undone {day} by {undoing.by.name}."
    if after.pk == id_told_again(undoing.pk):
        return f"Undone {day} by {undoing.by.name}: the version before stands again."
    return f"Corrected {day} by {undoing.by.name}."


def _main_url(act: Act) -> str:
    slug = registry.thing_kind(act.thing.kind).slug
    return reverse("thing", kwargs={"slug": slug, "pk": act.thing_id})
