from datetime import date

from django.db.models import Q
from django.urls import reverse

from breeding.models import Cross
from nursery.identity_words import once_and_now
from nursery.links import act_url
from nursery.milestones import last_thought
from nursery.models import Act, Clone
from nursery.names import composition
from nursery.records.milestones import seen_of
from nursery.site.cards.blooming import evidence, history, spikes_of
from nursery.site.cards.descent import ancestors, appendix, raised_from
from nursery.site.cards.parts import MOST_ROWS, Card, Fact, Link, acts_of, details, listing, named, row_of
from nursery.site.fetch import OPEN_FIRST, listed, things
from nursery.stored_descent import from_stored


def card(clone: Clone, today: date) -> Card:
    """One genotype: where it came from, its plants, what was crossed with it."""
    mine = things("plant").filter(clone=clone, cancelled=False)
    plants = listed(mine.order_by(OPEN_FIRST, "pk")[: MOST_ROWS + 1])
    crosses = listed(_crosses(clone)[: MOST_ROWS + 1])
    spikes = spikes_of(plant__clone=clone)
    return Card(
        section="plants",
        facts=[
            Fact({"": "not known", "unclear": "both?"}.get(clone.sex, clone.sex), "sex, by its spikes"),
            Fact(str(sum(one.is_open for one in plants)), "plants now"),
            Fact(str(len(crosses)), "crosses"),
        ],
        acts=[*acts_of(clone, *_own_acts(clone)), Link("What came of it", reverse("downstream", args=[clone.pk]))],
        details=_details(clone, today),
        lists=[
            listing(
                "Its plants",
                [row_of(one, today, text=_plant_words(one), where=True) for one in plants],
                empty="No plant of it stands here: it is known by name only.",
                url="" if clone.cancelled else act_url(clone, "plant"),
                label="Enter a plant of it",
            ),
            evidence(spikes, today),
            listing("Crosses with it", [row_of(one, today) for one in crosses], empty="Not crossed yet."),
            raised_from(clone, today),
        ],
        ancestors=ancestors(clone),
        history=history(spikes, today),
    )


def _crosses(clone: Clone):
    mine = Q(seed_parent=clone) | Q(pollen_parent=clone) | Q(candidates=clone)
    return things("cross").filter(pk__in=Cross.objects.filter(mine).values("pk"), cancelled=False).order_by("-pk")


def _plant_words(plant) -> str:
    return f"Plant in {plant.pot}" if plant.pot else "Plant"


def _own_acts(clone: Clone) -> list[tuple[str, str]]:
    if clone.cancelled:
        return []
    return [("Enter a plant of it", "plant"), ("It is something else", "redetermine")]


def _details(clone: Clone, today: date) -> list:
    return details(
        ("Redetermined", _redetermined(clone, today)),
        ("Taxon", clone.taxon),
        ("", named("Seed parent", clone.seed_parent)),
        ("", named("Pollen parent", clone.pollen_parent)),
        ("Made of", composition_words(clone)),
        ("Origin", clone.get_origin_display()),
        ("From", clone.source),
        ("Document", clone.document),
        ("CITES", appendix(clone)),
    )


def _redetermined(clone: Clone, today: date) -> str:
    """What it came as and what it is thought to be, where somebody has thought again."""
    if not Act.objects.filter(thing_id=clone.pk, kind="redetermined", voided_by__isnull=True).exists():
        return ""
    held = last_thought(seen_of([clone])[clone.pk])
    if held is None or not hasattr(clone.thing.born_by, "clonemade"):
        return ""
    act = Act.objects.select_related("redetermined").get(pk=held.id)
    return once_and_now(clone.thing.born_by.clonemade, act, today)


def composition_words(clone: Clone) -> str:
    """Which species it holds and how much of each, where that says more than its name: "1/2 hamata, 1/2 lowii"."""
    shares = composition(from_stored(clone.tree))
    return ", ".join(f"{share} {name}" for name, share in shares.items()) if len(shares) > 1 else ""
