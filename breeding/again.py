"""How the acts of the breeding season are told again, by kind."""

from typing import Any

from breeding.records import crosses, pods, pollen, posted, pots, routines, seed, sowing, spikes
from breeding.records.redetermined import clone_redetermined
from breeding.records.sections import section_dabbed, section_pollinated
from nursery.models import Act
from nursery.records import registry
from nursery.records.again import Told, details_for, entered, first_touched, of, touched


def _pollinated(act: Act) -> Told:
    """Only the dab that made its section says which one it is on the spike."""
    if act.pollinated.order is None:
        return section_dabbed, details_for(section_dabbed, act) | {"section": registry.instance_of(act.thing)}
    return section_pollinated, details_for(section_pollinated, act) | {"spike": first_touched(act, "spike")}


def _pollen_collected(act: Act) -> Told:
    return pollen.pollen_collected, details_for(pollen.pollen_collected, act) | {"spikes": touched(act, "spike")}


def _cross_planned(act: Act) -> Told:
    wish = crosses.cross_planned
    return wish, details_for(wish, act) | _parents(act.thing.cross)


def _seed_received(act: Act) -> Told:
    return seed.seed_received, details_for(seed.seed_received, act) | _parents(act.seedreceived.cross)


def _parents(cross: Any) -> dict[str, Any]:
    return {"seed_parent": cross.seed_parent, "pollen_parent": cross.pollen_parent}


def _sowing_planned(act: Act) -> Told:
    return sowing.sowing_planned, details_for(sowing.sowing_planned, act) | {"lines": sowing.lines_of(act)}


AGAIN = {
    "spike_found": of(spikes.spike_found, "plant", born_on="plant"),
    "spike_look": of(spikes.spike_looked, "spike"),
    "pollen_collected": _pollen_collected,
    "pollen_stored": of(pollen.pollen_stored, "lot"),
    "pollen_sent": of(posted.pollen_sent, "lot"),
    "pollen_split": of(posted.pollen_split, "lot", born_on="pollenlot"),
    "pollen_finished": of(pollen.pollen_finished, "lot"),
    "pollinated": _pollinated,
    "take_look": of(pods.take_read, "section"),
    "pod_look": of(pods.pods_looked_at, "section"),
    "bagged": of(pods.bagged, "section"),
    "harvested": of(pods.harvested, "section", born_on="section"),
    "seed_cleaned": of(seed.seed_cleaned, "lot"),
    "seed_stored": of(seed.seed_stored, "lot"),
    "seed_sent": of(posted.seed_sent, "lot"),
    "seed_split": of(posted.seed_split, "lot", born_on="seedlot"),
    "seed_finished": of(seed.seed_finished, "lot"),
    "sown": of(pots.sown, "lot"),
    "pot_sown": of(sowing.pot_sown, "pot"),
    "pot_cleared": of(sowing.pot_cleared, "pot"),
    "pot_look": of(pots.pot_looked_at, "pot"),
    "pot_loss": of(pots.seedlings_lost, "pot"),
    "pot_split": of(pots.pot_split, "pot"),
    "pot_gone": of(pots.pot_gone, "pot"),
    "pot_trouble": of(pots.trouble_seen, "pot"),
}

ONLY_BACK = {
    "redetermined": of(clone_redetermined, "clone"),
    "pollen_received": entered(pollen.pollen_received),
    "cross_planned": _cross_planned,
    "seed_received": _seed_received,
    "outcome_told": entered(posted.outcome_told),
    "sowing_planned": _sowing_planned,
    "sowing_changed": of(sowing.sowing_changed, "session"),
    "routine_made": entered(routines.routine_made),
    "routine_changed": of(routines.routine_changed, "routine"),
    "routine_done": of(routines.routine_done, "routine"),
}
"""Acts that are told again only when an undo brings an earlier version back, never of another thing."""
