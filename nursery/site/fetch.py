"""Things fetched with all that naming and placing them needs, so that no page asks once for each row."""

from functools import cache
from typing import Any

from django.db.models import F, OuterRef, QuerySet, Subquery, prefetch_related_objects
from django.http import Http404

from breeding.words.names import FETCH
from nursery.models import LivingThing, Place, Tag
from nursery.records import registry
from nursery.records.prepared import Prepared
from nursery.records.registry import ThingKind
from nursery.where import UP_TO_THE_HOUSE

# Where a thing stands, up to the house: a tray on a bench in a house.
_WHERE = {
    "place": "inside",
    "plant": "place",
    "spike": "plant__place",
    "section": "spike__plant__place",
    "seedpot": "place",
    "sowingsession": "place",
    "routine": "place",
}
_MORE = {
    "clone": ("taxon", "seed_parent", "pollen_parent"),
    "plant": ("clone__seed_parent", "clone__pollen_parent"),
    "section": ("spike__plant__clone",),
    "seedlot": ("section", "split_from"),
    "pollenlot": ("split_from",),
    "seedpot": ("session", "split_from"),
}
_MIXED = {
    "pollenlot": ("candidates",),
    "cross": ("candidates",),
    "section": ("cross__candidates",),
    "seedlot": ("cross__candidates",),
    "seedpot": ("lot__cross__candidates",),
}
OPEN_FIRST = F("closed_on").desc(nulls_first=True)
"""Order: what is still under way, then what ended last."""

_CURRENT_TAG = Tag.objects.filter(thing_id=OuterRef("pk"), retired=False).order_by("-made_at", "-number")


def things(code: str) -> QuerySet[Any]:
    """All things of a kind, each with ``number`` (of the tag it carries now, or None), ready to be named and placed."""
    kind = registry.thing_kind(code)
    number = Subquery(_CURRENT_TAG.values("number")[:1])
    where = (f"{_WHERE[code]}__{UP_TO_THE_HOUSE}",) if code in _WHERE else ()
    rows = kind.model.objects.annotate(number=number).select_related(
        "thing", *FETCH[code], *_MORE.get(code, ()), *where
    )
    return rows.prefetch_related(*_MIXED.get(code, ()))


PLANT_IS_THERE = {
    "spike": {"plant__closed_on__isnull": True},
    "section": {"spike__plant__closed_on__isnull": True},
}
"""By kind, what holds of things whose plant is still there: what grew on one that is gone is under way no more."""


def under_way(code: str) -> QuerySet[Any]:
    """Open things, without those whose plant is gone."""
    return open_things(code).filter(**PLANT_IS_THERE.get(code, {}))


def open_things(code: str) -> QuerySet[Any]:
    return things(code).filter(cancelled=False, closed_on__isnull=True)


def kind_of_slug(slug: str) -> ThingKind:
    """Raises Http404 where no kind has this slug."""
    for kind in registry.thing_kinds().values():
        if kind.slug == slug:
            return kind
    raise Http404("There is no such page.")


def thing_or_404(code: str, pk: int) -> LivingThing:
    found = _by_id(code).first(pk)
    if found is None:
        raise Http404(f"There is no {registry.thing_kind(code).words} {pk} here.")
    return with_fathers([found])[0]


@cache
def _by_id(code: str) -> Prepared:
    return Prepared(lambda ids: things(code).filter(pk__in=ids).prefetch_related(None))


def listed(rows: QuerySet[Any]) -> list[Any]:
    """These rows of ``things``, asking for possible fathers only where the pollen was mixed, which is rare."""
    return with_fathers(list(rows.prefetch_related(None)))


def with_fathers(found: list[Any]) -> list[Any]:
    """The same rows of one kind, each with its possible fathers where its pollen was mixed."""
    mixed = [row for row in found if _is_mixed(row)]
    if mixed:
        prefetch_related_objects(mixed, *_MIXED[mixed[0].kind])
    return found


def _is_mixed(row: LivingThing) -> bool:
    match row.kind:
        case "pollenlot":
            return row.clone_id is None
        case "cross":
            return row.pollen_parent_id is None
        case "section" | "seedlot":
            return row.cross.pollen_parent_id is None
        case "seedpot":
            return row.lot.cross.pollen_parent_id is None
    return False


def place_of(thing: LivingThing) -> Place | None:
    """Where a thing stands: a spike and its sections on their plant."""
    for step in _WHERE.get(thing.kind, "").split("__") if thing.kind in _WHERE else ():
        thing = getattr(thing, step) if thing is not None else None
    return thing if isinstance(thing, Place) else None


def place_path(code: str) -> str:
    """The columns that lead from a thing of this kind to where it stands; empty for kinds that stand nowhere."""
    return _WHERE.get(code, "")
