"""The quick answers of each kind of thing: what one tap records, and where it is posted.

All are equal in weight and none is filled in. What a look says is named here once, for the card of a thing and for the
round, which adds only what comes next.
"""

from dataclasses import dataclass, replace
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
class Look:
    """What one tap says of what is seen: the words on its button, and the name under which its value is posted."""

    label: str
    icon: str = ""
    name: str = "seen"


_CANT_TELL = Look("Can’t tell")
SPIKE_LOOKS = {
    "growing": Look("Still growing", "spike"),
    "buds": Look("Buds, sex not clear", "spike"),
    "buds-female-buds": Look("Female buds", "spike", "quick"),
    "buds-male-buds": Look("Male buds", "spike", "quick"),
    "open": Look("Flowers open", "flower"),
    "open-female-flowers": Look("Open, female", "flower", "quick"),
    "open-male-flowers": Look("Open, male", "flower", "quick"),
    "showing": Look("Fluid or pollen showing", "drop"),
    "over": Look("Over"),
    "aborted": Look("Aborted"),
    "cant_tell": _CANT_TELL,
}
TAKE_LOOKS = {
    "none": Look("None swelling", name="swelling"),
    "third": Look("About a third swelling", "pod-green", "swelling"),
    "half": Look("About half swelling", "pod-green", "swelling"),
    "most": Look("Most swelling", "pod-green", "swelling"),
    "all": Look("All swelling", "pod-green", "swelling"),
    "cant_tell": Look("Can’t tell", name="swelling"),
}
POD_LOOKS = {
    "green": Look("Firm, green", "pod-green"),
    "turning": Look("Firm, turning", "pod-turning"),
    "opening": Look("First ones opening", "pod-cracked"),
    "split": Look("Split or fallen", "pod-split"),
    "cant_tell": _CANT_TELL,
}
POT_LOOKS = {
    "nothing": Look("Nothing yet", "lot"),
    "first": Look("First up", "seedling"),
    "few": Look("A few", "seedling"),
    "plenty": Look("Plenty", "seedling"),
    "carpet": Look("A carpet", "seedling"),
    "cant_tell": _CANT_TELL,
}
BAGGED = Look("Bagged", "bag", "done")
SPLIT = "Split it"
SHOWING = {"female": "Fluid showing", "male": "Pollen showing"}


def spike_look(spike: Any, value: str) -> Look:
    """What this value says of a spike as it stands: what is known of its sex and flowers is not asked again."""
    look = SPIKE_LOOKS[value]
    if value == "showing":
        return replace(look, label=SHOWING.get(spike.sex, look.label))
    if value == "buds" and spike.sex in SHOWING:
        return replace(look, label="Buds, closed")
    if value == "open" and spike.stage in {"open", "showing"}:
        return replace(look, label="Open, nothing showing")
    return look


@dataclass(frozen=True)
class Asked:
    """A question with its answers, what else may be done at once, and what to take care of before.

    ``later`` is for what is asked by now: to put off what nobody asks for says nothing.
    """

    question: str = ""
    answers: tuple[Answer, ...] = ()
    more: tuple[Answer, ...] = ()
    later: tuple[Answer, ...] = ()
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


def _later(thing: LivingThing) -> tuple[Answer]:
    return (posted(thing, "later", "Later", "3", name="days", icon="clock"),)


def _spike(spike: Any) -> Asked:
    answers = {"buds": _spike_in_bud, "open": _spike_open, "showing": _spike_open}.get(spike.stage, _spike_growing)
    more, care = tuple(_with_spike(spike)), care_of("spike_look")
    return Asked("What do you see today?", tuple(answers(spike)), more, _later(spike), care)


def _seen(thing: LivingThing, act: str, look: Look, value: str, **looks: Any) -> Answer:
    return posted(thing, act, look.label, value, **{"name": look.name, "icon": look.icon} | looks)


def _seen_spike(spike: Any, value: str, hint: str = "") -> Answer:
    return _seen(spike, "look", spike_look(spike, value), value, hint=hint)


def _spike_growing(spike: Any) -> list[Answer]:
    return [
        _seen_spike(spike, "growing", "no buds to judge yet"),
        _seen_spike(spike, "buds"),
        *_spike_buds_by_sex(spike),
        _seen_spike(spike, "open"),
        *_spike_ends(spike, "aborted"),
    ]


