"""Beside the last day on which a thing can have ended: the first, and how that day was told."""

from django.db import migrations, models
from django.db.models import F, Q
from django.utils import timezone

NURSERY = ("place", "clone", "plant")
BREEDING = ("cross", "pollenlot", "routine", "section", "seedlot", "seedpot", "sowingsession", "spike")
KINDS = [*(("nursery", name) for name in NURSERY), *(("breeding", name) for name in BREEDING)]
ENDS = [
    *[(kind, "stopped", Q(kind="stopped")) for kind in KINDS],
    *[(("nursery", "plant"), why, Q(plantgone__why=why)) for why in ("died", "sold", "given", "thrown")],
    *[(("breeding", "spike"), why, Q(spikefound__seen=why) | Q(spikelook__seen=why)) for why in ("over", "aborted")],
    (("breeding", "section"), "harvested", Q(harvested__what="section")),
    (("breeding", "section"), "lost", Q(podlook__seen="split", podlook__pods_left=0)),
    (("breeding", "pollenlot"), "finished", Q(kind="pollen_finished")),
    (("breeding", "pollenlot"), "sent", Q(pollensent__extent="all")),
    (("breeding", "seedlot"), "finished", Q(kind="seed_finished")),
    (("breeding", "seedlot"), "sent", Q(seedsent__extent="all")),
    (("breeding", "seedlot"), "sown", Q(sown__all_of_it=True) | Q(potsown__all_of_it=True)),
    (("breeding", "seedpot"), "cleared", Q(kind="pot_cleared")),
    *[(("breeding", "sowingsession"), why, Q(kind__in=["pot_sown", "pot_cleared"])) for why in ("sown", "cleared")],
]
"""For each kind of thing and reason, the acts that end it so."""


def say_how_it_was_told(apps, schema_editor):
    for kind in KINDS:
        ended = apps.get_model(*kind).objects.filter(closed_on__isnull=False)
        ended.update(closed_first=F("closed_on"), closed_said="exact")
    acts = apps.get_model("nursery", "Act").objects
    vague = acts.filter(voided_by__isnull=True).exclude(said="exact").order_by("recorded_at", "pk")
    for kind, why, ends_it in ENDS:
        ended = apps.get_model(*kind).objects.filter(closed_why=why)
        for act in vague.filter(ends_it):
            things = {act.thing_id, *act.links.values_list("thing_id", flat=True)}
            so = ended.filter(pk__in=things, closed_on=act.day_last or _first_told_on(act))
            so.update(closed_first=act.day_first, closed_said=act.said)


def _first_told_on(act):
    while act.replaces is not None:
        act = act.replaces
    return timezone.localdate(act.recorded_at)


class Migration(migrations.Migration):
    dependencies = [
        ("breeding", "0008_sowing_sessions"),
        ("nursery", "0015_how_it_ended"),
    ]

    operations = [
        migrations.AddField(
            model_name="cross",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="cross",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="pollenlot",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="pollenlot",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="routine",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="routine",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="section",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="section",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="seedlot",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="seedlot",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="seedpot",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="seedpot",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="sowingsession",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="sowingsession",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.AddField(
            model_name="spike",
            name="closed_first",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="spike",
            name="closed_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.RunPython(say_how_it_was_told, migrations.RunPython.noop),
    ]
