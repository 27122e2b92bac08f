from django.db import models

from nursery.models import Act, Clone, LivingThing


class PollenStorage(models.TextChoices):
    BENCH = "bench", "on the bench"
    DRY = "dry_bench", "dry, on the bench"
    REFRIGERATOR = "refrigerator", "refrigerator"
    FREEZER = "freezer", "freezer"
    UNKNOWN = "unknown", "not known"


class PollenLot(LivingThing):
    """One packet of pollen. ``clone`` is empty when it is mixed or unknown; then ``candidates`` may list who it is."""

    clone = models.ForeignKey(Clone, on_delete=models.PROTECT, null=True, related_name="pollen_lots")
    candidates = models.ManyToManyField(Clone, related_name="mixed_pollen_lots", blank=True)
    words = models.CharField(max_length=120, default="", blank=True)
    split_from = models.ForeignKey("self", on_delete=models.PROTECT, null=True, related_name="parts")
    collected_first = models.DateField(null=True)
    collected_last = models.DateField(null=True)
    storage = models.CharField(max_length=12, choices=PollenStorage, default=PollenStorage.UNKNOWN)
    best_before = models.DateField(null=True)

    class Meta:
        indexes = [
            models.Index(
                fields=["best_before"],
                condition=models.Q(closed_on__isnull=True, cancelled=False),
                name="pollen_open_by_best_before",
            )
        ]

    def __str__(self) -> str:
        return f"pollen of {self.clone or self.words or 'several'}"


class PollenCollected(models.Model):
    """Details of pollen taken here; the act's links name the spikes it came from."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pollencollected")
    storage = models.CharField(max_length=12, choices=PollenStorage)

    def __str__(self) -> str:
        return self.get_storage_display()


class PollenReceived(models.Model):
    """Details of pollen from elsewhere. The act's day is the day it was collected, as told, not the day it came."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pollenreceived")
    clone = models.ForeignKey(Clone, on_delete=models.PROTECT, null=True, related_name="+")
    words = models.CharField(max_length=120, default="", blank=True)
    storage = models.CharField(max_length=12, choices=PollenStorage)

    def __str__(self) -> str:
        return self.words


class PollenStored(models.Model):
    """Details of pollen moved to another storage; out of the freezer is a thaw."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pollenstored")
    storage = models.CharField(max_length=12, choices=PollenStorage)

    def __str__(self) -> str:
        return self.get_storage_display()
