"""How far a thing is, in one sentence for its card and for lists. Pure: reads its columns, asks nothing.

Every sentence rests on what was recorded; where nobody has said, the sentence says so.
"""

from datetime import date
from typing import Any

from breeding.models.pods import Swelling
from breeding.models.pollen import PollenStorage
from breeding.models.pots import PotGone
from breeding.models.seed import SeedStorage
from breeding.words.ages import ago, day_words, ended_words, joined, plural
from breeding.words.routines import rule_words

UP_WORDS = {"first": "the first seedlings", "few": "a few seedlings", "plenty": "plenty", "carpet": "a carpet"}
SECTION_WORDS = {
    "turning": "pods turning",
    "opening": "first pods opening",
    "split": "pods split or fallen",
    "lost": "pods lost before harvest",
}
POLLEN_AT = {
    PollenStorage.BENCH: "on the bench",
    PollenStorage.DRY: "dry, on the bench",
    PollenStorage.REFRIGERATOR: "in the refrigerator",
    PollenStorage.FREEZER: "in the freezer",
    PollenStorage.UNKNOWN: "storage not known",
}
SEED_AT = {
    SeedStorage.ROOM: "at room temperature",
    SeedStorage.REFRIGERATOR: "in the refrigerator",
    SeedStorage.UNKNOWN: "storage not known",
}
GONE_WORDS = {"died": "died", "sold": "sold", "given": "given away", "thrown": "thrown away"}


def stage_words(thing: Any, today: date) -> str:
    """The stage of a thing of any kind; of what was undone or is no longer watched, that.

    The kinds are told apart by the name of their table, so the row may come from anywhere.
    """
    if thing.cancelled:
        return "undone: this was entered by mistake"
    told = _BY_KIND[thing.kind](thing, today)
    if thing.closed_why == "stopped" and thing.kind == "routine":
        return joined("stopped", told)
    if thing.closed_why == "stopped":
        return joined("no longer watched", told)
    if thing.later_until and thing.later_until > today:
        return joined(told, f"ask again {day_words(thing.later_until, today)}")
    return told


def sex_words(sex: str, sex_from: str = "") -> str:
    """
    >>> sex_words("female", "buds"), sex_words("male", "flowers"), sex_words("unclear"), sex_words("")
    ('female by its buds', 'male', 'read as both sexes', '')
    """
    if sex == "unclear":
        return "read as both sexes"
    return f"{sex} by its buds" if sex and sex_from == "buds" else sex


def place(row: Any, today: date) -> str:
    return ""


def clone(row: Any, today: date) -> str:
    if row.sex == "unclear":
        return "its spikes were read as both sexes"
    return f"{row.sex} by its spikes" if row.sex else "sex not known yet"


def plant(row: Any, today: date) -> str:
    if row.closed_why in GONE_WORDS:
        return ended_words(GONE_WORDS[row.closed_why], row.closed_day, today)
    return ""


def spike(row: Any, today: date) -> str:
    sex = sex_words(row.sex, row.sex_from)
    found = ago(row.found_first, row.found_last, today)
    if row.stage == "growing":
        return joined("growing", f"found {found}" if found else "", sex)
    if row.stage == "buds":
        return joined("in bud", sex or "sex not read yet")
    if row.stage in {"open", "showing"}:
        showing = {"female": "fluid showing", "male": "pollen showing"}.get(row.sex, "fluid or pollen showing")
        return joined("flowers open", sex or "sex not read yet", showing if row.stage == "showing" else "")
    if row.stage in {"over", "aborted"}:
        return joined(ended_words(row.stage, row.closed_day, today) if row.closed_on else row.stage, sex)
    return joined(f"found {found}" if found else "found, day not known", "nobody has told how far it is")


def section(row: Any, today: date) -> str:
    pollinated = ago(row.day0_first, row.day0_last, today) or "on a day not known"
    take = Swelling(row.take).label if row.take else ""
    if row.stage == "harvested":
        return ended_words("harvested", row.closed_day, today)
    if row.stage == "pollinated":
        return joined(f"pollinated {pollinated}", "take not read yet")
    if row.stage == "swelling":
        return joined("pods ripening", take or "firm and green", "bagged" if row.bagged else "")
    if row.stage == "no_take":
        return joined(f"pollinated {pollinated}", "nothing was swelling")
    return joined(SECTION_WORDS.get(row.stage, ""), _bag(row))


