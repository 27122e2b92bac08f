"""The words by which an answer is typed from a printed round: short, one list for each kind of thing."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from breeding.answers import POD_LOOKS, POT_LOOKS, SPIKE_LOOKS, TAKE_LOOKS, Look


@dataclass(frozen=True)
class Word:
    """What is typed, what it says, and what is posted for it: ``name`` = ``value`` to the form of ``act``."""

    code: str
    label: str
    act: str
    name: str
    value: str


class NoSuchAnswer(Exception):
    """What was typed stands for no answer, or for more than one; ``sentence`` says what may be typed."""

    def __init__(self, sentence: str):
        super().__init__(sentence)
        self.sentence = sentence


CANT_TELL = "?"
_LATER = Word("later", "ask again in three days", "later", "days", "3")


_CODES = {
    "cant_tell": CANT_TELL,
    "buds-female-buds": "f-buds",
    "buds-male-buds": "m-buds",
    "open-female-flowers": "f-open",
    "open-male-flowers": "m-open",
}
"""What is typed for values that are long to type."""


def _looks(act: str, looks: Mapping[str, Look], *, without: str = "") -> tuple[Word, ...]:
    """The looks as the buttons say them."""
    said = ((value, look, look.label.lower().replace("’", "'")) for value, look in looks.items() if value != without)
    return tuple(Word(_CODES.get(value, value), label, act, look.name, value) for value, look, label in said)


def _answers(act: str, name: str, *pairs: tuple[str, str, str]) -> tuple[Word, ...]:
    return tuple(Word(code, label, act, name, value) for code, label, value in pairs)


WORDS: dict[str, tuple[Word, ...]] = {
    "spike": (
        *_looks("look", SPIKE_LOOKS),
        *_answers(
            "collect",
            "storage",
            ("bench", "pollen taken, kept on the bench", "bench"),
            ("dry", "pollen taken, kept dry on the bench", "dry_bench"),
            ("fridge", "pollen taken, kept in the refrigerator", "refrigerator"),
            ("freezer", "pollen taken, kept in the freezer", "freezer"),
        ),
        _LATER,
    ),
    "section": (
        *_looks("take", TAKE_LOOKS, without="cant_tell"),
        *_looks("pods", POD_LOOKS, without="cant_tell"),
        Word(CANT_TELL, "can't tell", "pods", "seen", "cant_tell"),
        Word("bagged", "a bag was put on", "bag", "done", "yes"),
        Word("cut", "the whole section cut", "harvest", "what", "section"),
        _LATER,
    ),
    "pollenlot": (Word("gone", "used up or thrown away", "finish", "done", "yes"), _LATER),
    "seedlot": (
        Word("fridge", "put into the refrigerator", "store", "storage", "refrigerator"),
        Word("gone", "nothing left", "finish", "done", "yes"),
        _LATER,
    ),
    "seedpot": (*_looks("look", POT_LOOKS), _LATER),
    "routine": _answers("done", "answer", ("done", "done", "done"), ("not", "not today", "not_today")),
}


PREPARED = (Word("sown", "sown as planned", "sown", "quick", "planned"), _LATER)
"""Of a pot that waits to be sown there is nothing to see."""


def words_for(thing: Any) -> tuple[Word, ...]:
    """What may be typed of a thing; of a section whose take is still to be read, "can't tell" is about the take."""
    words = WORDS.get(thing.kind, ())
    if thing.kind == "seedpot" and thing.stage == "prepared":
        return PREPARED
    if thing.kind == "section" and (not thing.stage or thing.stage in {"pollinated", "no_take"}):
        take = Word(CANT_TELL, "can't tell", "take", "swelling", "cant_tell")
        return tuple(take if word.code == CANT_TELL else word for word in words)
    return words


def word_typed(text: str, words: Iterable[Word]) -> Word:
    """The word that was typed: whole, by its label, or by a beginning that only one has, in capitals or not.

    Raises:
        NoSuchAnswer: none fits, or more than one.
    """
    words, typed = list(words), " ".join(text.casefold().split())
    exact = [word for word in words if typed in {word.code, word.label, word.value.casefold()}]
    found = exact[:1] or [word for word in words if typed and word.code.startswith(typed)]
    if len(found) == 1:
        return found[0]
    which = found if found else words
    said = ", ".join(word.code for word in which)
    if not typed:
        raise NoSuchAnswer(f"Type one of {said}.")
    more = "is more than one answer: type" if found else "is no answer here. Type one of"
    raise NoSuchAnswer(f"“{text[:30]}” {more} {said}.")


ASKED: dict[str, tuple[str, tuple[str, ...]]] = {
    "spikes": ("spike", ("look",)),
    "pollen": ("spike", ("collect",)),
    "take": ("section", ("take",)),
    "pods": ("section", ("pods",)),
    "bag": ("section", ("bag",)),
    "harvest": ("section", ("harvest",)),
    "pots": ("seedpot", ("look",)),
    "old_pollen": ("pollenlot", ("finish",)),
    "routine": ("routine", ("done",)),
}
"""Which answers a kind of task is for. Pollinating and sowing take more than a word, so they are written out."""


def codes_for(task_kind: str) -> tuple[str, ...]:
    """What may be ticked on paper for a task of this kind, as it is typed in afterwards.

    >>> codes_for("take"), codes_for("sow")
    (('none', 'third', 'half', 'most', 'all', '?'), ())
    """
    if task_kind not in ASKED:
        return ()
    thing_kind, acts = ASKED[task_kind]
    codes = [word.code for word in WORDS[thing_kind] if word.act in acts]
    return tuple(dict.fromkeys([*codes, CANT_TELL] if task_kind in _MAY_NOT_TELL else codes))


_MAY_NOT_TELL = frozenset({"spikes", "take", "pods", "pots"})
