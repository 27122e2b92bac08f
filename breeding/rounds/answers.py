"""The answers a task offers, equal in weight, each saying what will be asked next once it is given.

What comes next is worked out by the same rules, from the row as it would be after the answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from breeding.answers import BAGGED, POD_LOOKS, POT_LOOKS, SPLIT, TAKE_LOOKS, THIRD, Answer, Look, spike_look
from breeding.milestones.spikes import OPEN
from breeding.rounds import words
from breeding.rounds.books import Books, Told
from breeding.rounds.kinds import BY_CODE
from breeding.rounds.naming import Names
from breeding.rounds.rows import PollenRow, PotRow, RoutineRow, Row, SectionRow, SowingRow, SpikeRow
from breeding.rounds.rules import nexts_for
from breeding.rounds.rules.pots import asks_whether_to_keep

LATER_DAYS = 3
KEEP_DAYS = 14
MOST_PARTNERS = 4


@dataclass(frozen=True)
class Link:
    """A way out beside the answers."""

    label: str
    url: str


@dataclass(frozen=True)
class Asking:
    """What the answers of one task are made from; ``now`` where it is asked by this day and not ahead of its time."""

    kind: str
    row: Row
    told: Told
    books: Books
    names: Names
    day: date
    now: bool = True

    def url(self, act: str) -> str:
        return f"/{self.row.slug}/{self.row.pk}/{act}/"

    def post(self, label: str, act: str, value: str, *, name: str = "seen", icon: str = "", **after: Any) -> Answer:
        """An answer after which the row has these columns."""
        return Answer(label, self.url(act), name, value, hint=self.hint(after), icon=icon)

    def say(self, look: Look, act: str, value: str, **after: Any) -> Answer:
        """A look as every page words it, after which the row has these columns."""
        return self.post(look.label, act, value, name=look.name, icon=look.icon, **after)

    def ask(self, label: str, act: str, hint: str, *, query: str = "", icon: str = "") -> Answer:
        return Answer(label, hint=hint, icon=icon, href=self.url(act) + (f"?{query}" if query else ""))

    def hint(self, after: dict[str, Any]) -> str:
        """What the rules would ask for next."""
        row = self.row._replace(**{"last_look": self.day, "later_until": None} | after)
        return next_words(row, self.books, self.day, asked=self.kind)


def next_words(row: Row, books: Books, day: date, *, asked: str = "") -> str:
    """What comes next for a row, in a few words: "again Tue 1 Dec", "then: bag it"; nothing more when it is closed."""
    if row.closed_on is not None:
        return "then nothing more is asked"
    nexts = sorted(nexts_for(row, books, day), key=lambda found: found.due)
    if not nexts:
        return ""
    first = nexts[0]
    if first.due <= day:
        return f"then: {BY_CODE[first.kind].then}"
    if first.kind == asked:
        return f"again {words.short(first.due, day)}"
    return f"{BY_CODE[first.kind].then} {words.short(first.due, day)}"


def answers_for(asking: Asking) -> tuple[Answer, ...]:
    """The answers of a task, "Later" always the last; nobody puts off what is not asked yet."""
    later = [] if asking.kind in _NO_LATER or not asking.row.pk or not asking.now else [_later(asking)]
    return in_rows([*_ANSWERS[asking.kind](asking), *later])


def in_rows(answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """In rows of two; of an odd number, the last row holds three."""
    in_twos = len(answers) - 3 * (len(answers) % 2) if len(answers) > 1 else 1
    return (*answers[:in_twos], *(replace(answer, size=THIRD, icon="") for answer in answers[in_twos:]))


def links_for(asking: Asking) -> tuple[Link, ...]:
    """The full form, another day to be asked on, that a pot is gone, and the end of watching: never the easy answer."""
    if asking.kind == "retag":
        return (Link("Ask on another day", asking.url("later")),) if asking.row.pk else ()
    links = [Link("Say more", asking.url(_FULL_FORM[asking.kind]))] if asking.kind in _FULL_FORM else []
    gone = [Link("It is gone", asking.url("gone"))] if asking.kind == "pots" else []
    stop = "Stop it" if asking.kind == "routine" else "Stop watching"
    return (*links, Link("Ask on another day", asking.url("later")), *gone, Link(stop, asking.url("stop")))


_FULL_FORM = {
    "spikes": "look",
    "take": "take",
    "pods": "pods",
    "bag": "bag",
    "pots": "look",
    "harvest": "pods",
    "routine": "done",
}
_NO_LATER = frozenset({"routine"})
"""“Not today” says it already."""


def _later(asking: Asking) -> Answer:
    until = asking.day + timedelta(days=LATER_DAYS)
    hint = f"asks {words.short(until, asking.day)}"
    return Answer("Later", asking.url("later"), "days", str(LATER_DAYS), hint=hint, icon="clock")


# --- spikes ------------------------------------------------------------------------------------------------------


def _spikes(asking: Asking) -> Iterator[Answer]:
    if asking.row.stage in OPEN:
        yield from _flowering(asking)
    else:
        yield from _budding(asking)
    yield asking.say(spike_look(asking.row, "cant_tell"), "look", "cant_tell", last_seen="cant_tell")


def _seen_spike(asking: Asking, value: str, label: str = "") -> Answer:
    """``label`` where the task asks something else than what is seen."""
    row: SpikeRow = asking.row
    look = spike_look(row, value)
    seen, sex = (value.split("-") + [""])[:2]
    after: dict[str, Any] = {"stage": seen, "last_seen": seen}
    if sex:
        after["sex"] = sex
    if seen in OPEN:
        after |= {"open_by": row.open_by or asking.day}
        after |= {"showing_on": asking.day} if seen == "showing" else {}
        after |= {"unready_on": asking.day} if value == "open" and row.stage in OPEN else {}
    elif seen in {"over", "aborted"}:
        after["closed_on"] = asking.day
    else:
        after["open_after"] = asking.day
    return asking.say(replace(look, label=label or look.label), "look", value, **after)


def _budding(asking: Asking) -> Iterator[Answer]:
    knows_sex = asking.row.sex in {"male", "female"}
    by_sex = ("buds-female-buds", "buds-male-buds", "open-female-flowers", "open-male-flowers")
    for value in ("growing", "buds", *(("open",) if knows_sex else by_sex), "aborted"):
        yield _seen_spike(asking, value)


def _flowering(asking: Asking) -> Iterator[Answer]:
    knows_sex = asking.row.sex in {"male", "female"}
    flowers = ("open", "showing") if knows_sex else ("open-female-flowers", "open-male-flowers")
    for value in (*flowers, "over", "aborted"):
        yield _seen_spike(asking, value)


def _pollen(asking: Asking) -> Iterator[Answer]:
    taken = {"pollen_taken_on": asking.day, "last_seen": asking.row.stage}
    stores = (("bench", "On the bench"), ("dry_bench", "Dry, on the bench"), ("refrigerator", "Refrigerator"))
    for storage, label in (*stores, ("freezer", "Freezer")):
        yield asking.post(label, "collect", storage, name="storage", icon="brush", **taken)
    yield _seen_spike(asking, "open", "No pollen today" if asking.row.pollen_taken_on else "No pollen yet")
    yield _seen_spike(asking, "over")


def _pollinate(asking: Asking) -> Iterator[Answer]:
    for partner in asking.told.partners[:MOST_PARTNERS]:
        source = f"lot:{partner.source.pk}" if isinstance(partner.source, PollenRow) else f"spike:{partner.source.pk}"
        name = asking.names.text(partner.source)
        yield asking.ask(name, "pollinate", partner.words, query=f"pollen={source}")
    other = "Other pollen" if asking.told.partners else "I have pollen"
    yield asking.ask(other, "pollinate", "choose it, or type its number", icon="search")
    yield _seen_spike(asking, "open", "Not ready")
    yield _seen_spike(asking, "over")


# --- sections ----------------------------------------------------------------------------------------------------


def _take(asking: Asking) -> Iterator[Answer]:
    """In the order of the page of a section, so that all are in sight; one picture for all would tell nothing apart."""
    row: SectionRow = asking.row
    swells = {"stage": "swelling", "open_after": asking.day}
    none = {"stage": "no_take", "none_readings": row.none_readings + 1}
    for value in ("none", "third", "half", "most", "all"):
        after = (none if value == "none" else swells) | {"take": value, "last_seen": value}
        yield asking.say(replace(TAKE_LOOKS[value], icon=""), "take", value, **after)
    yield asking.say(TAKE_LOOKS["cant_tell"], "take", "cant_tell", last_seen="cant_tell")


def _pods(asking: Asking) -> Iterator[Answer]:
    day, row = asking.day, asking.row
    yield _seen_pods(asking, "green", stage="swelling", open_after=day)
    yield _seen_pods(asking, "turning", stage="turning", turning_by=row.turning_by or day, open_after=day)
    opened = {"open_by": row.open_by or day, "seen_open": day}
    yield _seen_pods(asking, "opening", stage="opening", **opened)
    yield _seen_pods(asking, "split", stage="split", **opened)
    yield _seen_pods(asking, "cant_tell")
    yield asking.ask("Only some", "pods", "say which", query="extent=some")


def _seen_pods(asking: Asking, seen: str, **after: Any) -> Answer:
    return asking.say(POD_LOOKS[seen], "pods", seen, last_seen=seen, **after)


def _bag(asking: Asking) -> Iterator[Answer]:
    yield asking.say(BAGGED, "bag", "yes", bagged=True)
    opened = {"open_by": asking.row.open_by or asking.day, "seen_open": asking.day}
    yield _seen_pods(asking, "opening", stage="opening", **opened)


def _harvest(asking: Asking) -> Iterator[Answer]:
    cut = {"harvested_on": asking.day, "closed_on": asking.day}
    whole = asking.post("Whole section cut", "harvest", "section", name="what", icon="packet", **cut)
    yield replace(whole, hint="a seed lot with its tag")
    yield asking.ask("Some pods cut", "harvest", "say how many", query="what=pods", icon="pod-cracked")
    yield asking.ask("Nothing left", "pods", "record it as lost", query="seen=split&pods_left=0", icon="pod-split")


# --- seed and pots -----------------------------------------------------------------------------------------------


def _sow_session(asking: Asking) -> Iterator[Answer]:
    yield asking.ask("Sow at the bench", "bench", "pot after pot", icon="seedling")
    yield Answer("Print its tags", hint="those not printed yet", icon="print", href=f"/labels/?sowing={asking.row.pk}")
    yield asking.ask("Clear the rest", "close", "say why")


def _sow(asking: Asking) -> Iterator[Answer]:
    if isinstance(asking.row, SowingRow):
        yield from _sow_session(asking)
        return
    yield asking.ask("Sow it", "sow", "say into how many pots", icon="seedling")
    if asking.row.stage == "waiting":
        yield asking.ask("Clean it", "clean", "estimate if you like", icon="packet")
    if asking.row.storage != "refrigerator":
        cold = {"storage": "refrigerator", "last_look": asking.row.last_look}
        yield asking.post("To the refrigerator", "store", "refrigerator", name="storage", **cold)
    yield asking.ask("None left", "finish", "given away, thrown away")


def _pots(asking: Asking) -> Iterator[Answer]:
    row: PotRow = asking.row
    is_up = row.stage == "up"
    if not is_up:
        after = {"last_seen": "nothing", "first_after": asking.day}
        yield asking.say(POT_LOOKS["nothing"], "look", "nothing", **after)
    if asks_whether_to_keep(row, asking.books, asking.day):
        yield asking.ask("Do not keep it", "gone", "nothing came up", query="why=nothing_up")
    for value in (*(() if is_up else ("first",)), "few", "plenty", "carpet"):
        up = {"stage": "up", "last_seen": value, "amount": value, "first_by": row.first_by or asking.day}
        yield asking.say(POT_LOOKS[value], "look", value, **up)
    if is_up:
        yield asking.ask(SPLIT, "split", "pricked out or divided", icon="seedling")
    yield asking.say(POT_LOOKS["cant_tell"], "look", "cant_tell", last_seen="cant_tell")


def _old_pollen(asking: Asking) -> Iterator[Answer]:
    day = asking.day
    yield asking.post("Thrown away", "finish", "yes", name="done", closed_on=day)
    keep = asking.post("Keep it", "later", str(KEEP_DAYS), name="days", icon="packet")
    yield replace(keep, hint=f"asks {words.short(day + timedelta(days=KEEP_DAYS), day)}")
    yield asking.ask("Moved", "store", "say where it is kept", icon="drop")


def _routine(asking: Asking) -> Iterator[Answer]:
    row: RoutineRow = asking.row
    done = max(asking.day, row.done_on or asking.day)
    yield asking.post("Done", "done", "done", name="answer", icon="check", done_on=done)
    yield asking.post("Not today", "done", "not_today", name="answer", icon="clock", put_off_on=asking.day)


def _retag(asking: Asking) -> Iterator[Answer]:
    here = f"?place={asking.row.pk}" if asking.row.pk else ""
    yield Answer("Print", hint="see which, and lay them out", icon="print", href=f"/labels/fading/{here}")


_ANSWERS: dict[str, Callable[[Asking], Iterator[Answer]]] = {
    "spikes": _spikes,
    "pollen": _pollen,
    "pollinate": _pollinate,
    "take": _take,
    "pods": _pods,
    "bag": _bag,
    "harvest": _harvest,
    "sow": _sow,
    "pots": _pots,
    "old_pollen": _old_pollen,
    "routine": _routine,
    "retag": _retag,
}