def _spike_in_bud(spike: Any) -> list[Answer]:
    first = [_seen_spike(spike, "buds", "nothing open yet")]
    return [*first, *_spike_buds_by_sex(spike), *_spike_flowers_by_sex(spike), *_spike_ends(spike, "aborted")]


def _spike_open(spike: Any) -> list[Answer]:
    return [
        _seen_spike(spike, "open"),
        _seen_spike(spike, "showing"),
        *([] if spike.sex_from == "flowers" else _spike_flowers_by_sex(spike)),
        *_spike_ends(spike, "over"),
    ]


def _spike_buds_by_sex(spike: Any) -> list[Answer]:
    return [
        _seen_spike(spike, "buds-female-buds", "longer than wide"),
        _seen_spike(spike, "buds-male-buds", "round, as wide as tall"),
    ]


def _spike_flowers_by_sex(spike: Any) -> list[Answer]:
    return [
        _seen_spike(spike, "open-female-flowers", "flat stigma on top"),
        _seen_spike(spike, "open-male-flowers", "a ball of anthers"),
    ]


def _spike_ends(spike: Any, end: str) -> list[Answer]:
    return [_seen_spike(spike, end), _seen_spike(spike, "cant_tell")]


def _with_spike(spike: Any) -> list[Answer]:
    flowering = spike.stage in {"open", "showing"}
    pollinate = opened(spike, "pollinate", "Pollinate", icon="brush", hint="a new section")
    collect = opened(spike, "collect", "Take pollen", icon="packet")
    by_sex = {"female": [pollinate], "male": [collect]}.get(spike.sex, [pollinate, collect])
    return by_sex if flowering else []


def _section(section: Any) -> Asked:
    if section.stage in {"pollinated", "no_take"} or not section.stage:
        more, care = (opened(section, "dab", "Dab again", icon="brush"),), care_of("take_look")
        return Asked("How is the take?", tuple(_take(section)), more, _later(section), care)
    bag = [] if section.bagged else [_seen(section, "bag", BAGGED, "yes")]
    more = (*bag, opened(section, "harvest", "Harvest", icon="packet", hint="cut into a bag"))
    return Asked("How are the pods?", tuple(_pods(section)), more, _later(section), care_of("pod_look", "bagged"))


def _take(section: Any) -> list[Answer]:
    swelling = [_seen(section, "take", look, value, icon="", size=THIRD) for value, look in TAKE_LOOKS.items()]
    return [*swelling, opened(section, "take", "Only brown stigmas", hint="a hint, or count pods", size=WIDE)]


def _pods(section: Any) -> list[Answer]:
    seen = {value: _seen(section, "pods", look, value) for value, look in POD_LOOKS.items()}
    cant_tell = seen.pop("cant_tell")
    return [*seen.values(), opened(section, "pods", "Only some", hint="not all are alike, or counted"), cant_tell]


def _pollen(lot: Any) -> Asked:
    answers = (
        opened(lot, "store", "Put elsewhere", hint="now " + lot.get_storage_display()),
        posted(lot, "finish", "Finished", hint="used up or thrown away"),
    )
    return Asked("What happened to it?", answers, later=_later(lot))


def _seed(lot: Any) -> Asked:
    answers = (
        opened(lot, "sow", "Sow", icon="seedling"),
        opened(lot, "clean", "Clean, estimate" if lot.estimate is None else "A better estimate"),
        opened(lot, "store", "Put elsewhere", hint="now " + lot.get_storage_display()),
        posted(lot, "finish", "Nothing left", hint="given or thrown away"),
    )
    return Asked("What do you do with it?", answers, later=_later(lot))


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
    split = [opened(pot, "split", SPLIT, hint="pricked out or divided")] if pot.stage == "up" else []
    more = (
        *split,
        opened(pot, "trouble", "Trouble", hint="algae, moss, gnats…", icon="trouble"),
        opened(pot, "gone", "It is gone", hint="nothing up, dropped, sold…"),
    )
    return Asked("What do you see today?", tuple(_seedlings(pot)), more, _later(pot))


def _seedlings(pot: Any) -> list[Answer]:
    up = pot.stage == "up"
    seen = {value: _seen(pot, "look", look, value, icon="") for value, look in POT_LOOKS.items()}
    cant_tell = seen.pop("cant_tell")
    amounts = [answer for value, answer in seen.items() if not up or value not in {"nothing", "first"}]
    fewer = [opened(pot, "loss", "Fewer", hint="some were lost")] if up else []
    return [*amounts, *fewer, opened(pot, "look", "Count them"), cant_tell]


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
