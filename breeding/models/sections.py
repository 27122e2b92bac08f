from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from breeding.models.crosses import Cross
from breeding.models.pollen import PollenLot
from breeding.models.spikes import Spike
from nursery.models import Act, LivingThing


class SizeClass(models.TextChoices):
    UNDER_10 = "10", "under 10 flowers"
    UNDER_25 = "25", "10 to 24"
    UNDER_50 = "50", "25 to 49"
    UNDER_100 = "100", "50 to 99"
    MORE = "more", "100 or more"

    @property
    def most(self) -> int | None:
        """The most flowers of this class; None where it is open."""
        return None if self is SizeClass.MORE else int(self) - 1


class Section(LivingThing):
    """The part of a spike that one pollen went on: what carries the tag. Day 0 runs from the first to the last dab."""

    spike = models.ForeignKey(Spike, on_delete=models.PROTECT, related_name="sections")
    cross = models.ForeignKey(Cross, on_delete=models.PROTECT, related_name="section_set")
    order = models.PositiveSmallIntegerField(default=1)
    tie = models.CharField(max_length=40, default="", blank=True)
    size = models.CharField(max_length=4, choices=SizeClass, default="", blank=True)
    flowers = models.PositiveIntegerField(null=True)
    day0_first = models.DateField(null=True)
    day0_last = models.DateField(null=True)
    take = models.CharField(max_length=10, default="")
    bagged = models.BooleanField(default=False)
    turning_by = models.DateField(null=True)
    open_after = models.DateField(null=True)
    open_by = models.DateField(null=True)
    harvested_on = models.DateField(null=True)

    class Meta:
        indexes = [
            models.Index(fields=["spike"], condition=Q(closed_on__isnull=True, cancelled=False), name="section_open")
        ]

    def __str__(self) -> str:
        return f"section {self.order} of {self.spike}"


class Pollinated(models.Model):
    """Details of one dabbing: with a pollen lot, straight from a spike, or by nobody knows whom.

    The first one makes the section; what it says of the section (order, tie, flowers) stands there only.
    """

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pollinated")
    lot = models.ForeignKey(PollenLot, on_delete=models.PROTECT, null=True, blank=True, related_name="dabs")
    from_spike = models.ForeignKey(Spike, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    covered_before = models.BooleanField(null=True, blank=True)
    covered_after = models.BooleanField(null=True, blank=True)
    order = models.PositiveSmallIntegerField(null=True, blank=True)
    tie = models.CharField(max_length=40, default="", blank=True)
    size = models.CharField(max_length=4, choices=SizeClass, default="", blank=True)
    flowers = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(2000)])

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="pollinated_from_a_lot_or_a_spike_not_both",
                condition=Q(lot__isnull=True) | Q(from_spike__isnull=True),
                violation_error_message="Choose a pollen lot or a spike in flower, not both.",
            )
        ]

    def __str__(self) -> str:
        return str(self.lot or self.from_spike or "father unknown")
