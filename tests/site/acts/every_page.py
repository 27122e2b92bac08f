"""Every page that records an act, with the thing it stands on and values that it takes."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.utils import timezone

from breeding.models import Section
from breeding.records import posted
from nursery.links import act_url
from nursery.models import LivingThing, Place
from nursery.pages import ActPage
from nursery.records import registry
from nursery.records.house_log import house_event
from nursery.records.numbers import blank_tags_make
from nursery.site import pages
from tests.drawing import kept
from tests.making import Nursery, tag_of

Values = dict[str, Any]


def _until() -> str:
    return (timezone.localdate() + timedelta(days=5)).isoformat()


def _blank(nursery: Nursery) -> str:
    [tag] = blank_tags_make(count=1)
    return str(tag.number)


def _event(nursery: Nursery) -> str:
    """Something that goes on at the place that was made last: the one of the page."""
    return str(nursery.record(house_event, place=Place.objects.latest("pk"), what="heat").pk)


def own_pollen(nursery: Nursery) -> str:
    """Fresh from a male of the clone that the section made last was pollinated with."""
    return f"spike:{nursery.male(Section.objects.latest('pk').cross.pollen_parent, days_ago=9).pk}"


def _sent(nursery: Nursery, kind: str) -> str:
    """A sending of the thing made last."""
    lot = registry.thing_kind(kind).model.objects.order_by("pk").last()
    record = posted.pollen_sent if kind == "pollenlot" else posted.seed_sent
    return str(nursery.record(record, lot=lot, to_whom="the friend who writes").pk)


MAKE: dict[str, Callable[[Nursery], LivingThing]] = {
    "place": lambda nursery: nursery.bench(),
    "clone": lambda nursery: nursery.clone(),
    "plant": lambda nursery: nursery.plant(),
    "spike": lambda nursery: nursery.female(days_ago=20),
    "section": lambda nursery: nursery.section(days_ago=45),
    "pollenlot": lambda nursery: nursery.pollen(days_ago=2),
    "seedlot": lambda nursery: nursery.seed(days_ago=3),
    "seedpot": lambda nursery: nursery.pot(days_ago=60),
    "cross": lambda nursery: nursery.cross(),
    "sowingsession": lambda nursery: nursery.sowing(days_ago=1),
    "routine": lambda nursery: nursery.routine(),
}

MAKE_FOR: dict[tuple[str | None, str], Callable[[Nursery], LivingThing]] = {
    ("seedpot", "sown"): lambda nursery: nursery.prepared_pot(days_ago=60),
    ("seedpot", "clear"): lambda nursery: nursery.prepared_pot(days_ago=60),
}
"""Where the page is for things that are not at the stage of most others."""

VALUES: dict[tuple[str | None, str], Callable[[Nursery], Values]] = {
    ("any", "remark"): lambda _: {"words": "Leans to the east."},
    ("any", "photo"): lambda _: {"kept": kept().sha256},
    ("any", "later"): lambda _: {"until": _until()},
    ("any", "stop"): lambda _: {},
    ("any", "resume"): lambda _: {},
    ("any", "tag"): lambda nursery: {"number": _blank(nursery)},
    ("plant", "move"): lambda nursery: {"place": nursery.bench().pk},
    ("seedpot", "move"): lambda nursery: {"place": nursery.bench().pk},
    ("plant", "gone"): lambda _: {"why": "died"},
    ("plant", "spike"): lambda _: {"seen": "growing"},
    ("clone", "plant"): lambda _: {"pot": "9 cm"},
    ("plant", "missing"): lambda nursery: {"place": nursery.bench().pk},
    ("seedpot", "missing"): lambda _: {},
    ("plant", "quarantine"): lambda _: {"reason": "mosaic on the new leaves"},
    ("plant", "release"): lambda _: {},
    ("plant", "sample"): lambda _: {"to_whom": "the plant clinic", "what_for": "mosaic virus"},
    ("plant", "result"): lambda _: {"found": "unclear", "words": "send again"},
    ("plant", "cutting"): lambda _: {"pot": "9 cm"},
    ("place", "stocktake"): lambda nursery: {"others": str(tag_of(nursery.plant()).number)},
    ("place", "move"): lambda nursery: {"inside": nursery.house().pk},
    ("place", "event"): lambda _: {"what": "treatment", "product": "soap spray", "closed_until": _until() + "T14:00"},
    ("place", "ended"): lambda nursery: {"event": _event(nursery)},
    ("clone", "redetermine"): lambda _: {"taxon_typed": "truncata", "why": "its flowers"},
    ("place", "room"): lambda _: {"pots": 60},
    ("place", "rename"): lambda _: {"name": "Top bench", "order": 3},
    ("spike", "look"): lambda _: {"seen": "showing", "sex": "female", "sex_from": "flowers"},
    ("spike", "collect"): lambda _: {"storage": "bench"},
    ("spike", "pollinate"): lambda _: {"pollen": "unknown", "tie": "red wool"},
    ("section", "dab"): lambda nursery: {"pollen": own_pollen(nursery)},
    ("section", "take"): lambda _: {"swelling": "most"},
    ("section", "pods"): lambda _: {"seen": "green"},
    ("section", "bag"): lambda _: {},
    ("section", "harvest"): lambda _: {"what": "pods", "pods": 3},
    ("pollenlot", "store"): lambda _: {"storage": "freezer"},
    ("pollenlot", "finish"): lambda _: {},
    ("pollenlot", "send"): lambda _: {"to_whom": "the friend who writes", "extent": "part"},
    ("pollenlot", "split"): lambda _: {"storage": "freezer"},
    ("pollenlot", "outcome"): lambda nursery: {"sent": _sent(nursery, "pollenlot"), "words": "Two pods."},
    ("seedlot", "send"): lambda _: {"to_whom": "the friend who writes", "extent": "all", "seeds": 40},
    ("seedlot", "split"): lambda _: {"storage": "refrigerator", "seeds": 20},
    ("seedlot", "outcome"): lambda nursery: {"sent": _sent(nursery, "seedlot"), "words": "Twelve up."},
    ("seedlot", "clean"): lambda _: {"seeds": 300, "estimate_from": "guessed"},
    ("seedlot", "sow"): lambda _: {"pots": 2, "pods": 1},
    ("seedlot", "store"): lambda _: {"storage": "refrigerator"},
    ("seedlot", "finish"): lambda _: {},
    ("seedpot", "look"): lambda _: {"seen": "few"},
    ("seedpot", "loss"): lambda _: {"lost": 2, "why": "unknown"},
    ("seedpot", "gone"): lambda _: {"why": "dropped"},
    ("seedpot", "trouble"): lambda _: {"what": "algae"},
    ("seedpot", "split"): lambda _: {"pots": 2, "extent": "part"},
    ("seedpot", "sown"): lambda _: {"seeds": 30},
    ("seedpot", "clear"): lambda _: {"why": "no_time"},
    ("sowingsession", "change"): lambda _: {"planned_for": _until(), "medium": "milled moss", "sterilised": "steam"},
    (None, "plants"): lambda _: {"taxon_typed": "ampullaria", "designation": "thimble", "origin": "unknown"},
    (None, "clones"): lambda _: {"taxon_typed": "hamata", "designation": "ladle", "origin": "gift"},
    (None, "places"): lambda _: {"name": "Long house", "size": "house"},
    (None, "pollen"): lambda _: {"words": "lowii, from a friend", "storage": "unknown", "day_said": "unknown"},
    (None, "seed"): lambda _: {"words": "lowii open pollinated", "storage": "unknown", "day_said": "unknown"},
    ("routine", "change"): lambda _: {"words": "feed", "how": "weekdays", "weekdays": ["MO", "TH"]},
    ("routine", "done"): lambda _: {"answer": "done"},
    (None, "routines"): lambda _: {"words": "clean the trays", "how": "weeks", "weeks": 2},
    (None, "crosses"): lambda nursery: {"seed_parent": nursery.clone().pk, "pollen_parent": nursery.clone().pk},
}


@dataclass(frozen=True)
class Case:
    page: ActPage
    kind: str | None

    def __str__(self) -> str:
        return f"{self.kind or 'new'}-{self.page.slug}"

    def url(self, nursery: Nursery) -> str:
        if self.kind is None:
            return f"/{self.page.slug}/new/"
        return act_url(self.make(nursery), self.page.slug)

    def make(self, nursery: Nursery) -> LivingThing:
        """A thing of which the act of this page is likely."""
        return MAKE_FOR.get((self.kind, self.page.slug), MAKE[self.kind])(nursery)

    def values(self, nursery: Nursery) -> Values:
        return VALUES[self.page.on, self.page.slug](nursery)


def _kinds(page: ActPage) -> list[str | None]:
    if page.on == "any":
        return ["plant", "seedpot"]
    return [page.on]


CASES = [Case(page, kind) for page in pages.ALL for kind in _kinds(page)]
