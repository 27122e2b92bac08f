from django.db import models

from nursery.days import Day
from nursery.models.acts import Act
from nursery.models.clones import Clone
from nursery.models.places import Place
from nursery.models.things import LivingThing


class Plant(LivingThing):
    """One pot of a clone."""

    clone = models.ForeignKey(Clone, on_delete=models.PROTECT, related_name="plants")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="plants")
    pot = models.CharField(max_length=40, default="", blank=True)
    quarantine = models.CharField(max_length=120, default="", help_text="Why it is kept apart; empty when it is not.")
    quarantine_on = models.DateField(null=True)
    quarantine_last = models.DateField(null=True)
    quarantine_said = models.CharField(max_length=8, default="")

    class Meta:
        indexes = [
            models.Index(fields=["place"], condition=models.Q(closed_on__isnull=True), name="plant_open_by_place")
        ]

    def __str__(self) -> str:
        return f"plant of {self.clone}"

    @property
    def quarantine_day(self) -> Day | None:
        """Since when it is kept apart, as it was told; None where that day is not known or it is not kept apart."""
        if self.quarantine_on is None:
            return None
        return Day(self.quarantine_on, self.quarantine_last, self.quarantine_said)


class PlantArrived(models.Model):
    """Details of the act that entered a plant: potted here, struck, bought or only now written down."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="plantarrived")
    clone = models.ForeignKey(Clone, on_delete=models.PROTECT, related_name="+")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    pot = models.CharField(max_length=40, default="", blank=True)
    struck_from = models.ForeignKey(Plant, on_delete=models.PROTECT, null=True, related_name="+")

    def __str__(self) -> str:
        return f"plant of {self.clone}"


class PlantGone(models.Model):
    """Details of the act by which a plant leaves: died, sold, given, thrown away."""

    class Why(models.TextChoices):
        DIED = "died", "died"
        SOLD = "sold", "sold"
        GIVEN = "given", "given away"
        THROWN = "thrown", "thrown away"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="plantgone")
    why = models.CharField(max_length=8, choices=Why)

    def __str__(self) -> str:
        return self.get_why_display()
