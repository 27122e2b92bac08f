from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import F, Q

from nursery.models import Act


class Brown(models.TextChoices):
    NONE = "none", "none brown"
    SOME = "some", "some brown"
    MOST = "most", "most brown"


class Swelling(models.TextChoices):
    NONE = "none", "none swelling"
    THIRD = "third", "about a third swelling"
    HALF = "half", "about half swelling"
    MOST = "most", "most swelling"
    ALL = "all", "all swelling"
    CANT_TELL = "cant_tell", "can't tell"


class TakeLook(models.Model):
    """Details of a reading of take. Brown stigmas are a hint; swelling at five to seven weeks is the answer."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="takelook")
    brown = models.CharField(max_length=4, choices=Brown, default="", blank=True)
    swelling = models.CharField(max_length=10, choices=Swelling, default="", blank=True)
    pods = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(2000)])

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="take_look_says_something",
                condition=~Q(brown="") | ~Q(swelling=""),
                violation_error_message="Say how the stigmas or the pods look, or “Can't tell”.",
            )
        ]

    def __str__(self) -> str:
        return self.get_swelling_display() or self.get_brown_display()


class PodSeen(models.TextChoices):
    GREEN = "green", "firm, green"
    TURNING = "turning", "firm, turning"
    OPENING = "opening", "first ones opening"
    SPLIT = "split", "split or fallen"
    CANT_TELL = "cant_tell", "can't tell"


class Extent(models.TextChoices):
    ALL = "all", "all that remain"
    SOME = "some", "only some"


class PodLook(models.Model):
    """Details of a look at the pods of a section: what was seen, on all or only some of them."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="podlook")
    seen = models.CharField(max_length=10, choices=PodSeen)
    extent = models.CharField(max_length=4, choices=Extent, default=Extent.ALL)
    bagged = models.BooleanField(null=True, blank=True)
    pods_left = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(2000)])

    def __str__(self) -> str:
        return self.get_seen_display()


class Harvested(models.Model):
    """Details of a harvest: pods, or the whole section, cut into a paper bag, which is a seed lot from then on."""

    class What(models.TextChoices):
        PODS = "pods", "some pods"
        SECTION = "section", "the whole section"

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="harvested")
    what = models.CharField(max_length=8, choices=What)
    pods = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(2000)])
    pods_open = models.PositiveIntegerField(null=True, blank=True, validators=[MaxValueValidator(2000)])

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="harvest_no_more_open_pods_than_pods",
                condition=Q(pods__isnull=True) | Q(pods_open__isnull=True) | Q(pods_open__lte=F("pods")),
                violation_error_message="More pods were open than were cut.",
            )
        ]

    def __str__(self) -> str:
        return self.get_what_display()
