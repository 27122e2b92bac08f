from django.db import models
from django.db.models import Q

from breeding.science.recurrence import LONGEST_RULE
from nursery.models import Act, LivingThing, Place

LONGEST_WORDS = 120


class RoutineAnswer(models.TextChoices):
    DONE = "done", "done"
    NOT_TODAY = "not_today", "not today"


class Routine(LivingThing):
    """Something done again and again: misting, feeding, cleaning. ``rule`` is one of RFC 5545, read to whole days."""

    words = models.CharField(max_length=LONGEST_WORDS)
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="routines")
    rule = models.CharField(max_length=LONGEST_RULE)
    starts = models.DateField(help_text="From this day on; the first day that the rule names is this one or later.")
    done_on = models.DateField(null=True, help_text="The last day on which it was done.")
    put_off_on = models.DateField(null=True, help_text="The last day on which somebody said “not today”.")

    class Meta:
        indexes = [models.Index(fields=["place"], condition=Q(closed_on=None, cancelled=False), name="routine_open")]

    def __str__(self) -> str:
        return self.words


class RoutineTold(models.Model):
    """What is said of a routine when it is made and when it is changed."""

    words = models.CharField(max_length=LONGEST_WORDS)
    place = models.ForeignKey(Place, on_delete=models.PROTECT, null=True, related_name="+")
    rule = models.CharField(max_length=LONGEST_RULE)
    starts = models.DateField()

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                name="%(class)s_has_words",
                condition=~Q(words=""),
                violation_error_message="Say what is to be done.",
            )
        ]

    def __str__(self) -> str:
        return self.words


class RoutineMade(RoutineTold):
    """Details of the act that made a routine."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="routinemade")


class RoutineChanged(RoutineTold):
    """Details of a change to a routine: all of it as it is from then on."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="routinechanged")


class RoutineDone(models.Model):
    """Details of the answer to a routine that was due: it was done, or it waits until another day."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="routinedone")
    answer = models.CharField(max_length=10, choices=RoutineAnswer)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="routine_answer_is_done_or_not_today",
                condition=Q(answer__in=["done", "not_today"]),
                violation_error_message="Say “Done” or “Not today”.",
            )
        ]

    def __str__(self) -> str:
        return self.get_answer_display()
