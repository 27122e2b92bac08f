from django.db import migrations

from breeding.science.shipped import shipped

COPIED = ("low", "high", "grace_plain", "grace_bagged", "risk", "longest_gap", "source", "strength", "note")
RISK_OF_ONE_LOOK = 0.002


def put_in(apps, schema_editor):
    """The step from turning to ripe; and what was shipped as the risk of one look, now that of a pod from start to end."""
    expectation = apps.get_model("breeding", "Expectation")
    row = shipped("turning")
    expectation.objects.get_or_create(step=row.step, taxon=None, defaults={name: getattr(row, name) for name in COPIED})
    ripe = shipped("ripe")
    untouched = expectation.objects.filter(step="ripe", taxon=None, risk=RISK_OF_ONE_LOOK, source=ripe.source)
    untouched.update(risk=ripe.risk, note=ripe.note)


class Migration(migrations.Migration):
    dependencies = [("breeding", "0006_learning")]
    operations = [migrations.RunPython(put_in, migrations.RunPython.noop)]
