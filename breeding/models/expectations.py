from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q

from nursery.models import HouseEvent, Taxon


class Expectation(models.Model):
    """How long a step takes: its 80% window in days, for one taxon or for all, with where that comes from.

    The median is the geometric mean of the window (log-normal), so the two cannot disagree.
    """

    step = models.CharField(max_length=20)
    taxon = models.ForeignKey(Taxon, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    low = models.PositiveSmallIntegerField("window from day", validators=[MinValueValidator(1)])
    high = models.PositiveSmallIntegerField("window to day", validators=[MaxValueValidator(3650)])
    grace_plain = models.PositiveSmallIntegerField("days of grace", default=0)
    grace_bagged = models.PositiveSmallIntegerField("days of grace in a bag", default=0)
    risk = models.FloatField("accepted risk", default=0.01)
    longest_gap = models.PositiveSmallIntegerField("longest gap between looks", validators=[MinValueValidator(1)])
    source = models.CharField(max_length=300)
    strength = models.CharField(max_length=12)
    note = models.CharField(max_length=300, default="", blank=True)
    as_it_stands = models.BooleanField(default=False, help_text="Nothing is learned on top of this window.")

    class Meta:
        ordering = ["step", "taxon_id"]
        constraints = [
            models.UniqueConstraint(
                fields=["step", "taxon"],
                name="expectation_once_a_step_and_taxon",
                violation_error_message="This step already has a timing for this taxon.",
            ),
            models.UniqueConstraint(
                fields=["step"],
                condition=Q(taxon__isnull=True),
                name="expectation_once_a_step_for_all",
                violation_error_message="This step already has a timing for all taxa.",
            ),
            models.CheckConstraint(
                name="expectation_window_opens_before_it_closes",
                condition=Q(low__gte=1) & Q(low__lt=F("high")),
                violation_error_message="The window must open before it closes.",
            ),
            models.CheckConstraint(
                name="expectation_risk_is_a_small_share",
                condition=Q(risk__gt=0) & Q(risk__lt=0.5),
                violation_error_message="The accepted risk lies above 0 and below 0.5.",
            ),
            models.CheckConstraint(
                name="expectation_looks_at_least_daily_apart",
                condition=Q(longest_gap__gte=1),
                violation_error_message="The longest gap is one day or more.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.step}: {self.low} to {self.high} days"


class LeftOut(models.Model):
    """A time in the log of a place that is left out of what is learned, or, with ``left_out`` false, counts again.

    A setting, as timings are. Rows are never deleted, so that ``changed_at`` tells whether anything changed.
    """

    event = models.OneToOneField(HouseEvent, on_delete=models.PROTECT, primary_key=True, related_name="left_out_as")
    left_out = models.BooleanField(default=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.event} {'left out' if self.left_out else 'counts'}"
