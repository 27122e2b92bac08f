"""Two stocks to start with."""

from django.db import migrations

from labels import shipped


def ship(apps, schema_editor):
    shipped.add_missing(apps.get_model("labels", "Stock").objects.using(schema_editor.connection.alias))


class Migration(migrations.Migration):
    dependencies = [("labels", "0001_initial")]

    operations = [migrations.RunPython(ship, migrations.RunPython.noop)]
