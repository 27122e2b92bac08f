"""The pipeline with 2,000 lines against a bare template of the same size, in one run.

``python -m tests.benchmarks.pipeline [lines]`` prints CPU seconds and their ratio. Floor: Django's own loop over as
many rows with as many values, giving a page of the same length (the page's own template, fed with what is ready).
Target: the whole page, queries, predictions and all, takes at most twice as long.
"""

import os
import random
import sys
import tempfile
import time
import uuid
from collections.abc import Callable
from datetime import timedelta
from typing import Any

LINES, CLONES = 2000, 60
STAGES = ("pollinated", "swelling", "swelling", "harvested")
EPITHETS = ("lowii", "hamata", "veitchii", "ampullaria", "burbidgeae", "sanguinea")


def main(lines: int) -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "nursery.site.settings"
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TEPAL_DATA"] = folder
        import django
        from django.core.management import call_command

        django.setup()
        from nursery.site.settled import settle

        call_command("migrate", verbosity=0)
        _fill(lines)
        settle()  # as a server does when it has started
        _measure()


def _measure() -> None:
    from django.db import connection
    from django.template.loader import get_template
    from django.test.utils import CaptureQueriesContext
    from django.utils import timezone

    from breeding.pipeline.sift import Choice
    from nursery.site.views.pipeline import context

    today, template = timezone.localdate(), get_template("crosses/_lines.html")
    ready = context(Choice(), today)
    whole = _least(lambda: template.render(context(Choice(), today)))
    bare = _least(lambda: template.render(ready))
    with CaptureQueriesContext(connection) as asked:
        context(Choice(), today)
    size = len(template.render(ready).encode())
    print(f"{len(ready['rows']):,} lines, {size / 1e6:.2f} MB of table, {len(asked)} queries; CPU seconds")
    print(f"bare template     {bare:7.3f}")
    print(f"the whole page    {whole:7.3f}   {whole / bare:.2f}x")


def _least(do: Callable[[], Any], times: int = 5) -> float:
    took = []
    for _ in range(times):
        before = time.process_time()
        do()
        took.append(time.process_time() - before)
    return min(took)


class _Maker:
    """Writes rows straight into the tables: what is measured reads, and recording 10,000 acts would take longer."""

    def __init__(self) -> None:
        from django.utils import timezone

        from nursery.models import Act, Person

        self.now, self.today = timezone.now(), timezone.localdate()
        person = Person.objects.create(name="Bench", role="owner")
        self.act = Act(pk=uuid.uuid4(), kind="remarked", by=person, recorded_at=self.now, said="unknown")
        self.things: list[Any] = []
        self.rows: dict[type, list[Any]] = {}

    def make(self, model: type, **facts: Any) -> Any:
        from nursery.models import Thing

        pk = len(self.things) + 2
        self.things.append(Thing(pk=pk, kind=model._meta.model_name, made_at=self.now, born_by=self.act))
        row = model(thing_id=pk, **facts)
        self.rows.setdefault(model, []).append(row)
        return row

    def write(self) -> None:
        from django.db import transaction

        from nursery.models import Thing

        with transaction.atomic():
            first = Thing(pk=1, kind="cross", made_at=self.now, born_by_id=self.act.pk)
            self.act.thing_id = 1
            Thing.objects.bulk_create([first])
            self.act.save(force_insert=True)
            Thing.objects.bulk_create(self.things, batch_size=500)
            for model, rows in self.rows.items():
                model.objects.bulk_create(rows, batch_size=500)


def _fill(lines: int) -> None:
    from breeding.models import Cross, Section, SeedLot, SeedPot, Spike
    from nursery.models import Clone, Place, Plant, Taxon
    from nursery.names import Species
    from nursery.stored_descent import to_stored

    drawn, maker = random.Random(5), _Maker()
    taxa = [Taxon.objects.get_or_create(epithet=epithet)[0] for epithet in EPITHETS]
    place = maker.make(Place, name="Warm house", size="house")
    clones = []
    for turn in range(CLONES):
        taxon = taxa[turn % len(taxa)]
        tree = to_stored(Species(taxon.epithet, designation=f"word{turn}"))
        clones.append(maker.make(Clone, taxon=taxon, designation=f"word{turn}", tree=tree))
    plants = [maker.make(Plant, clone_id=clone.pk, place_id=place.pk) for clone in clones]
    for turn in range(lines):
        mother = drawn.randrange(CLONES)
        father = clones[drawn.randrange(CLONES)]
        key = f"bench {turn}"
        cross = maker.make(
            Cross, seed_parent=clones[mother], pollen_parent=father, key=key, wanted=turn % 300, stage=""
        )
        spike = maker.make(Spike, plant_id=plants[mother].pk, stage="over")
        day = maker.today - timedelta(days=drawn.randrange(1, 300))
        stage = STAGES[turn % len(STAGES)]
        section = maker.make(
            Section,
            spike_id=spike.pk,
            cross_id=cross.pk,
            tie="blue",
            stage=stage,
            day0_first=day,
            day0_last=day,
            open_after=day,
            last_look=day,
            take="most" if stage == "swelling" else "",
            closed_on=maker.today if stage == "harvested" else None,
            closed_why="harvested" if stage == "harvested" else "",
        )
        if stage == "harvested":
            lot = maker.make(
                SeedLot, cross_id=cross.pk, section_id=section.pk, stage="part_sown", ripe_first=day, ripe_last=day
            )
            for pot in range(6):
                up = {"stage": "up", "first_by": maker.today} if pot == 0 else {"stage": "sown", "first_after": day}
                maker.make(SeedPot, lot_id=lot.pk, place_id=place.pk, sown_first=day, sown_last=day, **up)
    maker.write()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else LINES)
