"""Seedlings that go into new pots. No pot was split so far: each gave what was counted in it."""

import django.core.validators
import django.db.models.deletion
from django.db import migrations, models
from django.db.models import F


def as_counted(apps, schema_editor):
    apps.get_model("breeding", "SeedPot").objects.filter(counted__isnull=False).update(raised=F("counted"))


class Migration(migrations.Migration):

    dependencies = [
        ('breeding', '0010_density_of_a_sowing'),
        ('nursery', '0016_since_when_in_quarantine'),
    ]

    operations = [
        migrations.AddField(
            model_name='seedpot',
            name='raised',
            field=models.PositiveIntegerField(help_text='Seedlings it gave by the last count, with those that went into other pots before.', null=True),
        ),
        migrations.AddField(
            model_name='seedpot',
            name='split_first',
            field=models.DateField(help_text='The first day on which it can have been split off, or something of it, for the last time.', null=True),
        ),
        migrations.AddField(
            model_name='seedpot',
            name='split_from',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='parts', to='breeding.seedpot'),
        ),
        migrations.AddField(
            model_name='seedpot',
            name='split_last',
            field=models.DateField(help_text='The last such day; where nobody knows it, when it was told.', null=True),
        ),
        migrations.AlterField(
            model_name='seedpot',
            name='pot_size',
            field=models.CharField(blank=True, default='', help_text='Of a pot that was prepared or split off.', max_length=40),
        ),
        migrations.CreateModel(
            name='PotSplit',
            fields=[
                ('act', models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, primary_key=True, related_name='potsplit', serialize=False, to='nursery.act')),
                ('pots', models.PositiveSmallIntegerField(validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(100)])),
                ('seedlings', models.PositiveIntegerField(blank=True, null=True, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(10000)])),
                ('extent', models.CharField(choices=[('part', 'part of it'), ('all', 'all of it')], max_length=4)),
                ('pot_size', models.CharField(blank=True, default='', max_length=40)),
                ('medium', models.CharField(blank=True, default='', max_length=120)),
                ('place', models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='nursery.place')),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('pots__gte', 1), ('pots__lte', 100)), name='pot_split_into_1_to_100_pots', violation_error_message='Split a pot into 1 to 100 new ones at a time.'), models.CheckConstraint(condition=models.Q(('seedlings__isnull', True), ('seedlings__gte', 1), _connector='OR'), name='pot_split_puts_seedlings_into_each', violation_error_message="Leave the number empty where you can't tell: a new pot holds a seedling.")],
            },
        ),
        migrations.RunPython(as_counted, migrations.RunPython.noop),
    ]
