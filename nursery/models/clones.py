from django.db import models
from django.db.models import Q

from nursery.models.acts import Act
from nursery.models.taxa import Taxon
from nursery.models.things import LivingThing
from nursery.names import label
from nursery.stored_descent import from_stored


class Sex(models.TextChoices):
    FEMALE = "female", "female"
    MALE = "male", "male"
    UNCLEAR = "unclear", "contradictory"


class CloneFacts(models.Model):
    """The columns that say which genotype a clone is, and where it came from."""

    class Origin(models.TextChoices):
        RAISED = "raised", "raised here"
        BOUGHT = "bought", "bought"
        GIFT = "gift", "a gift"
        PERMIT = "permit", "collected under permit"
        UNKNOWN = "unknown", "not known"

    taxon = models.ForeignKey(Taxon, on_delete=models.PROTECT, null=True, related_name="+")
    seed_parent = models.ForeignKey("nursery.Clone", on_delete=models.PROTECT, null=True, related_name="+")
    pollen_parent = models.ForeignKey("nursery.Clone", on_delete=models.PROTECT, null=True, related_name="+")
    designation = models.CharField(max_length=40, default="", blank=True)
    origin = models.CharField(max_length=8, choices=Origin, default=Origin.UNKNOWN)
    source = models.CharField("from whom", max_length=120, default="", blank=True)
    document = models.CharField(max_length=120, default="", blank=True)
    words_only = models.BooleanField(default=False)

    class Meta:
        abstract = True


class Clone(CloneFacts, LivingThing):
    """One genotype; its cuttings are the same clone. ``sex`` is concluded from its spikes."""

    sex = models.CharField(max_length=8, choices=Sex, default="", blank=True)
    thought = models.CharField(max_length=120, default="", blank=True, help_text="What it is thought to be, in words.")
    tree = models.JSONField(default=dict, help_text="Its descent down to species, for writing its name without asking.")

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="clone_has_a_taxon_or_parents_or_a_designation",
                condition=Q(taxon__isnull=False)
                | Q(seed_parent__isnull=False)
                | Q(pollen_parent__isnull=False)
                | ~Q(designation="")
                | ~Q(thought=""),
                violation_error_message="Give the taxon, a parent, or a name of your own for it.",
            ),
            models.CheckConstraint(
                name="clone_is_not_its_own_parent",
                condition=(Q(seed_parent__isnull=True) | ~Q(seed_parent=models.F("thing")))
                & (Q(pollen_parent__isnull=True) | ~Q(pollen_parent=models.F("thing"))),
                violation_error_message="A clone cannot be its own parent.",
            ),
        ]

    def __str__(self) -> str:
        return label(from_stored(self.tree))


class CloneMade(CloneFacts):
    """Details of the act that entered a clone."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="clonemade")

    def __str__(self) -> str:
        return self.designation


class Redetermined(models.Model):
    """Details of a later opinion of what a clone is: a taxon, or parents, or only words; and why.

    The act's day says since when it is thought so. What the clone was entered as stays with its birth.
    """

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="redetermined")
    taxon = models.ForeignKey(Taxon, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    seed_parent = models.ForeignKey(Clone, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    pollen_parent = models.ForeignKey(Clone, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    words = models.CharField(max_length=120, default="", blank=True)
    why = models.CharField(max_length=300)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="redetermined_says_what_it_is_thought_to_be",
                condition=Q(taxon__isnull=False)
                | Q(seed_parent__isnull=False)
                | Q(pollen_parent__isnull=False)
                | ~Q(words=""),
                violation_error_message="Say what it is thought to be: a taxon, a parent, or words.",
            ),
            models.CheckConstraint(
                name="redetermined_as_a_taxon_or_of_parents_not_both",
                condition=Q(taxon__isnull=True) | (Q(seed_parent__isnull=True) & Q(pollen_parent__isnull=True)),
                violation_error_message="Choose a taxon or parents, not both.",
            ),
            models.CheckConstraint(
                name="redetermined_says_why",
                condition=~Q(why=""),
                violation_error_message="Say why, so that others can judge it later.",
            ),
        ]

    def __str__(self) -> str:
        return self.words
