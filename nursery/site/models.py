"""What moving in keeps: each table that was brought, what its columns mean, and the acts that came of it."""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q

from nursery.models import Act, Clone


class Import(models.Model):
    """A table that an owner brought: read, looked over, perhaps brought in, perhaps undone again.

    The ids of its acts follow from its own id and the row, so that the same table brought in twice changes nothing.
    """

    class Kind(models.TextChoices):
        PLANTS = "plants", "plants with their clones"
        POTS = "pots", "seed pots"
        SEED = "seed", "seed in store"
        POLLEN = "pollen", "pollen in store"
        SECTIONS = "sections", "sections with pods half ripe"

    class State(models.TextChoices):
        DRAFT = "draft", "not brought in yet"
        BROUGHT = "brought", "brought in"
        UNDONE = "undone", "undone"

    class Order(models.TextChoices):
        DAY = "day", "the day"
        MONTH = "month", "the month"

    class Spring(models.TextChoices):
        MARCH = "march", "March to May"
        SEPTEMBER = "september", "September to November"

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="imports")
    made_at = models.DateTimeField(help_text="When the table was first read.")
    kind = models.CharField(max_length=8, choices=Kind)
    name = models.CharField(max_length=80, help_text="The file's name, or that it was pasted.")
    encoding = models.CharField(max_length=16, help_text="What the file was written in.")
    encoding_guessed = models.BooleanField(default=False)
    table = models.TextField(help_text="The table as it came.")
    digest = models.CharField(max_length=64, help_text="By which the same table is known again.")
    columns = models.JSONField(default=list, help_text="What each column is taken for.")
    day_order = models.CharField(max_length=5, choices=Order, default="", blank=True)
    spring = models.CharField(max_length=9, choices=Spring, default=Spring.MARCH)
    again = models.BooleanField(
        default=False, help_text="Whether rows that an earlier table brought in come in once more."
    )
    as_of = models.DateField(null=True, help_text="When things were as the table says, where no column tells.")
    preview = models.JSONField(default=dict, help_text="What bringing it in would make, as last tried.")
    state = models.CharField(max_length=7, choices=State, default=State.DRAFT)
    brought_at = models.DateTimeField(null=True)
    brought_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    undone_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-made_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["digest"],
                condition=~Q(state="undone"),
                name="import_of_one_table_once",
                violation_error_message="This table was read before.",
            ),
            models.CheckConstraint(
                name="import_brought_says_when_and_by_whom",
                condition=Q(state="draft", brought_at__isnull=True, brought_by__isnull=True)
                | (~Q(state="draft") & Q(brought_at__isnull=False, brought_by__isnull=False)),
                violation_error_message="A table that was brought in says when and by whom.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class ImportedAct(models.Model):
    """One act of an import and the row it came of; row 0 is for what several rows share."""

    moving = models.ForeignKey(Import, on_delete=models.PROTECT, related_name="acts")
    act = models.OneToOneField(Act, on_delete=models.PROTECT, related_name="imported")
    row = models.PositiveIntegerField()

    def __str__(self) -> str:
        return f"row {self.row}: {self.act}"


class ImportedClone(models.Model):
    """The number that a table gave to a clone, by which later tables may name it."""

    moving = models.ForeignKey(Import, on_delete=models.PROTECT, related_name="clones")
    clone = models.ForeignKey(Clone, on_delete=models.PROTECT, related_name="+")
    ref = models.CharField(max_length=120)

    def __str__(self) -> str:
        return self.ref
