from django.db import models
from django.db.models import Q

from nursery.models.acts import Act, Flag
from nursery.models.tags import TagsSwapped


class Repair(models.Model):
    """An act that puts something right: what a flag says, or what was recorded through a swapped tag.

    While the act counts, its flag is settled. Where the act corrects another, undoing it brings that one back.
    """

    act = models.ForeignKey(Act, on_delete=models.PROTECT, related_name="repairs")
    flag = models.ForeignKey(Flag, on_delete=models.PROTECT, null=True, related_name="repairs")
    swap = models.ForeignKey(TagsSwapped, on_delete=models.PROTECT, null=True, related_name="repairs")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["act", "flag"], name="repair_of_a_flag_once_an_act"),
            models.CheckConstraint(
                name="repair_is_of_a_flag_or_of_a_swap",
                condition=Q(flag__isnull=False, swap__isnull=True) | Q(flag__isnull=True, swap__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"repaired by {self.act_id}"
