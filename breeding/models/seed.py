from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from breeding.models.crosses import Cross
from breeding.models.sections import Section
from nursery.models import Act, LivingThing

MOST_SEEDS = 1_000_000


class SeedStorage(models.TextChoices):
    ROOM = "room", "at room temperature"
    REFRIGERATOR = "refrigerator", "refrigerator"
    UNKNOWN = "unknown", "not known"


class EstimateFrom(models.TextChoices):
    COUNTED = "counted", "counted"
    WEIGHED = "weighed", "weighed"
    GUESSED = "guessed", "guessed"


class SeedLot(LivingThing):
    """One bag or packet of seed: from a harvest, or from elsewhere. What is left follows from its sowings."""

    cross = models.ForeignKey(Cross, on_delete=models.PROTECT, related_name="seed_lots")
    section = models.ForeignKey(Section, on_delete=models.PROTECT, null=True, related_name="seed_lots")
    words = models.CharField(max_length=120, default="", blank=True)
    split_from = models.ForeignKey("self", on_delete=models.PROTECT, null=True, related_name="parts")
    ripe_first = models.DateField(null=True)
    ripe_last = models.DateField(null=True)
    storage = models.CharField(max_length=12, choices=SeedStorage, default=SeedStorage.UNKNOWN)
    estimate = models.PositiveIntegerField(null=True)
    estimate_from = models.CharField(max_length=8, choices=EstimateFrom, default="")
    seeds_sown = models.PositiveIntegerField(default=0)
    pots_sown = models.PositiveIntegerField(default=0)
    seeds_gone = models.PositiveIntegerField(default=0, help_text="Sent elsewhere or put into a lot of their own.")

    class Meta:
        indexes = [
            models.Index(fields=["cross"], condition=Q(closed_on__isnull=True, cancelled=False), name="seed_open")
        ]

    def __str__(self) -> str:
        return f"seed of {self.cross}"

    @property
    def left(self) -> int | None:
        """Seeds that should be left: the estimate without what was sown, sent and split off; None without one."""
        return None if self.estimate is None else max(0, self.estimate - self.seeds_sown - self.seeds_gone)


class SeedReceived(models.Model):
    """Details of seed from elsewhere. The act's day is the day it was harvested, as told."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="seedreceived")
    cross = models.ForeignKey(Cross, on_delete=models.PROTECT, related_name="+")
    words = models.CharField(max_length=120, default="", blank=True)
    storage = models.CharField(max_length=12, choices=SeedStorage)
    seeds = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDS)])

    def __str__(self) -> str:
        return self.words


class SeedCleaned(models.Model):
    """Details of cleaning and estimating, or of a later and better estimate."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="seedcleaned")
    seeds = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDS)])
    estimate_from = models.CharField(max_length=8, choices=EstimateFrom, default="", blank=True)
    filled_percent = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MaxValueValidator(100)])

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="seed_estimate_says_how",
                condition=Q(seeds__isnull=True) | ~Q(estimate_from=""),
                violation_error_message="Say whether the seeds were counted, weighed or guessed.",
            ),
            models.CheckConstraint(
                name="seed_filled_share_at_most_100_percent",
                condition=Q(filled_percent__isnull=True) | Q(filled_percent__lte=100),
                violation_error_message="The filled share is 100 percent at most.",
            ),
        ]

    def __str__(self) -> str:
        return str(self.seeds)


class SeedStored(models.Model):
    """Details of seed moved to another storage."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="seedstored")
    storage = models.CharField(max_length=12, choices=SeedStorage)

    def __str__(self) -> str:
        return self.get_storage_display()
