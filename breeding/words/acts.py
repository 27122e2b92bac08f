"""Each kind of act in a few words, for stories and the journal. Reads the act's details."""

from breeding.words.ages import plural
from breeding.words.choices import choice_words
from breeding.words.routines import rule_words
from nursery.models import Act
from nursery.words import joined


def nothing(act: Act) -> str:
    return ""


def _observed(look) -> str:
    sex = f"{look.get_sex_display()} ({look.get_sex_from_display()})" if look.sex else ""
    return joined(look.get_seen_display(), sex)


def sexed(act: Act) -> bool:
    """Whether somebody judged the sex of a spike; a photo lets others judge it again."""
    look = act.spikefound if act.kind == "spike_found" else act.spikelook
    return bool(look.sex)


def spike_found(act: Act) -> str:
    return joined(_observed(act.spikefound), act.spikefound.position)


def spike_look(act: Act) -> str:
    return _observed(act.spikelook)


def pollen_collected(act: Act) -> str:
    return act.pollencollected.get_storage_display()


def pollen_received(act: Act) -> str:
    return joined(act.pollenreceived.words, act.pollenreceived.get_storage_display())


def pollen_stored(act: Act) -> str:
    return f"to {act.pollenstored.get_storage_display()}"


def pollen_sent(act: Act) -> str:
    sent = act.pollensent
    return joined(f"{sent.get_extent_display()} to {sent.to_whom}", sent.document)


def pollen_split(act: Act) -> str:
    return f"part of it, kept {_kept(act.pollensplit)}"


def seed_sent(act: Act) -> str:
    sent = act.seedsent
    seeds = plural(sent.seeds, "seed") if sent.seeds is not None else ""
    return joined(f"{sent.get_extent_display()} to {sent.to_whom}", seeds, sent.document)


def seed_split(act: Act) -> str:
    split = act.seedsplit
    return joined(plural(split.seeds, "seed") if split.seeds is not None else "part of it", f"kept {_kept(split)}")


def _kept(split) -> str:
    return "nobody said where" if split.storage == "unknown" else split.get_storage_display()


def outcome_told(act: Act) -> str:
    told = act.outcometold
    return joined(told.words, f"told by {told.told_by}" if told.told_by else "")


def cross_planned(act: Act) -> str:
    plan = act.crossplanned
    return joined(f"{plan.wanted} plants wanted" if plan.wanted else "", plan.aim, plan.family)


def pollinated(act: Act) -> str:
    dab = act.pollinated
    source = str(dab.lot) if dab.lot_id else f"fresh from {dab.from_spike}" if dab.from_spike_id else "father unknown"
    flowers = f"{dab.flowers} flowers" if dab.flowers is not None else dab.get_size_display()
    return joined(source, dab.tie, flowers)


def take_look(act: Act) -> str:
    look = act.takelook
    pods = f"{look.pods} pods" if look.pods is not None else ""
    return joined(look.get_brown_display(), look.get_swelling_display(), pods)


def pod_look(act: Act) -> str:
    look = act.podlook
    extent = "only some" if look.extent == "some" else ""
    bag = {True: "bagged", False: "not bagged", None: ""}[look.bagged]
    left = f"{look.pods_left} left" if look.pods_left is not None else ""
    return joined(look.get_seen_display(), extent, bag, left)


def harvested(act: Act) -> str:
    cut = act.harvested
    pods = f"{cut.pods} pods" if cut.pods is not None else ""
    opened = f"{cut.pods_open} of them open" if cut.pods_open is not None else ""
    return joined(cut.get_what_display(), pods, opened)


def seed_received(act: Act) -> str:
    came = act.seedreceived
    return joined(came.words, f"about {plural(came.seeds, 'seed')}" if came.seeds is not None else "")


def seed_cleaned(act: Act) -> str:
    clean = act.seedcleaned
    seeds = f"{plural(clean.seeds, 'seed')} {clean.get_estimate_from_display()}" if clean.seeds is not None else ""
    return joined(seeds, f"{clean.filled_percent} % filled" if clean.filled_percent is not None else "")


def seed_stored(act: Act) -> str:
    return f"to {act.seedstored.get_storage_display()}"


def sown(act: Act) -> str:
    sowing = act.sown
    pots = "1 pot" if sowing.pots == 1 else f"{sowing.pots} pots"
    each = f"{plural(sowing.seeds, 'seed')} each" if sowing.seeds is not None else ""
    pods = f"{sowing.pods} pods each" if sowing.pods is not None else ""
    return joined(pots, each, pods, sowing.medium, "all of it" if sowing.all_of_it else "")


def sowing_planned(act: Act) -> str:
    planned = act.sowingplanned
    density = f"{float(planned.density):g} to a cm²" if planned.density is not None else ""
    return joined(f"{plural(planned.pots, 'pot')} prepared", _evening(planned), density)


def sowing_changed(act: Act) -> str:
    return _evening(act.sowingchanged)


def _evening(told) -> str:
    day = f"{told.planned_for.day} {told.planned_for:%b %Y}"
    return joined(f"for {day}", told.medium, choice_words(told, "sterilised"))


def pot_sown(act: Act) -> str:
    sowing = act.potsown
    seeds = plural(sowing.seeds, "seed") if sowing.seeds is not None else ""
    pods = plural(sowing.pods, "pod") if sowing.pods is not None else ""
    return joined(seeds, pods, "the last of it" if sowing.all_of_it else "")


def pot_cleared(act: Act) -> str:
    return choice_words(act.potcleared, "why")


def pot_look(act: Act) -> str:
    look = act.potlook
    return joined(look.get_seen_display(), f"{look.counted} counted" if look.counted is not None else "")


def pot_loss(act: Act) -> str:
    return f"{act.potloss.lost}, {act.potloss.get_why_display()}"


def pot_split(act: Act) -> str:
    split = act.potsplit
    each = f"{plural(split.seedlings, 'seedling')} {'each' if split.pots > 1 else 'in it'}" if split.seedlings else ""
    stay = "none stays" if split.extent == "all" else "some stay"
    return joined(f"into {plural(split.pots, 'new pot')}", each, stay, split.medium)


def pot_gone(act: Act) -> str:
    return act.potgone.get_why_display()


def pot_trouble(act: Act) -> str:
    return act.pottrouble.get_what_display()


def routine_made(act: Act) -> str:
    return joined(act.routinemade.words, rule_words(act.routinemade.rule))


def routine_changed(act: Act) -> str:
    return joined(act.routinechanged.words, rule_words(act.routinechanged.rule))


def routine_done(act: Act) -> str:
    return act.routinedone.get_answer_display()
