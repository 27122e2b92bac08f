"""Pollen and seed that go elsewhere or into a second bag: sent in words, split, and what came of it."""

from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from breeding.models.pollen import PollenStorage
from breeding.models.seed import MOST_SEEDS, SeedStorage
from nursery.models import Act


class HowMuch(models.TextChoices):
    PART = "part", "part of it"
    ALL = "all", "all of it"


class Sent(models.Model):
    """The columns of what was sent or given: to whom in words, part or all, and which paper went with it."""

    to_whom = models.CharField(max_length=120)
    extent = models.CharField(max_length=4, choices=HowMuch)
    document = models.CharField(max_length=120, default="", blank=True)

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                name="%(class)s_says_to_whom",
                condition=~Q(to_whom=""),
                violation_error_message="Say to whom it went, in words.",
            )
        ]

    def __str__(self) -> str:
        return self.to_whom


class PollenSent(Sent):
    """Details of pollen sent elsewhere. No amounts are asked: nobody counts pollen."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pollensent")


class SeedSent(Sent):
    """Details of seed sent elsewhere, with a number if somebody counted or guessed."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="seedsent")
    seeds = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDS)])


class PollenSplit(models.Model):
    """Details of the act by which part of a packet became a packet of its own, kept where it says."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pollensplit")
    storage = models.CharField(max_length=12, choices=PollenStorage)

    def __str__(self) -> str:
        return self.get_storage_display()


class SeedSplit(models.Model):
    """Details of the act by which part of a lot became a lot of its own; ``seeds`` only where somebody said."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="seedsplit")
    storage = models.CharField(max_length=12, choices=SeedStorage)
    seeds = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDS)])

    def __str__(self) -> str:
        return self.get_storage_display()


class OutcomeTold(models.Model):
    """Details of the act by which somebody told what came of what was sent. The act's day is when it was told."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="outcometold")
    sent = models.ForeignKey(Act, on_delete=models.PROTECT, related_name="outcomes")
    words = models.CharField(max_length=1000)
    told_by = models.CharField(max_length=120, default="", blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="outcome_has_words",
                condition=~Q(words=""),
                violation_error_message="Write what came of it.",
            )
        ]

    def __str__(self) -> str:
        return self.words[:60]
