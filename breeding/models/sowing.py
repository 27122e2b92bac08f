"""A sowing evening: planned at the desk, which prepares pots with their tags, and sown at the bench pot by pot."""

from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from breeding.models.pots import SeedPot
from breeding.models.seed import MOST_SEEDS
from breeding.models.sowing_sessions import DENSEST, THINNEST, Sterilised, density_field
from nursery.models import Act, Place

MOST_PODS = 200


class SowingTold(models.Model):
    """What is said of a sowing session when it is planned and when that is changed."""

    planned_for = models.DateField()
    medium = models.CharField(max_length=120, default="", blank=True)
    sterilised = models.CharField(max_length=10, choices=Sterilised, default=Sterilised.UNKNOWN)
    sterilised_words = models.CharField(max_length=120, default="", blank=True)

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                name="%(class)s_other_way_has_words",
                condition=~Q(sterilised="other") | ~Q(sterilised_words=""),
                violation_error_message="Say in words how the medium was sterilised.",
            )
        ]

    def __str__(self) -> str:
        return f"for {self.planned_for}"


class SowingPlanned(SowingTold):
    """Details of the act that planned a session and prepared its pots; each pot says what is meant to go into it."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="sowingplanned")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    pots = models.PositiveSmallIntegerField()
    density = density_field()

    class Meta(SowingTold.Meta):
        constraints = [
            *SowingTold.Meta.constraints,
            models.CheckConstraint(
                name="sowing_density_between_0_05_and_20",
                condition=Q(density=None) | Q(density__range=(THINNEST, DENSEST)),
                violation_error_message="Seed is sown at 0.05 to 20 seeds to a square centimetre.",
            ),
        ]


class SowingChanged(SowingTold):
    """Details of a change to a planned session: its day, medium and how that was sterilised, as they are from then."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="sowingchanged")


class PotSown(models.Model):
    """Details of seed going into a prepared pot. ``pot`` is the act's own thing: told twice, it counts once."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="potsown")
    pot = models.ForeignKey(SeedPot, on_delete=models.PROTECT, related_name="+")
    seeds = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDS)])
    pods = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_PODS)])
    all_of_it = models.BooleanField(default=False, help_text="Nothing of the lot is left.")

    def __str__(self) -> str:
        return f"{self.pot} sown"


class PotCleared(models.Model):
    """Details of a prepared pot that was put away without seed. ``pot`` is the act's own thing."""

    class Why(models.TextChoices):
        NO_SEED = "no_seed", "the seed did not reach"
        NO_TIME = "no_time", "no time that day"
        CHANGED = "changed", "the plan changed"
        SPOILT = "spoilt", "pot or medium spoilt"
        OTHER = "other", "something else"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="potcleared")
    pot = models.ForeignKey(SeedPot, on_delete=models.PROTECT, related_name="+")
    why = models.CharField(max_length=10, choices=Why)
    why_words = models.CharField(max_length=120, default="", blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="pot_cleared_for_something_else_has_words",
                condition=~Q(why="other") | ~Q(why_words=""),
                violation_error_message="Say in words why it was cleared.",
            )
        ]

    def __str__(self) -> str:
        return self.get_why_display()
