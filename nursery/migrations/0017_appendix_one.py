"""Two species of Appendix I, which were listed under II when a plant or a table named them first.

Source: the CITES appendices (see nursery/cites.py).
"""

from django.db import migrations

IN_APPENDIX_I = ("rajah", "khasiana")


def list_under_one(apps, schema_editor):
    apps.get_model("nursery", "Taxon").objects.filter(
        genus="Nepenthes", epithet__in=IN_APPENDIX_I, rank="species", cites="II"
    ).update(cites="I")


class Migration(migrations.Migration):
    dependencies = [
        ("nursery", "0016_since_when_in_quarantine"),
    ]

    operations = [
        migrations.RunPython(list_under_one, migrations.RunPython.noop),
    ]
