from django.db import migrations

from breeding.science.shipped import SHIPPED

COPIED = ("step", "low", "high", "grace_plain", "grace_bagged", "risk", "longest_gap", "source", "strength", "note")


def put_in(apps, schema_editor):
    expectation = apps.get_model("breeding", "Expectation")
    for row in SHIPPED:
        expectation.objects.get_or_create(
            step=row.step, taxon=None, defaults={name: getattr(row, name) for name in COPIED if name != "step"}
        )


class Migration(migrations.Migration):
    """The timings a new nursery starts with; owners edit them from then on."""

    dependencies = [("breeding", "0001_start")]
    operations = [migrations.RunPython(put_in, migrations.RunPython.noop)]
