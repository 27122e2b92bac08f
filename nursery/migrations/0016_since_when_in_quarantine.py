"""Beside the first day since which a plant can have been in quarantine: the last, and how that day was told."""

from django.db import migrations, models


def say_how_it_was_told(apps, schema_editor):
    kept = apps.get_model("nursery", "Plant").objects.exclude(quarantine="")
    kept.filter(quarantine_on=None).update(quarantine_said="unknown")
    acts = apps.get_model("nursery", "Act").objects.filter(kind="quarantined", voided_by__isnull=True)
    for act in acts.exclude(day_first=None).order_by("day_last", "recorded_at"):
        so = kept.filter(pk=act.thing_id, quarantine=act.quarantined.reason, quarantine_on=act.day_first)
        so.update(quarantine_last=act.day_last, quarantine_said=act.said)


class Migration(migrations.Migration):
    dependencies = [
        ("nursery", "0015_how_it_ended"),
    ]

    operations = [
        migrations.AddField(
            model_name="plant",
            name="quarantine_last",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="plant",
            name="quarantine_said",
            field=models.CharField(default="", max_length=8),
        ),
        migrations.RunPython(say_how_it_was_told, migrations.RunPython.noop),
    ]
