from django.db import models
from django.db.models import Q

from nursery.models import Act, LivingThing, Plant


class SpikeSeen(models.TextChoices):
    GROWING = "growing", "growing"
    BUDS = "buds", "buds"
    OPEN = "open", "flowers open"
    SHOWING = "showing", "fluid or pollen showing"
    OVER = "over", "over"
    ABORTED = "aborted", "aborted"
    CANT_TELL = "cant_tell", "can't tell"


class SpikeSex(models.TextChoices):
    FEMALE = "female", "female"
    MALE = "male", "male"


class SexFrom(models.TextChoices):
    BUDS = "buds", "from its buds"
    FLOWERS = "flowers", "from open flowers"


class Spike(LivingThing):
    """One flower spike of a plant. The days of opening are an interval: last "not yet", first "open"."""

    plant = models.ForeignKey(Plant, on_delete=models.PROTECT, related_name="spikes")
    position = models.CharField(max_length=60, default="", blank=True)
    found_first = models.DateField(null=True)
    found_last = models.DateField(null=True)
    sex = models.CharField(max_length=8, choices=[*SpikeSex.choices, ("unclear", "contradictory")], default="")
    sex_from = models.CharField(max_length=8, choices=SexFrom, default="")
    open_after = models.DateField(null=True)
    open_by = models.DateField(null=True)
    showing_on = models.DateField(null=True)
    pollen_taken_on = models.DateField(null=True)
    over_by = models.DateField(null=True)

    class Meta:
        indexes = [
            models.Index(fields=["plant"], condition=Q(closed_on__isnull=True, cancelled=False), name="spike_open")
        ]

    def __str__(self) -> str:
        return f"spike of {self.plant.clone}"


class SpikeObserved(models.Model):
    """The columns of a look at a spike; ``sex`` only when the grower judged it."""

    seen = models.CharField(max_length=10, choices=SpikeSeen)
    sex = models.CharField(max_length=8, choices=SpikeSex, default="", blank=True)
    sex_from = models.CharField(max_length=8, choices=SexFrom, default="", blank=True)

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                name="%(class)s_sex_says_from_what",
                condition=Q(sex="", sex_from="") | (~Q(sex="") & ~Q(sex_from="")),
                violation_error_message="Say whether the sex was read from buds or from open flowers.",
            )
        ]


class SpikeFound(SpikeObserved):
    """Details of the act that found a spike, and what it looked like."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="spikefound")
    position = models.CharField(max_length=60, default="", blank=True)

    def __str__(self) -> str:
        return self.get_seen_display()


class SpikeLook(SpikeObserved):
    """Details of a later look at a spike."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="spikelook")

    def __str__(self) -> str:
        return self.get_seen_display()
