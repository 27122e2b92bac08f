import uuid

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


class House(models.Model):
    """What holds for the whole nursery. One row, with id 1."""

    name = models.CharField(max_length=80, default="Our nursery")
    public_address = models.CharField(
        max_length=120,
        default="",
        blank=True,
        help_text="The address that tags carry, for example https://tags.example. Choose it before the first tag.",
    )
    minutes_a_day = models.PositiveSmallIntegerField(
        default=45,
        validators=[MinValueValidator(5), MaxValueValidator(960)],
        help_text="How long the round may take; what does not fit rolls over.",
    )
    shared_phones = models.BooleanField(
        default=True,
        help_text="One tap on a signed-in phone says whose hands hold it. They record as a grower, never more.",
    )
    tasks_off = models.JSONField(default=list, blank=True, editable=False, help_text="Kinds of task that are off.")
    looks_on = models.JSONField(
        default=list, blank=True, editable=False, help_text="Weekdays on which people look, 0 for Monday; none: all."
    )
    demo = models.BooleanField(default=False, editable=False)
    epoch = models.UUIDField(default=uuid.uuid4, editable=False, help_text="Changes when a backup is restored.")

    class Meta:
        constraints = [
            models.CheckConstraint(name="house_is_one_row", condition=models.Q(id=1)),
            models.CheckConstraint(
                name="house_minutes_between_5_and_960",
                condition=models.Q(minutes_a_day__gte=5, minutes_a_day__lte=960),
                violation_error_message="Minutes a day lie between 5 and 960.",
            ),
        ]

    def __str__(self) -> str:
        return self.name
