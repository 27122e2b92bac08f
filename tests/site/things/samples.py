"""One thing of every kind, at every stage that its card words differently."""

from collections.abc import Callable

from breeding.records import pods, pollen, pots, seed, sowing, spikes
from nursery.models import LivingThing
from nursery.records.plants import plant_gone
from nursery.records.watching import stopped
from tests.making import Nursery

Make = Callable[[Nursery], LivingThing]


def _then(make: Make, name: str, function, **facts) -> Make:
    """A thing to which one more act is recorded, the thing under ``name``."""

    def made(nursery: Nursery) -> LivingThing:
        thing = make(nursery)
        nursery.record(function, **{name: thing}, **facts)
        thing.refresh_from_db()
        return thing

    return made


KINDS: dict[str, Make] = {
    "places": lambda nursery: nursery.bench(),
    "clones": lambda nursery: nursery.clone(),
    "plants": lambda nursery: nursery.plant(),
    "spikes": lambda nursery: nursery.spike(),
    "sections": lambda nursery: nursery.section(),
    "pollen": lambda nursery: nursery.pollen(),
    "crosses": lambda nursery: nursery.section().cross,
    "seed": lambda nursery: nursery.seed(),
    "pots": lambda nursery: nursery.pot(),
    "routines": lambda nursery: nursery.routine(),
    "sowings": lambda nursery: nursery.sowing(),
}
TAGGED = sorted(KINDS.keys() - {"clones", "crosses", "routines", "sowings"})


def _spike(seen: str, **facts) -> Make:
    return lambda nursery: nursery.spike(seen=seen, days_ago=12, **facts)


def _section(days_ago: int = 50) -> Make:
    return lambda nursery: nursery.section(days_ago=days_ago, flowers=20)


def _pod_look(seen: str, **facts) -> Make:
    return _then(_section(120), "section", pods.pods_looked_at, seen=seen, **facts)


def _seed(**facts) -> Make:
    return lambda nursery: nursery.seed(days_ago=3, **facts)


def _pot(seen: str, **facts) -> Make:
    return _then(lambda nursery: nursery.pot(days_ago=54), "pot", pots.pot_looked_at, seen=seen, **facts)


STAGES: dict[str, tuple[Make, str]] = {
    "spike growing": (_spike("growing"), "growing, found 12 days ago"),
    "spike in bud": (_spike("buds"), "in bud, sex not read yet"),
    "spike open": (_spike("open", sex="female"), "flowers open, female"),
    "spike showing": (_spike("showing", sex="male"), "flowers open, male, pollen showing"),
    "spike found only": (_spike("cant_tell"), "found 12 days ago, nobody has told how far it is"),
    "spike aborted": (_then(_spike("buds"), "spike", spikes.spike_looked, seen="aborted"), "aborted"),
    "section new": (_section(), "pollinated 50 days ago, take not read yet"),
    "section taking": (_then(_section(), "section", pods.take_read, swelling="most"), "pods ripening, most swelling"),
    "section without": (_then(_section(), "section", pods.take_read, swelling="none"), "nothing was swelling"),
    "section green": (_pod_look("green"), "pods ripening, firm and green"),
    "section turning": (_pod_look("turning"), "pods turning, not bagged"),
    "section bagged": (_pod_look("turning", bagged=True), "pods turning, bagged"),
    "section opening": (_pod_look("opening"), "first pods opening"),
    "section split": (_pod_look("split"), "pods split or fallen"),
    "section lost": (_pod_look("split", pods_left=0), "pods lost before harvest"),
    "section harvested": (_then(_section(120), "section", pods.harvested), "harvested"),
    "pollen on the bench": (lambda nursery: nursery.pollen(days_ago=2), "taken 2 days ago, on the bench"),
    "pollen finished": (_then(lambda nursery: nursery.pollen(), "lot", pollen.pollen_finished), "finished"),
    "seed waiting": (_seed(), "harvested 3 days ago, not cleaned yet"),
    "seed cleaned": (_seed(estimate=100), "harvested 3 days ago, 100 seeds, counted"),
    "seed part sown": (_then(_seed(), "lot", pots.sown, pots=2), "2 pots sown so far, harvested 3 days ago"),
    "seed all sown": (_then(_seed(), "lot", pots.sown, pots=2, all_of_it=True), "all sown, 2 pots"),
    "seed finished": (_then(_seed(), "lot", seed.seed_finished), "nothing left"),
    "pot not looked at": (lambda nursery: nursery.pot(days_ago=54), "sown 54 days ago, not looked at yet"),
    "pot with nothing": (_pot("nothing"), "sown 54 days ago, nothing yet"),
    "pot up": (_pot("few"), "germinating, a few seedlings"),
    "pot gone": (_then(_pot("few"), "pot", pots.pot_gone, why="dropped"), "dropped or spilt"),
    "plant gone": (_then(lambda nursery: nursery.plant(), "plant", plant_gone, why="sold"), "sold"),
    "clone unsexed": (lambda nursery: nursery.clone(), "sex not known yet"),
    "clone sexed": (lambda nursery: nursery.female().plant.clone, "female by its spikes"),
    "pot prepared": (lambda nursery: nursery.prepared_pot(), "prepared, not sown yet"),
    "pot sown of a session": (
        _then(lambda nursery: nursery.prepared_pot(days_ago=2), "pot", sowing.pot_sown, seeds=20),
        "sown today, not looked at yet",
    ),
    "pot cleared": (
        _then(lambda nursery: nursery.prepared_pot(), "pot", sowing.pot_cleared, why="no_time"),
        "never sown, cleared",
    ),
    "sowing": (lambda nursery: nursery.sowing(), "1 pot not sown yet"),
    "routine": (lambda nursery: nursery.routine(rule="FREQ=WEEKLY;BYDAY=MO"), "every Monday, not done yet"),
    "routine stopped": (_then(lambda nursery: nursery.routine(), "thing", stopped), "stopped, every day, not done yet"),
    "stopped": (_then(lambda nursery: nursery.pot(days_ago=9), "thing", stopped), "no longer watched, sown 9 days ago"),
}
