from django.db import models

from nursery.models.acts import Act
from nursery.models.things import Thing


class TagSequence(models.Model):
    """The next number to give, without its check digit. One row, with id 1; locked while a number is taken."""

    next = models.PositiveBigIntegerField(default=1001)

    class Meta:
        constraints = [models.CheckConstraint(name="tag_sequence_is_one_row", condition=models.Q(id=1))]

    def __str__(self) -> str:
        return str(self.next)


class Tag(models.Model):
    """A number on a tag, its last digit a Damm check digit. Blank until it is bound to a thing."""

    number = models.PositiveBigIntegerField(primary_key=True)
    thing = models.ForeignKey(Thing, on_delete=models.PROTECT, null=True, related_name="tags")
    made_at = models.DateTimeField()
    printed_at = models.DateTimeField(null=True)
    lasts_until = models.DateField(
        null=True, help_text="Until about when its print can be read, by what it is printed on; empty where unknown."
    )
    retired = models.BooleanField(default=False, help_text="Lost or replaced; still opens its thing when found.")

    class Meta:
        indexes = [
            models.Index(fields=["thing"], name="tag_by_thing"),
            models.Index(fields=["lasts_until"], name="tag_that_fades", condition=models.Q(lasts_until__isnull=False)),
        ]

    def __str__(self) -> str:
        return str(self.number)


class TagBound(models.Model):
    """Details of the act that put a tag on a thing."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="tagbound")
    tag = models.ForeignKey(Tag, on_delete=models.PROTECT, related_name="bindings")

    def __str__(self) -> str:
        return str(self.tag_id)


class TagsSwapped(models.Model):
    """Details of the act by which two tags that hung on each other's thing were put right, since the act's day.

    ``tag`` hung on the act's thing and belongs to the other, ``other_tag`` the other way round.
    """

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="tagsswapped")
    tag = models.ForeignKey(Tag, on_delete=models.PROTECT, related_name="+")
    other_tag = models.ForeignKey(Tag, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="tags_swapped_are_two",
                condition=~models.Q(tag=models.F("other_tag")),
                violation_error_message="Two different tags are needed.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.tag_id} and {self.other_tag_id}"
