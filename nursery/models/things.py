from django.db import models

from nursery.days import Day


class Thing(models.Model):
    """Whatever can carry a tag, a remark or a story.

    The table of its kind (Plant, Spike, Pot, ...) has this row's id as its own primary key. Things are born by acts:
    ``born_by`` is the act that made it, or the act that corrected that one.
    """

    kind = models.CharField(max_length=20)
    made_at = models.DateTimeField()
    born_by = models.ForeignKey("nursery.Act", on_delete=models.PROTECT, related_name="births")

    class Meta:
        indexes = [models.Index(fields=["kind"], name="thing_by_kind")]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}"


class LivingThing(models.Model):
    """What every kind of thing has beside its own facts.

    All but ``thing`` is a cache of its acts, rewritten by nursery.records.milestones in the transaction of each act.
    """

    thing = models.OneToOneField(Thing, on_delete=models.PROTECT, primary_key=True, related_name="%(class)s")
    cancelled = models.BooleanField(default=False, help_text="The act that made it was undone.")
    stage = models.CharField(max_length=20, default="", help_text="Derived from what was seen; nobody sets it.")
    closed_first = models.DateField(null=True)
    closed_on = models.DateField(null=True)
    closed_said = models.CharField(max_length=8, default="")
    closed_why = models.CharField(max_length=20, default="")
    later_until = models.DateField(null=True)
    last_look = models.DateField(null=True)
    last_seen = models.CharField(max_length=20, default="")

    class Meta:
        abstract = True

    @property
    def kind(self) -> str:
        return self._meta.model_name

    @property
    def is_open(self) -> bool:
        return not self.cancelled and self.closed_on is None

    @property
    def closed_day(self) -> Day | None:
        """When it ended, as it was told; ``closed_on`` is the last day that it can have been. None while it goes on."""
        if self.closed_on is None:
            return None
        return Day.unknown() if self.closed_first is None else Day(self.closed_first, self.closed_on, self.closed_said)