def pollenlot(row: Any, today: date) -> str:
    if row.closed_why in {"finished", "sent"}:
        return ended_words("all sent" if row.closed_why == "sent" else "finished", row.closed_day, today)
    taken = ago(row.collected_first, row.collected_last, today)
    return joined(f"taken {taken}" if taken else "day not known", POLLEN_AT[row.storage], _keeps(row, today))


def seedlot(row: Any, today: date) -> str:
    if row.closed_why == "sown":
        return joined("all sown", plural(row.pots_sown, "pot"))
    if row.closed_why == "sent":
        return ended_words("the rest sent", row.closed_day, today)
    if row.closed_why == "finished":
        return joined("nothing left", f"{plural(row.pots_sown, 'pot')} sown" if row.pots_sown else "")
    ripe = ago(row.ripe_first, row.ripe_last, today)
    harvest = f"harvested {ripe}" if ripe else "harvest day not known"
    if row.stage == "part_sown":
        return joined(f"{plural(row.pots_sown, 'pot')} sown so far", harvest)
    return joined(harvest, seeds_words(row) if row.stage == "cleaned" else "not cleaned yet")


def seedpot(row: Any, today: date) -> str:
    if row.closed_why == "cleared":
        return "never sown, cleared"
    if row.stage == "prepared":
        return "prepared, not sown yet"
    sown = ago(row.sown_first, row.sown_last, today)
    sown = f"sown {sown}" if sown else "sown on a day not known"
    if row.closed_why == "split":
        return ended_words("split into other pots", row.closed_day, today)
    if row.closed_why in PotGone.Why:
        return joined(ended_words(PotGone.Why(row.closed_why).label, row.closed_day, today), sown)
    if row.stage == "up":
        return joined(_split_words(row, today) or "germinating", _amount_words(row))
    return joined(sown, "nothing yet" if row.amount == "nothing" or row.last_look else "not looked at yet")


def _split_words(pot: Any, today: date) -> str:
    """Of a pot that was split, or split off, since when it holds what it does; empty of others."""
    if pot.split_last is None:
        return ""
    when = ago(pot.split_first, pot.split_last, today) or "on a day not known"
    return f"split off {when}" if pot.split_from_id else f"split {when}"


def _amount_words(pot: Any) -> str:
    if pot.amount == "nothing":
        return "nothing at the last look"
    if pot.amount:
        return UP_WORDS[pot.amount]
    return plural(pot.counted, "seedling") if pot.counted is not None else ""


def sowingsession(row: Any, today: date) -> str:
    if row.closed_why in {"sown", "cleared"}:
        left = f"{plural(row.pots_cleared, 'pot')} cleared" if row.pots_cleared else ""
        return joined(f"{plural(row.pots_sown, 'pot')} sown", left)
    waiting = f"{plural(row.pots_waiting, 'pot')} not sown yet"
    return joined(f"for {day_words(row.planned_for, today)}", waiting)


def routine(row: Any, today: date) -> str:
    done = f"done last {ago(row.done_on, row.done_on, today)}" if row.done_on else "not done yet"
    return joined(rule_words(row.rule), done)


def cross(row: Any, today: date) -> str:
    if row.pots:
        return f"{row.pots_up} of {plural(row.pots, 'pot')} up"
    return {
        "seed": "seed in store",
        "planned": "wished for",
        "pollinated": "pollinated, take not read yet",
        "swelling": "pods ripening",
        "no_take": "nothing swelling so far",
    }.get(row.stage, SECTION_WORDS.get(row.stage, ""))


def seeds_words(lot: Any) -> str:
    """The estimate of a lot with how it was made: "100 seeds, guessed"; empty where nobody estimated."""
    if lot.estimate is None:
        return "seeds not estimated"
    return joined(plural(lot.estimate, "seed"), lot.estimate_from)


def _bag(row: Any) -> str:
    if row.stage not in {"turning", "opening"}:
        return ""
    return "bagged" if row.bagged else "not bagged"


def _keeps(row: Any, today: date) -> str:
    if row.best_before is None:
        return ""
    day = day_words(row.best_before, today)
    return f"good until about {day}" if row.best_before >= today else f"past its usual keeping since {day}"


_BY_KIND = {
    "place": place,
    "clone": clone,
    "plant": plant,
    "spike": spike,
    "section": section,
    "pollenlot": pollenlot,
    "cross": cross,
    "seedlot": seedlot,
    "seedpot": seedpot,
    "sowingsession": sowingsession,
    "routine": routine,
}
