from django.db import models
from django.db.models import Q

from nursery.models.acts import Act


class Quarantined(models.Model):
    """Details of the act that puts a plant in quarantine, until an act that releases it."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="quarantined")
    reason = models.CharField(max_length=120, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="quarantine_has_a_reason",
                condition=~Q(reason=""),
                violation_error_message="Say why it is in quarantine.",
            )
        ]

    def __str__(self) -> str:
        return self.reason


class SampleSent(models.Model):
    """Details of a sample of a plant that went to somebody who looks at it."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="samplesent")
    to_whom = models.CharField(max_length=120, blank=True)
    what_for = models.CharField(max_length=120, default="", blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="sample_went_to_somebody",
                condition=~Q(to_whom=""),
                violation_error_message="Say to whom the sample went.",
            )
        ]

    def __str__(self) -> str:
        return f"sample to {self.to_whom}"


class SampleResult(models.Model):
    """Details of what came back; of which sample, as far as that is known."""

    class Found(models.TextChoices):
        YES = "yes", "found"
        NO = "no", "not found"
        UNCLEAR = "unclear", "unclear"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="sampleresult")
    sample = models.ForeignKey(SampleSent, on_delete=models.PROTECT, null=True, blank=True, related_name="results")
    found = models.CharField(max_length=8, choices=Found)
    words = models.CharField(max_length=300, default="", blank=True)

    def __str__(self) -> str:
        return self.get_found_display()
