"""A day's round in a large nursery: up to 20,000 open things and 200,000 closed ones, in a scratch SQLite file.

``python -m tests.benchmarks.round`` prints CPU milliseconds, the least of several runs. Floor: the same open rows with
the columns that the rules need, by one plain query for each table, in the same run. Targets: at most twice the floor;
the ratio stays the same from 5,000 to 20,000 open things; closed ones cost next to nothing; always as many queries.
As in a server, and for both alike, garbage is searched for seldom (``nursery.site.settled``).
"""

import os
import random
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import uuid4

SHARES = {"seedpot": 0.60, "section": 0.20, "spike": 0.14, "pollenlot": 0.04, "seedlot": 0.018, "routine": 0.002}
OPEN = (5_000, 10_000, 20_000)
CLOSED = (20_000, 200_000)
MOTHERS, PLANTS, RUNS, AT_ONCE = 60, 120, 5, 2000
SECTIONS, POTS = 3, 30
"""On one spike, and in one sowing: what hangs together is seen on one visit."""


def main() -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "nursery.site.settings"
    os.environ.pop("DATABASE_URL", None)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TEPAL_DATA"] = folder
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        _measure()


def _measure() -> None:
    from nursery.site.settled import settle

    settle()  # as a server does when it has started
    filled = _Filled()
    print(f"{'open':>8}{'closed':>9}{'due':>8}{'rows ms':>9}{'round ms':>10}{'ratio':>7}{'queries':>9}")
    for closed, sizes in zip(CLOSED, (OPEN, OPEN[-1:]), strict=True):
        filled.closed_up_to(closed)
        for size in sizes:
            filled.open_up_to(size)
            _print_line(size, closed)


def _print_line(size: int, closed: int) -> None:
    from django.utils import timezone

    from breeding.rounds.tasks import round_for

    day = timezone.localdate()
    found, rows, queries = round_for(day, most_rest=40), _plain(), _queries(lambda: round_for(day, most_rest=40))
    assert rows == size, f"{rows} rows of {size}"
    floor, ours = _milliseconds(_plain), _milliseconds(lambda: round_for(day, most_rest=40))
    due = len(found.today) + found.rest_count
    print(f"{size:>8,}{closed:>9,}{due:>8,}{floor:>9.0f}{ours:>10.0f}{ours / floor:>7.2f}{queries:>9}")


def _plain() -> int:
    """All open rows with the columns that the rules need, one query for each table."""
    from breeding.rounds.gather import _MODELS, _open
    from breeding.rounds.rows import KINDS, columns

    return sum(len(list(_open(_MODELS[kind]).values_list(*columns(kind)))) for kind in KINDS)


def _milliseconds(do: Callable[[], object]) -> float:
    def once() -> float:
        before = time.process_time()
        do()
        return time.process_time() - before

    return 1000 * min(once() for _ in range(RUNS))


def _queries(do: Callable[[], object]) -> int:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as counted:
        do()
    return len(counted)


