import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q


class Said(models.TextChoices):
    """How exactly a day was told."""

    EXACT = "exact", "that day"
    WEEK = "week", "about that week"
    MONTH = "month", "some day that month"
    SEASON = "season", "some day that season"
    YEAR = "year", "some day that year"
    UNKNOWN = "unknown", "day not known"


class Act(models.Model):
    """One thing somebody did or saw. Rows are never changed and never deleted; the phone makes the id.

    ``by`` signs it. ``phone_of`` is who was signed in, where another person's hands held that phone.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    kind = models.CharField(max_length=24)
    thing = models.ForeignKey("nursery.Thing", on_delete=models.PROTECT, related_name="acts")
    day_first = models.DateField(null=True)
    day_last = models.DateField(null=True)
    said = models.CharField(max_length=8, choices=Said)
    at = models.TimeField(null=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="acts")
    phone_of = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    note = models.CharField(max_length=1000, default="", blank=True)
    recorded_at = models.DateTimeField()
    payload_hash = models.CharField(max_length=64)
    replaces = models.OneToOneField("self", on_delete=models.PROTECT, null=True, related_name="replaced_by")

    class Meta:
        indexes = [
            models.Index(fields=["thing", "recorded_at"], name="act_by_thing"),
            models.Index(fields=["-recorded_at"], name="act_newest_first"),
        ]
        constraints = [
            models.CheckConstraint(
                name="act_days_known_unless_said_unknown",
                condition=Q(said="unknown", day_first__isnull=True, day_last__isnull=True)
                | (~Q(said="unknown") & Q(day_first__isnull=False, day_last__isnull=False)),
                violation_error_message="A day is needed, or say that it is not known.",
            ),
            models.CheckConstraint(
                name="act_first_day_not_after_last",
                condition=Q(day_first__isnull=True) | Q(day_first__lte=F("day_last")),
                violation_error_message="The first day cannot be after the last.",
            ),
            models.CheckConstraint(
                name="act_exact_day_is_one_day",
                condition=~Q(said="exact") | Q(day_first=F("day_last")),
                violation_error_message="An exact day is one day.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.day_last or 'day not known'}"


class ActLink(models.Model):
    """Another thing that an act touched, or that it made."""

    class Role(models.TextChoices):
        TOUCHED = "touched", "touched"
        BORN = "born", "made"

    act = models.ForeignKey(Act, on_delete=models.PROTECT, related_name="links")
    thing = models.ForeignKey("nursery.Thing", on_delete=models.PROTECT, related_name="links")
    role = models.CharField(max_length=8, choices=Role, default=Role.TOUCHED)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["act", "thing"], name="act_links_a_thing_once")]

    def __str__(self) -> str:
        return f"{self.act_id} {self.role} {self.thing_id}"


class Void(models.Model):
    """Details of an undo: the act that no longer counts. One act is undone once."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="void")
    target = models.OneToOneField(Act, on_delete=models.PROTECT, related_name="voided_by")

    def __str__(self) -> str:
        return f"undoes {self.target_id}"


class Flag(models.Model):
    """A contradiction that was taken as told and waits for a person to look at it."""

    act = models.ForeignKey(Act, on_delete=models.PROTECT, related_name="flags")
    thing = models.ForeignKey("nursery.Thing", on_delete=models.PROTECT, related_name="flags")
    code = models.CharField(max_length=32)
    sentence = models.CharField(max_length=300)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["act", "thing", "code"], name="thing_is_flagged_once_for_each_reason")
        ]

    def __str__(self) -> str:
        return self.sentence


class SettledTogether(models.Model):
    """Details of an act by which a person settles all flags of one reason that one act brought."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="settledtogether")
    brought_by = models.ForeignKey(Act, on_delete=models.PROTECT, related_name="+")
    code = models.CharField(max_length=32)

    def __str__(self) -> str:
        return f"settles {self.code} of {self.brought_by_id}"


class Settled(models.Model):
    """Details of an act by which a person says that a flag needs nothing more; of those that count there is one."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="settled")
    flag = models.ForeignKey(Flag, on_delete=models.PROTECT, related_name="settled_by")

    def __str__(self) -> str:
        return f"settles flag {self.flag_id}"
