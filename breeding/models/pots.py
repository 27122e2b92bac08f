from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from breeding.models.posted import HowMuch
from breeding.models.seed import MOST_SEEDS, SeedLot
from breeding.models.sowing_sessions import SowingSession
from nursery.models import Act, LivingThing, Place

MOST_SEEDLINGS = 10_000


class PotSeen(models.TextChoices):
    NOTHING = "nothing", "nothing yet"
    FIRST = "first", "first up"
    FEW = "few", "few"
    PLENTY = "plenty", "plenty"
    CARPET = "carpet", "a carpet"
    CANT_TELL = "cant_tell", "can't tell"


class SeedPot(LivingThing):
    """One seed pot, sown or prepared. The day of its first seedling is an interval: last "nothing yet", first "up".

    A pot of a ``session`` is prepared first: what is planned for it is no cache, but said when it was made.
    Seedlings of one that was split stand in pots ``split_from`` it: of the same lot, sown when it was, and none of
    those that were sown.
    """

    lot = models.ForeignKey(SeedLot, on_delete=models.PROTECT, related_name="pots")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="seed_pots")
    seeds = models.PositiveIntegerField(null=True)
    sown_first = models.DateField(null=True)
    sown_last = models.DateField(null=True)
    first_after = models.DateField(null=True)
    first_by = models.DateField(null=True)
    amount = models.CharField(max_length=10, default="")
    counted = models.PositiveIntegerField(null=True)
    lost = models.PositiveIntegerField(default=0)
    raised = models.PositiveIntegerField(
        null=True, help_text="Seedlings it gave by the last count, with those that went into other pots before."
    )
    split_from = models.ForeignKey("self", on_delete=models.PROTECT, null=True, related_name="parts")
    split_first = models.DateField(
        null=True, help_text="The first day on which it can have been split off, or something of it, for the last time."
    )
    split_last = models.DateField(null=True, help_text="The last such day; where nobody knows it, when it was told.")
    session = models.ForeignKey(SowingSession, on_delete=models.PROTECT, null=True, related_name="pots")
    pot_size = models.CharField(
        max_length=40, default="", blank=True, help_text="Of a pot that was prepared or split off."
    )
    planned_seeds = models.PositiveIntegerField(null=True, help_text="Seeds meant to go into it.")
    planned_pods = models.PositiveSmallIntegerField(null=True, help_text="Pods whose seed is meant to go into it.")
    unsown = models.BooleanField(default=False, help_text="Prepared, and nobody has told that it was sown.")

    class Meta:
        indexes = [
            models.Index(fields=["place"], condition=Q(closed_on__isnull=True, cancelled=False), name="pot_open")
        ]

    def __str__(self) -> str:
        return f"pot of {self.lot.cross}"


class Sown(models.Model):
    """Details of a sowing: the same into each pot the act made. Pods or seeds a pot, as the grower counts."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="sown")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    pots = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(100)])
    seeds = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDS)])
    pods = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MaxValueValidator(200)])
    pot_size = models.CharField(max_length=40, default="", blank=True)
    medium = models.CharField(max_length=120, default="", blank=True)
    all_of_it = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="sown_into_1_to_100_pots",
                condition=Q(pots__gte=1, pots__lte=100),
                violation_error_message="Sow 1 to 100 pots at a time.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.pots} pots"


class PotLook(models.Model):
    """Details of a look at a seed pot; a number only when somebody counted."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="potlook")
    seen = models.CharField(max_length=10, choices=PotSeen)
    counted = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(MOST_SEEDLINGS)])

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="pot_with_nothing_up_counts_none",
                condition=~Q(seen="nothing") | Q(counted__isnull=True) | Q(counted=0),
                violation_error_message="“Nothing yet” and a number of seedlings contradict each other.",
            )
        ]

    def __str__(self) -> str:
        return self.get_seen_display()


class PotLoss(models.Model):
    """Details of seedlings lost since the last count."""

    class Why(models.TextChoices):
        UNKNOWN = "unknown", "don't know why"
        DAMPING = "damping", "damping off"
        DRY = "dry", "dried out"
        GNATS = "gnats", "fungus gnats"
        OVERGROWN = "overgrown", "overgrown"
        OTHER = "other", "something else"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="potloss")
    lost = models.PositiveIntegerField(validators=[MinValueValidator(1), MaxValueValidator(MOST_SEEDLINGS)])
    why = models.CharField(max_length=10, choices=Why, default=Why.UNKNOWN)

    def __str__(self) -> str:
        return f"{self.lost} lost"


class PotGone(models.Model):
    """Details of the act by which a sown pot leaves with all that is in it."""

    class Why(models.TextChoices):
        NOTHING_UP = "nothing_up", "nothing came up"
        DIED = "died", "all of it died"
        DROPPED = "dropped", "dropped or spilt"
        SOLD = "sold", "sold"
        GIVEN = "given", "given away"
        THROWN = "thrown", "thrown away"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="potgone")
    why = models.CharField(max_length=10, choices=Why)

    def __str__(self) -> str:
        return self.get_why_display()


class PotTrouble(models.Model):
    """Details of trouble seen in a pot."""

    class What(models.TextChoices):
        ALGAE = "algae", "algae"
        MOSS = "moss", "moss or liverwort"
        GNATS = "gnats", "fungus gnats"
        MOULD = "mould", "mould"
        DRY = "dry", "dried out"
        DRIFT = "drift", "a seedling from another pot"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="pottrouble")
    what = models.CharField(max_length=8, choices=What)

    def __str__(self) -> str:
        return self.get_what_display()


class PotSplit(models.Model):
    """Details of seedlings that went out of a pot into new ones: as many into each pot that the act made.

    ``seedlings`` are those in each, where somebody counted. With ``extent`` all, none stays in the old pot.
    """

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="potsplit")
    pots = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(100)])
    seedlings = models.PositiveIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(MOST_SEEDLINGS)]
    )
    extent = models.CharField(max_length=4, choices=HowMuch)
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    pot_size = models.CharField(max_length=40, default="", blank=True)
    medium = models.CharField(max_length=120, default="", blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="pot_split_into_1_to_100_pots",
                condition=Q(pots__gte=1, pots__lte=100),
                violation_error_message="Split a pot into 1 to 100 new ones at a time.",
            ),
            models.CheckConstraint(
                name="pot_split_puts_seedlings_into_each",
                condition=Q(seedlings__isnull=True) | Q(seedlings__gte=1),
                violation_error_message="Leave the number empty where you can't tell: a new pot holds a seedling.",
            ),
        ]

    def __str__(self) -> str:
        return f"into {self.pots} pots"

    @property
    def moved(self) -> int | None:
        """Seedlings that went out, where somebody counted."""
        return None if self.seedlings is None else self.pots * self.seedlings
