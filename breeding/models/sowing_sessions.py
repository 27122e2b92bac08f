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


class SowingSession(LivingThing):
    """A sowing evening: its pots are prepared and numbered when it is planned, and sown one by one.

    It ends by itself once every pot was sown or cleared.
    """

    planned_for = models.DateField()
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="sowings")
    medium = models.CharField(max_length=120, default="", blank=True)
    sterilised = models.CharField(max_length=10, choices=Sterilised, default=Sterilised.UNKNOWN)
    sterilised_words = models.CharField(max_length=120, default="", blank=True)
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
