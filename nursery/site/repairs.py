"""What probably puts right each kind of contradiction, as buttons; each of them ends in an act."""

import uuid
from dataclasses import dataclass

from django.urls import reverse

from nursery.models import Act, Flag


@dataclass(frozen=True)
class Way:
    """One way to put something right: ``taps`` does it at once, else it leads to a form."""

    slug: str
    label: str
    taps: bool = False


@dataclass(frozen=True)
class Offer:
    """A way as it stands beside one flag; ``act_id`` where it is a button."""

    label: str
    url: str
    act_id: uuid.UUID | None = None


MISREAD = Way("misread", "Its buds were misread", taps=True)
UNKNOWN = Way("unknown-father", "Found pods, father unknown", taps=True)
ESTIMATE = Way("estimate", "The estimate was low")
FLOWERS = Way("flowers", "The flower count was low")
LEAVING = {"plant": "plant_gone", "seedpot": "pot_gone"}
"""What stands on a bench, and the act by which it leaves."""

ANOTHER = Way("another", "It was another one")
SWAPPED = Way("swapped", "Two tags were swapped")
GONE = Way("gone", "It is gone")
RELEASED = Way("released", "It is out of quarantine")
STILL_HERE = Way("still-here", "It is still here", taps=True)
ELSEWHERE = Way("elsewhere", "It stands elsewhere")

WAYS: dict[str, tuple[Way, ...]] = {
    "buds_misread": (MISREAD, ANOTHER),
    "sex_contradicts": (ANOTHER, SWAPPED),
    "clone_other_sex": (MISREAD, SWAPPED, ANOTHER),
    "spike_before_found": (ANOTHER,),
    "spike_was_closed": (ANOTHER,),
    "plant_was_gone": (ANOTHER, SWAPPED),
    "gone_twice": (ANOTHER, SWAPPED),
    "pollen_from_female": (MISREAD, ANOTHER),
    "male_pollinated": (MISREAD, ANOTHER),
    "seed_parent_male": (SWAPPED, ANOTHER),
    "pollen_parent_female": (UNKNOWN, SWAPPED, ANOTHER),
    "own_pollen": (UNKNOWN, ANOTHER),
    "another_father": (ANOTHER,),
    "pollinated_before_found": (UNKNOWN, ANOTHER),
    "pollen_not_yet": (UNKNOWN, ANOTHER),
    "pollen_was_finished": (UNKNOWN, ANOTHER),
    "before_pollination": (UNKNOWN, ANOTHER),
    "section_was_closed": (ANOTHER, SWAPPED),
    "more_pods_than_flowers": (FLOWERS, ANOTHER),
    "harvest_without_take": (ANOTHER, SWAPPED),
    "lot_was_finished": (ESTIMATE, ANOTHER),
    "sown_more_than_estimated": (ESTIMATE, ANOTHER),
    "sown_before_harvest": (ANOTHER,),
    "more_pods_than_cut": (ANOTHER,),
    "before_sowing": (ANOTHER,),
    "pot_sown_before": (SWAPPED, ANOTHER),
    "pot_was_cleared": (SWAPPED, ANOTHER),
    "cleared_though_sown": (ANOTHER,),
    "not_sown_yet": (SWAPPED, ANOTHER),
    "seedlings_gone": (ANOTHER, SWAPPED),
    "more_seedlings_than_seeds": (ANOTHER,),
    "before_split": (ANOTHER,),
    "pot_was_emptied": (ANOTHER, SWAPPED),
    "more_moved_than_counted": (ANOTHER,),
    "fewer_moved_than_counted": (ANOTHER,),
    "was_undone": (ANOTHER,),
    "not_found": (ELSEWHERE, GONE),
    "in_quarantine": (RELEASED, ANOTHER),
    "seen_though_gone": (STILL_HERE, SWAPPED),
}
"""By the code of a flag, the likeliest first; what is not listed can be settled, corrected or undone."""


def offers(flag: Flag, act: Act, *, may_correct: bool) -> tuple[Offer, ...]:
    """The ways for one flag that this person has. What only corrects is offered to those who may correct the act."""
    ways = [way for way in WAYS.get(flag.code, ()) if may_correct or way not in {ANOTHER, UNKNOWN}]
    return tuple(_offer(way, flag) for way in ways if _fits(way, flag, act))


def _offer(way: Way, flag: Flag) -> Offer:
    url = reverse("repair", kwargs={"pk": flag.pk, "slug": way.slug})
    return Offer(way.label, url, uuid.uuid4() if way.taps else None)


def _fits(way: Way, flag: Flag, act: Act) -> bool:
    """Only a plant or pot is told to be gone, or to be still here; only a plant is let out of quarantine."""
    if way is MISREAD:
        return _may_be_misread(flag, act)
    if way is RELEASED:
        return act.kind == "plant_gone"
    if way is STILL_HERE and flag.thing.kind == "seedpot":  # emptied into others, or cleared, it is not taken back
        return Act.objects.filter(thing=flag.thing_id, kind="pot_gone", voided_by__isnull=True).exists()
    return way not in {GONE, STILL_HERE} or flag.thing.kind in LEAVING


def _may_be_misread(flag: Flag, act: Act) -> bool:
    """Open flowers are not misread; of another spike's sex only buds can be."""
    if flag.code != "clone_other_sex":
        return True
    look = getattr(act, "spikelook", None) or getattr(act, "spikefound", None)
    return look is not None and look.sex_from == "buds"