class _Filled:
    """A nursery that is filled up with copies of one thing of each kind, with days and places of their own."""

    def __init__(self) -> None:
        from django.utils import timezone

        from nursery.models import Person
        from tests.making import Nursery

        self.drawn, self.today, self.now = random.Random(1), timezone.localdate(), timezone.now()
        nursery = Nursery(Person.objects.create_user(name="Ida Fern", password="wet moss, warm night", role="owner"))
        self.open = dict.fromkeys(SHARES, 0)
        self.closed = 0
        self._first(nursery)
        self._close_all()

    def _first(self, nursery) -> None:
        house = nursery.house("Warm house")
        places = [nursery.bench(f"Bench {turn}", inside=house) for turn in range(20)]
        taxa = ["hamata", "lowii", "ventricosa", "rajah"]
        clones = [nursery.clone(taxa[turn % 4], f"no {turn}") for turn in range(MOTHERS)]
        plants = [nursery.plant(clones[turn % MOTHERS], place=places[turn % 20]) for turn in range(PLANTS)]
        self.places, self.plants = [place.pk for place in places], [plant.pk for plant in plants]
        lot = nursery.pollen([nursery.male(days_ago=240)], days_ago=230)
        spikes = [nursery.spike(plant, sex="female", days_ago=220) for plant in plants[:MOTHERS]]
        sections = [nursery.section(spike, lot=lot, days_ago=200) for spike in spikes]
        seeds = [nursery.seed(section, days_ago=50) for section in sections]
        self.lots = [(seed.pk, seed.cross_id, seed.section_id) for seed in seeds]
        self.clones = [clone.pk for clone in clones]
        self.bearing: list[int] = []
        self.act = seeds[0].thing.born_by

    def _close_all(self) -> None:
        from breeding.models import PollenLot, Section, SeedLot, Spike

        for model in (PollenLot, Section, SeedLot, Spike):
            model.objects.update(closed_on=self.today, closed_why="over")

    def open_up_to(self, size: int) -> None:
        wanted = {kind: round(size * share) for kind, share in SHARES.items()}
        wanted["seedpot"] += size - sum(wanted.values())
        for kind, count in wanted.items():
            self._add(kind, count - self.open[kind], {})
            self.open[kind] = count

    def closed_up_to(self, size: int) -> None:
        gone = {"closed_on": self.today - timedelta(days=1), "closed_why": "over"}
        for kind, share in SHARES.items():
            self._add(kind, round((size - self.closed) * share), gone)
        self.closed = size

    def _bear(self, sections: int) -> None:
        """Spikes past flowering, for so many sections more."""
        from breeding.models import Spike

        before = set(Spike.objects.values_list("pk", flat=True))
        self._add("spike", sections // SECTIONS + 1, {"closed_on": self._ago(1), "closed_why": "over"})
        self.bearing = sorted(set(Spike.objects.values_list("pk", flat=True)) - before)

    def _add(self, kind: str, count: int, facts: dict) -> None:
        from django.apps import apps
        from django.db import transaction

        from nursery.models import Tag, Thing

        if kind == "section":
            self._bear(count)
        model, first = apps.get_model("breeding", kind), Thing.objects.order_by("-pk").first().pk + 1
        with transaction.atomic():
            for start in range(first, first + count, AT_ONCE):
                ids = range(start, min(start + AT_ONCE, first + count))
                acts = self._acts(ids) if kind == "seedpot" else {}
                things = [
                    Thing(pk=pk, kind=kind, made_at=self.now, born_by=acts.get(pk // POTS, self.act)) for pk in ids
                ]
                Thing.objects.bulk_create(things)
                Tag.objects.bulk_create(Tag(number=10**9 + pk, thing_id=pk, made_at=self.now) for pk in ids)
                model.objects.bulk_create([model(thing_id=pk, **getattr(self, f"_{kind}")(pk) | facts) for pk in ids])

    def _acts(self, pots: range) -> dict[int, Any]:
        """An act for each sowing."""
        told = {field.attname: getattr(self.act, field.attname) for field in self.act._meta.concrete_fields}
        sowings = {pk // POTS for pk in pots}
        acts = {sowing: type(self.act)(**told | {"id": uuid4()}) for sowing in sowings}
        type(self.act).objects.bulk_create(acts.values())
        return acts

    def _ago(self, days: int):
        return self.today - timedelta(days=days)

    def _looked(self, age: int, gap: int):
        return self._ago(self.drawn.randint(0, min(age, gap)))

    def _seedpot(self, pk: int) -> dict:
        sowing = random.Random(pk // POTS)
        age, lot = sowing.randrange(300), self.lots[pk // POTS % len(self.lots)][0]
        sown, looked, place = self._ago(age), self._looked(age, 30), self.places[pk // POTS % 20]
        days = {"sown_first": sown, "sown_last": sown, "last_look": looked, "first_after": looked}
        if pk % 3 == 0:
            days |= {"stage": "up", "first_by": looked, "first_after": sown, "last_seen": "few"}
        return {"stage": "sown", "lot_id": lot, "place_id": place, "last_seen": "nothing"} | days

    def _section(self, pk: int) -> dict:
        age, (_, cross, _) = self.drawn.randrange(200), self.lots[pk % 60]
        spike = self.bearing[pk // SECTIONS % len(self.bearing)]
        day0, looked, swells = self._ago(age), self._looked(age, 18), age > 45
        seen = {"stage": "swelling", "take": "most"} if swells else {"stage": "pollinated"}
        if swells and pk % 25 == 0:
            seen |= {"stage": "turning", "turning_by": looked, "bagged": pk % 50 == 0}
        days = {"day0_first": day0, "day0_last": day0, "last_look": looked, "open_after": looked}
        return {"spike_id": spike, "cross_id": cross, "order": 1 + pk % 4, **seen, **days}

    def _spike(self, pk: int) -> dict:
        age = self.drawn.randrange(60)
        found, looked = self._ago(age), self._looked(age, 12)
        days = {"found_first": found, "found_last": found, "last_look": looked, "open_after": looked}
        if age > 35:
            days |= {"stage": "open", "open_after": found, "open_by": looked, "sex": ("female", "male")[pk % 2]}
        return {"stage": "growing", "plant_id": self.plants[pk % PLANTS], **days}

    def _pollenlot(self, pk: int) -> dict:
        taken = self._ago(self.drawn.randrange(90))
        best = taken + timedelta(days=60)
        kept = {"collected_first": taken, "collected_last": taken, "best_before": best, "storage": "refrigerator"}
        return {"clone_id": self.clones[pk % MOTHERS], "stage": "stored", **kept}

    def _seedlot(self, pk: int) -> dict:
        (_, cross, section), ripe = self.lots[pk % 60], self._ago(self.drawn.randrange(60))
        storage = ("room", "refrigerator")[pk % 2]
        return {
            "cross_id": cross,
            "section_id": section,
            "ripe_first": ripe,
            "ripe_last": ripe,
            "storage": storage,
            "stage": "cleaned",
            "last_look": ripe,
        }

    def _routine(self, pk: int) -> dict:
        facts = {"words": "mist", "rule": "FREQ=DAILY", "starts": self._ago(60), "done_on": self._ago(pk % 3)}
        return facts | {"place_id": self.places[pk % 20]}


if __name__ == "__main__":
    main()
