from django.db import models

from breeding.words.descent import cross_tree
from nursery.models import Act, Clone, LivingThing
from nursery.names import label


class Cross(LivingThing):
    """A seed parent and a pollen parent, whatever was or will be done with them. ``key`` names the pairing once.

    ``pollen_parent`` is empty when the pollen was mixed (``candidates`` lists who it may be) or is unknown.
    """

    seed_parent = models.ForeignKey(Clone, on_delete=models.PROTECT, null=True, related_name="crosses_as_seed_parent")
    pollen_parent = models.ForeignKey(Clone, on_delete=models.PROTECT, null=True, related_name="crosses_as_pollen")
    candidates = models.ManyToManyField(Clone, related_name="crosses_as_candidate", blank=True)
    key = models.CharField(max_length=200, unique=True)
    family = models.CharField(max_length=60, default="", blank=True)
    aim = models.CharField(max_length=200, default="", blank=True)
    wanted = models.PositiveIntegerField(null=True, blank=True)
    sections = models.PositiveIntegerField(default=0)
    pots = models.PositiveIntegerField(default=0)
    pots_up = models.PositiveIntegerField(default=0)

    class Meta:
        verbose_name_plural = "crosses"

    def __str__(self) -> str:
        return label(cross_tree(self))


class CrossPlanned(models.Model):
    """Details of a wish: how many plants of this cross, and what for."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="crossplanned")
    wanted = models.PositiveIntegerField(null=True, blank=True)
    aim = models.CharField(max_length=200, default="", blank=True)
    family = models.CharField(max_length=60, default="", blank=True)

    def __str__(self) -> str:
        return self.aim
