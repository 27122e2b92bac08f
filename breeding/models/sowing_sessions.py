from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from nursery.models import LivingThing, Place


class Sterilised(models.TextChoices):
    """How medium was made clean: heat is common practice, no source; which way is the grower's own."""

    MICROWAVE = "microwave", "in a microwave oven"
    OVEN = "oven", "in an oven"
    STEAM = "steam", "steamed"
    BOILED = "boiled", "with boiling water"
    PRESSURE = "pressure", "in a pressure cooker"
    NOT = "not", "not sterilised"
    OTHER = "other", "some other way"
    UNKNOWN = "unknown", "not said"


THINNEST, DENSEST = Decimal("0.05"), Decimal(20)
"""Seeds to a cm2; anything else is a slip of the finger."""


def density_field() -> models.DecimalField:
    """Seeds to a square centimetre; None where nobody chose, or seed goes by pods."""
    return models.DecimalField(
        max_digits=4,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(THINNEST), MaxValueValidator(DENSEST)],
        help_text="Seeds to a square centimetre, as chosen for the plan; amounts written pot by pot may differ.",
    )


class SowingSession(LivingThing):
    """A sowing evening: its pots are prepared and numbered when it is planned, and sown one by one.

    It ends by itself once every pot was sown or cleared.
    """

    planned_for = models.DateField()
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="sowings")
    medium = models.CharField(max_length=120, default="", blank=True)
    sterilised = models.CharField(max_length=10, choices=Sterilised, default=Sterilised.UNKNOWN)
    sterilised_words = models.CharField(max_length=120, default="", blank=True)
    density = density_field()
    pots_planned = models.PositiveSmallIntegerField(default=0)
    pots_sown = models.PositiveSmallIntegerField(default=0)
    pots_cleared = models.PositiveSmallIntegerField(default=0)

    class Meta:
        indexes = [
            models.Index(
                fields=["planned_for"], condition=models.Q(closed_on=None, cancelled=False), name="sowing_open"
            )
        ]

    def __str__(self) -> str:
        return f"sowing for {self.planned_for}"

    @property
    def pots_waiting(self) -> int:
        """Prepared pots that were neither sown nor cleared."""
        return max(0, self.pots_planned - self.pots_sown - self.pots_cleared)
