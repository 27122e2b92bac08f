"""The quick answers of each kind of thing: what one tap records, and where it is posted.

All are equal in weight and none is filled in. They are the same on the card of a thing and wherever else it is asked.
"""

from dataclasses import dataclass
from typing import Any

from breeding.care import care_of
from nursery.links import act_url
from nursery.models import LivingThing

THIRD = "third"
WIDE = "wide"


@dataclass(frozen=True)
class Answer:
    """One button: with ``href`` it opens a page, else it posts ``name`` = ``value`` to ``url``."""

    label: str
    url: str = ""
    name: str = ""
    value: str = ""
    href: str = ""
    hint: str = ""
    icon: str = ""
    size: str = ""


@dataclass(frozen=True)
class Asked:
    """A question with its answers, what else may be done at once, and what to take care of before."""

    question: str = ""
    answers: tuple[Answer, ...] = ()
    more: tuple[Answer, ...] = ()
    cautions: tuple[str, ...] = ()


def asked_of(thing: LivingThing) -> Asked:
    """What to ask of a thing as it stands now; nothing of a kind that is not watched, or of one that is closed."""
    ask = _BY_KIND.get(thing.kind)
    return ask(thing) if ask and thing.is_open else Asked()


def posted(thing: LivingThing, act: str, label: str, value: str = "", *, name: str = "seen", **looks: Any) -> Answer:
    """An answer that is recorded at once."""
    return Answer(label, url=act_url(thing, act), name=name, value=value, **looks)


def opened(thing: LivingThing, act: str, label: str, **looks: Any) -> Answer:
    """An answer that needs more words: it opens the form of that act."""
    return Answer(label, href=act_url(thing, act), **looks)


def later(thing: LivingThing) -> Answer:
    return posted(thing, "later", "Later", "3", name="days", icon="clock")


def _spike(spike: Any) -> Asked:
    answers = {"buds": _spike_in_bud, "open": _spike_open, "showing": _spike_open}.get(spike.stage, _spike_growing)
    return Asked("What do you see today?", tuple(answers(spike)), tuple(_with_spike(spike)), care_of("spike_look"))


def _spike_growing(spike: Any) -> list[Answer]:
    return [
        posted(spike, "look", "Still growing", "growing", hint="no buds to judge yet"),
        posted(spike, "look", "Buds", "buds", hint="sex not clear"),
        *_spike_buds_by_sex(spike),
        posted(spike, "look", "Flowers open", "open"),
        *_spike_ends(spike, "aborted"),
    ]


def _spike_in_bud(spike: Any) -> list[Answer]:
    first = [posted(spike, "look", "Still buds", "buds", hint="nothing open yet")]
    return [*first, *_spike_buds_by_sex(spike), *_spike_flowers_by_sex(spike), *_spike_ends(spike, "aborted")]


def _spike_open(spike: Any) -> list[Answer]:
    showing = {"female": "Fluid showing", "male": "Pollen showing"}.get(spike.sex, "Fluid or pollen")
    return [
        posted(spike, "look", "Open", "open", hint="nothing showing"),
        posted(spike, "look", showing, "showing", icon="drop" if spike.sex == "female" else ""),
        *([] if spike.sex_from == "flowers" else _spike_flowers_by_sex(spike)),
        *_spike_ends(spike, "over"),
    ]


def _spike_buds_by_sex(spike: Any) -> list[Answer]:
    return [
        posted(spike, "look", "Female buds", "buds-female-buds", name="quick", hint="longer than wide"),
        posted(spike, "look", "Male buds", "buds-male-buds", name="quick", hint="round, as wide as tall"),
    ]


def _spike_flowers_by_sex(spike: Any) -> list[Answer]:
    return [
        posted(spike, "look", "Female, open", "open-female-flowers", name="quick", hint="flat stigma on top"),
        posted(spike, "look", "Male, open", "open-male-flowers", name="quick", hint="a ball of anthers"),
    ]


def _spike_ends(spike: Any, *codes: str) -> list[Answer]:
    labels = {"over": "Over", "aborted": "Aborted"}
    ends = [posted(spike, "look", labels[code], code) for code in codes]
    return [*ends, posted(spike, "look", "Can't tell", "cant_tell")]


def _with_spike(spike: Any) -> list[Answer]:
    flowering = spike.stage in {"open", "showing"}
    pollinate = opened(spike, "pollinate", "Pollinate", icon="brush", hint="a new section")
    collect = opened(spike, "collect", "Take pollen", icon="packet")
    by_sex = {"female": [pollinate], "male": [collect]}.get(spike.sex, [pollinate, collect])
    return [*(by_sex if flowering else []), later(spike)]


