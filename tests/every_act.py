"""One way to tell of each kind of act, for what must hold of them all."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from breeding.records import crosses, pods, pollen, posted, pots, routines, sections, seed, sowing, spikes
from breeding.records.redetermined import clone_redetermined
from nursery.models import Act, Flag, HouseEvent
from nursery.records import (
    clones,
    flags,
    house_log,
    moves,
    photos,
    places,
    plants,
    quarantine,
    remarks,
    stocktakes,
    swapped,
    tags,
    watching,
)
from nursery.records.numbers import blank_tags_make
from tests.drawing import kept
from tests.making import Nursery, today


@dataclass(frozen=True)
class Case:
    """A record function, what it is told, and one fact that may be told otherwise."""

    record: Callable[..., Act]
    facts: Callable[[Nursery], dict[str, Any]]
    other: Callable[[Nursery], dict[str, Any]] | None = None


def _blank() -> int:
    [tag] = blank_tags_make(count=1)
    return tag.number


def _flagged(nursery: Nursery) -> Flag:
    spike = nursery.spike(sex="male")
    return nursery.record(sections.section_pollinated, spike=spike, lot=nursery.pollen()).flags.get()


def _heat(nursery: Nursery) -> HouseEvent:
    return nursery.record(house_log.house_event, place=nursery.house(), what="heat", days_ago=4).houseevent


def _posted(nursery: Nursery) -> Act:
    return nursery.record(posted.seed_sent, lot=nursery.seed(), to_whom="a friend", days_ago=900)


CASES = {
    "flag_settled": Case(flags.flag_settled, lambda n: {"flag": _flagged(n)}, lambda n: {"flag": _flagged(n)}),
    "flags_settled": Case(
        flags.flags_settled,
        lambda n: {"brought_by": _flagged(n).act, "code": "male_pollinated"},
        lambda n: {"brought_by": _flagged(n).act},
    ),
    "place_made": Case(places.place_made, lambda n: {"name": "East", "size": "house"}, lambda n: {"name": "West"}),
    "place_renamed": Case(
        places.place_renamed, lambda n: {"place": n.bench(), "name": "Ledge", "order": 3}, lambda n: {"order": 4}
    ),
    "room_told": Case(places.room_told, lambda n: {"place": n.bench(), "pots": 60}, lambda n: {"pots": 40}),
    "place_moved": Case(
        moves.place_moved, lambda n: {"place": n.bench(), "inside": n.house()}, lambda n: {"inside": n.house()}
    ),
    "stocktake": Case(
        stocktakes.stocktake_taken,
        lambda n: {"place": n.bench(), "seen": [n.plant()], "missed": [n.pot()]},
        lambda n: {"missed": []},
    ),
    "not_found": Case(
        stocktakes.not_found, lambda n: {"thing": n.plant(), "place": n.bench()}, lambda n: {"place": None}
    ),
    "quarantined": Case(
        quarantine.quarantined, lambda n: {"plant": n.plant(), "reason": "mosaic"}, lambda n: {"reason": "thrips"}
    ),
    "released": Case(quarantine.released, lambda n: {"plant": n.plant()}, lambda n: {"plant": n.plant()}),
    "sample_sent": Case(
        quarantine.sample_sent, lambda n: {"plant": n.plant(), "to_whom": "clinic"}, lambda n: {"to_whom": "a friend"}
    ),
    "sample_result": Case(
        quarantine.sample_result, lambda n: {"plant": n.plant(), "found": "no"}, lambda n: {"found": "yes"}
    ),
    "house_event": Case(
        house_log.house_event,
        lambda n: {"place": n.house(), "what": "treatment", "product": "soap spray", "done_by": "a contractor"},
        lambda n: {"product": "sulphur"},
    ),
    "house_event_ended": Case(
        house_log.house_event_ended, lambda n: {"event": _heat(n)}, lambda n: {"event": _heat(n)}
    ),
    "clone_made": Case(
        clones.clone_made,
        lambda n: {"taxon": n.taxon(), "designation": "thimble"},
        lambda n: {"designation": "bobbin"},
    ),
    "redetermined": Case(
        clone_redetermined,
        lambda n: {"clone": n.clone(), "taxon": n.taxon("hamata"), "why": "its flowers"},
        lambda n: {"why": "its pitchers"},
    ),
    "plant_arrived": Case(
        plants.plant_arrived, lambda n: {"clone": n.clone(), "place": n.bench()}, lambda n: {"pot": "12 cm"}
    ),
    "plant_gone": Case(plants.plant_gone, lambda n: {"plant": n.plant(), "why": "died"}, lambda n: {"why": "sold"}),
    "moved": Case(moves.moved, lambda n: {"thing": n.plant(), "place": n.bench()}, lambda n: {"place": n.bench()}),
    "remarked": Case(
        remarks.remarked, lambda n: {"thing": n.plant(), "words": "leans over"}, lambda n: {"words": "upright"}
    ),
    "photo_taken": Case(
        photos.photo_taken, lambda n: {"thing": n.plant(), "photo": kept(120)}, lambda n: {"photo": kept(130)}
    ),
    "walked_past": Case(
        watching.walked_past, lambda n: {"place": n.bench(), "things": [n.spike()]}, lambda n: {"things": [n.spike()]}
    ),
    "postponed": Case(
        watching.postponed,
        lambda n: {"thing": n.spike(), "until": today() + timedelta(days=3)},
        lambda n: {"until": today() + timedelta(days=7)},
    ),
    "stopped": Case(watching.stopped, lambda n: {"thing": n.spike()}, lambda n: {"thing": n.spike()}),
    "resumed": Case(watching.resumed, lambda n: {"thing": n.spike()}, lambda n: {"thing": n.spike()}),
    "tag_bound": Case(
        tags.tag_bound, lambda n: {"thing": n.spike(), "number": _blank()}, lambda n: {"number": _blank()}
    ),
    "tags_swapped": Case(
        swapped.tags_swapped,
        lambda n: {"thing": n.plant(), "other": n.plant()},
        lambda n: {"other": n.plant()},
    ),
    "spike_found": Case(spikes.spike_found, lambda n: {"plant": n.plant()}, lambda n: {"seen": "buds"}),
    "spike_look": Case(spikes.spike_looked, lambda n: {"spike": n.spike(), "seen": "buds"}, lambda n: {"seen": "open"}),
    "pollen_collected": Case(
        pollen.pollen_collected, lambda n: {"spikes": [n.male()]}, lambda n: {"storage": "freezer"}
    ),
    "pollen_received": Case(
        pollen.pollen_received, lambda n: {"words": "from a friend"}, lambda n: {"words": "from a fair"}
    ),
    "pollen_stored": Case(
        pollen.pollen_stored, lambda n: {"lot": n.pollen(), "storage": "freezer"}, lambda n: {"storage": "bench"}
    ),
    "pollen_finished": Case(pollen.pollen_finished, lambda n: {"lot": n.pollen()}, lambda n: {"lot": n.pollen()}),
    "cross_planned": Case(
        crosses.cross_planned,
        lambda n: {"seed_parent": n.clone(), "pollen_parent": n.clone("hamata")},
        lambda n: {"wanted": 50},
    ),
    "pollinated": Case(
        sections.section_pollinated, lambda n: {"spike": n.female(), "lot": n.pollen()}, lambda n: {"tie": "red"}
    ),
    "take_look": Case(
        pods.take_read, lambda n: {"section": n.section(), "swelling": "most"}, lambda n: {"swelling": "half"}
    ),
    "pod_look": Case(
        pods.pods_looked_at, lambda n: {"section": n.section(), "seen": "green"}, lambda n: {"seen": "turning"}
    ),
    "bagged": Case(pods.bagged, lambda n: {"section": n.section()}, lambda n: {"section": n.section()}),
    "harvested": Case(pods.harvested, lambda n: {"section": n.section()}, lambda n: {"pods": 12}),
    "pollen_sent": Case(
        posted.pollen_sent, lambda n: {"lot": n.pollen(), "to_whom": "a friend"}, lambda n: {"extent": "all"}
    ),
    "pollen_split": Case(
        posted.pollen_split, lambda n: {"lot": n.pollen(), "storage": "freezer"}, lambda n: {"storage": "bench"}
    ),
    "seed_sent": Case(
        posted.seed_sent, lambda n: {"lot": n.seed(), "to_whom": "a friend", "seeds": 20}, lambda n: {"seeds": 30}
    ),
    "seed_split": Case(
        posted.seed_split, lambda n: {"lot": n.seed(), "storage": "refrigerator"}, lambda n: {"seeds": 30}
    ),
    "outcome_told": Case(
        posted.outcome_told, lambda n: {"sent": _posted(n), "words": "twelve up"}, lambda n: {"words": "nothing up"}
    ),
    "seed_received": Case(
        seed.seed_received, lambda n: {"words": "lowii, no more known"}, lambda n: {"words": "hamata"}
    ),
    "seed_cleaned": Case(
        seed.seed_cleaned,
        lambda n: {"lot": n.seed(), "seeds": 90, "estimate_from": "counted"},
        lambda n: {"seeds": 80},
    ),
    "seed_stored": Case(
        seed.seed_stored, lambda n: {"lot": n.seed(), "storage": "refrigerator"}, lambda n: {"storage": "room"}
    ),
    "seed_finished": Case(seed.seed_finished, lambda n: {"lot": n.seed()}, lambda n: {"lot": n.seed()}),
    "sown": Case(pots.sown, lambda n: {"lot": n.seed(), "pots": 2, "seeds": 40}, lambda n: {"seeds": 30}),
    "sowing_planned": Case(
        sowing.sowing_planned,
        lambda n: {"lines": [sowing.Line(n.seed(), 2, seeds=30)], "place": n.bench()},
        lambda n: {"medium": "milled moss"},
    ),
    "sowing_changed": Case(
        sowing.sowing_changed,
        lambda n: {"session": n.sowing(), "planned_for": today() + timedelta(days=2)},
        lambda n: {"medium": "milled moss"},
    ),
    "pot_sown": Case(sowing.pot_sown, lambda n: {"pot": n.prepared_pot(), "seeds": 30}, lambda n: {"seeds": 40}),
    "pot_cleared": Case(
        sowing.pot_cleared, lambda n: {"pot": n.prepared_pot(), "why": "no_time"}, lambda n: {"why": "no_seed"}
    ),
    "pot_look": Case(pots.pot_looked_at, lambda n: {"pot": n.pot(), "seen": "first"}, lambda n: {"seen": "few"}),
    "pot_loss": Case(pots.seedlings_lost, lambda n: {"pot": n.pot(), "lost": 3}, lambda n: {"lost": 4}),
    "routine_made": Case(
        routines.routine_made,
        lambda n: {"words": "mist", "rule": "FREQ=DAILY", "place": n.bench()},
        lambda n: {"rule": "FREQ=WEEKLY"},
    ),
    "routine_changed": Case(
        routines.routine_changed,
        lambda n: {"routine": n.routine(), "words": "mist", "rule": "FREQ=WEEKLY"},
        lambda n: {"words": "feed"},
    ),
    "routine_done": Case(routines.routine_done, lambda n: {"routine": n.routine()}, lambda n: {"answer": "not_today"}),
    "pot_split": Case(
        pots.pot_split,
        lambda n: {"pot": n.pot(days_ago=90), "pots": 2, "seedlings": 9, "place": n.bench()},
        lambda n: {"seedlings": 8},
    ),
    "pot_gone": Case(pots.pot_gone, lambda n: {"pot": n.pot(), "why": "dropped"}, lambda n: {"why": "nothing_up"}),
    "pot_trouble": Case(pots.trouble_seen, lambda n: {"pot": n.pot(), "what": "moss"}, lambda n: {"what": "algae"}),
}
"""By the code of its kind. Undoing has tests of its own (test_undone)."""
