from django.db import models
from django.db.models import Q

from nursery.models.acts import Act


class HouseEvent(models.Model):
    """Details of what happened to a house, bench or tray as a whole. The act's day is the day it began.

    ``closed_until`` is what a person typed from a product's label; nothing here works it out, and it ends nothing:
    only an act that says so does (``HouseEventEnded``). ``over`` is for what had ended before it was written down.
    """

    class What(models.TextChoices):
        POWER = "power", "power cut"
        HEAT = "heat", "heat"
        FROST = "frost", "frost"
        TREATMENT = "treatment", "treatment"
        OTHER = "other", "something else"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="houseevent")
    what = models.CharField(max_length=10, choices=What)
    words = models.CharField(max_length=300, default="", blank=True)
    product = models.CharField(max_length=120, default="", blank=True)
    done_by = models.CharField(max_length=60, default="", blank=True)
    closed_until = models.DateTimeField(null=True, blank=True)
    over = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="house_event_only_a_treatment_has_a_label",
                condition=Q(what="treatment") | Q(product="", closed_until__isnull=True),
                violation_error_message="Only a treatment has a product, and a time until when its label closes.",
            ),
            models.CheckConstraint(
                name="house_event_something_else_says_what",
                condition=~Q(what="other") | ~Q(words=""),
                violation_error_message="Say in words what happened.",
            ),
        ]

    def __str__(self) -> str:
        return self.get_what_display()


class HouseEventEnded(models.Model):
    """Details of the act that says that it is over: power is back, the house is open again."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="houseeventended")
    event = models.ForeignKey(HouseEvent, on_delete=models.PROTECT, related_name="ends")

    def __str__(self) -> str:
        return f"end of {self.event}"
