from django.db import models

from nursery.models.acts import Act
from nursery.models.places import Place
from nursery.models.things import Thing


class Stocktake(models.Model):
    """Details of a stocktake of a place; the act's links are the things that were seen there.

    ``missed`` are those that were listed and not ticked. What was neither listed nor scanned is in neither.
    """

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="stocktake")
    seen = models.PositiveIntegerField(default=0)
    missed = models.ManyToManyField(Thing, related_name="missed_at", blank=True)

    def __str__(self) -> str:
        return f"{self.seen} seen"


class NotFound(models.Model):
    """Details of a search without success: where it should stand, as far as that is known."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="notfound")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    def __str__(self) -> str:
        return f"not found in {self.place}" if self.place else "not found"
