"""Why nothing, or only something later, is asked of a thing: in words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from breeding.rounds import words
from breeding.rounds.kinds import BY_CODE
from nursery.models import LivingThing, Plant

_NO_TASKS = {
    "plant": "Nothing is asked of a plant without an open spike.",
    "clone": "Nothing is asked of a clone; its plants' spikes are looked at.",
    "place": "Nothing is asked of a place; what stands there is in the round.",
    "routine": "Its rule has ended; change it, and it is asked for again.",
    "cross": "Nothing is asked of a cross; its sections, seed and pots are looked at.",
}
_QUESTIONS = {
    "spikes": "Looks at spikes are",
    "pollen": "Questions for pollen are",
    "pollinate": "Pollinations are",
    "take": "Take readings are",
    "pods": "Looks at pods are",
    "bag": "Questions for bags are",
    "harvest": "Harvests are",
    "sow": "Sowings are",
    "pots": "Looks for seedlings are",
    "routine": "Routines are",
    "old_pollen": "Questions about old pollen are",
    "retag": "Questions for new tags are",
}
ON_AGAIN = "An owner can switch them on under Office, Round."
_CLOSED = {
    "stopped": "It is not watched any more",
    "over": "It is over",
    "aborted": "It was aborted",
    "harvested": "All of it was harvested",
    "lost": "Its pods were lost",
    "finished": "It is finished",
    "sown": "All of it is sown",
    "cleared": "It was cleared, never sown",
    "split": "All of it went into other pots",
    "sent": "All of it was sent",
    "died": "It died",
    "sold": "It was sold",
    "given": "It was given away",
    "thrown": "It was thrown away",
    "dropped": "It was dropped or spilt",
    "nothing_up": "Nothing came up in it",
}


def why_not(thing: LivingThing, day: date) -> str:
    """A sentence; empty where it is asked about as usual."""
    if thing.cancelled:
        return "It was entered by mistake, and that was undone."
    if thing.closed_on is not None and thing.kind == "routine":
        return f"It is stopped{_since(thing, day)}."
    if thing.closed_on is not None:
        return f"{_ended(thing)}{_since(thing, day)}."
    if thing.later_until is not None and thing.later_until > day:
        return f"It was put off until {words.short(thing.later_until, day)}."
    if thing.kind == "seedpot" and thing.stage == "prepared":
        return "It waits to be sown; its sowing session is in the round."
    return _NO_TASKS.get(thing.kind, "")


def _ended(thing: LivingThing) -> str:
    if thing.kind == "sowingsession" and thing.closed_why == "sown" and thing.pots_cleared:
        sown = "1 pot is" if thing.pots_sown == 1 else f"{thing.pots_sown} pots are"
        return f"{sown} sown, {thing.pots_cleared} cleared"
    return _CLOSED.get(thing.closed_why, "It is closed")


def _since(thing: LivingThing, day: date) -> str:
    ended = thing.closed_day
    if not ended.is_known:
        return ", day not known"
    exact = ended.said == "exact"
    return f", since {words.short(ended.last, day) if exact else ended.words(day).removeprefix('in ')}"


def why_nothing(thing: LivingThing, day: date) -> str:
    """A sentence where the round leaves a thing out altogether: for itself, or because its plant is closed."""
    plant = _plant_of(thing) if thing.is_open else None
    if plant is None or plant.closed_on is None:
        return why_not(thing, day)
    return "Its plant is not watched any more." if plant.closed_why == "stopped" else "Its plant is gone."


def _plant_of(thing: LivingThing) -> Plant | None:
    match thing.kind:
        case "spike":
            return thing.plant
        case "section":
            return thing.spike.plant
    return None


def switched_off(kinds: Iterable[str]) -> str:
    """Which questions the round leaves out because their kind is off; empty where it leaves out none.

    >>> switched_off(["take"])
    'Take readings are switched off. An owner can switch them on under Office, Round.'
    """
    told = [f"{_QUESTIONS.get(kind, BY_CODE[kind].title)} switched off." for kind in dict.fromkeys(kinds)]
    return " ".join([*told, ON_AGAIN]) if told else ""
