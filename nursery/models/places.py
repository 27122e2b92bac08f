from django.db import models

from nursery.models.acts import Act
from nursery.models.things import LivingThing


class Place(LivingThing):
    """A house, a bench in it, a tray or spot on that: a tree, walked in ``order``."""

    class Size(models.TextChoices):
        HOUSE = "house", "house"
        BENCH = "bench", "bench"
        TRAY = "tray", "tray or spot"

    name = models.CharField(max_length=60)
    size = models.CharField(max_length=8, choices=Size)
    inside = models.ForeignKey("self", on_delete=models.PROTECT, null=True, related_name="places")
    order = models.PositiveSmallIntegerField(default=0, help_text="Its turn when you walk; small numbers first.")
    room = models.PositiveSmallIntegerField(null=True, help_text="How many seed pots it takes, where somebody counted.")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["inside", "name"],
                condition=models.Q(cancelled=False),
                name="place_names_differ_within_a_place",
                violation_error_message="There is already a place of this name here.",
            ),
            models.UniqueConstraint(
                fields=["name"],
                condition=models.Q(cancelled=False, inside__isnull=True),
                name="house_names_differ",
                violation_error_message="There is already a house of this name.",
            ),
            models.CheckConstraint(
                name="house_stands_alone_and_others_inside",
                condition=models.Q(size="house", inside__isnull=True)
                | (~models.Q(size="house") & models.Q(inside__isnull=False)),
                violation_error_message="A house stands by itself; a bench or tray is inside something.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PlaceMade(models.Model):
    """Details of the act that made a place."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="placemade")
    name = models.CharField(max_length=60)
    size = models.CharField(max_length=8, choices=Place.Size)
    inside = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    order = models.PositiveSmallIntegerField()

    def __str__(self) -> str:
        return self.name


class PlaceRenamed(models.Model):
    """Details of a change to a place's name or turn."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="placerenamed")
    name = models.CharField(max_length=60)
    order = models.PositiveSmallIntegerField()

    def __str__(self) -> str:
        return self.name


class RoomTold(models.Model):
    """Details of how many seed pots a place takes when it is full; None where that is not known any more."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="roomtold")
    pots = models.PositiveSmallIntegerField(null=True, help_text="Seed pots that it takes when it is full.")

    def __str__(self) -> str:
        return f"{self.pots:,} pots" if self.pots is not None else "not known"


class PlaceMoved(models.Model):
    """Details of a bench, tray or spot that went elsewhere; what stands on it came along."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="placemoved")
    inside = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"to {self.inside}"


class Moved(models.Model):
    """Details of a move: where a plant, pot or lot stands from then on."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="moved")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"to {self.place}"
