"""How the acts of the breeding season are told again, by kind."""

from breeding.records import pods, pollen, posted, pots, seed, spikes
from breeding.records.sections import section_dabbed, section_pollinated
from nursery.models import Act
from nursery.records import registry
from nursery.records.again import Told, details_for, first_touched, of, touched


def _pollinated(act: Act) -> Told:
    """Only the dab that made its section says which one it is on the spike."""
    if act.pollinated.order is None:
        return section_dabbed, details_for(section_dabbed, act) | {"section": registry.instance_of(act.thing)}
    return section_pollinated, details_for(section_pollinated, act) | {"spike": first_touched(act, "spike")}


def _pollen_collected(act: Act) -> Told:
    return pollen.pollen_collected, details_for(pollen.pollen_collected, act) | {"spikes": touched(act, "spike")}


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
    "pot_look": of(pots.pot_looked_at, "pot"),
    "pot_loss": of(pots.seedlings_lost, "pot"),
    "pot_trouble": of(pots.trouble_seen, "pot"),
}