def _section(section: Any) -> Asked:
    if section.stage in {"pollinated", "no_take"} or not section.stage:
        answers, more = _take(section), [opened(section, "dab", "Dab again", icon="brush"), later(section)]
        return Asked("How is the take?", tuple(answers), tuple(more), care_of("take_look"))
    bag = [] if section.bagged else [posted(section, "bag", "Bag put on", icon="bag")]
    more = [*bag, opened(section, "harvest", "Harvest", icon="packet", hint="cut into a bag"), later(section)]
    return Asked("How are the pods?", tuple(_pods(section)), tuple(more), care_of("pod_look", "bagged"))


def _take(section: Any) -> list[Answer]:
    labels = (("none", "None"), ("third", "A third"), ("half", "Half"), ("most", "Most"), ("all", "All"))
    swelling = [
        posted(section, "take", label, code, name="swelling", hint="swelling", size=THIRD) for code, label in labels
    ]
    return [
        *swelling,
        posted(section, "take", "Can't tell", "cant_tell", name="swelling", size=THIRD),
        opened(section, "take", "Only brown stigmas", hint="a hint, or count pods", size=WIDE),
    ]


def _pods(section: Any) -> list[Answer]:
    return [
        posted(section, "pods", "Firm, green", "green", icon="pod-green"),
        posted(section, "pods", "Firm, turning", "turning", icon="pod-turning"),
        posted(section, "pods", "First ones opening", "opening", icon="pod-cracked"),
        posted(section, "pods", "Split or fallen", "split", icon="pod-split"),
        opened(section, "pods", "Only some", hint="not all are alike, or counted"),
        posted(section, "pods", "Can't tell", "cant_tell"),
    ]


def _pollen(lot: Any) -> Asked:
    answers = (
        opened(lot, "store", "Put elsewhere", hint="now " + lot.get_storage_display()),
        posted(lot, "finish", "Finished", hint="used up or thrown away"),
    )
    return Asked("What happened to it?", answers, (later(lot),))


def _seed(lot: Any) -> Asked:
    answers = (
        opened(lot, "sow", "Sow", icon="seedling"),
        opened(lot, "clean", "Clean, estimate" if lot.estimate is None else "A better estimate"),
        opened(lot, "store", "Put elsewhere", hint="now " + lot.get_storage_display()),
        posted(lot, "finish", "Nothing left", hint="given or thrown away"),
    )
    return Asked("What do you do with it?", answers, (later(lot),))


def amount_words(seeds: int | None, pods: int | None) -> str:
    """What goes into a pot: "120 seeds", "2 pods"; empty where nobody said."""
    told = [(seeds, "seed"), (pods, "pod")]
    return ", ".join(f"{count} {one}{'' if count == 1 else 's'}" for count, one in told if count is not None)


def sown_now(pot: Any) -> Answer:
    """One tap that confirms the planned amount; the amount stands on the button, for it is what is recorded."""
    amount = amount_words(pot.planned_seeds, pot.planned_pods)
    label = f"Sown now: {amount}" if amount else "Sown now, not counted"
    return posted(pot, "sown", label, "planned", name="quick", icon="seedling", size=WIDE)


def _prepared_pot(pot: Any) -> Asked:
    answers = (
        sown_now(pot),
        opened(pot, "sown", "Another amount", hint="or the last of the seed"),
        opened(pot, "clear", "Never sown", hint="clear it, say why"),
    )
    return Asked("Is it sown?", answers, cautions=care_of("pot_sown"))


def _pot(pot: Any) -> Asked:
    if pot.unsown and pot.stage == "prepared":
        return _prepared_pot(pot)
    split = [opened(pot, "split", "Pot split", hint="pricked out or divided")] if pot.stage == "up" else []
    more = (
        *split,
        opened(pot, "trouble", "Trouble", hint="algae, moss, gnats…", icon="trouble"),
        opened(pot, "gone", "It is gone", hint="nothing up, dropped, sold…"),
        later(pot),
    )
    return Asked("What do you see today?", tuple(_seedlings(pot)), more)


def _seedlings(pot: Any) -> list[Answer]:
    up = pot.stage == "up"
    first = [] if up else [posted(pot, "look", "Nothing yet", "nothing"), posted(pot, "look", "First up", "first")]
    fewer = [opened(pot, "loss", "Fewer", hint="some were lost")] if up else []
    return [
        *first,
        posted(pot, "look", "A few", "few"),
        posted(pot, "look", "Plenty", "plenty"),
        posted(pot, "look", "Carpet", "carpet"),
        *fewer,
        opened(pot, "look", "Count them"),
        posted(pot, "look", "Can't tell", "cant_tell"),
    ]


def _routine(routine: Any) -> Asked:
    answers = (
        posted(routine, "done", "Done", "done", name="answer", icon="check"),
        posted(routine, "done", "Not today", "not_today", name="answer", icon="clock"),
    )
    return Asked("Was it done?", answers)


_BY_KIND = {
    "spike": _spike,
    "section": _section,
    "pollenlot": _pollen,
    "seedlot": _seed,
    "seedpot": _pot,
    "routine": _routine,
}
