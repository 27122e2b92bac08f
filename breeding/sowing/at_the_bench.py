"""A sowing session as it is sown: the cross in hand, the pot that is next, and what is left of each seed lot."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.db.models import OuterRef, Subquery
from django.urls import reverse

from breeding.answers import Answer, amount_words, sown_now
from breeding.models import SeedPot, SowingSession
from breeding.words.ages import plural
from breeding.words.names import FETCH, name_parts
from nursery.links import act_url, thing_url
from nursery.models import Tag
from nursery.names import NamePart

_TAG = Tag.objects.filter(thing=OuterRef("pk"), retired=False).order_by("-made_at", "-number")


@dataclass(frozen=True)
class Pot:
    """One pot that waits."""

    number: int | None
    url: str
    size: str
    amount: str
    sown: Answer
    other_url: str
    clear_url: str


@dataclass(frozen=True)
class Lot:
    """The pots of one seed lot; ``left`` says what should be left of it, for its packet goes back into store."""

    pk: int
    number: int | None
    url: str
    name_parts: tuple[NamePart, ...]
    pots: tuple[Pot, ...]
    sown: int
    left: str


@dataclass(frozen=True)
class Bench:
    """``now`` is the lot in hand, None once nothing waits; ``done`` the one whose last pot was just sown."""

    now: Lot | None
    done: Lot | None
    then: tuple[Lot, ...]
    finished: tuple[Lot, ...]


def bench_of(session: SowingSession, *, lot: int | None = None, after: int | None = None) -> Bench:
    """One cross at a time: the lot asked for, else that of the pot sown last, else the first that waits.

    Three queries, however many pots there are.
    """
    pots = list(_pots(session))
    lots = _by_lot(pots)
    last = next((pot.lot_id for pot in pots if pot.pk == after), None)
    waiting = [one for one in lots if one.pots]
    now = next((one for one in waiting if one.pk == (lot or last)), waiting[0] if waiting else None)
    done = next((one for one in lots if one.pk == last and not one.pots), None)
    return Bench(
        now=now,
        done=done,
        then=tuple(one for one in waiting if one is not now),
        finished=tuple(one for one in lots if not one.pots),
    )


def waiting_pots(session: SowingSession) -> list[SeedPot]:
    """The pots that are neither sown nor cleared, each with its ``number``."""
    return [pot for pot in _pots(session) if _waits(pot)]


def _pots(session: SowingSession) -> Any:
    rows = SeedPot.objects.filter(session=session, cancelled=False).select_related(*FETCH["seedpot"], "lot")
    numbers = {"number": Subquery(_TAG.values("number")[:1])}
    return rows.prefetch_related("lot__cross__candidates").annotate(**numbers).order_by("pk")


def _waits(pot: SeedPot) -> bool:
    return pot.unsown and pot.closed_on is None


def _by_lot(pots: Sequence[Any]) -> list[Lot]:
    of_lot: dict[int, list[Any]] = {}
    for pot in pots:
        of_lot.setdefault(pot.lot_id, []).append(pot)
    numbers = dict(Tag.objects.filter(thing__in=of_lot, retired=False).values_list("thing_id", "number"))
    return [_lot(of_one, numbers.get(pk)) for pk, of_one in of_lot.items()]


def _lot(pots: list[Any], number: int | None) -> Lot:
    lot = pots[0].lot
    left = "" if lot.left is None else f"about {plural(lot.left, 'seed')} left by the estimate"
    return Lot(
        pk=lot.pk,
        number=number,
        url=thing_url(lot),
        name_parts=tuple(name_parts(lot)),
        pots=tuple(_pot(pot) for pot in pots if _waits(pot)),
        sown=sum(not pot.unsown for pot in pots),
        left="nothing is left of it" if lot.closed_on else left or "nobody has estimated what is left",
    )


def _pot(pot: Any) -> Pot:
    """Who is asked once more before it counts as sown, and leaves it, comes back to the bench."""
    sown = sown_now(pot)
    return Pot(
        number=pot.number,
        url=thing_url(pot),
        size=pot.pot_size,
        amount=amount_words(pot.planned_seeds, pot.planned_pods),
        sown=replace(sown, url=f"{sown.url}?next={reverse('sowing-bench', args=[pot.session_id])}"),
        other_url=act_url(pot, "sown"),
        clear_url=act_url(pot, "clear"),
    )
